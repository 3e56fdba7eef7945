/**
 * The demo show, invented: an open-air winter concert on a bandstand, with a front-of-house, a monitor and a truck
 * console. Every mechanism of the job stands in it: a stage box shared by three consoles, a chain of two boxes, monitor
 * outputs carried through front of house to a box's monitor bus and out of a breakout, AES10 to the truck, a passive
 * split, a stage link with two breakouts, stereo in-ears, wedges, loudspeaker zones, a recorder.
 */
import {
  id,
  type GroupId,
  type MixMember,
  type Show,
  type SourceId,
  type SourceKind,
  type TerminalRef,
} from "#engine";
import { at, Rig } from "./rig.ts";

interface Line {
  readonly name: string;
  readonly kind: SourceKind;
  readonly phantom?: boolean;
  /** What the mixes take it for. */
  readonly part:
    | "drums"
    | "bass"
    | "guitars"
    | "keys"
    | "vocals"
    | "strings"
    | "brass"
    | "percussion"
    | "choir"
    | "speech"
    | "playback";
}

const mic = (name: string, part: Line["part"], phantom = false): Line => ({
  name,
  kind: "microphone",
  part,
  phantom,
});
const di = (name: string, part: Line["part"], phantom = true): Line => ({ name, kind: "DI", part, phantom });

/** On the split: jacks 1–16, so that the truck has preamps of its own for the rhythm section and the lead. */
const SPLIT_LINES: readonly Line[] = [
  mic("Kick in", "drums"),
  mic("Kick out", "drums"),
  mic("Snare top", "drums"),
  mic("Snare bottom", "drums"),
  mic("Hi-hat", "drums", true),
  mic("Rack tom", "drums"),
  mic("Floor tom", "drums"),
  mic("Overhead left", "drums", true),
  mic("Overhead right", "drums", true),
  di("Bass DI", "bass"),
  mic("Bass mic", "bass"),
  mic("Guitar left", "guitars"),
  mic("Guitar right", "guitars"),
  di("Keys left", "keys"),
  di("Keys right", "keys"),
  mic("Lead vocal", "vocals"),
];

/** Straight in the stage-left box: jacks 17–32. */
const LEFT_LINES: readonly Line[] = [
  mic("Vocal 2", "vocals"),
  mic("Vocal 3", "vocals"),
  mic("Vocal 4", "vocals"),
  di("Acoustic guitar", "guitars"),
  mic("Presenter 1", "speech"),
  mic("Presenter 2", "speech"),
  mic("Violin 1", "strings", true),
  mic("Violin 2", "strings", true),
  mic("Viola", "strings", true),
  mic("Cello", "strings", true),
  mic("Choir left", "choir", true),
  mic("Choir centre", "choir", true),
  mic("Choir right", "choir", true),
  mic("Choir solo", "choir"),
  mic("Lectern", "speech", true),
  mic("Spare vocal", "vocals"),
];

const BAND_A_LINES: readonly Line[] = [
  mic("Cornet 1", "brass"),
  mic("Cornet 2", "brass"),
  mic("Cornet 3", "brass"),
  mic("Flugelhorn", "brass"),
  mic("Tenor horn 1", "brass"),
  mic("Tenor horn 2", "brass"),
  mic("Baritone", "brass"),
  mic("Trombone 1", "brass"),
  mic("Trombone 2", "brass"),
  mic("Bass trombone", "brass"),
  mic("Euphonium 1", "brass"),
  mic("Euphonium 2", "brass"),
  mic("Tuba 1", "brass"),
  mic("Tuba 2", "brass"),
  mic("Flute", "brass", true),
  mic("Clarinet", "brass", true),
];

const BAND_B_LINES: readonly Line[] = [
  mic("Timpani left", "percussion", true),
  mic("Timpani right", "percussion", true),
  mic("Concert bass drum", "percussion"),
  mic("Side drum", "percussion"),
  mic("Cymbals", "percussion", true),
  mic("Glockenspiel", "percussion", true),
  mic("Xylophone", "percussion", true),
  mic("Tubular bells", "percussion", true),
  mic("Harp left", "strings", true),
  mic("Harp right", "strings", true),
  mic("Piano low", "keys", true),
  mic("Piano high", "keys", true),
  di("Accordion", "keys"),
  mic("Sleigh bells", "percussion", true),
  mic("Ambience left", "choir", true),
  mic("Ambience right", "choir", true),
];

