/** F17: devices that stand in a chain, and whether their positions go up by one along it. */
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import type { Port } from "../wiring/plugs.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Device } from "../model/show.ts";
import { listOf } from "./describe.ts";
import { found, type Check, type Finding, type Severity } from "./finding.ts";
import { gather, once } from "../model/once.ts";
import { wiredOf } from "../trace/records.ts";
import { deviceFix, modeAt } from "./remedies.ts";

export const chain: Check = {
  id: "chain",
  about: "chain positions that don't go up by one, that the mode doesn't fit or the type can't take",
  reads: ({ wiring }) => [wiring.conduct, wiring.show.cables],
  run: ({ wiring }) =>
    chainsOf(wiring).flatMap(({ head, behind }) => {
      const findings: Finding[] = [];
      const at = new Map<number, WiredDevice>();
      /** `ahead`: what stands before it in the chain. `at`: the positions taken on the way there. */
      const visit = (wired: WiredDevice, ahead: WiredDevice | null): void => {
        const problem = look(wiring, wired, ahead, at.get(wired.device.position));
        if (problem) findings.push(problem);
        const taken = at.get(wired.device.position);
        if (!taken) at.set(wired.device.position, wired);
        for (const next of behind.get(wired.index) ?? []) visit(next, wired);
        if (!taken) at.delete(wired.device.position);
      };
      visit(head, null);
      return findings;
    }),
  propose: ({ wiring }, { devices: [id] }) => {
    const wired = wiredOf(wiring, id!)!;
    const { device } = wired;
    const mode = modeAt(wired, device.position);
    return [
      ...(mode === null
        ? []
        : [
            deviceFix(`Switch ${device.name} to the mode for position ${device.position}`, {
              ...device,
              mode,
            }),
          ]),
      deviceFix(`Number the chain of ${device.name} from 1 on`, ...renumber(wiring, wired)),
    ];
  },
};

/** Every device of a chain whose position or mode isn't what its place asks for, put right; none where one can't be. */
function renumber(wiring: Wiring, within: WiredDevice): readonly Device[] {
  const changed: Device[] = [];
  for (const { head, behind } of chainsOf(wiring)) {
    const members: { readonly wired: WiredDevice; readonly position: number }[] = [];
    const visit = (wired: WiredDevice, position: number): void => {
      members.push({ wired, position });
      for (const next of behind.get(wired.index) ?? []) visit(next, position + 1);
    };
    visit(head, 1);
    if (!members.some(({ wired }) => wired === within)) continue;
    for (const { wired, position } of members) {
      const mode = modeAt(wired, position);
      if (mode === null) return [];
      const { device } = wired;
      if (device.position !== position || device.mode !== mode) changed.push({ ...device, position, mode });
    }
  }
  return changed;
}

/** The port that leads up the chain: the one whose clock the mode or the type follows, however the device is set. */
export function portUp({ fabric }: WiredDevice): Port["port"] | undefined {
  const followed = fabric.mode?.clock ?? fabric.layout.type.clock;
  return fabric.layout.type.ports.find(({ id }) => id === followed);
}

const chains = ({ fabric }: WiredDevice): boolean =>
  fabric.mode?.positions !== undefined && fabric.layout.type.chain > 1;

/** The device ahead in the same chain: at the far end of the port up, in a chain mode, on the same sort of link. */
function aheadOf(wiring: Wiring, wired: WiredDevice): WiredDevice | null {
  const up = portUp(wired);
  const far = up && wiring.plugs.ofPort(wired.index, up.id)?.far?.device;
  if (!far || !chains(far)) return null;
  return portUp(far)?.transport === up.transport ? far : null;
}

export interface Chain {
  readonly head: WiredDevice;
  /** What stands right behind each device; nearly always one. */
  readonly behind: ReadonlyMap<number, readonly WiredDevice[]>;
}

/** Every chain from its head on. A circle has no head; its clock goes round with it, which check F16 tells. */
export const chainsOf = once((wiring: Wiring): readonly Chain[] => {
  const behind = new Map<number, WiredDevice[]>();
  const heads: WiredDevice[] = [];
  for (const wired of wiring.devices) {
    if (!wired || !chains(wired)) continue;
    const ahead = aheadOf(wiring, wired);
    if (ahead) gather(behind, ahead.index, wired);
    else heads.push(wired);
  }
  return heads.map((head) => ({ head, behind }));
});

function look(
  wiring: Wiring,
  wired: WiredDevice,
  ahead: WiredDevice | null,
  twin: WiredDevice | undefined,
): Finding | null {
  const { name, position } = wired.device;
  const { type } = wired.fabric.layout;
  const mode = wired.fabric.mode!;
  if (position > type.chain) {
    return told(
      wired,
      "error",
      `${name} stands at position ${position} of a chain of at most ${type.chain}`,
      {
        reason: `${type.name}: ${type.chain} to a chain, in mode “${mode.name}”.`,
      },
    );
  }
  if (twin) {
    return told(
      wired,
      "error",
      `${twin.device.name} and ${name} both stand at position ${position} of one chain`,
      {
        reason: `Both take the same slots of the link; what one sends covers what the other does.`,
        also: [twin.device.id],
      },
    );
  }
  if (!mode.positions!.includes(position)) {
    return told(
      wired,
      "error",
      `${name} stands at position ${position} in a mode for ${placesOf(mode.positions!)}`,
      {
        reason: `Mode “${mode.name}” is for ${placesOf(mode.positions!)} of a chain, not ${position}.`,
      },
    );
  }
  if (ahead && position !== ahead.device.position + 1) {
    const due = ahead.device.position + 1;
    return told(wired, "warning", `${name} stands at position ${position}, and ${due} is next in the chain`, {
      reason: `It is plugged behind ${ahead.device.name}, which stands at position ${ahead.device.position}. Its slots are those of position ${position}.`,
      also: [ahead.device.id],
    });
  }
  const up = portUp(wired);
  const far = up && wiring.plugs.ofPort(wired.index, up.id)?.far?.device;
  if (!ahead && far && position !== 1) {
    return told(wired, "warning", `${name} is the first of its chain and stands at position ${position}`, {
      reason: `${far.device.name}, which it is plugged to, is no part of a chain; its slots are those of position ${position}, and the ones before them stay unused.`,
    });
  }
  return null;
}

const placesOf = (positions: readonly number[]): string =>
  `position${positions.length === 1 ? "" : "s"} ${listOf(positions.map(String))}`;

const told = (
  { device }: WiredDevice,
  severity: Severity,
  title: string,
  { reason, also = [] }: { readonly reason: string; readonly also?: readonly DeviceId[] },
): Finding =>
  found(
    { id: `chain:${device.id}`, check: "chain", severity, title, reason },
    { devices: [device.id, ...also] },
  );
