/**
 * After any one field of any one record is changed, an analysis says the same as from scratch, and again when the change is
 * taken back. Random edits seldom come to the field that a rig hangs on; here each field of each record has its turn.
 */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse } from "#engine/analysis.ts";
import { id, type CableId, type DeviceId, type SourceId, type StreamId } from "#engine/model/ids.ts";
import type { Cable, CableEnd, Device, Show, Source, Stream } from "#engine/model/show.ts";
import { metres } from "#engine/model/units.ts";
import * as rigs from "../engine/rigs/index.ts";
import { differences } from "./differences.ts";

type Changed<Named> = readonly (readonly [what: string, change: Partial<Named>])[];

const next = (end: CableEnd): CableEnd => ({ ...end, first: end.first + 1 });

const ofDevice = (device: Device, show: Show): Changed<Device> => {
  const type = show.types.find((each) => each.id === device.type);
  return [
    ["name", { name: `${device.name}!` }],
    ["power", { powered: !device.powered }],
    ["position", { position: device.position + 1 }],
    ["rate", { sampleRate: 96000 }],
    ["own clock", { clock: "internal" }],
    ["no settings", { routing: [] }],
    [
      "settings one on",
      { routing: device.routing.map((set) => ({ ...set, to: { ...set.to, first: set.to.first + 1 } })) },
    ],
    [
      "other sources",
      {
        routing: device.routing.map((set) => ({ ...set, from: { ...set.from, first: set.from.first + 1 } })),
      },
    ],
    ["no inserts", { inserts: [] }],
    ...(type?.ports ?? []).map((port) => [`clock ${port.id}`, { clock: port.id }] as const),
    ...(type?.modes ?? []).map((mode) => [`mode ${mode.id}`, { mode: mode.id }] as const),
  ];
};

const ofCable = ({ ends: [a, b], kind }: Cable): Changed<Cable> => [
  ["tag", { tag: "other" }],
  ["length", { length: metres(33) }],
  ["kind", { kind: kind === "fibre" ? "coax-75" : "fibre" }],
  ["ways", { ways: 2 }],
  ["turned", { ends: [b, a] }],
  ["first end", { ends: [next(a), b] }],
  ["second end", { ends: [a, next(b)] }],
  ["lost end", { ends: [a, { ...b, device: id<DeviceId>("gone") }] }],
];

const ofSource = ({ at }: Source): Changed<Source> => [
  ["jack", { at: { ...at, number: at.number + 1 } }],
  ["name", { name: "Other" }],
  ["nowhere", { at: { ...at, device: id<DeviceId>("gone") } }],
];

const ofStream = ({ from, to }: Stream): Changed<Stream> => [
  ["packets", { packetTime: 0.125 }],
  ["channels", { channels: 3 }],
  ["sender", { from: next(from) }],
  ["receivers", { to: to.map(next) }],
  ["no receivers", { to: [] }],
];

interface Named {
  readonly id: string;
}

/** Each record with each change, without each record, and with each one twice. */
function edits<Each extends Named>(
  list: readonly Each[],
  changes: (record: Each) => Changed<Each>,
  put: (list: readonly Each[]) => Show,
  again: (key: string) => Each["id"],
): readonly (readonly [string, Show])[] {
  return list.flatMap((record, n) => [
    ...changes(record).map(
      ([what, change]) => [`${record.id}: ${what}`, put(list.with(n, { ...record, ...change }))] as const,
    ),
    [`${record.id} out`, put(list.toSpliced(n, 1))] as const,
    [`${record.id} twice`, put([...list, { ...record, id: again(`${record.id}-2`) }])] as const,
  ]);
}

const allEdits = (show: Show): readonly (readonly [string, Show])[] => [
  ...edits<Device>(
    show.devices,
    (device) => ofDevice(device, show),
    (devices) => ({ ...show, devices }),
    (key) => id<DeviceId>(key),
  ),
  ...edits<Cable>(
    show.cables,
    ofCable,
    (cables) => ({ ...show, cables }),
    (key) => id<CableId>(key),
  ),
  ...edits<Source>(
    show.sources,
    ofSource,
    (sources) => ({ ...show, sources }),
    (key) => id<SourceId>(key),
  ),
  ...edits<Stream>(
    show.streams ?? [],
    ofStream,
    (streams) => ({ ...show, streams }),
    (key) => id<StreamId>(key),
  ),
  ["another rate", { ...show, settings: { ...show.settings, sampleRate: 44100 } }],
];

/** Links, jacks, AES3, streams through a switch, inserts, joins. */
const CHOSEN = ["R13", "R18", "R34", "R37", "R66", "R71", "R72", "R74", "R77"];

const chosen = [...rigs.RIGS].flatMap(([name, { show }]) => (CHOSEN.includes(name) ? [{ name, show }] : []));

describe("one field at a time", () => {
  test.each(chosen)("[E1] $name", ({ show }) => {
    const before = analyse(show);
    for (const [what, edited] of allEdits(show)) {
      const after = reanalyse(edited, before);
      expect(differences(after, analyse(edited)), what).toEqual([]);
      expect(differences(reanalyse(show, after), before), `${what}, taken back`).toEqual([]);
    }
  });

  test("every rig that is named is there", () => {
    expect(chosen.map(({ name }) => name)).toEqual(CHOSEN);
  });
});
