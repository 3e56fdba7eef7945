/** B7–B9: which ends a cable fits between, why not, and the cable that comes of it. */
import { describe, expect, test } from "vitest";
import { cablesThatFit, fitOf, firstFree, plugCable, rejacked, replugged } from "#engine/build/fit.ts";
import { analyse } from "#engine/analysis.ts";
import { catalogueType } from "#engine/catalog/types.ts";
import { id, type TypeId } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { after, cable, end, rig } from "./support.ts";

/**
 *   foh ── L1 ── box.a     box Out 5–8 ── X1 ── amp In 1–4     a source in box In 1
 */
const show: Show = rig({
  devices: {
    foh: { name: "FOH", type: "console-48" },
    mon: { name: "Monitors", type: "console-48" },
    box: { name: "Box", type: "box-16-8", mode: "two" },
    split: { name: "Split", type: "split-16" },
    amp: { name: "Processor", type: "processor-8" },
    wedge: { name: "Wedge", type: "wedge" },
    ears: { name: "Ears", type: "ear-transmitter" },
    aes: { name: "AES3", type: "aes3-converter" },
    coax: { name: "Coax", type: "aes10-interface" },
    tape: { name: "Recorder", type: "recorder-64" },
  },
  cables: ["L1: foh.link1 - box.a, 50 m", "X1: box.out.5 - amp.in.1 x4, multicore"],
  sources: ["Kick: box.in.1"],
});

const why = (from: string, to: string, ways?: number): string => {
  const fit = fitOf(show, end(from), end(to), ways === undefined ? {} : { ways });
  return fit.kind === "refused" ? `${fit.why}: ${fit.reason}` : `${fit.cable} x${fit.ways}`;
};

describe("what fits", () => {
  test.each([
    // Links take the first kind of cable that both ends list.
    ["mon.link1", "box.b", "cat5e-shielded x1"],
    ["coax.coax-out", "tape.coax-in", "coax-75 x1"],
    // The console's stage link: 110 Ω stands before microphone cable.
    ["foh.stage", "mon.stage", "digital-110 x1"],
    // One way: a microphone cable. Several: a multicore, as many as are free in a row at both ends.
    ["box.out.1", "wedge.in.1", "microphone x1"],
    ["split.direct.1", "box.in.2", "multicore x15"],
    ["split.direct.3", "box.in.9", "multicore x8"],
    ["box.out.1", "amp.in.5", "multicore x4"],
    // From output or from input, it is the same.
    ["wedge.in.1", "box.out.8", "taken: Cable X1 is plugged in there."],
    ["wedge.in.1", "box.out.4", "microphone x1"],
  ])("[B7] %s with %s: %s", (from, to, says) => {
    expect(why(from, to)).toBe(says);
  });

  test.each([
    ["mon.link1", "mon.link1", "same: That is the port itself."],
    ["box.in.3", "box.in.3", "same: That is the jack itself."],
    ["mon.link1", "wedge.in.1", "port-and-jack: Monitors Link 1 is a link port, Wedge In a jack."],
    ["wedge.in.1", "mon.link1", "port-and-jack: Monitors Link 1 is a link port, Wedge In a jack."],
    ["mon.link1", "tape.coax-in", "transport: It is AES10, and Monitors Link 1 is 48-slot Cat 5 link."],
    ["coax.coax-out", "tape.coax-out", "direction: Both only send."],
    ["coax.coax-in", "tape.coax-in", "direction: Both only receive."],
    ["box.out.1", "foh.out.1", "direction: Both are outputs."],
    ["split.in.1", "box.in.2", "direction: Both are inputs."],
    ["box.out.1", "aes.in.1", "level: It carries AES3, and Box Out 1 a low-level analogue signal."],
    ["ears.radio.1", "wedge.in.1", "no-cable: Ears Radio is an antenna."],
    ["wedge.thru.1", "tape.play.3", "no-cable: Recorder Playback 3 is no jack that a cable reaches."],
    ["mon.link1", "box.a", "taken: Cable L1 is plugged in there."],
    ["foh.link1", "box.b", "taken: Cable L1 is plugged in FOH Link 1."],
    ["split.direct.1", "box.in.1", "taken: The source “Kick” is plugged in there."],
    ["mon.link1", "nobody.a", "gone: That end is no longer in the show."],
    ["box.out.9", "wedge.in.1", "gone: That end is no longer in the show."],
  ])("[B7] %s with %s is refused: %s", (from, to, says) => {
    expect(why(from, to)).toBe(says);
  });

  test("[B7] so many ways as are asked for, and no fewer", () => {
    expect(why("box.out.1", "amp.in.5", 2)).toBe("multicore x2");
    expect(why("box.out.1", "amp.in.5", 5)).toBe(
      "too-few: From Box Out 1 on there are 4 jacks free in a row, for 5 ways.",
    );
    expect(why("box.out.1", "wedge.in.1", 2)).toBe(
      "too-few: From Wedge In on there is 1 jack free in a row, for 2 ways.",
    );
  });

  test("[B7] ports of one transport that share no kind of cable", () => {
    const link = catalogueType("aes10-interface").ports[0]!;
    const fibre = {
      ...catalogueType("aes10-interface"),
      id: id<TypeId>("fibre-end"),
      ports: [{ ...link, cables: [{ kind: "fibre", maxMetres: 300, provenance: "assumed" } as const] }],
      rules: [],
    };
    const two = rig({
      types: [fibre],
      devices: { foh: { name: "FOH", type: "console-24" }, far: { name: "Far", type: "fibre-end" } },
    });
    const fit = fitOf(two, end("foh.link1"), end("far.link"));
    expect(fit).toEqual({
      kind: "refused",
      why: "no-kind",
      reason: "It takes fibre, and FOH Link 1 Cat 5e, shielded.",
    });
  });

  test("[B8] every other port and bank of the rig is told, with the best of its jacks", () => {
    const offers = cablesThatFit(show, end("mon.link1"));
    const groups = show.devices.reduce((sum, { type }) => {
      const { ports, banks } = show.types.find((one) => one.id === type)!;
      return sum + ports.length + banks.length;
    }, 0);
    expect(offers).toHaveLength(groups - 1);
    const fits = offers.filter(({ fit }) => fit.kind === "fits").map(({ name }) => name);
    // Every free 48-slot port but the one in hand.
    expect(fits).toEqual(["FOH Link 2", "Monitors Link 2", "Box Link B", "AES3 Link", "Coax Link"]);
    const jacks = cablesThatFit(show, end("split.direct.1"));
    // Jack 1 has a source in it: the run of free ones begins at 2.
    expect(jacks.find(({ name }) => name === "Box In")!.end.first).toBe(2);
    // Jacks 5 to 8 are free.
    expect(jacks.find(({ name }) => name === "Processor In")).toMatchObject({
      end: { first: 5 },
      fit: { kind: "fits", ways: 4 },
    });
    expect(firstFree(show, end("box.in"))).toEqual(end("box.in.2"));
    expect(firstFree(show, end("box.a"))).toEqual(end("box.a"));
  });

  test("[B8] a fit joins: no finding of the cable's ends, kinds or holes, whichever end is in hand", () => {
    let tried = 0;
    for (const device of show.devices) {
      const { ports, banks } = show.types.find((one) => one.id === device.type)!;
      for (const { id: group } of [...ports, ...banks]) {
        const from = firstFree(show, { device: device.id, group, first: 1 });
        for (const offer of cablesThatFit(show, from)) {
          if (offer.fit.kind !== "fits") continue;
          tried++;
          const made = plugCable(show, from, offer.end);
          expect(made.kind).toBe("plugged");
          if (made.kind !== "plugged") continue;
          const { findings, wiring } = analyse(after(show, made.edits));
          expect(wiring.plugs.cables.at(-1)!.join.kind).not.toBe("misfit");
          const bad = ["cable-joins-nothing", "cable-wrong-kind", "used-twice", "dangling", "labels"];
          expect(findings.filter(({ check }) => bad.includes(check)).map(({ title }) => title)).toEqual([]);
        }
      }
    }
    expect(tried).toBeGreaterThan(50);
  });
});

