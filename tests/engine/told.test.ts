/** Traces in words: what decides each step (T11), and each verdict with its place and its numbers (T1 to T9). */
import { describe, expect, test } from "vitest";
import { bank, mode, wired } from "#engine/catalog/parts.ts";
import type { Delay } from "#engine/model/device-type.ts";
import type { Show } from "#engine/model/show.ts";
import { membersOf } from "#engine/trace/members.ts";
import { reachOf } from "#engine/trace/reach.ts";
import { fullName, namesOf, ranges } from "#engine/trace/terminal.ts";
import { decidedBy, originName, verdictText } from "#engine/trace/told.ts";
import { stepsOf, VERDICT_NAMES, type Trace } from "#engine/trace/trace.ts";
import type { Away } from "#engine/wiring/wiring.ts";
import { rig } from "./rigs/build.ts";
import { R19 } from "./rigs/links.ts";
import { EIGHT_BY_EIGHT, LINK_BOX, port, SLOW, type } from "./rigs/types.ts";
import { Bench, tellSteps } from "./tell.ts";

const decided = (bench: Bench, trace: Trace): readonly string[] =>
  stepsOf(trace).map((step) => decidedBy(bench.wiring, step));

const verdict = (show: Show, name: string, away?: Away): string => {
  const bench = new Bench({ show, ...(away ? { away } : {}) });
  return verdictText(bench.wiring, bench.trace(name));
};

/**
 *     House link1 ──L1── a Box     Kick at Box in 1, on channel 1, in mix 3 and in the matrix behind it
 */
const HOUSE = rig({
  devices: {
    house: {
      name: "House",
      type: "console-24",
      set: ["link1 1 x8 < mix 1", "ch 1 < link1 1", "out 1 < direct 1", "out 3 x2 < mtx 1"],
    },
    box: { name: "Box", type: "box-16-8", mode: "one" },
  },
  cables: ["L1: house.link1 - box.a, 75 m"],
  sources: ["Kick: box.in.1"],
  mixes: ["Wedge 3: house.mix.3 < ch 1 pre", "Lobby: house.mtx.1 < mix 3"],
});

const renamed = (show: Show, name: string): Show => ({
  ...show,
  mixes: show.mixes.map((mix) => ({ ...mix, name })),
});

