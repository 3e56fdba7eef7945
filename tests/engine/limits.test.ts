/**
 * Files of a few kilobytes that ask for a rig no machine can hold, and rigs that wind on and on: what a list's limit
 * doesn't stop, the sum does, and what is left can be walked however deep it goes.
 */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { bank, group, patch, range, wired } from "#engine/catalog/parts.ts";
import { loadShow } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { MOST_TERMINALS } from "#engine/exchange/size.ts";
import type { DeviceType, MixSection } from "#engine/model/device-type.ts";
import {
  id,
  type CableId,
  type DeviceId,
  type MixId,
  type SourceId,
  type StreamId,
} from "#engine/model/ids.ts";
import type { Cable, CableEnd, Device, Show } from "#engine/model/show.ts";
import { MOST_BRANCHES, reachOf } from "#engine/trace/reach.ts";
import { findTerminal } from "#engine/trace/terminal.ts";
import { verdictText } from "#engine/trace/told.ts";
import { stepsOf } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { compile } from "#engine/wiring/compile.ts";
import { rig } from "./rigs/build.ts";
import { port, type } from "./rigs/types.ts";

const many = <T>(count: number, make: (n: number) => T): T[] =>
  Array.from({ length: count }, (_, n) => make(n));

/** `count` devices of one type, beside each other. */
const rowOf = (kind: DeviceType, count: number, more: (n: number) => Partial<Device> = () => ({})): Show => {
  const show = rig({ types: [kind], devices: { d0: { name: "D0", type: kind.id } } });
  const devices = many(count, (n): Device => ({
    ...show.devices[0]!,
    id: id<DeviceId>(`d${n}`),
    name: `D${n}`,
    ...more(n),
  }));
  return { ...show, devices };
};

const end = (device: number, name: string, first = 1): CableEnd => ({
  device: id<DeviceId>(`d${device}`),
  group: group(name),
  first,
});

const cable = (n: number, ends: readonly [CableEnd, CableEnd], ways = 1): Cable => ({
  id: id<CableId>(`c${n}`),
  kind: "line",
  tag: `C${n}`,
  ways,
  ends,
});

const section = (
  name: string,
  role: MixSection["role"],
  count: number,
  from: readonly string[],
): MixSection => ({ id: group(name), name, role, count, from: from.map(group), block: 1 });

const refusal = (show: Show): string => {
  const result = loadShow(saveShow(show));
  return result.ok ? "loaded" : `${result.error.code}: ${result.error.message}`;
};

const WIDE: { readonly single: number; readonly double: number; readonly quad: number } = {
  single: 4096,
  double: 4096,
  quad: 4096,
};

