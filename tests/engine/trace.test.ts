/** Traces: how each ends, what its hops are made of, and which traces can't be made at all. */
import { describe, expect, test } from "vitest";
import { id, type CableId, type DeviceId, type GroupId, type SourceId } from "#engine/model/ids.ts";
import { ms } from "#engine/model/units.ts";
import { arrivals, LOOP } from "#engine/trace/arrivals.ts";
import { terminalOf, type Terminal } from "#engine/trace/terminal.ts";
import {
  gatekeepers,
  stepsOf,
  traces,
  VERDICT_NAMES,
  type Step,
  type VerdictKind,
} from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { rig } from "./rigs/build.ts";
import * as rigs from "./rigs/index.ts";
import { EIGHT, port, type } from "./rigs/types.ts";
import { Bench, expectTraces, tell, tellSteps } from "./tell.ts";

const same = (a: Terminal, b: Terminal): boolean =>
  a.device === b.device && a.group === b.group && a.side === b.side && a.number === b.number;

describe("verdicts", () => {
  test("[T1] arrives: from a tap, or from a jack that a source is plugged in", () => {
    expectTraces(rigs.R02, [
      // Carried through one console and a box's monitor bus into the breakout, and through two.
      "Ears rack Out 3 ← Monitors Mix 11, 4 hops",
      "Ears rack Out 9 ← Broadcast Mix 1, 5 hops",
      "Stage box Out 16 ← House Mix 16, 2 hops",
      "House Link 2 in 41 ← Broadcast Mix 1, 3 hops",
    ]);
    expectTraces(rigs.R19, ["Monitors Channel 8 ← House Mix 8, 5 hops"]);
    expectTraces(rigs.R34, ["Sub In 1 ← House Main 1, 4 hops", "Sub Thru 1 ← House Main 1, 4 hops"]);
    expectTraces(rigs.R33, ["Monitors Channel 1 ← Vocal at Split In 1, 3 hops"]);
    // A tap is where its own trace starts and ends.
    expectTraces(rigs.R01, ["House Mix 1 ← House Mix 1, 1 hop", "Box In 1 ← Kick at Box In 1, 1 hop"]);
  });

  test("[T2] nothing assigned: a destination that waits for a setting, or a track with no source", () => {
    expectTraces(rigs.R10, ["Far rack Out 9: nothing assigned at House Stage link out 25, 3 hops"]);
    expectTraces(rigs.R13, ["House Local out 6: nothing assigned at House Local out 6, 1 hop"]);
    expectTraces(rigs.R14, ["House Channel 2: nothing assigned at Recorder Playback 2, 3 hops"]);
  });

  test("[T5] [W9] of a cable from a device to itself each way is told with its own slots", () => {
    // X sends four slots and receives eight, Y eight each way.
    const lopsided = type("lopsided", {
      ports: [port("x", EIGHT, { send: { single: 4, double: 4, quad: 2 } }), port("y", EIGHT)],
    });
    for (const cable of ["L1: one.x - one.y, 5 m", "L1: one.y - one.x, 5 m"]) {
      const show = rig({
        types: [lopsided],
        devices: { one: { name: "One", type: "lopsided" } },
        cables: [cable],
      });
      expectTraces({ show }, ["One Port Y in 5: beyond the slots at One Port Y in 5 (4 at 48 kHz), 1 hop"]);
    }
  });

  test("[T3] loop: told from its lowest terminal on, in the direction of the signal, wherever one asks", () => {
    const tie = "loop House Link 2 in 1 → House Link 2 out 1 → Monitors Link 2 in 1 → Monitors Link 2 out 1";
    expectTraces(rigs.R43, [
      `House Local out 1: ${tie}, 1 hop`,
      `Monitors Link 2 in 1: ${tie}, 1 hop`,
      `House Link 2 in 1: ${tie}, 1 hop`,
    ]);
    const ring = (n: number): string =>
      `loop House Link 1 in ${n} → House Link 2 out ${n} → Monitors Link 1 in ${n} → Monitors Link 2 out ${n} → Truck Link 1 in ${n} → Truck Link 2 out ${n}`;
    expectTraces(rigs.R44, [
      `Monitors Link 2 out 1: ${ring(1)}, 1 hop`,
      `Truck Local out 3: ${ring(2)}, 1 hop`,
    ]);
    expectTraces(rigs.R45, [
      "House Link 1 in 8: loop House Link 1 in 8 → House Link 2 out 8 → Monitors Link 2 in 8 → Monitors Link 1 out 8, 1 hop",
    ]);
    // Two terminals are enough. Out 2 hangs on the loop without being part of it.
    expectTraces(rigs.R40, [
      "House Local out 1: loop House Local in 1 → House Local out 1, 1 hop",
      "House Local out 2: loop House Local in 1 → House Local out 1, 1 hop",
    ]);
    // The steps of a trace into a loop run from the loop to the target.
    const bench = new Bench(rigs.R43);
    expect(tellSteps(bench.show, bench.trace("House Local out 1"))).toEqual([
      "House Local out 1: set out 1 x1 < link2 1",
      "House Local out 1: to analogue, 0.25 ms",
    ]);
    expect(tellSteps(bench.show, bench.trace("House Link 2 out 1"))).toEqual([]);
  });

  test("[T4] not plugged: no cable, or one that joins nothing", () => {
    expectTraces(rigs.R01, ["House Channel 2: not plugged at Box In 2, 2 hops"]);
    expectTraces(rigs.R03, ["Box 2 Link A out 3: not plugged at Box 2 Link C in 3, 1 hop"]);
    expectTraces(rigs.R35, [
      "House Channel 1: not plugged at House Link 1 in 1 (X1 joins nothing), 1 hop",
      "Rack 1 Out 16: not plugged at Rack 1 Monitor bus in 16 (L7 joins nothing), 1 hop",
    ]);
  });

  test("[T5] beyond the slots: told with the number there are, and the rate", () => {
    expectTraces(rigs.R08, [
      "Box Monitor bus out 16: beyond the slots at Box Link A in 48 (24 at 96 kHz), 1 hop",
    ]);
    expectTraces(rigs.R15, [
      "Recorder Track 64: beyond the slots at Recorder Coax in in 64 (32 at 96 kHz), 1 hop",
    ]);
    expectTraces(rigs.R41, ["Long Out 8: beyond the slots at Long Out 8 (8 at 48 kHz), 1 hop"]);
  });

  test("[T6] not wired in this mode: told with the setting that can't be held, where there is one", () => {
    expectTraces(rigs.R34, [
      "Processor Out 5: not wired at Processor Out 5 (mode four; out 5 x1 < in 5), 1 hop",
    ]);
    expectTraces(rigs.R14, [
      "Interface Coax out out 64: not wired at Interface Coax out out 64 (mode normal), 1 hop",
    ]);
    expectTraces(rigs.R17, ["Converter A Link out 9: not wired at Converter A Link out 9 (mode low), 1 hop"]);
  });

  test("[T7] mismatch: told with the cable, and whether rate or clock differ", () => {
    expectTraces(rigs.R16, ["Recorder Track 32: rate mismatch at Recorder Coax in in 32 (C1), 1 hop"]);
    expectTraces(rigs.R26, ["House Channel 1: clock mismatch at House Link 1 in 1 (T1), 1 hop"]);
    expectTraces(rigs.R18, ["Deck Out 2: clock mismatch at Deck In 1B (X1), 1 hop"]);
  });

  test("[T8] off: told with the cable where one is pulled", () => {
    expectTraces(rigs.R50, [
      "Wedge In 1: off at Box Link A in 3 (L1), 2 hops",
      "Box Monitor bus out 1: off at Box Link A in 33 (L1), 1 hop",
    ]);
    expectTraces(rigs.R52, ["House Channel 16: off at Box Link A out 16, 2 hops"]);
    expectTraces(rigs.R49, ["Box 2 Out 8: off at Truck Link 1 out 8, 2 hops"]);
  });

  test("[T9] not enough known: the cable leads to what the show doesn't have", () => {
    expectTraces(rigs.R46, [
      "House Channel 1: not enough known at House Link 1 in 1 (L1), 1 hop",
      "House Channel 2: not enough known at House Link 2 in 1 (L2), 1 hop",
      "House Channel 3: not enough known at House Local in 1 (X1), 1 hop",
    ]);
    expectTraces(rigs.R55, ["Far Out 1: not enough known at Near Stage link in 17 (S1), 2 hops"]);
  });
});

