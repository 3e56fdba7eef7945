/**
 * The wiring: a show compiled to typed arrays. But for mixes, every terminal has at most one feeder, so an upstream
 * trace is a chase of `feeder`; downstream is the same table reversed. The W rules of SPEC.md.
 */
import type { DeviceId } from "../model/ids.ts";
import type { Device, Show } from "../model/show.ts";
import type { SampleRate } from "../model/units.ts";
import type { Fabric } from "./fabric.ts";
import type { TypeLayout } from "./layout.ts";
import type { StreamWay } from "./network.ts";
import type { Plugs } from "./plugs.ts";

/** What is known of a terminal: fed by another, an origin, or why it has no feeder. */
export const State = {
  fed: 0,
  /** A tap of a mix engine: mix, main, matrix, direct out. */
  tap: 1,
  /** An input jack that a source is plugged in. */
  source: 2,
  unassigned: 3,
  unplugged: 4,
  beyondSlots: 5,
  unwired: 6,
  mismatch: 7,
  off: 8,
  unknown: 9,
} as const;
export type State = (typeof State)[keyof typeof State];

/** What decides a terminal's feeder or its lack; `Wiring.setting` says which one. */
export const Edge = {
  none: 0,
  /** `setting`: index of the cable in the show. */
  cable: 1,
  /** `setting`: index of the assignment in the device's routing. */
  patched: 2,
  /** `setting`: index of the rule in the device's fabric. */
  wired: 3,
  carried: 4,
  /** `setting`: index in `Wiring.ways`. */
  stream: 5,
  /** A bus from the return of its insert. `setting`: index in the device's inserts. */
  insert: 6,
} as const;
export type Edge = (typeof Edge)[keyof typeof Edge];

export interface WiredDevice {
  readonly index: number;
  readonly device: Device;
  readonly fabric: Fabric;
  /** Number of the device's first terminal. */
  readonly base: number;
  readonly rate: SampleRate;
}

/** What goes into a tap, and out of a bus: many to many. `mix` is −1 for a direct out, which is fixed. */
export interface MixTable {
  readonly start: Int32Array;
  readonly terminal: Int32Array;
  readonly mix: Int32Array;
}

/** Which devices stand where in the wiring. An edit that leaves it as it is leaves the same object. */
export interface Shape {
  readonly ids: readonly DeviceId[];
  /** Null where the device's type isn't in the show. */
  readonly layouts: readonly (TypeLayout | null)[];
  /** Number of each device's first terminal. */
  readonly bases: readonly number[];
  readonly indexOf: ReadonlyMap<DeviceId, number>;
  readonly deviceOf: Int32Array;
  readonly size: number;
}

/**
 * A rig compiled. What an edit leaves as it is, array or object, is the same one in the wiring of before and after, so
 * that whatever is worked out from it needn't be worked out again.
 */
export interface Wiring {
  readonly show: Show;
  readonly shape: Shape;
  /** In the show's order; null where the device's type isn't in the show. */
  readonly devices: readonly (WiredDevice | null)[];
  /** The devices as they were when the last edit changed a mode, setting, rate, clock or switch of one of them. */
  readonly conduct: readonly (WiredDevice | null)[];
  /** Of all devices of the show, those without a type included. */
  readonly names: readonly string[];
  readonly indexOf: ReadonlyMap<DeviceId, number>;
  readonly plugs: Plugs;
  readonly leaders: Int32Array;
  /** The way of each stream to each of its receivers. */
  readonly ways: readonly StreamWay[];
  /** Number of terminals. */
  readonly size: number;
  readonly deviceOf: Int32Array;
  readonly feeder: Int32Array;
  readonly state: Uint8Array;
  readonly edge: Uint8Array;
  readonly setting: Int32Array;
  /** Milliseconds that the step into each terminal takes, conversion included. */
  readonly delay: Float64Array;
  /** For an origin jack: index of the source in the show; −1 elsewhere. */
  readonly sourceAt: Int32Array;
  /** Terminals fed by each terminal, in ascending order: `downList[downStart[t] … downStart[t + 1]]`. */
  readonly downStart: Int32Array;
  readonly downList: Int32Array;
  /** What goes into each tap. The other way round it is `mixOutOf` of mixes.ts. */
  readonly mixInto: MixTable;
  /** For each mix 1 where all its members go in, so that none of them needs to be looked at again. */
  readonly mixWhole: Uint8Array;
}

/** The arrays of a wiring while it is being made. */
export type Tables = Pick<Wiring, "feeder" | "state" | "edge" | "setting" | "delay" | "sourceAt">;

/** What is taken away for a test: devices switched off, cables pulled. */
export interface Away {
  readonly devices?: ReadonlySet<string>;
  readonly cables?: ReadonlySet<string>;
}
