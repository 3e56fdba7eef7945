/**
 * Three rigs for measuring, each the same on every run: a club, a festival and an arena week. Nothing here is random.
 *
 * A stage of the two large ones, signal from left to right:
 *
 *     Record ──→ Broadcast ──→ Monitors ──→ House ══ four links ══ Box 1 ── Box 2 ─ … ─ Box 8 ══ racks, one behind the other
 *                                                                    ├ breakouts on the monitor bus
 *     microphones → splits ═════════════════════════════════════════ in
 *
 * Each console hands half of what it sends on from the console before it, as in a show where three consoles share the
 * boxes of one; so most output jacks arrive over three to eight hops.
 */
import {
  bank,
  carry,
  group,
  mode,
  monitorBus,
  patch,
  range,
  slotLink,
  TO_ANALOGUE,
  TO_DIGITAL,
  wired,
} from "#engine/catalog/parts.ts";
import { catalogueType } from "#engine/catalog/types.ts";
import type { DeviceType, Range } from "#engine/model/device-type.ts";
import {
  id,
  type CableId,
  type ChannelId,
  type DeviceId,
  type MixId,
  type ModeId,
  type PlaceId,
  type ShowId,
  type SourceId,
  type TypeId,
  type WantId,
} from "#engine/model/ids.ts";
import {
  SHOW_FORMAT,
  SHOW_VERSION,
  type Assignment,
  type Cable,
  type CableEnd,
  type ChannelPlan,
  type Device,
  type Mix,
  type Place,
  type Show,
  type Source,
  type Want,
} from "#engine/model/show.ts";
import { metres } from "#engine/model/units.ts";

const LINKS = [1, 2, 3, 4, 5, 6];

function largeConsole(): DeviceType {
  const ports = LINKS.map((n) => slotLink(`link${n}`, `Link ${n}`));
  const taps: Range[] = [
    range("mix", 1, 64),
    range("main", 1, 3),
    range("mtx", 1, 24),
    range("direct", 1, 128),
  ];
  const inputs: Range[] = [range("in", 1, 16), ...ports.map((port) => range(port.id, 1, 48))];
  const section = (
    name: string,
    label: string,
    role: "channel" | "mix" | "main" | "matrix" | "direct",
    count: number,
    from: readonly string[],
  ) => ({ id: group(name), name: label, role, count, from: from.map(group), block: 8 });
  return {
    id: id<TypeId>("large-console"),
    name: "128-channel console, six 48-slot links",
    category: "console",
    banks: [
      bank("in", "Local in", "in", 16, "XLR", "mic", { convert: TO_DIGITAL }),
      bank("out", "Local out", "out", 16, "XLR", "line", { convert: TO_ANALOGUE }),
    ],
    ports,
    mixer: {
      sections: [
        section("ch", "Channel", "channel", 128, []),
        section("mix", "Mix", "mix", 64, ["ch"]),
        section("main", "Main", "main", 3, ["ch", "mix"]),
        section("mtx", "Matrix", "matrix", 24, ["main", "mix"]),
        section("direct", "Direct out", "direct", 128, ["ch"]),
      ],
      processing: { value: 0.6, unit: "ms", provenance: "assumed" },
    },
    rules: [
      patch(range("ch", 1, 128), inputs, 1),
      patch(range("out", 1, 16), [...taps, ...inputs], 1),
      ...ports.map((port) => patch(range(port.id, 1, 48), [...taps, ...inputs], 8)),
    ],
    modes: [mode("normal", "Normal", [])],
    chain: 1,
    clock: "internal",
  };
}

/** 64 in, 24 out; two on one link share its slots: the second takes and gives 25–48. */
const LARGE_BOX: DeviceType = {
  id: id<TypeId>("large-box"),
  name: "Stage box 64 in, 24 out",
  category: "stage box",
  banks: [
    bank("in", "In", "in", 64, "XLR", "mic", { convert: TO_DIGITAL }),
    bank("out", "Out", "out", 24, "XLR", "line", { convert: TO_ANALOGUE }),
  ],
  ports: [
    slotLink("a", "Link A"),
    slotLink("b", "Link B"),
    slotLink("c", "Link C"),
    monitorBus("pm", "Monitor bus", { receives: false }),
  ],
  rules: [
    wired("out", 1, "a", 1, 24, { from: 24 }),
    wired("a", 1, "in", 1, 24, { to: 24 }),
    carry("a", "c"),
    carry("c", "a"),
    wired("b", 1, "in", 17, 48),
    wired("pm", 1, "a", 33, 16),
  ],
  modes: [mode("chain", "Chain", [], { positions: [1, 2] })],
  chain: 2,
  clock: group("a"),
};

