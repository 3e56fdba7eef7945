/** Modes that open a way where settings alone find none (N7). They are told, and never taken by themselves. */
import { rewired, type Unchecked } from "../analysis.ts";
import { applyEdits, type Edit } from "../model/edit.ts";
import type { DeviceId, ModeId } from "../model/ids.ts";
import type { Mode } from "../model/device-type.ts";
import type { WiredDevice } from "../wiring/wiring.ts";
import { disturbedBy, wayOver } from "./ways.ts";

/** One device in another mode. */
export interface ModeChange {
  readonly device: DeviceId;
  /** As a person reads it. */
  readonly name: string;
  readonly was: string;
  readonly mode: string;
  readonly to: ModeId;
}

export interface TriedMode extends ModeChange {
  /** The rig in that mode, nothing else changed. */
  readonly after: Unchecked;
}

/**
 * The other modes of the devices that the target's signal passes, each on its own, in which there is a way from the source
 * to the target and everything that arrives goes on doing so. A mode for another chain position than the device's is none.
 */
export function modesThatHelp(rig: Unchecked, source: number, target: number): readonly TriedMode[] {
  return harmlessModes(rig, target).filter(({ after }) => wayOver(after, [source], [target]).kind === "way");
}

/**
 * The same of two devices at once: a box that is to hand its link on, and the one behind it that is to take its own slots
 * of it. Whether one of the two is enough isn't asked.
 */
export function* pairsThatHelp(
  rig: Unchecked,
  source: number,
  target: number,
): Generator<readonly [TriedMode, TriedMode]> {
  for (const first of harmlessModes(rig, target)) {
    for (const second of modesThatHelp(first.after, source, target))
      if (second.device !== first.device) yield [first, second];
  }
}

/** The other modes of the devices that the target's signal passes in which everything that arrives goes on doing so. */
function harmlessModes(rig: Unchecked, target: number): readonly TriedMode[] {
  return passedBy(rig, target).flatMap((wired) =>
    otherModes(wired).flatMap((mode): readonly TriedMode[] => {
      const { device, fabric } = wired;
      const edit: Edit = { kind: "put", list: "devices", record: { ...device, mode: mode.id } };
      const after = rewired(applyEdits(rig.show, [edit]), rig);
      if (disturbedBy(rig, after, []).length > 0) return [];
      const was = fabric.mode?.name ?? "";
      return [{ device: device.id, name: device.name, was, mode: mode.name, to: mode.id, after }];
    }),
  );
}

const otherModes = ({ device, fabric }: WiredDevice): readonly Mode[] =>
  fabric.layout.type.modes.filter(
    ({ id, positions }) =>
      id !== device.mode && (positions === undefined || positions.includes(device.position ?? 1)),
  );

/** The devices between a terminal and where its signal comes from, from the terminal on. */
function passedBy({ wiring }: Unchecked, target: number): readonly WiredDevice[] {
  const passed = new Set<number>();
  const seen = new Set<number>();
  for (let at = target; at >= 0 && !seen.has(at); at = wiring.feeder[at]!) {
    seen.add(at);
    passed.add(wiring.deviceOf[at]!);
  }
  return [...passed].map((index) => wiring.devices[index]!);
}
