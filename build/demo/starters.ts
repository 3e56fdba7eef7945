/**
 * Rigs to start from, invented: places, devices, cables, routing and outputs of three usual jobs, with no input list, which
 * is every show's own. Opened as new shows; what doesn't fit is deleted sooner than built.
 */
import { catalogueType, type Show } from "#engine";
import { nodeGeometry } from "#engine/layout/geometry.ts";
import { at, Rig } from "./rig.ts";

interface Standing {
  readonly key: string;
  readonly name: string;
  readonly type: string;
  readonly mode?: string;
  readonly position?: number;
  readonly clock?: string;
}

const GAP = 60;
const MARGIN = 40;
/** Between places, so that cables have room to run. */
const BETWEEN = 160;
const HEAD = 60;

/** Stands devices in a place, in columns from its corner; tells where the next place below may begin. */
function furnish(
  rig: Rig,
  place: string,
  x: number,
  y: number,
  columns: readonly (readonly Standing[])[],
): number {
  let left = x + MARGIN;
  let lowest = y;
  for (const column of columns) {
    let top = y + HEAD;
    let widest = 0;
    for (const { key, name, type, mode, position, clock } of column) {
      const { width, height } = nodeGeometry(catalogueType(type));
      rig.device(key, name, type, place, left, top, {
        ...(mode === undefined ? {} : { mode }),
        ...(position === undefined ? {} : { position }),
        ...(clock === undefined ? {} : { clock: at(key, clock, 1).group }),
      });
      top += height + GAP;
      widest = Math.max(widest, width);
    }
    left += widest + GAP;
    lowest = Math.max(lowest, top - GAP);
  }
  const width = left - GAP + MARGIN - x;
  rig.place(place, x, y, width, lowest + MARGIN - y);
  return lowest + MARGIN + BETWEEN;
}

/** A console's mixes, mono or stereo, each wanted at the next jacks of a bank. */
function outputs(
  rig: Rig,
  desk: string,
  group: string,
  firstBus: number,
  to: string,
  firstJack: number,
  names: readonly string[],
  width: 1 | 2 = 1,
): void {
  names.forEach((name, n) => {
    const bus = firstBus + n * width;
    rig.mix(desk, group, bus, width, name, []);
    for (let side = 0; side < width; side++) {
      const [device, bank] = to.split(".");
      const wanted = width === 1 ? name : `${name} ${side === 0 ? "left" : "right"}`;
      rig.want(wanted, at(device!, bank!, firstJack + n * width + side), at(desk, group, bus + side));
    }
  });
}

const WEDGES = ["Wedge 1", "Wedge 2", "Wedge 3", "Wedge 4", "Wedge 5", "Wedge 6"];

const blankOf = (show: Show): Show => ({ ...show, revisions: [] });

/** House and monitors on one box: eight outputs each, and eight more of monitors' through the house to a breakout. */
export function club(): Show {
  const rig = new Rig();
  const below = furnish(rig, "Front of house", 0, 0, [[{ key: "house", name: "House", type: "console-48" }]]);
  furnish(rig, "Monitor position", 0, below, [
    [{ key: "monitors", name: "Monitors", type: "console-48", clock: "link1" }],
  ]);
  furnish(rig, "Stage", 1300, 0, [
    [
      { key: "box", name: "Stage box", type: "box-32-16", mode: "two" },
      { key: "ears", name: "Ears rack", type: "breakout-16", mode: "pm" },
    ],
  ]);
  rig.link("L1", "cat5e-shielded", 50, "house.link1", "box.a");
  rig.link("L2", "cat5e-shielded", 20, "monitors.link1", "box.b");
  rig.link("L3", "cat5e-shielded", 60, "monitors.link2", "house.link2");
  rig.link("P1", "cat5e-shielded", 10, "box.pm", "ears.pm");
  for (const desk of ["house", "monitors"]) rig.set(desk, "ch 1", "link1 1", 32);
  rig.set("house", "link1 1", "mix 1", 8);
  rig.set("monitors", "link1 1", "mix 1", 8);
  rig.set("monitors", "link2 1", "mix 9", 16);
  rig.set("house", "link1 33", "link2 1", 16);
  outputs(rig, "house", "mix", 1, "box.out", 1, [
    "PA left",
    "PA right",
    "Sub",
    "Front fill",
    "Bar left",
    "Bar right",
  ]);
  outputs(rig, "monitors", "mix", 1, "box.out", 9, WEDGES);
  outputs(rig, "monitors", "mix", 9, "ears.out", 1, ["Ears 1", "Ears 2", "Ears 3", "Ears 4"], 2);
  return blankOf(
    rig.show(
      "starter-club",
      "Two-console club",
      "",
      "A rig to start from: two consoles on one stage box, monitors' in-ears carried through the house console.",
    ),
  );
}