describe("what decides a step", () => {
  test("[T11] a setting, a cable, the mode's rule and the conversion, from console to box", () => {
    const bench = new Bench({ show: HOUSE });
    expect(decided(bench, bench.trace("Box Out 3"))).toEqual([
      "Link 1 out 1–8 takes Mix 1–8",
      "cable L1, Cat 5e, shielded, 75 m",
      "mode “One console”, position 1",
      "conversion to analogue",
    ]);
  });

  test("[T11] a rule of the type holds in every mode; a setting of one says one number", () => {
    const bench = new Bench({ show: HOUSE });
    expect(decided(bench, bench.trace("House Channel 1"))).toEqual([
      "conversion to digital",
      "wired in every mode",
      "cable L1, Cat 5e, shielded, 75 m",
      "Channel 1 takes Link 1 in 1",
    ]);
  });

  test("[T11] a mix with its tap point, a mix into a matrix, a direct out", () => {
    const bench = new Bench({ show: HOUSE });
    const into = (name: string): readonly string[] =>
      membersOf(bench.wiring, bench.at(name)).map(({ step }) => decidedBy(bench.wiring, step));
    expect(into("House Mix 3")).toEqual(["Wedge 3, pre fader"]);
    expect(into("House Matrix 1")).toEqual(["Lobby, post fader"]);
    expect(into("House Direct out 1")).toEqual(["direct out"]);
    expect(into("House Mix 4")).toEqual([]);
  });

  test("[T11] a mix without a name", () => {
    const bench = new Bench({ show: renamed(HOUSE, "") });
    const [member] = membersOf(bench.wiring, bench.at("House Mix 3"));
    expect(decidedBy(bench.wiring, member!.step)).toBe("unnamed mix, pre fader");
  });

  test("[T11] a cable in feet (1 ft = 0.3048 m: 75 m = 246.06 ft), without a tag, without a length", () => {
    const told = (change: Partial<Show>): string => {
      const bench = new Bench({ show: { ...HOUSE, ...change } });
      return decided(bench, bench.trace("Box Out 3"))[1]!;
    };
    const [cable] = HOUSE.cables;
    expect(told({ settings: { ...HOUSE.settings, units: "imperial" } })).toBe(
      "cable L1, Cat 5e, shielded, 246 ft",
    );
    expect(told({ cables: [{ ...cable!, tag: "" }] })).toBe("cable, Cat 5e, shielded, 75 m");
    const { length: _length, ...unmeasured } = cable!;
    expect(told({ cables: [unmeasured] })).toBe("cable L1, Cat 5e, shielded, length unknown");
  });

  test("[T11] a type that doesn't chain has no position; jacks that convert otherwise", () => {
    const bench = new Bench({
      show: rig({
        types: [EIGHT_BY_EIGHT, SLOW],
        devices: {
          matrix: { name: "Matrix", type: "eight-by-eight", mode: "fixed" },
          deck: { name: "Deck", type: "aes3-converter", mode: "low" },
        },
        sources: ["Tape: matrix.in.7"],
      }),
    });
    expect(decided(bench, bench.trace("Matrix Out 1"))).toEqual(["mode “Two fixed”"]);
  });

  test("[T11] the place in the chain is told of every type that chains, be it for two", () => {
    const two = type("two-boxes", {
      banks: [bank("in", "In", "in", 1, "XLR", "line"), bank("out", "Out", "out", 1, "XLR", "line")],
      modes: [mode("normal", "Normal", [wired("out", 1, "in", 1, 1)])],
      chain: 2,
    });
    const bench = new Bench({
      show: rig({ types: [two], devices: { box: { name: "Box", type: "two-boxes", position: 2 } } }),
    });
    expect(decided(bench, bench.trace("Box Out 1"))).toEqual(["mode “Normal”, position 2"]);
  });

  test("[T11] [D1] jacks that convert neither to digital nor to analogue, such as AES3 and radio, just convert", () => {
    const half: Delay = { value: 0.5, unit: "ms", provenance: "maker's sheet" };
    const odd = type("odd-jacks", {
      banks: [
        bank("aes", "AES3 in", "in", 1, "XLR", "AES3", { convert: half }),
        bank("mic", "Mic in", "in", 1, "XLR", "mic", { convert: half }),
        bank("air", "Air out", "out", 1, "XLR", "radio", { convert: half }),
        bank("line", "Line out", "out", 1, "XLR", "line", { convert: half }),
      ],
      rules: [wired("air", 1, "aes", 1, 1), wired("line", 1, "mic", 1, 1)],
    });
    const bench = new Bench({
      show: rig({ types: [odd], devices: { odd: { name: "Odd", type: "odd-jacks" } } }),
    });
    expect(decided(bench, bench.trace("Odd Air out 1"))).toEqual([
      "conversion",
      "wired in every mode",
      "conversion",
    ]);
    expect(tellSteps(bench.show, bench.trace("Odd Air out 1"))).toEqual([
      "Odd AES3 in 1: other, 0.5 ms",
      "Odd Air out 1: wired in mode normal, rule 0",
      "Odd Air out 1: other, 0.5 ms",
    ]);
    expect(decided(bench, bench.trace("Odd Line out 1"))).toEqual([
      "conversion to digital",
      "wired in every mode",
      "conversion to analogue",
    ]);
  });

  test("[T11] a stream: each cable says it, and so does a switch", () => {
    const bench = new Bench(R19);
    const told = decided(bench, bench.trace("Monitors Channel 1"));
    const streamed = told.filter((line) => line.includes("Mixes"));
    expect(streamed).toEqual([
      "cable N1, Cat 5e, unshielded, 80 m, stream Mixes",
      "stream Mixes",
      "cable N2, Cat 5e, unshielded, 80 m, stream Mixes",
    ]);
    // Out of the sender, into the switch and out of it again, into the receiver.
    const sides = stepsOf(bench.trace("Monitors Channel 1")).flatMap((step) =>
      step.kind === "streamed" || (step.kind === "cable" && step.stream)
        ? [[step.from.side, step.to.side]]
        : [],
    );
    expect(sides).toEqual([
      ["send", "receive"],
      ["receive", "send"],
      ["send", "receive"],
    ]);
  });

  test("[T11] one channel of a stream is heard by who asks for the reach of its source as well", () => {
    const bench = new Bench({ show: HOUSE });
    const [direct] = reachOf(bench.wiring, bench.at("House Direct out 1")).traces;
    expect(decided(bench, direct!)).toEqual(["Local out 1 takes Direct out 1", "conversion to analogue"]);
  });
});

