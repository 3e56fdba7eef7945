/** Patching what the lists plan. Expected settings are worked out by hand from the small rig's types and cable. */
import { describe, expect, test } from "vitest";
import {
  analyse,
  applyEdits,
  id,
  patchChannels,
  patchWants,
  tableOf,
  type GroupId,
  type Show,
} from "#engine";
import { smallShow } from "../../renderer/small-show.ts";

/** Console and box, joined by L1; no setting, source, channel or want. */
const bare = (): Show => {
  const show = smallShow();
  return {
    ...show,
    devices: show.devices.map((device) => ({ ...device, routing: [] })),
    sources: [],
    channels: [],
    wants: [],
  };
};

function typed(show: Show, table: "inputs" | "outputs", rows: readonly Record<string, string>[]): Show {
  const list = tableOf(table, show, analyse(show));
  const writes = rows.flatMap((cells, n) =>
    Object.entries(cells).map(([name, text]) => ({
      row: list.keys.length + n,
      column: list.columns.findIndex((each) => each.id === name),
      text,
    })),
  );
  const { edits, bad, unfinished } = list.write(writes);
  expect([bad, unfinished]).toEqual([[], []]);
  return applyEdits(show, edits);
}

const group = (text: string): GroupId => id<GroupId>(text);

describe("patching channels to their sources", () => {
  const show = typed(bare(), "inputs", [
    { name: "Kick", jack: "Stage box 3", "channel:foh": "1" },
    { name: "Snare", jack: "Stage box 4", "channel:foh": "2" },
    { name: "Vox", jack: "Stage box 9", "channel:foh": "12" },
  ]);
  const before = analyse(show);

  test("[L6] each channel takes the link's slot on which its jack arrives", () => {
    // The box stands input n on slot n of its link in every mode, and L1 joins it to the console's link 1.
    const { edits, refused, brought, already } = patchChannels(before);
    expect({ refused, brought, already }).toEqual({ refused: [], brought: 3, already: 0 });
    const after = applyEdits(show, edits);
    expect(after.devices[0]!.routing).toEqual([
      { to: { group: group("ch"), first: 1 }, from: { group: group("link1"), first: 3 }, count: 2 },
      { to: { group: group("ch"), first: 12 }, from: { group: group("link1"), first: 9 }, count: 1 },
    ]);
    expect(analyse(after).findings.filter(({ severity }) => severity === "error")).toEqual([]);
  });

  test("the preview says what the console is to read, and what it reads before", () => {
    expect(patchChannels(before).lines.map(({ device, reads, before: was }) => [device, reads, was])).toEqual(
      [
        ["FOH console", "Channel 1–2 takes Link 1 in 3–4", "takes nothing"],
        ["FOH console", "Channel 12 takes Link 1 in 9", "takes nothing"],
      ],
    );
  });

  test("done once, it is right already", () => {
    const after = analyse(applyEdits(show, patchChannels(before).edits));
    expect(patchChannels(after)).toMatchObject({ edits: [], lines: [], brought: 0, already: 3 });
  });

  test("[L6] with the cable gone each row says why not, and nothing is set", () => {
    const { edits, refused } = patchChannels(analyse({ ...show, cables: [] }));
    expect(edits).toEqual([]);
    expect(refused.map(({ name, where }) => [name, where])).toEqual([
      ["Kick", "FOH console Channel 1"],
      ["Snare", "FOH console Channel 2"],
      ["Vox", "FOH console Channel 12"],
    ]);
    for (const { reason } of refused) expect(reason).toContain("No setting leads from");
  });
});

describe("patching what the wants say", () => {
  const wanted = (jack: string, from: string): Show => typed(bare(), "outputs", [{ jack, from }]);

  test("the block of the console's link that the jack is wired to takes the tap's block", () => {
    // The box in its first mode wires outputs 1–8 to slots 1–8; the console sets link slots in blocks of eight.
    const show = wanted("Stage box 1", "FOH console Mix 1");
    const { edits, refused } = patchWants(analyse(show));
    expect(refused).toEqual([]);
    expect(applyEdits(show, edits).devices[0]!.routing).toEqual([
      { to: { group: group("link1"), first: 1 }, from: { group: group("mix"), first: 1 }, count: 8 },
    ]);
  });

  test("a tap at another place of its block can't come there", () => {
    const { edits, refused } = patchWants(analyse(wanted("Stage box 2", "FOH console Mix 1")));
    expect(edits).toEqual([]);
    expect(refused).toHaveLength(1);
    expect(refused[0]!.reason).toContain("in blocks of 8");
  });

  test("[L6] what arrives at another jack already isn't taken away", () => {
    // Link slots 1–8 carry mixes 1–8; mix 9 could come to output 1 only in their place.
    const show = typed(smallShow(), "outputs", [
      { jack: "Stage box 1", from: "FOH console Mix 9", want: "Fill" },
    ]);
    const only = { ...show, wants: show.wants.filter(({ name }) => name === "Fill") };
    const { edits, refused } = patchWants(analyse(only));
    expect(edits).toEqual([]);
    expect(refused.map(({ reason }) => reason)).toEqual([
      "Only by taking FOH console Mix 2 from Stage box Out 2, and 6 more likewise.",
    ]);
  });
});
