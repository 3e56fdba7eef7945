/**
 * What a kind of device can do, as data. Every device type is data that the user can write from a maker's sheet;
 * the catalogue ships generic ones only.
 *
 * A type has *groups* of terminals, each with an id that is unique within the type:
 * - **banks** of jacks, each jack an input or an output;
 * - **ports** for links, each with slots that it receives and slots that it sends;
 * - **sections** of the mix engine: channels, which take signals in, and mixes, mains, matrices and direct outs, which
 *   are the taps that signals are taken from.
 *
 * *Rules* say what feeds what inside. Everything in `rules` holds in every mode; `modes` add rules of their own.
 */
import type { GroupId, ModeId, TypeId } from "./ids.ts";
import type { RateClass } from "./units.ts";

/** Where a number comes from. Findings count the assumed ones along a trace, and papers mark them. */
export type Provenance = "standard" | "maker's sheet" | "measured" | "assumed";

/** A delay as the sheet gives it: a time, or samples at the device's own rate. */
export interface Delay {
  readonly value: number;
  readonly unit: "ms" | "samples";
  readonly provenance: Provenance;
}

export type Connector = "XLR" | "TRS" | "RCA" | "BNC" | "RJ45" | "multipin" | "speaker" | "antenna" | "none";
export type Level = "mic" | "line" | "AES3" | "loudspeaker" | "phones" | "radio";

export interface JackBank {
  readonly id: GroupId;
  readonly name: string;
  readonly direction: "in" | "out";
  /** How many jacks. */
  readonly count: number;
  /** Signals that each jack carries: 1, or 2 for an AES3 pair. A bank has `count × perJack` terminals. */
  readonly perJack: 1 | 2;
  /** `none`: not a jack that a cable can reach, such as a recorder's tracks; traced and wanted like any other. */
  readonly connector: Connector;
  readonly level: Level;
  /** Size of the blocks in which the bank is spoken of and owned. */
  readonly block: number;
  /** Conversion between analogue and digital, where the bank does one. */
  readonly convert?: Delay;
  /** AES3 inputs only: the bank converts the sample rate of what it receives, so neither rate nor clock need match. */
  readonly convertsRate?: boolean;
  /** Outputs of a passive split: `isolated` stands behind a transformer, which phantom power doesn't pass. */
  readonly leg?: "direct" | "isolated";
}

/** Slots of a link, by class of sample rate; 0 where the link can't run at that rate. */
export type SlotTable = Readonly<Record<RateClass, number>>;

/** Open standards by name, everything else by what it is. Two ports fit where their transports are the same text. */
export type Transport = string;

export const CABLE_KINDS = [
  "cat5e",
  "cat5e-shielded",
  "coax-75",
  "fibre",
  "digital-110",
  "microphone",
  "multicore",
  "loudspeaker",
  "line",
] as const;
export type CableKind = (typeof CABLE_KINDS)[number];

export interface CableRule {
  readonly kind: CableKind;
  /** The longest run in metres. */
  readonly maxMetres: number;
  readonly provenance: Provenance;
}

export interface LinkPort {
  readonly id: GroupId;
  readonly name: string;
  readonly transport: Transport;
  readonly receive: SlotTable;
  readonly send: SlotTable;
  /** Cable kinds that the port takes, each with its longest run; a shielded kind stands where a shield is needed. */
  readonly cables: readonly CableRule[];
  /** Size of the blocks in which the port's slots are spoken of. */
  readonly block: number;
  readonly carriesClock: boolean;
  readonly carriesPreamp: boolean;
  /** The port converts the sample rate of what passes it, both ways, so neither rate nor clock need match. */
  readonly convertsRate: boolean;
  readonly receiveDelay?: Delay;
  readonly sendDelay?: Delay;
  /** A network port: what it sends and receives is told by streams, not slot by slot along its cable. */
  readonly network?: Network;
}

export interface Network {
  /** Megabits a second each way. */
  readonly speed: number;
  /** Share of the speed that audio may take; 0.75 is what IEEE 802.1Q reserves at most by default. */
  readonly share: number;
  readonly provenance: Provenance;
}

/** Terminals `first … first + count - 1` of a group. Numbers start at 1. */
export interface Range {
  readonly group: GroupId;
  readonly first: number;
  readonly count: number;
}