const FOH_LINES: readonly Line[] = [
  { name: "Playback left", kind: "playback", part: "playback" },
  { name: "Playback right", kind: "playback", part: "playback" },
  { name: "Announcements", kind: "line", part: "speech" },
  { name: "Front of house talkback", kind: "talkback", part: "speech" },
];
const MONITOR_LINES: readonly Line[] = [{ name: "Monitor talkback", kind: "talkback", part: "speech" }];
const TRUCK_LINES: readonly Line[] = [
  mic("Commentary 1", "speech"),
  mic("Commentary 2", "speech"),
  { name: "Picture sound left", kind: "line", part: "playback" },
  { name: "Picture sound right", kind: "line", part: "playback" },
];

const EARS = ["Lead vocal", "Vocal 2", "Vocal 3", "Guitar", "Bass", "Keys", "Conductor", "Drums"] as const;

/** A channel of a console and what stands on it. */
interface Strip {
  readonly number: number;
  readonly part: Line["part"];
}

export function quayside(): Show {
  const rig = new Rig();
  layOut(rig);
  cable(rig);
  route(rig);
  plan(rig);
  return rig.show(
    "quayside",
    "Quayside Winter Concert",
    "Harbour bandstand",
    "An invented show. Front of house, monitors and the truck share the stage-left box; monitors reach their in-ears through front of house.",
  );
}

/** The site from above, audience on the left and stage on the right. A test sees that no two nodes touch. */
function layOut(rig: Rig): void {
  rig.place("Harbour bar", -560, 0, 450, 310);
  rig.device("bar", "Harbour bar", "breakout-16", "Harbour bar", -520, 60, {
    mode: "stage-later",
    position: 2,
  });
  rig.place("Delay tower", -560, 390, 450, 310);
  rig.device("tower", "Delay tower", "breakout-16", "Delay tower", -520, 450, { mode: "stage-first" });

  rig.place("Front of house", 0, 0, 700, 440);
  rig.device("foh", "Front of house", "console-96", "Front of house", 40, 60);

  rig.place("Monitor position", 0, 520, 860, 660);
  rig.device("mon", "Monitors", "console-96", "Monitor position", 40, 580, { clock: id("link1") });
  rig.device("if-rec", "Recording interface", "aes10-interface-src", "Monitor position", 40, 980);
  rig.device("rec", "Recorder", "recorder-64", "Monitor position", 450, 980);

  rig.place("Truck", 0, 1260, 700, 640);
  rig.device("trk", "Truck", "console-48", "Truck", 40, 1320, { clock: id("link1") });
  rig.device("if-truck", "Truck interface", "aes10-interface", "Truck", 40, 1700, { clock: id("coax-in") });

  rig.place("Stage left", 1000, 0, 870, 1130);
  rig.device("split", "Split", "split-16", "Stage left", 1040, 60);
  rig.device("sl", "Stage left", "box-32-16", "Stage left", 1040, 330, { mode: "three" });
  rig.device("if-stage", "Stage interface", "aes10-interface", "Stage left", 1040, 630);
  rig.device("proc", "Loudspeaker processor", "processor-8", "Stage left", 1460, 630);
  rig.device("tb", "Truck box", "box-16-8", "Stage left", 1040, 850);
  rig.device("tx-host", "Presenter ears", "ear-transmitter", "Stage left", 1460, 850);

  rig.place("In-ear rack", 1960, 0, 580, 810);
  rig.device("ears", "Ears rack", "breakout-16", "In-ear rack", 2000, 60, { mode: "pm" });
  EARS.forEach((name, n) => {
    const [x, y] = [2000 + 270 * (n % 2), 340 + 120 * Math.floor(n / 2)];
    rig.device(`tx${n + 1}`, `Ears ${n + 1} ${name}`, "ear-transmitter", "In-ear rack", x, y);
  });

  rig.place("Loudspeakers", 1960, 890, 640, 570);
  [...PA, ...FILLS].forEach((name, n) => {
    const [x, y] = [2000 + 200 * (n % 3), 950 + 120 * Math.floor(n / 3)];
    const key = n < PA.length ? `pa${n + 1}` : `fill${n + 1 - PA.length}`;
    rig.device(key, name, "loudspeaker", "Loudspeakers", x, y);
  });

  rig.place("Bandstand", 1000, 1210, 880, 860);
  rig.device("ba", "Band A", "box-16-8", "Bandstand", 1040, 1270, { mode: "chain", position: 1 });
  rig.device("bb", "Band B", "box-16-8", "Bandstand", 1470, 1270, { mode: "chain", position: 2 });
  rig.device("pm1", "Drummer's mixer", "personal-mixer", "Bandstand", 1040, 1600);
  for (let n = 0; n < 12; n++) {
    const [x, y] = [1290 + 190 * (n % 3), 1600 + 120 * Math.floor(n / 3)];
    rig.device(`w${n + 1}`, `Wedge ${n + 1}`, "wedge", "Bandstand", x, y);
  }
}

