/** Groups of outputs that are to arrive together, made from what is looked at. */
import { expect, test } from "vitest";
import { analyse, id, terminalOf, type ArrivalGroup, type GroupId, type Terminal } from "#engine";
import { groupOf, lookedAtOutputs, widened } from "../../renderer/state/groups.ts";
import { BOX, CONSOLE, smallShow } from "./small-show.ts";

const jack = (bank: string, number: number, device = BOX): Terminal => ({
  device,
  group: id<GroupId>(bank),
  side: "jack",
  number,
});
const analysis = analyse(smallShow());
const outs = lookedAtOutputs(analysis, { kind: "block", terminals: [1, 2, 3].map((n) => jack("out", n)) });

test("of a block its output jacks, of a jack itself; inputs, taps and what is gone are none", () => {
  expect(outs.map((at) => terminalOf(analysis.wiring, at))).toEqual([1, 2, 3].map((n) => jack("out", n)));
  const one = lookedAtOutputs(analysis, { kind: "terminal", terminal: jack("out", 5) });
  expect(one.map((at) => terminalOf(analysis.wiring, at))).toEqual([jack("out", 5)]);
  expect(lookedAtOutputs(analysis, { kind: "terminal", terminal: jack("in", 1) })).toEqual([]);
  const mix: Terminal = { device: CONSOLE, group: id("mix"), side: "bus", number: 1 };
  expect(lookedAtOutputs(analysis, { kind: "terminal", terminal: mix })).toEqual([]);
  expect(lookedAtOutputs(analysis, { kind: "terminal", terminal: jack("out", 99) })).toEqual([]);
  expect(lookedAtOutputs(analysis, { kind: "device", device: BOX })).toEqual([]);
  expect(lookedAtOutputs(analysis, null)).toEqual([]);
});

test("a group is named after its first and last jack, and has an id that no other has", () => {
  const group = groupOf(analysis, outs);
  expect([group.id, group.name]).toEqual(["group-1", "Stage box Out 1 to Stage box Out 3"]);
  expect(group.members).toEqual([1, 2, 3].map((number) => ({ device: BOX, group: "out", number })));
  expect(groupOf(analysis, outs.slice(0, 1)).name).toBe("Stage box Out 1");
  const others = ["group-2", "group-3"].map((other) => ({ ...group, id: id<ArrivalGroup["id"]>(other) }));
  expect(groupOf(analyse({ ...smallShow(), groups: others }), outs).id).toBe("group-4");
});

test("widening adds the jacks that a group doesn't have, once", () => {
  const group = groupOf(analysis, outs.slice(0, 2));
  const more = groupOf(analysis, outs.slice(1));
  expect(widened(group, more).members.map(({ number }) => number)).toEqual([1, 2, 3]);
  expect(widened(group, more)).toMatchObject({ id: group.id, name: group.name });
  const elsewhere: ArrivalGroup = { ...more, members: [{ ...more.members[0]!, device: CONSOLE }] };
  expect(widened(group, elsewhere).members).toHaveLength(3);
});
