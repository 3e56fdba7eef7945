/** An analysis after an edit, from the one before it. Random edits by the hundred stand in `tests/property`. */
import { describe, expect, test, vi } from "vitest";
import { analyse, reanalyse, type Analysis } from "#engine/analysis.ts";
import { CHECKS } from "#engine/findings/checks.ts";
import type { Finding } from "#engine/findings/finding.ts";
import type { Device, Show } from "#engine/model/show.ts";
import { id, type ModeId, type TypeId } from "#engine/model/ids.ts";
import { demo } from "./demo.ts";

const SHOW: Show = demo();
const BEFORE = analyse(SHOW);

const withDevice = (name: string, edit: (device: Device) => Device): Show => {
  expect(SHOW.devices.map((device) => device.name)).toContain(name);
  return { ...SHOW, devices: SHOW.devices.map((device) => (device.name === name ? edit(device) : device)) };
};

const told = (findings: readonly Finding[]): readonly string[] =>
  findings.map((each) => JSON.stringify(each));

describe("after an edit", () => {
  test.each([
    ["a device off", withDevice("Front of house", (device) => ({ ...device, powered: false }))],
    ["a device on another rate", withDevice("Stage left", (device) => ({ ...device, sampleRate: 96000 }))],
    ["settings cleared", withDevice("Monitors", (device) => ({ ...device, routing: [] }))],
    [
      "a mode that the type lacks",
      withDevice("Monitors", (device) => ({ ...device, mode: id<ModeId>("?") })),
    ],
    ["a device of no known type", withDevice("Monitors", (device) => ({ ...device, type: id<TypeId>("?") }))],
    ["a device renamed", withDevice("Monitors", (device) => ({ ...device, name: "Ears" }))],
    ["a cable out", { ...SHOW, cables: SHOW.cables.slice(1) }],
    ["the last cable out", { ...SHOW, cables: SHOW.cables.slice(0, -1) }],
    ["a source at another jack", { ...SHOW, sources: [{ ...SHOW.sources[0]!, at: SHOW.sources[1]!.at }] }],
    ["no mixes", { ...SHOW, mixes: [] }],
    ["another rate", { ...SHOW, settings: { ...SHOW.settings, sampleRate: 96000 } }],
  ] satisfies [string, Show][])("[E1] %s: the same as from scratch", (_, show) => {
    const again = reanalyse(show, BEFORE);
    const anew = analyse(show);
    expect(told(again.findings)).toEqual(told(anew.findings));
    expect(again.arrivals.root).toEqual(anew.arrivals.root);
    expect(again.arrivals.delay).toEqual(anew.arrivals.delay);
    expect(again.wiring.state).toEqual(anew.wiring.state);
    // And back again.
    expect(told(reanalyse(SHOW, again).findings)).toEqual(told(BEFORE.findings));
  });

  test("[E1] the analysis before stays what it was", () => {
    const { wiring, arrivals } = BEFORE;
    const tables = {
      ...{ feeder: wiring.feeder, state: wiring.state, edge: wiring.edge, setting: wiring.setting },
      ...{ delay: wiring.delay, sourceAt: wiring.sourceAt, root: arrivals.root, steps: arrivals.steps },
      ...{ arrival: arrivals.delay, leaders: wiring.leaders, down: wiring.downList },
    };
    const copies = structuredClone(tables);
    const sources = SHOW.sources.map((source, n) =>
      n < 4 ? { ...source, at: SHOW.sources[9]!.at } : source,
    );
    const bare = withDevice("Front of house", (device) => ({ ...device, routing: [], powered: false }));
    reanalyse({ ...bare, sources, cables: SHOW.cables.slice(0, -3) }, BEFORE);
    expect(tables).toEqual(copies);
  });

  /** The checks that run for an edit of the demo. */
  function looking(show: Show): { readonly again: readonly string[]; readonly after: Analysis } {
    const runs = CHECKS.map((check) => vi.spyOn(check, "run"));
    const after = reanalyse(show, BEFORE);
    const again = CHECKS.filter((_, n) => runs[n]!.mock.calls.length > 0).map(({ id }) => id);
    for (const run of runs) run.mockRestore();
    return { again, after };
  }

  test("[E2] a device moved on the canvas: nothing is worked out again", () => {
    const { again, after } = looking(withDevice("Monitors", (device) => ({ ...device, at: { x: 1, y: 2 } })));
    expect(after.wiring.feeder).toBe(BEFORE.wiring.feeder);
    expect(after.arrivals.root).toBe(BEFORE.arrivals.root);
    // What a device says of its place is looked at for places that the show doesn't have.
    expect(again).toEqual(["dangling"]);
    after.foundBy.forEach((found, n) => expect(found).toBe(BEFORE.foundBy[n]));
  });

  test("[E2] a cable's tag: only what speaks of cables is looked at again", () => {
    const cables = SHOW.cables.map((cable, n) => (n === 0 ? { ...cable, tag: "Z9" } : cable));
    const { again, after } = looking({ ...SHOW, cables });
    expect(after.wiring.feeder).toBe(BEFORE.wiring.feeder);
    for (const check of ["wrong-feed", "double-want", "plan-gap", "stranded", "bus-use", "shared-block"])
      expect(again).not.toContain(check);
    expect(again).toContain("labels");
  });
});
