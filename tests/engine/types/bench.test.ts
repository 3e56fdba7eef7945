/** A type alone: what feeds a terminal inside and what it feeds, by hand from the rules of the catalogue's types. */
import { describe, expect, test } from "vitest";
import { catalogueType } from "#engine/catalog/types.ts";
import type { DeviceType } from "#engine/model/device-type.ts";
import { id, type GroupId, type ModeId } from "#engine/model/ids.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { feedTable, probeType, type Probe } from "#engine/types/bench.ts";
import { rulePlace, ruleWords } from "#engine/types/words.ts";
import type { Side } from "#engine/wiring/layout.ts";
import { bank, carry, patch, range, wired } from "#engine/catalog/parts.ts";
import { EIGHT, port, type } from "../rigs/types.ts";

const BOX = catalogueType("box-16-8");
const DESK = catalogueType("console-24");

function probe(
  of: DeviceType,
  mode: string,
  position: number,
  group: string,
  side: Side,
  number: number,
): Probe {
  const found = probeType(
    of,
    { mode: id<ModeId>(mode), position, rate: 48000 },
    { group: id<GroupId>(group), side, number },
  );
  if (!found) throw new Error("no such terminal");
  return found;
}

describe("a type on the bench", () => {
  test("[K16] an output in the second place of a chain takes from its link, 8 slots on", () => {
    const found = probe(BOX, "chain", 2, "out", "jack", 3);
    expect(found.name).toBe("Out 3");
    expect(found.trace.verdict).toMatchObject({
      kind: "not-plugged",
      at: { group: "a", side: "receive", number: 11 },
    });
    expect(found.rule).toEqual({
      path: "modes[2].rules[0]",
      words: "Out 1–8 are wired from Link A in 1–8; each place further down the chain 8 later at the source",
    });
    expect(stepsOf(found.trace).map(({ kind }) => kind)).toEqual(["wired", "converted"]);
  });

  test("[K16] an input feeds the same slot of both links, and in the chain one of link A", () => {
    expect(probe(BOX, "one", 1, "in", "jack", 5).feeds.map(({ name }) => name)).toEqual([
      "Link A out 5",
      "Link B out 5",
    ]);
    // In place 2 the inputs start at slot 17; link B carries link A on.
    expect(probe(BOX, "chain", 2, "in", "jack", 5).feeds.map(({ name }) => name)).toEqual(["Link A out 21"]);
  });

  test("[K16] a slot feeds an output, the monitor bus and what is carried on", () => {
    expect(probe(BOX, "chain", 1, "a", "receive", 4).feeds.map(({ name }) => name)).toEqual([
      "Out 4",
      "Link B out 4",
    ]);
    expect(probe(BOX, "one", 1, "a", "receive", 40).feeds.map(({ name }) => name)).toEqual(["Monitor bus 8"]);
  });

  test("[K16] a destination that is assigned waits, and its rule says for what", () => {
    const found = probe(DESK, "normal", 1, "out", "jack", 1);
    expect(found.trace.verdict.kind).toBe("nothing-assigned");
    expect(found.rule?.path).toBe("rules[1]");
    expect(found.mayFeed).toEqual([]);
  });

  test("[K16] a mix may be taken by the local outputs and both links, and by no channel", () => {
    expect(probe(DESK, "normal", 1, "mix", "bus", 12).mayFeed.map(({ path }) => path)).toEqual([
      "rules[1]",
      "rules[2]",
      "rules[3]",
    ]);
  });

  test("[K16] a channel feeds its direct out and its insert send, and nothing else that is fixed", () => {
    expect(probe(DESK, "normal", 1, "ch", "bus", 7).feeds.map(({ name }) => name)).toEqual([
      "Direct out 7",
      "Channel send 7",
    ]);
  });

  test("[K16] a terminal or mode that isn't there", () => {
    expect(
      probeType(
        BOX,
        { mode: BOX.modes[0]!.id, position: 1, rate: 48000 },
        { group: id<GroupId>("out"), side: "jack", number: 9 },
      ),
    ).toBeNull();
    expect(probe(BOX, "nowhere", 1, "out", "jack", 1).trace.verdict.kind).toBe("not-wired");
  });

  test("[K16] the table of a mode tells every destination once", () => {
    const rows = feedTable(BOX, id<ModeId>("chain"), 2).map(
      ({ to, from, kind }) => `${to} < ${from} (${kind})`,
    );
    expect(rows).toEqual([
      "Out 1–8 < Link A in 9–16 (wired)",
      "Link A out 1–16 < Link B in 1–16 (carried)",
      "Link A out 17–32 < In 1–16 (wired)",
      "Link A out 33–48 < Link B in 33–48 (carried)",
      "Link B out 1–48 < Link A in 1–48 (carried)",
      "Monitor bus 1–16 < Link A in 33–48 (wired)",
    ]);
  });

  test("[K16] the table tells what is assigned, what nothing feeds and what lies past the slots", () => {
    const of = type("odd", {
      banks: [bank("in", "In", "in", 4, "XLR", "line"), bank("out", "Out", "out", 8, "XLR", "line")],
      rules: [wired("out", 1, "in", 3, 3), patch(range("out", 4, 2), [range("in", 1, 4)], 1)],
    });
    expect(feedTable(of, of.modes[0]!.id, 1).map(({ to, from }) => `${to} < ${from}`)).toEqual([
      "Out 1–2 < In 3–4",
      "Out 3 < beyond the slots",
      "Out 4–5 < assigned",
      "Out 6–8 < nothing",
    ]);
  });
});

