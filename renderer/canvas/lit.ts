/** What of the lit traces lies on each device and on each cable; worked out once for each focus. */
import { findTerminal, stepsOf, type Analysis, type CableId, type DeviceId } from "#engine";
import type { Lit } from "../state/contract.ts";

/** Numbers within the spans of one device, ascending. */
export interface LitDevice {
  readonly some: readonly { readonly span: number; readonly numbers: readonly number[] }[];
}

export interface LitCable {
  /** Lit receiving terminals; empty where the cable is lit as a whole. */
  readonly terminals: ReadonlySet<number>;
}

interface Sorted {
  readonly devices: ReadonlyMap<DeviceId, LitDevice>;
  readonly cables: ReadonlyMap<CableId, LitCable>;
}

const known = new WeakMap<Lit, Sorted>();

function sorted(lit: Lit, analysis: Analysis): Sorted {
  let found = known.get(lit);
  if (!found) known.set(lit, (found = sort(lit, analysis)));
  return found;
}

function sort(lit: Lit, { wiring }: Analysis): Sorted {
  const spans = new Map<DeviceId, Map<number, number[]>>();
  for (const terminal of [...lit.terminals].sort((a, b) => a - b)) {
    const wired = wiring.devices[wiring.deviceOf[terminal] ?? -1];
    if (!wired) continue;
    const offset = terminal - wired.base;
    const span = wired.fabric.layout.spans.findIndex(({ start, count }) => offset < start + count);
    const start = wired.fabric.layout.spans[span]?.start ?? 0;
    let bySpan = spans.get(wired.device.id);
    if (!bySpan) spans.set(wired.device.id, (bySpan = new Map()));
    const numbers = bySpan.get(span);
    if (numbers) numbers.push(offset - start + 1);
    else bySpan.set(span, [offset - start + 1]);
  }
  const devices = new Map<DeviceId, LitDevice>();
  for (const id of lit.devices) {
    const some = [...(spans.get(id) ?? [])].map(([span, numbers]) => ({ span, numbers }));
    devices.set(id, { some });
  }
  const terminals = new Map<CableId, Set<number>>();
  for (const id of lit.cables) terminals.set(id, new Set());
  for (const trace of lit.traces) {
    for (const step of stepsOf(trace)) {
      if (step.kind !== "cable") continue;
      const at = findTerminal(wiring, step.to);
      if (at !== null) terminals.get(step.cable)?.add(at);
    }
  }
  return {
    devices,
    cables: new Map([...terminals].map(([id, found]) => [id, { terminals: found }])),
  };
}

/** Null where the device isn't lit. The same object for the same focus, so that only lit devices draw again. */
export const litOn = (lit: Lit, analysis: Analysis, device: DeviceId): LitDevice | null =>
  lit.devices.has(device) ? (sorted(lit, analysis).devices.get(device) ?? null) : null;

export const litAlong = (lit: Lit, analysis: Analysis, cable: CableId): LitCable | null =>
  lit.cables.has(cable) ? (sorted(lit, analysis).cables.get(cable) ?? null) : null;