describe("a cable", () => {
  const made = (from: string, to: string): Show => {
    const result = plugCable(show, end(from), end(to));
    if (result.kind === "refused") throw new Error(result.reason);
    return after(show, result.edits);
  };

  test("[B9] has the kind, a tag of its own, and no length yet; jack cables lead from output to input", () => {
    expect(made("mon.link1", "box.b").cables.at(-1)).toEqual({
      id: "cable-l2",
      kind: "cat5e-shielded",
      // L1 is taken.
      tag: "L2",
      ways: 1,
      ends: [end("mon.link1"), end("box.b")],
    });
    expect(made("wedge.in.1", "box.out.2").cables.at(-1)).toMatchObject({
      tag: "C1",
      ways: 1,
      ends: [end("box.out.2"), end("wedge.in.1")],
    });
    expect(made("split.direct.1", "box.in.2").cables.at(-1)).toMatchObject({ tag: "M1", ways: 15 });
    expect(plugCable(show, end("mon.link1"), end("box.a"))).toMatchObject({ kind: "refused", why: "taken" });
  });

  test("[B9] plugged elsewhere it keeps tag, length and ways; where it is now doesn't stand in its way", () => {
    const l1 = show.cables[0]!;
    const moved = replugged(show, l1.id, 1, end("box.b"));
    if (moved.kind === "refused") throw new Error(moved.reason);
    expect(after(show, moved.edits).cables).toEqual([
      { ...l1, ends: [l1.ends[0], end("box.b")] },
      show.cables[1],
    ]);
    expect(replugged(show, l1.id, 0, end("mon.link2"))).toMatchObject({
      kind: "plugged",
      cable: { ends: [end("mon.link2"), end("box.a")] },
    });
    // Out 3–6 overlap its own 5–8, which count as free; Out 6 on has only three jacks left.
    expect(replugged(show, show.cables[1]!.id, 0, end("box.out.3")).kind).toBe("plugged");
    expect(replugged(show, show.cables[1]!.id, 0, end("box.out.6"))).toMatchObject({ why: "too-few" });
    expect(replugged(show, cable("gone"), 0, end("box.b"))).toMatchObject({ why: "gone" });
  });

  test("[B9] of a multicore the jacks can be chosen: how many, and from which on", () => {
    const x1 = show.cables[1]!;
    const two = rejacked(show, x1.id, { ways: 2, first: [7, 3] });
    expect(two).toMatchObject({
      kind: "plugged",
      cable: { ways: 2, tag: "X1", ends: [end("box.out.7"), end("amp.in.3")] },
    });
    expect(rejacked(show, x1.id, { ways: 5 })).toMatchObject({ why: "too-few" });
    expect(rejacked(show, x1.id, { first: [9, 1] })).toMatchObject({ why: "gone" });
  });
});