const PA = [
  "PA left",
  "PA right",
  "Sub left",
  "Sub right",
  "Front fill left",
  "Front fill right",
  "Out fill left",
  "Out fill right",
] as const;
const FILLS = ["Side fill left", "Side fill right", "Choir fill left", "Choir fill right"] as const;

function cable(rig: Rig): void {
  const data = "cat5e-shielded";
  rig.link("L1", data, 75, "foh.link1", "sl.a");
  rig.link("L2", data, 80, "mon.link2", "foh.link2");
  rig.link("L3", data, 70, "foh.link3", "ba.a");
  rig.link("L4", data, 15, "ba.b", "bb.a");
  rig.link("L5", data, 12, "mon.link1", "sl.b");
  rig.link("L6", data, 3, "mon.link3", "if-rec.link");
  rig.link("L7", data, 2, "sl.c", "if-stage.link");
  rig.link("L8", data, 3, "trk.link1", "if-truck.link");
  rig.link("L9", data, 60, "trk.link2", "tb.a");
  rig.link("C1", "coax-75", 45, "if-stage.coax-out", "if-truck.coax-in");
  rig.link("C2", "coax-75", 45, "if-truck.coax-out", "if-stage.coax-in");
  rig.link("C3", "coax-75", 2, "if-rec.coax-out", "rec.coax-in");
  rig.link("C4", "coax-75", 2, "rec.coax-out", "if-rec.coax-in");
  rig.link("P1", data, 20, "sl.pm", "ears.pm");
  rig.link("P2", data, 10, "ba.pm", "pm1.pm");
  rig.link("S1", "digital-110", 60, "foh.stage", "tower.stage");
  rig.link("S2", "digital-110", 40, "tower.stage-thru", "bar.stage");

  rig.loom("M1", "multicore", 5, 16, "split.direct.1", "sl.in.1");
  rig.loom("M2", "multicore", 5, 16, "split.isolated.1", "tb.in.1");
  rig.loom("M3", "multicore", 10, 8, "sl.out.1", "proc.in.1");
  EARS.forEach((_, n) =>
    rig.loom(`E${n + 1}`, "multicore", 2, 2, `ears.out.${2 * n + 1}`, `tx${n + 1}.in.1`),
  );
  rig.loom("E9", "multicore", 3, 2, "sl.out.13", "tx-host.in.1");
  for (let n = 1; n <= 4; n++) rig.loom(`W${n}`, "microphone", 10, 1, `sl.out.${8 + n}`, `w${n}.in.1`);
  for (let n = 5; n <= 12; n++) rig.loom(`W${n}`, "microphone", 10, 1, `ba.out.${n - 4}`, `w${n}.in.1`);
  PA.forEach((_, n) => rig.loom(`A${n + 1}`, "microphone", 25, 1, `proc.out.${n + 1}`, `pa${n + 1}.in.1`));
  FILLS.forEach((_, n) => rig.loom(`F${n + 1}`, "microphone", 15, 1, `bb.out.${n + 1}`, `fill${n + 1}.in.1`));
}

