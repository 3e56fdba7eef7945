import { expect, test } from "vitest";
import { analyse } from "#engine";
import { bestFirst, plain, search, searchIndex } from "../../renderer/search/search.ts";
import { smallShow } from "./small-show.ts";

const index = searchIndex(analyse(smallShow()));
const found = (typed: string): readonly string[] =>
  search(index, typed).map(({ kind, label }) => `${kind} ${label}`);

test.each([
  ["stage box", "device Stage box"],
  ["lead vocal", "source Lead vocal"],
  ["wedge", "mix Wedge"],
  ["lead", "channel Lead"],
  ["l1", "cable L1"],
  ["downstage wedge", "want Downstage wedge"],
  ["stage box out 3", "jack Stage box Out 3"],
  ["out 3 box", "jack Stage box Out 3"],
  ["STAGE  Box", "device Stage box"],
])("%j finds %s first", (typed, first) => {
  expect(found(typed)[0]).toBe(first);
});

test("a command that begins as was typed comes before those that have it elsewhere", () => {
  const labels = ["Papers… patch channels", "Route a patch", "Patch channels to their sources…", "Dispatch"];
  const order = bestFirst(
    labels.map((label) => ({ label })),
    "Patch ch",
  ).map(({ label }) => label);
  expect(order.slice(0, 2)).toEqual(["Patch channels to their sources…", "Papers… patch channels"]);
});

test("a whole number beats numbers that only start so", () => {
  const jacks = found("box in 1").filter((label) => label.startsWith("jack"));
  expect(jacks[0]).toBe("jack Stage box In 1");
  expect(jacks).toContain("jack Stage box In 12");
});

test("a jack is found by what arrives at it", () => {
  expect(found("wedge")).toContain("jack Stage box Out 1");
});

test("every word has to fit", () => {
  expect(found("wedge qqq")).toEqual([]);
});

test("nothing typed finds nothing", () => {
  expect(found("   ")).toEqual([]);
});

test("marks over letters don't matter", () => {
  expect(plain("Ärger Señor Ø")).toBe("arger senor ø");
});

test("each entry can be told from every other", () => {
  expect(new Set(index.map(({ key }) => key)).size).toBe(index.length);
});