const LARGE_SPLIT: DeviceType = {
  id: id<TypeId>("large-split"),
  name: "Passive split 48",
  category: "split",
  banks: [
    bank("in", "In", "in", 48, "XLR", "mic"),
    bank("direct", "Direct", "out", 48, "XLR", "mic"),
    bank("isolated", "Isolated", "out", 48, "XLR", "mic"),
  ],
  ports: [],
  rules: [wired("direct", 1, "in", 1, 48), wired("isolated", 1, "in", 1, 48)],
  modes: [mode("normal", "Normal", [])],
  chain: 1,
  clock: "none",
};

const RACK: DeviceType = {
  id: id<TypeId>("rack-48"),
  name: "Distribution rack, 48 in, 48 out",
  category: "processor",
  banks: [
    bank("in", "In", "in", 48, "XLR", "line", { convert: TO_DIGITAL }),
    bank("out", "Out", "out", 48, "XLR", "line", { convert: TO_ANALOGUE }),
  ],
  ports: [],
  rules: [patch(range("out", 1, 48), [range("in", 1, 48)], 1)],
  modes: [mode("normal", "Normal", [])],
  chain: 1,
  clock: "none",
};

export type RigName = "club" | "festival" | "arena week";

interface Parts {
  readonly places: Place[];
  readonly devices: Device[];
  readonly cables: Cable[];
  readonly sources: Source[];
  readonly channels: ChannelPlan[];
  readonly mixes: Mix[];
  readonly wants: Want[];
}

const set = (to: string, first: number, count: number, from: string, fromFirst: number): Assignment => ({
  to: { group: group(to), first },
  from: { group: group(from), first: fromFirst },
  count,
});

/** Adds records to one rig, numbering them. */
class Builder {
  readonly parts: Parts = {
    places: [],
    devices: [],
    cables: [],
    sources: [],
    channels: [],
    mixes: [],
    wants: [],
  };
  #place = id<PlaceId>("site");

  place(name: string): void {
    this.#place = id<PlaceId>(`place-${this.parts.places.length + 1}`);
    this.parts.places.push({
      id: this.#place,
      name,
      at: { x: 0, y: 800 * this.parts.places.length },
      size: { width: 4000, height: 700 },
    });
  }

  device(name: string, type: string, more: Partial<Device> = {}): DeviceId {
    const { devices } = this.parts;
    const key = id<DeviceId>(`d${devices.length + 1}`);
    devices.push({
      id: key,
      name,
      type: id<TypeId>(type),
      place: this.#place,
      at: { x: 160 * (devices.length % 25), y: 80 },
      mode: id<ModeId>("normal"),
      position: 1,
      powered: true,
      routing: [],
      ...more,
    });
    return key;
  }

  cable(a: readonly [DeviceId, string, number?], b: readonly [DeviceId, string, number?], ways = 1): void {
    const { cables } = this.parts;
    const end = ([device, name, first]: typeof a): CableEnd => ({
      device,
      group: group(name),
      first: first ?? 1,
    });
    const link = a[2] === undefined;
    cables.push({
      id: id<CableId>(`c${cables.length + 1}`),
      kind: link ? "cat5e-shielded" : "multicore",
      length: metres(5 + (cables.length % 60)),
      tag: `${link ? "L" : "M"}${cables.length + 1}`,
      ways,
      ends: [end(a), end(b)],
    });
  }

  source(device: DeviceId, bankName: string, number: number): void {
    const { sources } = this.parts;
    const n = sources.length + 1;
    sources.push({
      id: id<SourceId>(`s${n}`),
      name: `Source ${n}`,
      kind: n % 5 === 0 ? "DI" : "microphone",
      at: { device, group: group(bankName), number },
      phantom: n % 3 === 0,
    });
  }

  /** Plans every channel of a console and fills its mixes, each with `members` neighbouring channels. */
  mixer(console: DeviceId, channels: number, mixes: number, members: number): void {
    for (let number = 1; number <= channels; number++) {
      const n = this.parts.channels.length + 1;
      this.parts.channels.push({
        id: id<ChannelId>(`ch${n}`),
        console,
        group: group("ch"),
        number,
        name: `Channel ${number}`,
      });
    }
    for (let first = 1; first <= mixes; first++) {
      const n = this.parts.mixes.length + 1;
      this.parts.mixes.push({
        id: id<MixId>(`m${n}`),
        console,
        group: group("mix"),
        first,
        width: 1,
        name: `Mix ${first}`,
        members: Array.from({ length: members }, (_, m) => ({
          group: group("ch"),
          number: ((first * 3 + m) % channels) + 1,
          tap: m % 2 === 0 ? "post" : "pre",
        })),
      });
    }
  }

