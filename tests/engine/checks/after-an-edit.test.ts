/** E1, check by check: what a check finds after an edit that it must not miss, and no more than from scratch. */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse } from "#engine/analysis.ts";
import { CHECKS } from "#engine/findings/checks.ts";
import { metres, ms } from "#engine/model/units.ts";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { withDevice } from "./told.ts";

/**
 *     House link1 ──L1── a Box b ──L2── link1 Monitors        House's mixes on out 1–4, Monitors' on out 5–8
 *     House mix 1 ── out 1
 */
const show: Show = {
  ...rig({
    devices: {
      house: { name: "House", type: "console-24", set: ["link1 1 x3 < main 1", "out 1 < main 1"] },
      monitors: { name: "Monitors", type: "console-24", clock: "link1", set: ["link1 1 x8 < mix 1"] },
      box: { name: "Box", type: "box-16-8", mode: "two" },
    },
    cables: ["L1: house.link1 - box.a, 50 m", "L2: monitors.link1 - box.b"],
    wants: [
      "Fill: box.out.1 < house.main.1",
      "Wedge: box.out.5 < monitors.mix.7",
      "Ears: box.out.6 < monitors.mix.6",
    ],
    groups: ["Fills: house.out.1, box.out.1"],
  }),
};
const limited: Show = { ...show, settings: { ...show.settings, latencyLimit: ms(0.1) } };

/** The types as their makers' sheets would tell them. */
const sheeted: Show = {
  ...show,
  types: JSON.parse(JSON.stringify(show.types).replaceAll('"assumed"', '"maker\'s sheet"')) as Show["types"],
};

const rerouted = (device: string, ...set: readonly string[]): Show =>
  withDevice(show, device, {
    routing: rig({ devices: { house: { name: "", type: "console-24", set } } }).devices[0]!.routing,
  });

/** L1 longer than its ports allow, and the types with ports that allow so many metres. */
const long: Show = {
  ...show,
  cables: show.cables.map((cable, n) => (n === 0 ? { ...cable, length: metres(150) } : cable)),
};
const reaching = (maxMetres: number): Show["types"] =>
  show.types.map((type) => ({
    ...type,
    ports: type.ports.map((port) => ({
      ...port,
      cables: port.cables.map((rule) => ({ ...rule, maxMetres })),
    })),
  }));

/** What an edit clears of a check, or brings up where it is made the other way round. */
const EDITS: readonly (readonly [check: string, what: string, before: Show, after: Show])[] = [
  [
    "arrive-apart",
    "a member of the group less",
    show,
    { ...show, groups: [{ ...show.groups![0]!, members: [] }] },
  ],
  ["arrive-apart", "one member goes dark", show, rerouted("house", "link1 1 x3 < main 1")],
  ["over-latency", "a limit", limited, show],
  ["over-latency", "the wants", limited, { ...limited, wants: [] }],
  ["assumed-path", "the types", show, sheeted],
  ["assumed-path", "the wants", show, { ...show, wants: [] }],
  ["common-loss", "the wants", show, { ...show, wants: [] }],
  ["common-loss", "a console's settings", show, rerouted("monitors")],
  ["stranded", "a console's settings", show, rerouted("house", "link1 1 x8 < mix 1", "out 1 < main 1")],
  [
    "cable-length-unknown",
    "the cables",
    show,
    { ...show, cables: show.cables.map((each) => ({ ...each, length: metres(5) })) },
  ],
  ["wrong-feed", "the wants", show, { ...show, wants: show.wants.slice(0, 1) }],
  ["cable-too-long", "the types", long, { ...long, types: reaching(200) }],
  ["dark-feed", "a console off", rerouted("monitors"), show],
];

describe("after an edit", () => {
  test.each(EDITS)("[E1] %s: %s", (check, _, before, after) => {
    const n = CHECKS.findIndex(({ id }) => id === check);
    const first = analyse(before);
    expect(first.foundBy[n]).not.toEqual([]);
    const second = reanalyse(after, first);
    expect(second.foundBy[n]).not.toEqual(first.foundBy[n]);
    expect(second.findings).toEqual(analyse(after).findings);
    expect(reanalyse(before, second).findings).toEqual(first.findings);
  });

  test("[E1] [F34] a block that nobody holds any more", () => {
    const held = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a, 50 m"],
      wants: ["Drums: box.out.3 < house.mix.11", "Vocal: box.out.1 < house.mix.1"],
    });
    const first = analyse(held);
    const free = { ...held, wants: held.wants.slice(0, 1) };
    expect(first.findings.map(({ check }) => check)).toContain("held-block");
    expect(reanalyse(free, first).findings).toEqual(analyse(free).findings);
  });
});