/**
 * The start of a run. `perPosition` moves it for each place further down a chain: in position p it starts at
 * `first + (p - 1) × perPosition`.
 */
export interface RunStart {
  readonly group: GroupId;
  readonly first: number;
  readonly perPosition?: number;
}

/** A destination that the user assigns: each aligned run of `run` takes from an aligned run of one of the sources. */
export interface PatchRule {
  readonly kind: "patch";
  readonly to: Range;
  readonly from: readonly Range[];
  readonly run: number;
  readonly delay?: Delay;
}

/** A destination that is fed from a fixed place; nothing to set. */
export interface WiredRule {
  readonly kind: "wired";
  readonly to: RunStart;
  readonly from: RunStart;
  readonly count: number;
  readonly delay?: Delay;
}

/** Slots of a port that go on to another port: slot k of `to` takes slot k + `shift` of `from`. */
export interface CarryRule {
  readonly kind: "carry";
  readonly to: GroupId;
  readonly from: GroupId;
  readonly shift: number;
  readonly delay?: Delay;
}

/**
 * What feeds what inside a device. As a destination a port means the slots it sends, as a source the slots it receives.
 * Where several rules reach one terminal, the first in order decides: type rules after those of the mode.
 */
export type FabricRule = PatchRule | WiredRule | CarryRule;

/** The device's own clock, no word clock at all (analogue), or the port that is followed. */
export type ClockDefault = "internal" | "none" | GroupId;

export interface Mode {
  readonly id: ModeId;
  readonly name: string;
  readonly rules: readonly FabricRule[];
  /** Chain positions that the mode fits. Left out: any. */
  readonly positions?: readonly number[];
  /** What the word clock follows in this mode, where that isn't what the type says. */
  readonly clock?: ClockDefault;
}

/**
 * `send` and `return` are the two ends of inserts: terminal n of a send is a tap before the insert of channel or bus n of
 * the section that it names in `from`; terminal n of a return is fed by rules and settings and stands in for it.
 *
 * `join` is a passive join, many to one: terminal n takes terminal n of every group in `from`, input jacks and channels,
 * all the time and with nothing to set.
 */
export type SectionRole = "channel" | "direct" | "mix" | "main" | "matrix" | "send" | "return" | "join";

export interface MixSection {
  readonly id: GroupId;
  readonly name: string;
  readonly role: SectionRole;
  readonly count: number;
  /**
   * Sections that may feed this one through the mixer. A matrix commonly lists mixes and mains and no channels. Only a
   * join names banks.
   */
  readonly from: readonly GroupId[];
  /** Size of the blocks in which the section is spoken of. */
  readonly block: number;
  /** Channels: how far their digital trim goes. Left out: not known. */
  readonly trim?: TrimRange;
}

/** The range of a digital trim, in dB. */
export interface TrimRange {
  readonly from: number;
  readonly to: number;
  readonly provenance: Provenance;
}

export interface MixEngine {
  readonly sections: readonly MixSection[];
  /** From a channel's input to any tap; nothing in a join. */
  readonly processing: Delay;
}

export const CATEGORIES = [
  "console",
  "stage box",
  "breakout",
  "split",
  "interface",
  "network",
  "processor",
  "radio",
  "loudspeaker",
  "personal mixer",
  "recorder",
] as const;
export type Category = (typeof CATEGORIES)[number];

/** A file that holds one type and nothing else. */
export const TYPE_FORMAT = "hopline.type";
export const TYPE_VERSION = 1;

export interface DeviceType {
  readonly id: TypeId;
  readonly name: string;
  readonly category: Category;
  readonly banks: readonly JackBank[];
  readonly ports: readonly LinkPort[];
  readonly mixer?: MixEngine;
  readonly rules: readonly FabricRule[];
  readonly modes: readonly Mode[];
  /** How many of the type can stand in one chain; 1 for what doesn't chain. */
  readonly chain: number;
  /** A network switch: it forwards every stream to the ports that lead to its receivers. */
  readonly forwards?: boolean;
  /** What the device's word clock follows unless it is set otherwise: a port, itself, or no clock at all (analogue). */
  readonly clock: ClockDefault;
}