describe("rigs larger than can be worked out", () => {
  /** 32 pairs of ports: 524,288 terminals in some kilobytes of text. */
  const huge = type("huge", { ports: many(64, (n) => port(`p${n}`, WIDE)) });

  test("[X3] more jacks, slots and buses than the limit are refused by their sum, however short the file", () => {
    const show = rowOf(huge, 4);
    expect(saveShow(show).length).toBeLessThan(40_000);
    expect(refusal(show)).toBe(
      "hostile: devices: the jacks, slots and buses of all devices are 2097152; at most 2000000 can be worked out",
    );
    expect(refusal(rowOf(huge, 3))).toBe("loaded");
    // Types that no device is of cost nothing.
    expect(
      refusal({
        ...rowOf(huge, 3),
        types: [huge, ...many(4, (n) => ({ ...huge, id: type(`u${n}`, {}).id }))],
      }),
    ).toBe("loaded");
  });

  test("[X3] so are settings that assign more", () => {
    const small = type("small", { banks: [bank("in", "In", "in", 8, "XLR", "line")] });
    const set = {
      to: { group: group("out"), first: 1 },
      from: { group: group("in"), first: 1 },
      count: 4096,
    };
    expect(refusal(rowOf(small, 1, () => ({ routing: many(489, () => set) })))).toBe(
      "hostile: devices: the slots that all settings assign are 2002944; at most 2000000 can be worked out",
    );
    expect(refusal(rowOf(small, 1, () => ({ routing: many(488, () => set) })))).toBe("loaded");
  });

  test("[X3] so are direct outs that take the same channels over and over", () => {
    const desk = type("desk", {
      mixer: {
        sections: [
          section("ch", "channel", 1024, []),
          section(
            "direct",
            "direct",
            1024,
            many(64, () => "ch"),
          ),
        ],
        processing: { value: 0, unit: "ms", provenance: "assumed" },
      },
    });
    expect(refusal(rowOf(desk, 31))).toBe(
      "hostile: mixes: the members of all mixes, direct outs and joins are 2031616; at most 2000000 can be worked out",
    );
    expect(refusal(rowOf(desk, 30))).toBe("loaded");
  });

  test("[X3] so are cables that join more, and streams that carry more", () => {
    const row = rowOf(type("plain", { banks: [bank("in", "In", "in", 8, "XLR", "line")] }), 1);
    const cables = many(1954, (n) => cable(n, [end(0, "in"), end(0, "in")], 1024));
    expect(refusal({ ...row, cables })).toBe(
      "hostile: cables: the jacks that all cables join are 2000896; at most 2000000 can be worked out",
    );
    const stream = (n: number): NonNullable<Show["streams"]>[number] => ({
      id: id<StreamId>(`s${n}`),
      name: "",
      from: end(0, "in"),
      channels: 1024,
      packetTime: 1,
      to: many(1000, () => end(0, "in")),
    });
    expect(refusal({ ...row, streams: many(2, stream) })).toBe(
      "hostile: streams: the channels of all streams at their receivers are 2048000; at most 2000000 can be worked out",
    );
    // A stream's receivers are entries of a list like any other.
    const all = many(200_001, () => end(0, "in"));
    const shares = many(50, (n) => ({ ...stream(n), channels: 1, to: all.slice(n * 4001, (n + 1) * 4001) }));
    expect(refusal({ ...row, streams: shares })).toBe(
      "hostile: the file has more than 200000 entries in all lists",
    );
  });

  test("[X3] so are streams over a network that would have to be followed too far", () => {
    const network = { speed: 1000, share: 0.75, provenance: "assumed" } as const;
    const node = type("node", {
      ports: many(8, (n) => port(`p${n}`, { single: 1, double: 1, quad: 1 }, { network })),
    });
    const row = rowOf(node, 1);
    const show = (cables: number): Show => ({
      ...row,
      cables: many(cables, (n) => cable(n, [end(0, `p${n % 8}`), end(0, `p${(n + 1) % 8}`)])),
      streams: [
        {
          id: id<StreamId>("s"),
          name: "",
          from: end(0, "p0"),
          channels: 1,
          packetTime: 1,
          to: many(998, () => end(0, "p1")),
        },
      ],
    });
    expect(refusal(show(20_001))).toBe(
      "hostile: streams: 1000 ends of streams and devices on a network of 20001 cables are more than can be worked out",
    );
    expect(refusal(show(20_000))).toBe("loaded");
  });

  test("[X3] the limit is far above a rig that somebody could build", () => {
    // 40 consoles of 1,000 terminals and 210 boxes of 200.
    expect(MOST_TERMINALS).toBeGreaterThan(10 * (40 * 1000 + 210 * 200));
  });
});

/** `count` splits, jack k of each plugged in jack k of the next. */
const splits = (count: number): Show => {
  const split = type("passive", {
    banks: [bank("in", "In", "in", 1, "XLR", "mic"), bank("out", "Out", "out", 1, "XLR", "mic")],
    rules: [wired("out", 1, "in", 1, 1)],
    clock: "none",
  });
  const row = rowOf(split, count);
  return {
    ...row,
    cables: many(count - 1, (n) => cable(n, [end(n, "out"), end(n + 1, "in")])),
    sources: [
      {
        id: id<SourceId>("voice"),
        name: "Voice",
        kind: "microphone",
        at: { device: id<DeviceId>("d0"), group: group("in"), number: 1 },
        phantom: true,
        preampOwner: id<DeviceId>("d0"),
      },
    ],
  };
};