/** House, monitors and broadcast on two chained boxes and one of their own; in-ears through the house. */
export function festival(): Show {
  const rig = new Rig();
  const second = furnish(rig, "Front of house", 0, 0, [
    [{ key: "house", name: "House", type: "console-96" }],
  ]);
  const third = furnish(rig, "Monitor position", 0, second, [
    [{ key: "monitors", name: "Monitors", type: "console-96", clock: "link1" }],
  ]);
  furnish(rig, "Broadcast truck", 0, third, [
    [{ key: "truck", name: "Broadcast", type: "console-48", clock: "link1" }],
  ]);
  const right = furnish(rig, "Stage left", 1500, 0, [
    [
      { key: "left", name: "Stage left", type: "box-32-16", mode: "three" },
      { key: "ears", name: "Ears rack", type: "breakout-16", mode: "pm" },
    ],
  ]);
  furnish(rig, "Stage right", 1500, right, [
    [
      { key: "riser1", name: "Riser A", type: "box-16-8", mode: "chain", position: 1 },
      { key: "riser2", name: "Riser B", type: "box-16-8", mode: "chain", position: 2 },
    ],
  ]);
  rig.link("L1", "cat5e-shielded", 80, "house.link1", "left.a");
  rig.link("L2", "cat5e-shielded", 15, "monitors.link1", "left.b");
  rig.link("L3", "cat5e-shielded", 60, "truck.link1", "left.c");
  rig.link("L4", "cat5e-shielded", 80, "monitors.link2", "house.link2");
  rig.link("L5", "cat5e-shielded", 75, "house.link3", "riser1.a");
  rig.link("L6", "cat5e-shielded", 15, "riser1.b", "riser2.a");
  rig.link("P1", "cat5e-shielded", 10, "left.pm", "ears.pm");
  for (const desk of ["house", "monitors", "truck"]) rig.set(desk, "ch 1", "link1 1", 32);
  rig.set("house", "ch 33", "link3 1", 32);
  // The risers come to monitors over the house's second link.
  rig.set("house", "link2 1", "link3 1", 32);
  rig.set("monitors", "ch 33", "link2 1", 32);
  rig.set("house", "link1 1", "mix 1", 8);
  rig.set("house", "link3 1", "mix 9", 16);
  rig.set("monitors", "link1 1", "mix 1", 8);
  rig.set("truck", "link1 1", "mix 1", 8);
  rig.set("monitors", "link2 1", "mix 9", 16);
  rig.set("house", "link1 33", "link2 1", 16);
  outputs(rig, "house", "mix", 1, "left.out", 1, [
    "PA left",
    "PA right",
    "Sub left",
    "Sub right",
    "Front fill",
    "Delay",
  ]);
  outputs(rig, "monitors", "mix", 1, "left.out", 9, ["Wedge 1", "Wedge 2", "Wedge 3", "Wedge 4"]);
  outputs(rig, "truck", "mix", 1, "left.out", 13, ["Commentary return 1", "Commentary return 2"]);
  outputs(rig, "house", "mix", 9, "riser1.out", 1, ["Side fill left", "Side fill right"]);
  outputs(
    rig,
    "monitors",
    "mix",
    9,
    "ears.out",
    1,
    ["Ears 1", "Ears 2", "Ears 3", "Ears 4", "Ears 5", "Ears 6"],
    2,
  );
  return blankOf(
    rig.show(
      "starter-festival",
      "Three-console festival stage",
      "",
      "A rig to start from: house, monitors and a truck on one stage box, two riser boxes in a chain, in-ears through the house console.",
    ),
  );
}

/** A house console and a broadcast console that take the same box; a small box on the fly floor. */
export function theatre(): Show {
  const rig = new Rig();
  const below = furnish(rig, "Auditorium", 0, 0, [[{ key: "house", name: "House", type: "console-48" }]]);
  furnish(rig, "Broadcast room", 0, below, [
    [{ key: "air", name: "Broadcast", type: "console-24", clock: "link1" }],
  ]);
  const fly = furnish(rig, "Stage", 1300, 0, [
    [{ key: "box", name: "Stage box", type: "box-32-16", mode: "two" }],
  ]);
  furnish(rig, "Fly floor", 1300, fly, [
    [{ key: "fly", name: "Fly floor box", type: "box-16-8", mode: "one" }],
  ]);
  rig.link("L1", "cat5e-shielded", 60, "house.link1", "box.a");
  rig.link("L2", "cat5e-shielded", 70, "air.link1", "box.b");
  rig.link("L3", "cat5e-shielded", 45, "house.link2", "fly.a");
  rig.set("house", "ch 1", "link1 1", 32);
  rig.set("house", "ch 33", "link2 1", 16);
  rig.set("air", "ch 1", "link1 1", 24);
  rig.set("house", "link1 1", "mix 1", 8);
  rig.set("house", "link2 1", "mix 9", 8);
  rig.set("air", "link1 1", "mix 1", 8);
  outputs(rig, "house", "mix", 1, "box.out", 1, [
    "Stalls left",
    "Stalls right",
    "Circle left",
    "Circle right",
    "Sub",
  ]);
  outputs(rig, "house", "mix", 9, "fly.out", 1, ["Thunder run", "Bridge left", "Bridge right"]);
  outputs(rig, "air", "mix", 1, "box.out", 9, ["Show relay", "Cue lights room", "Hearing loop"]);
  return blankOf(
    rig.show(
      "starter-theatre",
      "Theatre with broadcast",
      "",
      "A rig to start from: a house and a broadcast console on one stage box, a second box on the fly floor.",
    ),
  );
}