describe("where a trace ends, in words", () => {
  test("[T1] arrives from a tap, or from a source with its jack", () => {
    expect(verdict(HOUSE, "Box Out 3")).toBe("arrives from House Mix 3");
    expect(verdict(HOUSE, "House Channel 1")).toBe("arrives from Kick (Box In 1)");
    const bench = new Bench({ show: HOUSE });
    const { verdict: end } = bench.trace("House Channel 1");
    expect(end.kind === "arrives" && originName(bench.wiring, end.origin)).toBe("Kick (Box In 1)");
  });

  test("[T2] nothing assigned", () => {
    expect(verdict(HOUSE, "House Local out 2")).toBe("nothing is assigned to House Local out 2");
  });

  test("[T3] a loop is told round to where it begins", () => {
    const loop = rig({
      devices: {
        a: { name: "A", type: "console-24", set: ["link1 1 x8 < link1 1", "out 1 < link1 1"] },
        b: { name: "B", type: "console-24", clock: "link1", set: ["link1 1 x8 < link1 1"] },
      },
      cables: ["L1: a.link1 - b.link1"],
    });
    expect(verdict(loop, "A Local out 1")).toBe(
      "a loop: A Link 1 in 1 → A Link 1 out 1 → B Link 1 in 1 → B Link 1 out 1 → A Link 1 in 1",
    );
  });

  test("[T3] of a long loop the first 24 terminals are named, and the others counted", () => {
    const ring = (count: number): Show =>
      rig({
        devices: Object.fromEntries(
          Array.from({ length: count }, (_, n) => [
            `c${n}`,
            {
              name: `C${n}`,
              type: "console-24",
              ...(n > 0 ? { clock: "link1" } : {}),
              set: ["link2 1 x8 < link1 1"],
            },
          ]),
        ),
        cables: Array.from({ length: count }, (_, n) => `L${n}: c${n}.link2 - c${(n + 1) % count}.link1`),
      });
    // Two terminals of each console: 24 of twelve, 26 of thirteen.
    const named = (count: number): readonly string[] =>
      Array.from({ length: count }, (_, n) => [`C${n} Link 1 in 1`, `C${n} Link 2 out 1`]).flat();
    expect(verdict(ring(12), "C5 Link 2 out 1")).toBe(
      `a loop: ${[...named(12), "C0 Link 1 in 1"].join(" → ")}`,
    );
    expect(verdict(ring(13), "C5 Link 2 out 1")).toBe(
      `a loop: ${[...named(12), "2 more", "C0 Link 1 in 1"].join(" → ")}`,
    );
  });

  test("[T1] [T9] each verdict has the name that it goes by in the trade", () => {
    expect(Object.values(VERDICT_NAMES)).toEqual([
      "arrives",
      "nothing assigned",
      "not plugged",
      "slot beyond the link's slots",
      "not wired in this mode",
      "clock or rate mismatch",
      "loop",
      "device off or cable pulled",
      "not enough known",
    ]);
  });

  test("[T4] nothing plugged, and a cable that joins nothing, with and without its tag", () => {
    expect(verdict(HOUSE, "House Link 2 in 1")).toBe("nothing is plugged in House Link 2 in 1");
    const misfit = rig({
      devices: {
        house: { name: "House", type: "console-24" },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["X1: house.link1 - box.in.1"],
    });
    expect(verdict(misfit, "House Link 1 in 1")).toBe("cable X1 joins nothing at House Link 1 in 1");
    const untagged = { ...misfit, cables: misfit.cables.map((cable) => ({ ...cable, tag: "" })) };
    expect(verdict(untagged, "House Link 1 in 1")).toBe("the cable joins nothing at House Link 1 in 1");
  });

  test("[T5] past the slots at 96 kHz: half of those at 48", () => {
    const twice = rig({
      rate: 96000,
      devices: {
        house: { name: "House", type: "console-24", set: ["ch 1 < link1 25"] },
        box: { name: "Box", type: "box-16-8", mode: "one" },
      },
      cables: ["L1: house.link1 - box.a"],
    });
    expect(verdict(twice, "House Channel 1")).toBe(
      "House Link 1 in 25 lies beyond the 24 slots there are at 96 kHz",
    );
  });

  test("[T6] what the mode doesn't wire, a setting that it can't hold, a mode that isn't there", () => {
    const off = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 3 x8 < mix 1"] },
        box: { name: "Box", type: "box-32-16", mode: "gone" },
      },
      cables: ["L1: house.link1 - box.a"],
    });
    expect(verdict(off, "House Link 1 out 3")).toBe(
      "House can't hold “Link 1 out 3–10 takes Mix 1–8” in mode “Normal”",
    );
    expect(verdict(off, "Box Out 9")).toBe("nothing feeds Box Out 9 in mode “gone”");
    const strayed = rig({
      devices: { house: { name: "House", type: "console-24", set: ["out 1 < nowhere 4"] } },
    });
    expect(verdict(strayed, "House Local out 1")).toBe(
      "House can't hold “Local out 1 takes nowhere 4” in mode “Normal”",
    );
  });

  test("[T7] clock or rate, with the cable", () => {
    const boxes = (rate?: 96000): Show =>
      rig({
        types: [LINK_BOX],
        devices: {
          a: { name: "A", type: "link-box" },
          b: { name: "B", type: "link-box", ...(rate ? { rate } : {}) },
        },
        cables: ["L1: a.x - b.x"],
      });
    expect(verdict(boxes(), "B Out 1")).toBe(
      "the ends of cable L1 follow different word clocks, at B Port X in 1",
    );
    expect(verdict(boxes(96000), "B Out 1")).toBe(
      "the ends of cable L1 run at different sample rates, at B Port X in 1",
    );
  });

  test("[T8] a device off, a cable pulled", () => {
    expect(verdict(HOUSE, "Box Out 3", { devices: new Set(["house"]) })).toBe("House is off");
    expect(verdict(HOUSE, "Box Out 3", { cables: new Set(["L1"]) })).toBe("cable L1 is pulled");
  });

  test("[T9] a cable that leads to nothing the show has", () => {
    const astray = rig({
      devices: { house: { name: "House", type: "console-24" } },
      cables: ["L1: house.link1 - gone.a"],
    });
    expect(verdict(astray, "House Link 1 in 1")).toBe(
      "cable L1 at House Link 1 in 1 leads to something that the show doesn't have",
    );
  });
});