describe("rigs that wind on and on", () => {
  test("[R1] [F26] a signal through 5,000 devices in a row is followed down, and its preamps are looked for, to the end", () => {
    const show = splits(5000);
    const { wiring } = analyse(show);
    const { traces, complete } = reachOf(wiring, 0);
    // Every device has an output jack that the signal passes: of the traces that the limit on steps allows, the first ones.
    expect(complete).toBe(false);
    expect(stepsOf(traces[0]!).length).toBe(1);
    expect(traces.length).toBeGreaterThan(400);
    const last = traceOf(wiring, wiring.size - 1);
    expect(last.verdict.kind).toBe("arrives");
    expect(stepsOf(last).length).toBe(2 * 5000 - 1);
  });

  test("[R2] 40 stages of mixes that lead to no jack, by 2⁴⁰ ways, end at once", () => {
    const show = maze(40, false);
    const wiring = compile(show);
    const start = findTerminal(wiring, { device: id<DeviceId>("d0"), group: group("ch"), number: 1 })!;
    expect(reachOf(wiring, start)).toEqual({ traces: [], complete: true });
  });

  test("[R2] twelve stages that lead to one jack are told by each of 2¹¹ ways; of 14 stages as many as are told, and that there are more", () => {
    const reach = (stages: number): ReturnType<typeof reachOf> => {
      const wiring = compile(maze(stages, true));
      return reachOf(
        wiring,
        findTerminal(wiring, { device: id<DeviceId>("d0"), group: group("ch"), number: 1 })!,
      );
    };
    const all = reach(12);
    expect(all.complete).toBe(true);
    expect(all.traces.length).toBe(2 ** 11);
    const ways = all.traces.map((trace) =>
      stepsOf(trace)
        .map(({ to }) => `${to.device}${to.group}${to.number}`)
        .join(),
    );
    expect(new Set(ways).size).toBe(2 ** 11);
    const some = reach(14);
    expect(some.complete).toBe(false);
    expect(some.traces.length).toBeGreaterThan(3000);
    expect(some.traces.length).toBeLessThanOrEqual(MOST_BRANCHES);
  });

  test("[T3] [F4] a loop through more slots than a call takes arguments is told as one", () => {
    const show = spiral(32);
    const { wiring, findings } = analyse(show);
    const trace = traceOf(wiring, 0);
    expect(trace.verdict.kind === "loop" && trace.verdict.cycle.length).toBe(32 * 2 * 4096);
    expect(verdictText(wiring, trace)).toMatch(/^a loop: .* → 262120 more → D0 Port A0 in 1$/);
    const loops = findings.filter(({ check }) => check === "loop");
    expect(loops.length).toBe(1);
    expect(loops[0]!.reason.length).toBeLessThan(2000);
  });
});

/**
 * Consoles in a row: both buses of each take both its channels, and are linked to the channels of the next. The last
 * one's buses lead to jacks, or nowhere.
 */
function maze(stages: number, toJacks: boolean): Show {
  const desk = type("desk", {
    ports: [port("a", { single: 2, double: 2, quad: 2 }), port("b", { single: 2, double: 2, quad: 2 })],
    banks: [bank("out", "Out", "out", 2, "XLR", "line")],
    mixer: {
      sections: [section("ch", "channel", 2, []), section("mix", "mix", 2, ["ch"])],
      processing: { value: 0, unit: "ms", provenance: "assumed" },
    },
    rules: [
      wired("b", 1, "mix", 1, 2),
      wired("ch", 1, "a", 1, 2),
      patch(range("out", 1, 2), [range("mix", 1, 2)], 1),
    ],
    clock: group("a"),
  });
  const routing = [
    { to: { group: group("out"), first: 1 }, from: { group: group("mix"), first: 1 }, count: 1 },
  ];
  const row = rowOf(desk, stages, (n) => ({
    ...(n === 0 ? { clock: "internal" } : {}),
    routing: toJacks && n === stages - 1 ? routing : [],
  }));
  const members = [1, 2].map((number) => ({ group: group("ch"), number, tap: "post" as const }));
  return {
    ...row,
    cables: many(stages - 1, (n) => ({
      ...cable(n, [end(n, "b"), end(n + 1, "a")]),
      kind: "cat5e-shielded" as const,
    })),
    mixes: row.devices.flatMap(({ id: console }, n) =>
      [1, 2].map((first) => ({
        id: id<MixId>(`m${n}.${first}`),
        console,
        group: group("mix"),
        first,
        width: 1 as const,
        name: "",
        members,
      })),
    ),
  };
}

/** One device, `pairs` of its ports plugged in each other: what comes in at slot k goes out at slot k + 1, and round. */
function spiral(pairs: number): Show {
  const coil = type("coil", {
    ports: many(pairs, (n) => [
      port(`a${n}`, WIDE),
      port(`b${n}`, { single: 4096, double: 4096, quad: 4096 }),
    ]).flat(),
    rules: many(pairs, (n) => [
      wired(`b${n}`, 2, `a${n}`, 1, 4095),
      wired(`b${(n + 1) % pairs}`, 1, `a${n}`, 4096, 1),
    ]).flat(),
  });
  const row = rowOf(coil, 1);
  return {
    ...row,
    cables: many(pairs, (n) => ({
      ...cable(n, [end(0, `b${n}`), end(0, `a${n}`)]),
      kind: "cat5e-shielded" as const,
    })),
  };
}