function route(rig: Rig): void {
  // Front of house: its own outputs, and the blocks that it carries for monitors in both directions.
  rig.set("foh", "ch 1", "link1 1", 32);
  rig.set("foh", "ch 33", "link3 1", 32);
  rig.set("foh", "ch 65", "in 1", 8);
  rig.set("foh", "link1 1", "mtx 1", 8);
  rig.set("foh", "link1 33", "link2 1", 8);
  rig.set("foh", "link1 41", "link2 9", 8);
  rig.set("foh", "link2 1", "link3 1", 32);
  rig.set("foh", "link3 1", "link2 17", 8);
  rig.set("foh", "link3 9", "mtx 9", 8);
  rig.set("foh", "link3 33", "link2 25", 16);
  rig.set("foh", "stage 1", "mix 25", 16);
  rig.set("foh", "stage 17", "mix 9", 16);
  rig.set("foh", "out 1", "main 1", 3);
  rig.set("foh", "out 4", "mix 1", 5);

  rig.set("mon", "ch 1", "link1 1", 32);
  rig.set("mon", "ch 33", "link2 1", 32);
  rig.set("mon", "ch 65", "in 1", 8);
  rig.set("mon", "link1 1", "mix 1", 8);
  rig.set("mon", "link2 1", "mix 9", 16);
  rig.set("mon", "link2 17", "mix 25", 8);
  rig.set("mon", "link2 25", "direct 1", 16);
  rig.set("mon", "link3 1", "link1 1", 32);
  rig.set("mon", "link3 33", "link2 1", 16);
  rig.set("mon", "out 1", "main 1", 2);
  rig.set("mon", "out 3", "mix 33", 6);

  rig.set("trk", "ch 1", "link2 1", 16);
  rig.set("trk", "ch 17", "link1 17", 16);
  rig.set("trk", "ch 33", "in 1", 8);
  rig.set("trk", "link1 1", "mix 1", 8);
  rig.set("trk", "link2 1", "mix 9", 8);
  rig.set("trk", "out 1", "main 1", 2);
  rig.set("trk", "out 3", "mix 17", 6);

  rig.set("proc", "out 1", "in 1", 8);
}

function plan(rig: Rig): void {
  const plug = (lines: readonly Line[], where: (number: number) => TerminalRef, owner: string): SourceId[] =>
    lines.map((line, n) => rig.source(line.name, line.kind, where(n + 1), owner, line.phantom ?? false));
  const split = plug(SPLIT_LINES, (n) => at("split", "in", n), "foh");
  const left = plug(LEFT_LINES, (n) => at("sl", "in", n + 16), "foh");
  const bandA = plug(BAND_A_LINES, (n) => at("ba", "in", n), "foh");
  const bandB = plug(BAND_B_LINES, (n) => at("bb", "in", n), "foh");
  const foh = plug(FOH_LINES, (n) => at("foh", "in", n), "foh");
  const mon = plug(MONITOR_LINES, (n) => at("mon", "in", n), "mon");
  const trk = plug(TRUCK_LINES, (n) => at("trk", "in", n), "trk");

  const stage = [...SPLIT_LINES, ...LEFT_LINES, ...BAND_A_LINES, ...BAND_B_LINES];
  const stageSources = [...split, ...left, ...bandA, ...bandB];
  const stripsOf = (
    desk: string,
    sources: readonly SourceId[],
    lines: readonly Line[],
    first: number,
    shared: readonly SourceId[] = [],
  ): Strip[] =>
    sources.map((source, n) => {
      rig.channel(desk, first + n, source, shared.includes(source));
      return { number: first + n, part: lines[n]!.part };
    });
  const fohStrips = [...stripsOf("foh", stageSources, stage, 1), ...stripsOf("foh", foh, FOH_LINES, 65)];
  // Front of house sets the gain; the others follow where they don't have preamps of their own behind the split.
  const monStrips = [
    ...stripsOf("mon", stageSources, stage, 1, stageSources),
    ...stripsOf("mon", mon, MONITOR_LINES, 65),
  ];
  const trkStrips = [
    ...stripsOf("trk", [...split, ...left], [...SPLIT_LINES, ...LEFT_LINES], 1, left),
    ...stripsOf("trk", trk, TRUCK_LINES, 33),
  ];
  fohMixes(rig, fohStrips);
  monitorMixes(rig, monStrips);
  truckMixes(rig, trkStrips);
  rig.mix("pm1", "main", 1, 2, "Drummer's mix", members(Array.from({ length: 16 }, (_, n) => n + 1)));
  recordWants(rig, split.length + left.length);
  arrivalGroups(rig);
}

