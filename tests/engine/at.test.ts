/** Looking at a rig with something off or pulled: rule W21, and how a person says what. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { markRevision } from "#engine/model/revisions.ts";
import type { Show } from "#engine/model/show.ts";
import { awayAt, lookUpAt } from "#engine/trace/at.ts";
import { outputJacks } from "#engine/trace/owners.ts";
import { State, type Wiring } from "#engine/wiring/wiring.ts";
import { randomRig } from "../property/random-rig.ts";
import { rig } from "./rigs/build.ts";
import { demo } from "./demo.ts";

const SEEDS = Array.from({ length: 40 }, (_, n) => n + 2001);

describe("a rig with something away", () => {
  test.each(SEEDS)("[W21] switched off for a look = switched off in the show, seed %i", (seed) => {
    const { show } = randomRig(seed);
    const off = new Set(show.devices.filter((_, n) => n % 3 === 0).map((device) => device.id));
    const looked = analyse(show, { devices: off });
    const edited = analyse({
      ...show,
      devices: show.devices.map((device) => (off.has(device.id) ? { ...device, powered: false } : device)),
    });
    expect(looked.findings).toEqual(edited.findings);
    expect(looked.wiring.state).toEqual(edited.wiring.state);
    expect(looked.wiring.feeder).toEqual(edited.wiring.feeder);
  });

  test("[W21] each cable of the demo: pulled, it darkens just the jacks that are dark without it", () => {
    const show = demo();
    const arriving = ({ wiring, arrivals }: ReturnType<typeof analyse>): readonly number[] =>
      jacksOf(wiring).filter((jack) => {
        const state = wiring.state[arrivals.root[jack]!];
        return state === State.tap || state === State.source;
      });
    const all = arriving(analyse(show)).length;
    let lost = 0;
    for (const { id: pulled } of show.cables) {
      const looked = arriving(analyse(show, { cables: new Set([pulled]) }));
      const without = analyse({ ...show, cables: show.cables.filter((cable) => cable.id !== pulled) });
      expect(looked, pulled).toEqual(arriving(without));
      lost += all - looked.length;
    }
    // Every jack behind a cable is lost with it at least once.
    expect(lost).toBeGreaterThan(100);
  });

  const chained = rig({
    devices: {
      foh: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
      one: { name: "Near box", type: "box-16-8", mode: "chain" },
      two: { name: "Far box", type: "box-16-8", mode: "chain", position: 2 },
    },
    cables: ["L1: foh.link1 - one.a, 500 m", "L2: one.b - two.a, 20 m"],
    wants: ["Wedge: one.out.1"],
  });

  test("[W21] a pulled cable is told as pulled, and what is wrong with it stays told", () => {
    const { findings } = analyse(chained, { cables: new Set(["L1"]) });
    const reason = (check: string): string | undefined =>
      findings.find((finding) => finding.check === check)?.reason;
    expect(reason("dark-feed")).toMatch(/^Cable L1 is pulled\./);
    expect(reason("clock-source")).toMatch(/^The cable in Link A is pulled\./);
    expect(reason("cable-too-long")).toMatch(/500 m/);
  });

  test("[F27] [W21] ways out are tried on the rig as it is looked at", () => {
    const show = demo("quayside-faults");
    const away = { devices: new Set([show.devices.find(({ name }) => name === "Truck")!.id]) };
    const looked = analyse(show, away);
    const offered = looked.findings.flatMap((finding) =>
      fixesOf(looked, finding).map(({ edits }) => ({ finding, edits })),
    );
    expect(offered.length).toBeGreaterThan(3);
    for (const { finding, edits } of offered) {
      const after = analyse(applyEdits(show, edits), away).findings;
      expect(after.map(({ id: name }) => name)).not.toContain(finding.id);
      expect(after.length).toBeLessThanOrEqual(looked.findings.length);
    }
  });
});

const jacksOf = (wiring: Wiring): readonly number[] =>
  wiring.devices.flatMap((wired) =>
    (wired ? outputJacks(wired) : []).flatMap(({ span, first }) =>
      Array.from({ length: span.count }, (_, n) => first + n),
    ),
  );

describe("what a person says", () => {
  const show = rig({
    devices: {
      foh: { name: "House", type: "console-24" },
      a: { name: "Box", type: "box-16-8" },
      b: { name: "Box", type: "box-16-8" },
      snake: { name: "L1", type: "box-16-8" },
    },
    cables: ["L1: foh.link1 - a.a", "L2: foh.link2 - b.a"],
  });
  const told = (...words: string[]): string => {
    const at = lookUpAt(show, words);
    if (!at.ok) return at.error;
    const { devices, cables } = awayAt(at.value.at);
    return `off ${[...devices!].join()}; pulled ${[...cables!].join()}`;
  };

  test.each([
    [["off:House"], "off foh; pulled "],
    [["off: house"], "off foh; pulled "],
    [["House", "L2"], "off foh; pulled L2"],
    [["pulled:L1", "off:L1"], "off snake; pulled L1"],
    [["pulled:l2", "L2"], "off ; pulled L2"],
    [["off:b"], "off b; pulled "],
  ])("%j", (words, meaning) => expect(told(...words)).toBe(meaning));

  test.each([
    ["L1", '"L1" is a device and a cable; say "off:L1" or "pulled:L1"'],
    ["off:Box", '2 devices are called "Box"; say "off:a" or "off:b"'],
    ["Houze", 'the show has no device, cable or revision "Houze"; nearest: "off:House"'],
    ["pulled:L22", 'the show has no cable "L22"; nearest: "pulled:L2"'],
    ["off:zzz", 'the show has no device "zzz"'],
    ["off:", 'the show has no device ""'],
    ["off: zzz ", 'the show has no device "zzz"'],
    ["", 'the show has no device, cable or revision ""'],
  ])("%j is refused: %s", (word, line) => expect(told(word)).toBe(line));

  const marked = markRevision(
    { ...show, devices: show.devices.map((device) => ({ ...device, name: `${device.name} then` })) },
    "B",
    "2026-11-20",
    "",
  );
  const withRevisions: Show = {
    ...marked,
    devices: show.devices,
    revisions: [
      { name: "note", date: "2026-11-19", note: "" },
      ...marked.revisions,
      { ...marked.revisions[0]!, name: "House" },
      { ...marked.revisions[0]!, name: "L2 then" },
    ],
  };
  const at = (...words: string[]): string => {
    const looked = lookUpAt(withRevisions, words);
    if (!looked.ok) return looked.error;
    const { revision, off } = looked.value.at;
    return [revision?.name, ...off.map(({ name }) => name), looked.value.show.devices[0]!.name].join("; ");
  };

  test("the only revision of a show is found by its name", () => {
    const looked = lookUpAt(marked, ["revision:B"]);
    expect(looked.ok && [looked.value.at.revision?.name, looked.value.show.devices[0]!.name]).toEqual([
      "B",
      "House then",
    ]);
  });

  test("a word that is the one's name to the letter and the other's but for its case may mean either", () => {
    const twins = rig({
      devices: { a: { name: "Twin", type: "console-24" }, b: { name: "Box", type: "box-16-8" } },
      cables: ["twin: a.link1 - b.a"],
    });
    expect(lookUpAt(twins, ["Twin"])).toEqual({
      ok: false,
      error: '"Twin" is a device and a cable; say "off:Twin" or "pulled:Twin"',
    });
  });

  test("what isn't asked for is left out of the look", () => {
    expect(lookUpAt(withRevisions, [])).toMatchObject({
      value: { at: { revision: null, off: [], pulled: [] } },
    });
    expect(lookUpAt(withRevisions, ["B"])).toMatchObject({ value: { at: { off: [], pulled: [] } } });
  });

  test.each([
    [["B"], "B; House then"],
    [["revision:b"], "B; House then"],
    [["off:House then", "B"], "B; House then; House then"],
    [["off:House"], "; House; House"],
    [["revision:House", "revision:House"], "House; House then"],
    [["revision:#2"], "B; House then"],
  ])("%j, with revisions", (words, meaning) => expect(at(...words)).toBe(meaning));

  test.each<readonly [words: readonly string[], line: string]>([
    [["House"], '"House" is a device and a revision; say "off:House" or "revision:House"'],
    [
      ["2026-11-20"],
      '3 revisions are called "2026-11-20"; say "revision:#2" or "revision:#3" or "revision:#4"',
    ],
    [["2026-11-19"], 'revision "note" is only a note: what the show was isn\'t in the file'],
    [["B", "revision:House"], "only one revision can be looked at in one call"],
    // At B the device goes by another name, so that the word means a revision there.
    [["B", "House"], "only one revision can be looked at in one call"],
    [["B", "off:House"], 'the show has no device "House"; nearest: "off:House then"'],
    [["revision:C"], 'the show has no revision "C"'],
  ])("%j is refused with revisions: %s", (words, line) => expect(at(...words)).toBe(line));
});