describe("rules in words", () => {
  const of = type("words", {
    banks: [bank("in", "In", "in", 8, "XLR", "line"), bank("out", "Out", "out", 8, "XLR", "line")],
    ports: [port("x", EIGHT), port("y", EIGHT)],
  });

  test.each([
    [patch(range("out", 1, 8), [range("x", 1, 8)], 8), "Out 1–8 take from Port X in 1–8, in blocks of 8"],
    [
      patch(range("out", 1, 8), [range("x", 1, 8), range("in", 1, 4)], 1),
      "Out 1–8 take from Port X in 1–8 or In 1–4, one by one",
    ],
    [patch(range("out", 3, 1), [range("in", 2, 1)], 1), "Out 3 takes from In 2"],
    [wired("out", 1, "x", 5, 4), "Out 1–4 are wired from Port X in 5–8"],
    [wired("out", 4, "x", 5, 1), "Out 4 is wired from Port X in 5"],
    [
      wired("x", 1, "in", 1, 4, { to: 4 }),
      "Port X out 1–4 are wired from In 1–4; each place further down the chain 4 later at the destination",
    ],
    [
      wired("x", 5, "in", 5, 2, { from: -2 }),
      "Port X out 5–6 are wired from In 5–6; each place further down the chain 2 earlier at the source",
    ],
    [carry("x", "y"), "Port X out carries on what comes in at Port Y in, slot for slot"],
    [carry("x", "y", 4), "Port X out carries on what comes in at Port Y in, slot 1 from slot 5, and so on"],
    [carry("x", "y", -4), "Port X out carries on what comes in at Port Y in, slot 5 from slot 1, and so on"],
    [wired("aux", 1, "x", 1, 2), "“aux” 1–2 are wired from Port X in 1–2"],
  ])("%#", (rule, words) => {
    expect(ruleWords(of, rule)).toBe(words);
  });
});

test("a path to a rule says which one it is", () => {
  expect(rulePlace(BOX, "modes[2].rules[1].from.first")).toBe("Mode “Chain”, rule 2");
  expect(rulePlace(BOX, "rules[0]")).toBe("Every mode, rule 1");
  expect(rulePlace(BOX, "modes[2].name")).toBe("");
});