describe("names", () => {
  test("numbers as ranges, each once and in order", () => {
    expect(ranges([])).toBe("");
    expect(ranges([5])).toBe("5");
    expect(ranges([16, 1, 2, 3, 2, 11, 13, 14, 15])).toBe("1–3, 11, 13–16");
    expect(ranges([1, 3])).toBe("1, 3");
    expect(ranges([10, 9, 2])).toBe("2, 9–10");
  });

  test("a port that goes both ways says which, be it one slot each way", () => {
    const thin = type("thin", {
      ports: [
        port("x", { single: 1, double: 1, quad: 1 }),
        port("y", { single: 2, double: 2, quad: 2 }, { send: { single: 0, double: 0, quad: 0 } }),
      ],
    });
    const { wiring } = new Bench({
      show: rig({ types: [thin], devices: { thin: { name: "Thin", type: "thin" } } }),
    });
    expect(Array.from({ length: wiring.size }, (_, at) => fullName(wiring, at))).toEqual([
      "Thin Port X in 1",
      "Thin Port X out 1",
      "Thin Port Y 1",
      "Thin Port Y 2",
    ]);
  });

  test("terminals gathered by device and group; a port that goes one way needs no in or out", () => {
    const bench = new Bench({ show: HOUSE });
    const at = (...names: readonly string[]): readonly number[] => names.map((name) => bench.at(name));
    expect(namesOf(bench.wiring, at("Box Out 1", "House Mix 3", "Box Out 2"))).toBe(
      "Box Out 1–2; House Mix 3",
    );
    expect(namesOf(bench.wiring, at("House Link 1 in 2", "House Link 1 out 2"))).toBe(
      "House Link 1 in 2; House Link 1 out 2",
    );
    const pm = bench.wiring.devices[1]!;
    const bus = pm.fabric.layout.spans.find((span) => span.side === "send" && span.port.id === "pm")!;
    expect(namesOf(bench.wiring, [pm.base + bus.start, pm.base + bus.start + 15])).toBe(
      "Box Monitor bus 1, 16",
    );
  });
});