describe("hops and steps", () => {
  test("[T10] hops stand in the direction of the signal, each with the steps into and inside one device", () => {
    const bench = new Bench(rigs.R02);
    const trace = bench.trace("Ears rack Out 9");
    expect(
      trace.hops.map(({ device, steps }) => `${device}: ${steps.map(({ kind }) => kind).join(" ")}`),
    ).toEqual([
      "broadcast: patched",
      "monitors: cable patched",
      "house: cable patched",
      "box: cable wired",
      "ears: cable wired converted",
    ]);
  });

  test("[T10] every step of every trace of every rig starts where the one before it ended", () => {
    const wrong: string[] = [];
    for (const [name, rig] of rigs.RIGS) {
      const { wiring } = new Bench(rig);
      for (let at = 0; at < wiring.size; at++) {
        const trace = traceOf(wiring, at);
        const steps = stepsOf(trace);
        const joined = steps.every((step, n) => n === 0 || same(step.from, steps[n - 1]!.to));
        const ends = same(steps.at(-1)?.to ?? trace.target, terminalOf(wiring, at));
        const gathered = trace.hops.every(({ device, steps: inside }) =>
          inside.every(({ to }) => to.device === device),
        );
        if (!joined || !ends || !gathered) wrong.push(`${name}: ${tell(rig.show, trace)}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  test("[T11] a step tells the cable, the setting or the rule that decides it", () => {
    const bench = new Bench(rigs.R02);
    expect(tellSteps(bench.show, bench.trace("Ears rack Out 3"))).toEqual([
      "Monitors Link 1 out 35: set link1 33 x8 < mix 9",
      "House Link 2 in 35: cable T1, 0.062984 ms",
      "House Link 1 out 35: set link1 33 x16 < link2 33",
      "Stage box Link A in 35: cable L1, 0.062903 ms",
      // Mode "one" has one rule of its own; the type's follow: three of links, then the monitor bus.
      "Stage box Monitor bus out 3: wired in mode one, rule 4",
      "Ears rack Monitor bus in 3: cable P1, 0.062661 ms",
      "Ears rack Out 3: wired in mode pm, rule 0",
      "Ears rack Out 3: to analogue, 0.25 ms",
    ]);
    const chain = new Bench(rigs.R03);
    expect(tellSteps(chain.show, chain.trace("House Channel 30"))).toEqual([
      "Box 2 In 6: to digital, 0.3 ms",
      "Box 2 Link A out 30: wired in mode chain, rule 1",
      "Box 1 Link C in 30: cable L2, 0.0625 ms",
      "Box 1 Link A out 30: carried in mode chain, rule 2",
      "House Link 1 in 30: cable L1, 0.0625 ms",
      "House Channel 30: set ch 1 x48 < link1 1",
    ]);
    // A stream is told cable by cable and switch by switch, with the sender's slot on the way.
    const network = new Bench(rigs.R19);
    expect(tellSteps(network.show, network.trace("Monitors Channel 8"))).toEqual([
      "House Link 1 out 8: set link1 1 x8 < mix 1",
      "Endpoint 1 Link in 8: cable L1, 0.0625 ms",
      "Endpoint 1 Network out 8: set net 1 x8 < link 1",
      "Switch Port 1 in 8: cable N1 (mixes), 1.021263 ms",
      "Switch Port 2 out 8: stream mixes",
      "Endpoint 2 Network in 16: cable N2 (mixes), 0.042097 ms",
      "Endpoint 2 Link out 8: set link 1 x8 < net 9",
      "Monitors Link 1 in 8: cable L2, 0.0625 ms",
      "Monitors Channel 8: set ch 1 x8 < link1 1",
    ]);
  });

  test("[T12] the arrays tell the same root, verdict and delay as the traces, up to a join that nothing arrives at", () => {
    const wrong: string[] = [];
    for (const [name, rig] of rigs.RIGS) {
      const { wiring } = new Bench(rig);
      const found = arrivals(wiring);
      for (let at = 0; at < wiring.size; at++) {
        const trace = traceOf(wiring, at);
        const { verdict } = trace;
        const root = found.root[at]!;
        if (found.joins?.get(root)?.roots.length === 0) {
          const passes = stepsOf(trace).some(({ to }) => same(to, terminalOf(wiring, root)));
          if (verdict.kind === "arrives" || (verdict.kind !== "loop" && !passes))
            wrong.push(`${name}: ${tell(rig.show, trace)}; the arrays end at ${root}`);
          continue;
        }
        const agrees =
          verdict.kind === "loop"
            ? root === LOOP
            : same(terminalOf(wiring, root), verdict.kind === "arrives" ? verdict.origin.at : verdict.at) &&
              Math.abs(found.delay[at]! - trace.delay) < 1e-9;
        if (!agrees) wrong.push(`${name}: ${tell(rig.show, trace)}; the arrays end at ${root}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  test("[T13] the gatekeepers are the devices on the way, each once", () => {
    const bench = new Bench(rigs.R02);
    expect(gatekeepers(bench.trace("Ears rack Out 9"))).toEqual([
      "broadcast",
      "monitors",
      "house",
      "box",
      "ears",
    ]);
    // There and back through one console counts once: monitors' playback comes home through the house.
    expect(gatekeepers(new Bench(rigs.R14).trace("House Channel 1"))).toEqual([
      "recorder",
      "interface",
      "house",
    ]);
    expect(gatekeepers(new Bench(rigs.R40).trace("House Local out 2"))).toEqual(["house"]);
  });
});

describe("traces that can't be", () => {
  const at = (device: string, number: number, side: Terminal["side"] = "jack"): Terminal => ({
    device: id<DeviceId>(device),
    group: id<GroupId>(side === "jack" ? "out" : "a"),
    side,
    number,
  });
  const cable = (from: Terminal, to: Terminal): Step => ({
    kind: "cable",
    cable: id<CableId>("L1"),
    from,
    to,
    delay: ms(0),
    parts: [],
  });
  const tap = { kind: "tap", at: at("a", 1, "send") } as const;

  test("[T10] a factory refuses steps that don't join end to end", () => {
    const broken = [
      cable(at("a", 1, "send"), at("b", 1, "receive")),
      cable(at("b", 2, "send"), at("c", 1, "receive")),
    ];
    expect(() => traces.arrives(at("c", 1, "receive"), tap, broken)).toThrow("doesn't start where");
  });

  test("[T10] a factory refuses steps that don't start at the root or don't end at the target", () => {
    const step = cable(at("a", 1, "send"), at("b", 1, "receive"));
    expect(() => traces.notPlugged(at("b", 1, "receive"), at("x", 1, "receive"), null, [step])).toThrow(
      "doesn't start where",
    );
    expect(() => traces.arrives(at("b", 2, "receive"), tap, [step])).toThrow("doesn't end at its target");
    expect(() => traces.off(at("b", 2), at("b", 1), at("b", 1).device, [])).toThrow(
      "doesn't end at its target",
    );
    expect(() => traces.loop(at("b", 2), [at("a", 1)], [step])).toThrow("doesn't end at its target");
  });

  test("[T1] a factory takes what fits: the same steps, joined, make a trace of two hops", () => {
    const trace = traces.arrives(at("b", 1, "receive"), tap, [
      cable(at("a", 1, "send"), at("b", 1, "receive")),
    ]);
    expect(trace.hops.map(({ device }) => device)).toEqual(["a", "b"]);
    const source = { kind: "source", at: at("a", 1), source: id<SourceId>("s") } as const;
    expect(traces.arrives(at("a", 1), source, []).hops).toEqual([{ device: "a", steps: [] }]);
  });
});

describe("the catalogue of rigs", () => {
  test("[T1] every verdict ends traces on at least two rigs", () => {
    const seen = new Map<VerdictKind, Set<string>>();
    for (const [name, rig] of rigs.RIGS) {
      const { wiring } = new Bench(rig);
      for (let at = 0; at < wiring.size; at++) {
        const { kind } = traceOf(wiring, at).verdict;
        seen.set(kind, (seen.get(kind) ?? new Set()).add(name));
      }
    }
    const kinds = Object.keys(VERDICT_NAMES) as VerdictKind[];
    expect(kinds.filter((kind) => (seen.get(kind)?.size ?? 0) < 2)).toEqual([]);
  });
});