/** What is heard as one: the hangs at the stage, and the wedges that stand side by side but hang on different boxes. */
function arrivalGroups(rig: Rig): void {
  const jacks = (device: string, first: number, count: number): TerminalRef[] =>
    Array.from({ length: count }, (_, n) => at(device, "out", first + n));
  rig.group(
    "Front loudspeakers",
    0.05,
    PA.map((_, n) => at(`pa${n + 1}`, "in", 1)),
  );
  rig.group("Wedges", 0.5, [...jacks("sl", 9, 4), ...jacks("ba", 1, 8)]);
}

const members = (numbers: readonly number[], group = "ch", tap: "pre" | "post" = "post"): MixMember[] =>
  numbers.map((number) => ({ group: id<GroupId>(group), number, tap }));

const of = (strips: readonly Strip[], ...parts: Line["part"][]): number[] =>
  strips.filter(({ part }) => parts.length === 0 || parts.includes(part)).map(({ number }) => number);

function fohMixes(rig: Rig, strips: readonly Strip[]): void {
  const music = strips.filter(({ number }) => number !== 68);
  rig.mix("foh", "main", 1, 2, "Main", members(of(music)));
  rig.mix("foh", "main", 3, 1, "Sub bus", members(of(strips, "drums", "bass", "playback")));
  const matrix = (first: number, name: string, from: readonly MixMember[]): void => {
    rig.mix("foh", "mtx", first, 1, name, from);
  };
  const main = (number: number): MixMember[] => members([number], "main");
  PA.forEach((name, n) => matrix(n + 1, name, name.startsWith("Sub") ? main(3) : main((n % 2) + 1)));
  const bandB = [...FILLS, "Dressing room", "Green room", "Steward point", "First aid point"];
  bandB.forEach((name, n) => matrix(n + 9, name, main((n % 2) + 1)));
  rig.mix("foh", "mix", 1, 2, "Headphone listen", members(of(strips), "ch", "pre"));
  rig.mix("foh", "mix", 3, 2, "Guest recording", members(of(music)));
  rig.mix("foh", "mix", 5, 1, "Hearing loop", members(of(strips, "speech", "vocals")));
  const bar = [
    "Bar left",
    "Bar right",
    "Terrace",
    "Kiosk",
    "Press 1",
    "Press 2",
    "Press 3",
    "Press 4",
    "Boat left",
    "Boat right",
    "Ticket office",
    "Car park",
    "Bar spare 1",
    "Bar spare 2",
    "Bar spare 3",
    "Bar spare 4",
  ];
  const tower = [
    "Delay left",
    "Delay right",
    "Delay sub",
    "Delay fill",
    "Field east 1",
    "Field east 2",
    "Field west 1",
    "Field west 2",
    "Quay wall 1",
    "Quay wall 2",
    "Quay wall 3",
    "Quay wall 4",
    "Tower spare 1",
    "Tower spare 2",
    "Tower spare 3",
    "Tower spare 4",
  ];
  bar.forEach((name, n) => {
    const parts: Line["part"][] = name.startsWith("Press") ? ["speech", "vocals"] : [];
    rig.mix("foh", "mix", n + 9, 1, name, members(of(music, ...parts)));
    if (!name.includes("spare")) rig.want(name, at("bar", "out", n + 1), at("foh", "mix", n + 9));
  });
  tower.forEach((name, n) => {
    const parts: Line["part"][] = name === "Delay sub" ? ["drums", "bass", "playback"] : [];
    rig.mix("foh", "mix", n + 25, 1, name, members(of(music, ...parts)));
    if (!name.includes("spare")) rig.want(name, at("tower", "out", n + 1), at("foh", "mix", n + 25));
  });
  PA.forEach((name, n) => rig.want(name, at(`pa${n + 1}`, "in", 1), at("foh", "mtx", n + 1)));
  bandB.forEach((name, n) => rig.want(name, at("bb", "out", n + 1), at("foh", "mtx", n + 9)));
  rig.want("Guest recording left", at("foh", "out", 6), at("foh", "mix", 3));
  rig.want("Guest recording right", at("foh", "out", 7), at("foh", "mix", 4));
  rig.want("Hearing loop", at("foh", "out", 8), at("foh", "mix", 5));
}