  want(device: DeviceId, number: number): void {
    const { wants } = this.parts;
    wants.push({
      id: id<WantId>(`w${wants.length + 1}`),
      name: `Feed ${wants.length + 1}`,
      to: { device, group: group("out"), number },
    });
  }

  show(title: string, types: readonly DeviceType[]): Show {
    return {
      format: SHOW_FORMAT,
      version: SHOW_VERSION,
      id: id<ShowId>(title.replaceAll(" ", "-")),
      title,
      venue: "",
      notes: "",
      settings: { sampleRate: 48000, units: "metric", paper: "A4" },
      types,
      ...this.parts,
      lineChecks: [],
      revisions: [],
    };
  }
}

interface StageSize {
  readonly splits: number;
  readonly boxes: number;
  readonly racks: number;
  readonly breakouts: number;
  readonly loudspeakers: number;
}

function stage(builder: Builder, number: number, size: StageSize): void {
  const name = (what: string): string => `Stage ${number} ${what}`;
  builder.place(name("site"));
  // Half of each link from the console's own taps, half handed on from the console before it. On the way to the boxes
  // the nearer box of a pair gets what was handed on, the further one the house console's own.
  const own = (link: string, first: number, from: number): Assignment[] => [
    set(link, first, 8, "mix", from),
    set(link, first + 8, 8, "mix", from + 8),
    set(link, first + 16, 8, "mix", from + 16),
  ];
  const channels = [
    set("ch", 1, 48, "link1", 1),
    set("ch", 49, 48, "link2", 1),
    set("ch", 97, 32, "link3", 1),
  ];
  const locals = [set("out", 1, 3, "main", 1), set("out", 4, 13, "mtx", 1)];
  const house = builder.device(name("house"), "large-console", {
    routing: [
      ...channels,
      ...locals,
      set("link1", 1, 24, "link5", 1),
      ...own("link1", 25, 1),
      set("link2", 1, 24, "link5", 25),
      ...own("link2", 25, 17),
      set("link3", 1, 24, "link5", 1),
      ...own("link3", 25, 33),
      // The last pair of boxes carries other consoles' feeds only.
      set("link4", 1, 48, "link5", 1),
    ],
  });
  const before = (what: string, tie: string): DeviceId =>
    builder.device(name(what), "large-console", {
      clock: group("link1"),
      // 1–24 its own, 25–48 those of the console behind it.
      routing: [set("ch", 1, 48, "link1", 1), ...locals, ...own("link1", 1, 1), set("link1", 25, 24, tie, 1)],
    });
  const monitors = before("monitors", "link2");
  const broadcast = before("broadcast", "link2");
  const record = before("record", "link2");
  builder.cable([monitors, "link1"], [house, "link5"]);
  builder.cable([broadcast, "link1"], [monitors, "link2"]);
  builder.cable([record, "link1"], [broadcast, "link2"]);
  for (const console of [house, monitors, broadcast, record]) builder.mixer(console, 128, 64, 16);

  const boxes: DeviceId[] = [];
  for (let n = 0; n < size.boxes; n++) {
    const position = (n % 2) + 1;
    const box = builder.device(name(`box ${n + 1}`), "large-box", { mode: id<ModeId>("chain"), position });
    if (position === 1) builder.cable([house, `link${n / 2 + 1}`], [box, "a"]);
    else builder.cable([boxes.at(-1)!, "c"], [box, "a"]);
    boxes.push(box);
    for (let out = 1; out <= 24; out++) builder.want(box, out);
  }
  for (let n = 0; n < size.splits; n++) {
    const split = builder.device(name(`split ${n + 1}`), "large-split");
    for (let jack = 1; jack <= 48; jack++) builder.source(split, "in", jack);
    builder.cable([split, "direct", 1], [boxes[(2 * n) % boxes.length]!, "in", 1], 48);
    builder.cable([split, "isolated", 1], [boxes[(2 * n + 1) % boxes.length]!, "in", 1], 48);
  }
  const racks: DeviceId[] = [];
  for (let n = 0; n < size.racks; n++) {
    const last = racks.at(-1);
    const rack = builder.device(name(`rack ${n + 1}`), "rack-48", {
      routing: [set("out", 1, 24, "in", last ? 25 : 1), set("out", 25, 24, "in", 1)],
    });
    // The first racks stand behind one box each; what is left stands behind the rack before it.
    const feed: readonly [DeviceId, string, number] =
      n < boxes.length ? [boxes[n]!, "out", 1] : [last!, "out", 1];
    builder.cable(feed, [rack, "in", 1], 24);
    if (last) builder.cable([last, "out", 25], [rack, "in", 25], 24);
    racks.push(rack);
  }
  for (let n = 0; n < size.breakouts; n++) {
    const breakout = builder.device(name(`breakout ${n + 1}`), "breakout-16", { mode: id<ModeId>("pm") });
    builder.cable([boxes[n % boxes.length]!, "pm"], [breakout, "pm"]);
    for (let out = 1; out <= 16; out++) builder.want(breakout, out);
  }
  for (let n = 0; n < size.loudspeakers; n++) {
    const loudspeaker = builder.device(name(`loudspeaker ${n + 1}`), "loudspeaker");
    builder.cable([racks[n % racks.length]!, "out", 1 + n], [loudspeaker, "in", 1]);
  }
}

