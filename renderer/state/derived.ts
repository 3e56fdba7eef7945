/** Tables over the whole rig that several panels read. Worked out once for each analysis. */
import {
  blocksOf,
  outputJacks,
  ownerIndex,
  type Analysis,
  type Block,
  type CableId,
  type Category,
  type DeviceId,
  type Severity,
  type WiredDevice,
} from "#engine";

function once<Value>(work: (analysis: Analysis) => Value): (analysis: Analysis) => Value {
  const known = new WeakMap<Analysis, { readonly value: Value }>();
  return (analysis) => {
    let entry = known.get(analysis);
    if (!entry) known.set(analysis, (entry = { value: work(analysis) }));
    return entry.value;
  };
}

export interface BoxOutputs {
  readonly wired: WiredDevice;
  readonly blocks: readonly Block[];
}

/** Where outputs are looked for first: the boxes on stage, then what hangs on them, then the consoles' own jacks. */
const OUTPUT_ORDER: readonly Category[] = ["stage box", "breakout", "personal mixer", "console"];

const rank = ({ fabric }: WiredDevice): number => {
  const at = OUTPUT_ORDER.indexOf(fabric.layout.type.category);
  return at < 0 ? OUTPUT_ORDER.length : at;
};

/** Every device with output jacks, and its blocks. */
export const boxOutputs = once((analysis): readonly BoxOutputs[] => {
  const { wiring, arrivals } = analysis;
  return wiring.devices
    .filter((wired) => wired !== null)
    .map((wired) => ({
      wired,
      blocks: outputJacks(wired).flatMap(({ span }) => blocksOf(wiring, arrivals, wired, span)),
    }))
    .filter(({ blocks }) => blocks.length > 0)
    .sort((a, b) => rank(a.wired) - rank(b.wired));
});

export const firstTerminal = ({ wired, span, first }: Block): number => wired.base + span.start + first - 1;

/** Output jacks by owner, in all boxes. */
export const jacksByOwner = once((analysis): ReadonlyMap<DeviceId, number> => {
  const counts = new Map<DeviceId, number>();
  for (const { blocks } of boxOutputs(analysis)) {
    for (const block of blocks) {
      const start = firstTerminal(block);
      for (let n = 0; n <= block.last - block.first; n++) {
        const owner = ownerIndex(analysis.wiring, analysis.arrivals, start + n);
        if (owner < 0) continue;
        const { id } = analysis.wiring.devices[owner]!.device;
        counts.set(id, (counts.get(id) ?? 0) + 1);
      }
    }
  }
  return counts;
});

const SEVERITY_ORDER: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };
const worse = (a: Severity | undefined, b: Severity): Severity =>
  a !== undefined && SEVERITY_ORDER[a] <= SEVERITY_ORDER[b] ? a : b;

export interface Marks {
  readonly devices: ReadonlyMap<DeviceId, Severity>;
  readonly cables: ReadonlyMap<CableId, Severity>;
}

/** The gravest finding at each device and cable. */
export const findingMarks = once(({ findings }): Marks => {
  const devices = new Map<DeviceId, Severity>();
  const cables = new Map<CableId, Severity>();
  for (const { severity, devices: at, cables: on, terminals } of findings) {
    for (const device of new Set([...at, ...terminals.map((terminal) => terminal.device)])) {
      devices.set(device, worse(devices.get(device), severity));
    }
    for (const cable of on) cables.set(cable, worse(cables.get(cable), severity));
  }
  return { devices, cables };
});

export const findingCounts = once(({ findings }): Readonly<Record<Severity, number>> => {
  const counts = { error: 0, warning: 0, note: 0 };
  for (const { severity } of findings) counts[severity]++;
  return counts;
});
