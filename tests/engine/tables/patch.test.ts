/** Patching what the lists plan. Expected settings are worked out by hand from the small rig's types and cable. */
import { describe, expect, test } from "vitest";
import {
  analyse,
  applyEdits,
  id,
  patchChannels,
  patchWants,
  tableOf,
  type DeviceId,
  type GroupId,
  type Show,
  type WantId,
} from "#engine";
import { rig } from "../rigs/build.ts";
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

  test("[L6] with the cable gone the rows are told with the one reason, and nothing is set", () => {
    const { edits, refused } = patchChannels(analyse({ ...show, cables: [] }));
    expect(edits).toEqual([]);
    expect(refused.map(({ name, where, count }) => [name, where, count])).toEqual([
      ["Kick, Snare and Vox", "FOH console Channel 1–2, 12", 3],
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

  test("[L6] rows that are out of step alike are told together, with the jack where the first would fit", () => {
    // Mixes 1 and 2 are first and second of their block, and come to the jacks that are first and second of theirs.
    const show = typed(bare(), "outputs", [
      { jack: "Stage box 2", from: "FOH console Mix 1" },
      { jack: "Stage box 3", from: "FOH console Mix 2" },
      { jack: "Stage box 6", from: "FOH console Mix 4" },
    ]);
    const { refused } = patchWants(analyse(show));
    expect(refused.map(({ count, where }) => [count, where])).toEqual([
      [2, "Stage box Out 2–3"],
      [1, "Stage box Out 6"],
    ]);
    expect(refused.map(({ reason }) => reason.split(". ").at(-1))).toEqual([
      "Stage box Out 1 would fit.",
      "Stage box Out 4 would fit.",
    ]);
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
      "Only by taking FOH console Mix 2 from Stage box Out 2, and 6 more like it.",
    ]);
  });

  /** Wants as jack, console and mix. */
  type Wanted = readonly (readonly [string, number, string, number])[];
  const asking = (show: Show, wants: Wanted): Show => ({
    ...show,
    wants: wants.map(([box, number, desk, mix], n) => ({
      id: id<WantId>(`w${n}`),
      name: `Want ${n + 1}`,
      to: { device: id<DeviceId>(box), group: group("out"), number },
      from: { device: id<DeviceId>(desk), group: group("mix"), number: mix },
    })),
  });
  /** Two consoles at one box of 32 in and 16 out, and a breakout on its monitor bus. */
  const shared = (mode: string, wants: Wanted): Show =>
    asking(
      rig({
        devices: {
          house: { name: "House", type: "console-48" },
          monitors: { name: "Monitors", type: "console-48", clock: "link1" },
          box: { name: "Box", type: "box-32-16", mode },
          ears: { name: "Ears", type: "breakout-16", mode: "pm" },
        },
        cables: ["L1: house.link1 - box.a", "L2: monitors.link1 - box.b", "L3: box.pm - ears.pm"],
      }),
      wants,
    );
  const run = (count: number, box: string, jack: number, desk: string, mix: number) =>
    Array.from({ length: count }, (_, n) => [box, jack + n, desk, mix + n] as const);

  test("[L6] the modes that bring more are offered with what they bring, and none is taken by itself", () => {
    // In “One console” all of the box is link A's. “Two consoles” hands Out 9–16 to link B, and only “… monitor bus
    // from B” its slots 33–48 to the breakout as well. No mode brings link B to Out 1–8.
    const show = shared("one", [
      ...run(8, "box", 1, "monitors", 1),
      ...run(2, "box", 9, "monitors", 17),
      ...run(8, "ears", 1, "monitors", 9),
    ]);
    const plain = patchWants(analyse(show));
    expect(plain).toMatchObject({ edits: [], brought: 0 });
    expect(plain.refused.map(({ where, count }) => [where, count])).toEqual([
      ["Box Out 1–10", 10],
      ["Ears Out 1–8", 8],
    ]);
    const { modes, brought, refused, edits } = plain.withModes!;
    expect(modes.map(({ name, was, mode }) => [name, was, mode])).toEqual([
      ["Box", "One console", "Two consoles, monitor bus from B"],
    ]);
    expect(brought).toBe(10);
    expect(refused.map(({ name, where, reason }) => [name, where, reason])).toEqual([
      [
        "Want 1, Want 2, Want 3 and 5 more",
        "Box Out 1–8",
        "No setting leads from Monitors Mix 1 to Box Out 1: House sets what comes there (Link 1 out 1). " +
          "Box takes Out 1 from Link A in mode “Two consoles, monitor bus from B”, where House is plugged in; " +
          "Monitors is plugged in Link B. " +
          "With these cables and modes Monitors can reach Box Out 9–16; Ears Out 1–16.",
      ],
    ]);
    const after = applyEdits(show, edits);
    expect(after.devices.find(({ name }) => name === "Box")!.mode).toBe("two-bus-b");
    expect(after.devices.find(({ name }) => name === "Monitors")!.routing).toEqual([
      { to: { group: group("link1"), first: 1 }, from: { group: group("mix"), first: 17 }, count: 8 },
      { to: { group: group("link1"), first: 33 }, from: { group: group("mix"), first: 9 }, count: 8 },
    ]);
  });

  test("[N7] [L6] two boxes that only both in another mode bring more are offered together", () => {
    // “One console” hands nothing on. With only the first in “Chain” both take slots 1–8, so the second would get the
    // first's mixes; with both the second takes 9–16, eight further on for its place in the chain.
    const show = asking(
      rig({
        devices: {
          house: { name: "House", type: "console-48" },
          first: { name: "First", type: "box-16-8", mode: "one" },
          second: { name: "Second", type: "box-16-8", mode: "one", position: 2 },
        },
        cables: ["L1: house.link1 - first.a", "L2: first.b - second.a"],
      }),
      [...run(8, "first", 1, "house", 1), ...run(8, "second", 1, "house", 9)],
    );
    const plain = patchWants(analyse(show));
    expect(plain.brought).toBe(8);
    const { modes, brought, refused, edits } = plain.withModes!;
    expect(modes.map(({ name, was, mode }) => [name, was, mode]).sort()).toEqual([
      ["First", "One console", "Chain"],
      ["Second", "One console", "Chain"],
    ]);
    expect([brought, refused]).toEqual([16, []]);
    const after = patchWants(analyse(applyEdits(show, edits)));
    expect(after).toMatchObject({ edits: [], brought: 0, already: 16, refused: [], withModes: null });
  });

  test("[L6] modes are added one after the other to what is settled without them", () => {
    // Two stages alike. House fills Out 1–8 in any mode; monitors get to the ears only where a box hands link B on.
    const stage = (n: number) => ({
      [`house${n}`]: { name: `House ${n}`, type: "console-48" },
      [`monitors${n}`]: { name: `Monitors ${n}`, type: "console-48", clock: "link1" },
      [`box${n}`]: { name: `Box ${n}`, type: "box-32-16", mode: "one" },
      [`ears${n}`]: { name: `Ears ${n}`, type: "breakout-16", mode: "pm" },
    });
    const cables = (n: number) => [
      `A${n}: house${n}.link1 - box${n}.a`,
      `B${n}: monitors${n}.link1 - box${n}.b`,
      `C${n}: box${n}.pm - ears${n}.pm`,
    ];
    const show = asking(
      rig({ devices: { ...stage(1), ...stage(2) }, cables: [...cables(1), ...cables(2)] }),
      [1, 2].flatMap((n) => [
        ...run(8, `box${n}`, 1, `house${n}`, 1),
        ...run(8, `ears${n}`, 1, `monitors${n}`, 9),
      ]),
    );
    const plain = patchWants(analyse(show));
    expect(plain).toMatchObject({ brought: 16, already: 0 });
    const { modes, brought, already, refused, edits } = plain.withModes!;
    expect(modes.map(({ name, mode }) => `${name}: ${mode}`)).toEqual([
      "Box 1: Two consoles, monitor bus from B",
      "Box 2: Two consoles, monitor bus from B",
    ]);
    expect({ brought, already, refused }).toEqual({ brought: 32, already: 0, refused: [] });
    // A console's settings stand together, in whichever turn they were found.
    expect(edits).toHaveLength(6);
    const after = patchWants(analyse(applyEdits(show, edits)));
    expect(after).toMatchObject({ edits: [], brought: 0, already: 32, refused: [], withModes: null });
  });

  test("[L6] a block that two consoles are to feed goes to neither, and each is told of the other", () => {
    // House, carried by its own link, and Monitors, carried through House's link 2, both get to Out 1–8: one block of
    // the link, which can take from one of them.
    const show = {
      ...shared("one", [...run(4, "box", 1, "house", 1), ...run(4, "box", 5, "monitors", 5)]),
    };
    const through: Show = {
      ...show,
      cables: show.cables.map((cable) =>
        cable.tag === "L2"
          ? {
              ...cable,
              ends: [
                { device: id<DeviceId>("monitors"), group: group("link1"), first: 1 },
                { device: id<DeviceId>("house"), group: group("link2"), first: 1 },
              ],
            }
          : cable,
      ),
    };
    const { edits, refused } = patchWants(analyse(through));
    expect(edits).toEqual([]);
    expect(refused.map(({ where, count }) => [where, count])).toEqual([
      ["Box Out 1–4", 4],
      ["Box Out 5–8", 4],
    ]);
    expect(refused[0]!.reason).toBe(
      "This goes in whole blocks: House Mix 5 would also arrive at Box Out 5, where “Want 5” should get Monitors Mix 5. " +
        "Two consoles can’t share a block: move one console’s feeds to another block.",
    );
    // With the other's gone each is brought.
    const alone = { ...through, wants: through.wants.slice(4) };
    expect(patchWants(analyse(alone))).toMatchObject({ brought: 4, refused: [] });
  });
});