const LARGE_TYPES = [
  largeConsole(),
  LARGE_BOX,
  LARGE_SPLIT,
  RACK,
  catalogueType("breakout-16"),
  catalogueType("loudspeaker"),
];

function stages(title: string, count: number, size: StageSize): Show {
  const builder = new Builder();
  for (let n = 1; n <= count; n++) stage(builder, n, size);
  return builder.show(title, LARGE_TYPES);
}

/** House, monitors and a small third console; six boxes in three chains of two. All types are the catalogue's. */
function club(): Show {
  const builder = new Builder();
  builder.place("Club");
  const locals = (matrices: number): Assignment[] => [
    set("out", 1, 3, "main", 1),
    set("out", 4, matrices, "mtx", 1),
  ];
  // Slots 1–8 of the boxes' links come from the third console, 9–16 from the house, 17–24 from monitors.
  const toBoxes = (link: string, from: number): Assignment[] => [
    set(link, 1, 8, "link2", 9),
    set(link, 9, 8, "mix", from),
    set(link, 17, 8, "link2", 1),
  ];
  const house = builder.device("House", "console-96", {
    routing: [
      set("ch", 1, 48, "link1", 1),
      set("ch", 49, 48, "link3", 1),
      ...toBoxes("link1", 1),
      ...toBoxes("link3", 17),
      ...locals(5),
    ],
  });
  const monitors = builder.device("Monitors", "console-48", {
    clock: group("link1"),
    routing: [set("link1", 1, 8, "mix", 1), set("link1", 9, 8, "link2", 1), ...locals(5)],
  });
  const third = builder.device("Record", "console-24", {
    clock: group("link1"),
    routing: [set("link1", 1, 8, "direct", 1), ...locals(4)],
  });
  builder.cable([monitors, "link1"], [house, "link2"]);
  builder.cable([third, "link1"], [monitors, "link2"]);
  builder.mixer(house, 96, 40, 12);
  builder.mixer(monitors, 48, 24, 12);
  builder.mixer(third, 24, 12, 12);
  for (const link of ["link1", "link3"]) {
    let last: readonly [DeviceId, string] = [house, link];
    for (const position of [1, 2, 3]) {
      const box = builder.device(`Box ${link} ${position}`, "box-16-8", {
        mode: id<ModeId>("chain"),
        position,
      });
      builder.cable(last, [box, "a"]);
      last = [box, "b"];
      for (let jack = 1; jack <= 16; jack++) builder.source(box, "in", jack);
      for (let jack = 1; jack <= 8; jack++) builder.want(box, jack);
    }
  }
  return builder.show("Club", ["console-96", "console-48", "console-24", "box-16-8"].map(catalogueType));
}

export function benchRig(name: RigName): Show {
  switch (name) {
    case "club":
      return club();
    case "festival":
      return stages("Festival", 3, { splits: 2, boxes: 6, racks: 5, breakouts: 2, loudspeakers: 1 });
    case "arena week":
      return arenaTimes(1);
  }
}

/** The arena week so many times over, stage beside stage: for how the work grows. */
export const arenaTimes = (times: number): Show =>
  stages("Arena week", 10 * times, { splits: 2, boxes: 8, racks: 9, breakouts: 2, loudspeakers: 0 });

/** What a rig has, counted from the show alone. */
export function census(show: Show): {
  readonly consoles: number;
  readonly devices: number;
  readonly jacks: number;
} {
  const types = new Map(show.types.map((type) => [type.id, type]));
  let [consoles, jacks] = [0, 0];
  for (const device of show.devices) {
    const type = types.get(device.type)!;
    if (type.category === "console") consoles++;
    for (const { count } of type.banks) jacks += count;
  }
  return { consoles, devices: show.devices.length, jacks };
}