function monitorMixes(rig: Rig, strips: readonly Strip[]): void {
  const wedges: readonly (readonly [string, Line["part"][]])[] = [
    ["Centre left", ["vocals", "keys", "speech"]],
    ["Centre right", ["vocals", "keys", "speech"]],
    ["Presenters", ["speech", "playback"]],
    ["Choir", ["choir", "keys", "strings"]],
  ];
  wedges.forEach(([name, parts], n) => {
    rig.mix("mon", "mix", n + 1, 1, name, members(of(strips, ...parts), "ch", "pre"));
    rig.want(`Wedge ${n + 1} ${name}`, at("sl", "out", n + 9), at("mon", "mix", n + 1));
  });
  for (let n = 5; n <= 8; n++) {
    rig.mix("mon", "mix", n, 1, `Spare wedge ${n - 4}`, members(of(strips, "vocals"), "ch", "pre"));
  }
  EARS.forEach((name, n) => {
    const tap = at("mon", "mix", 9 + 2 * n);
    rig.mix("mon", "mix", tap.number, 2, `Ears ${name}`, members(of(strips), "ch", "pre"));
    rig.want(`Ears ${name} left`, at("ears", "out", 2 * n + 1), tap);
    rig.want(`Ears ${name} right`, at("ears", "out", 2 * n + 2), { ...tap, number: tap.number + 1 });
  });
  const band = ["Cornets", "Horns", "Trombones", "Euphoniums", "Tubas", "Woodwind", "Percussion", "Strings"];
  band.forEach((name, n) => {
    rig.mix("mon", "mix", 25 + n, 1, name, members(of(strips, "brass", "percussion", "keys"), "ch", "pre"));
    rig.want(`Wedge ${n + 5} ${name}`, at("ba", "out", n + 1), at("mon", "mix", 25 + n));
  });
  rig.mix("mon", "main", 1, 2, "Listen", members(of(strips), "ch", "pre"));
  for (let n = 33; n <= 38; n++) {
    rig.mix("mon", "mix", n, 1, `Cue ${n - 32}`, members(of(strips, "vocals", "drums"), "ch", "pre"));
  }
}

function truckMixes(rig: Rig, strips: readonly Strip[]): void {
  rig.mix("trk", "main", 1, 2, "Programme", members(of(strips)));
  const stage = ["Presenter ears left", "Presenter ears right", "Stage manager", "Truck talkback"];
  stage.forEach((name, n) => {
    rig.mix("trk", "mix", n + 1, 1, name, members(of(strips, "speech"), "ch", "pre"));
    rig.want(name, at("sl", "out", n + 13), at("trk", "mix", n + 1));
  });
  for (let n = 5; n <= 8; n++) rig.mix("trk", "mix", n, 1, `Return ${n}`, members(of(strips, "speech")));
  const box = [
    "Camera left",
    "Camera right",
    "Crane",
    "Roaming camera",
    "Interview left",
    "Interview right",
    "Floor 1",
    "Floor 2",
  ];
  box.forEach((name, n) => {
    rig.mix("trk", "mix", n + 9, 1, name, members(of(strips, "speech", "vocals")));
    rig.want(`${name} return`, at("tb", "out", n + 1), at("trk", "mix", n + 9));
  });
  rig.mix("trk", "mix", 17, 2, "Clean feed", members(of(strips, "vocals", "brass", "strings", "choir")));
  rig.mix(
    "trk",
    "mix",
    19,
    2,
    "International sound",
    members(of(strips, "drums", "bass", "guitars", "keys")),
  );
  rig.mix("trk", "mix", 21, 2, "Archive", members(of(strips)));
  rig.want("Programme left", at("trk", "out", 1), at("trk", "main", 1));
  rig.want("Programme right", at("trk", "out", 2), at("trk", "main", 2));
}

/** Tracks 1–48 take the stage inputs before any console touches them: the split, stage left, then band A. */
function recordWants(rig: Rig, onStageLeft: number): void {
  const lines = [...SPLIT_LINES, ...LEFT_LINES, ...BAND_A_LINES];
  lines.forEach((line, n) => {
    const from =
      n < SPLIT_LINES.length
        ? at("split", "in", n + 1)
        : n < onStageLeft
          ? at("sl", "in", n + 1)
          : at("ba", "in", n + 1 - onStageLeft);
    rig.want(`Track ${n + 1} ${line.name}`, at("rec", "tracks", n + 1), from);
  });
}
