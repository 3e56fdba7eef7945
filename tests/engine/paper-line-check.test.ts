/** Line-check sheets: every output jack once, what should be heard there, and which results a change has made stale. */
import { describe, expect, test } from "vitest";
import { analyse, type LineCheck, type Show, type TerminalRef } from "#engine";
import { fingerprint } from "#engine/linecheck/fingerprint.ts";
import type { PaperTable } from "#engine/paperwork/block.ts";
import { cellOf } from "#engine/paperwork/columns.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";
import { findTerminal } from "#engine/trace/terminal.ts";
import { demo, STARTERS } from "./demo.ts";
import { rig } from "./rigs/build.ts";
import * as rigs from "./rigs/index.ts";

interface Sheets {
  readonly id: string;
  readonly tables: readonly PaperTable[];
}

async function sheets(show: Show): Promise<Sheets[]> {
  const analysis = analyse(show);
  const entries = sheetEntries(analysis).filter(({ kind }) => kind === "line check");
  return Promise.all(
    entries.map(async (entry) => entry.make({ analysis, paper: "A4", date: "2026-11-26", author: "" }, {})),
  );
}

const rowsOf = (all: readonly Sheets[], id: string, title: string): string[] =>
  all
    .find((each) => each.id === id)!
    .tables.find((table) => table.title === title)!
    .rows.map(({ cells, group }) =>
      [group, ...cells.map((cell) => cellOf(cell).text)]
        .filter((text) => text !== undefined && text !== "")
        .join(" | "),
    );

/** The jacks of a table’s first column, each by its full name: `Out 9–16` of a group is eight of them. */
function jacksIn(show: Show, { rows }: PaperTable): string[] {
  const names = show.devices.map(({ name }) => name).toSorted((a, b) => b.length - a.length);
  return rows.flatMap(({ cells, group }) => {
    const text = cellOf(cells[0]).text;
    const inGroup = names.find((name) => name === group);
    const device = inGroup ?? names.find((name) => text.startsWith(`${name} `))!;
    const jacks = inGroup === undefined ? text.slice(device.length + 1) : text;
    return jacks.split(", ").flatMap((part) => {
      const [, bank, first, leg, last, lastLeg] = /^(.+) (\d*)([AB]?)(?:–(\d*)([AB]?))?$/.exec(part)!;
      if (last === undefined) return [`${device} ${bank} ${first}${leg}`];
      const place = (number: string, side: string): number =>
        side === "" ? Number(number) : 2 * Number(number || 1) - (side === "A" ? 1 : 0);
      const [from, to] = [place(first!, leg!), place(last, lastLeg!)];
      return Array.from({ length: to - from + 1 }, (_, n) => {
        const at = from + n;
        return leg === ""
          ? `${device} ${bank} ${at}`
          : `${device} ${bank} ${Math.ceil(at / 2)}${at % 2 === 1 ? "A" : "B"}`;
      });
    });
  });
}

/** Every output jack of a show, read off its types. */
const outputs = (show: Show): string[] =>
  show.devices.flatMap(({ name, type }) =>
    (show.types.find(({ id }) => id === type)?.banks ?? [])
      .filter(({ direction, connector }) => direction === "out" && connector !== "none")
      .flatMap(({ name: bank, count, perJack }) =>
        Array.from({ length: count }, (_, n) => {
          if (perJack === 1) return [`${name} ${bank} ${n + 1}`];
          const jack = count === 1 ? "" : n + 1;
          return [`${name} ${bank} ${jack}A`, `${name} ${bank} ${jack}B`];
        }).flat(),
      ),
  );

describe("[Q9] every output jack stands on one line-check sheet, once", () => {
  test.each(["quayside", "quayside-faults", ...STARTERS] as const)("[Q9] of %s", async (name) => {
    const show = demo(name);
    const told = (await sheets(show)).flatMap(({ tables }) =>
      tables.filter(({ title }) => title === "Outputs").flatMap((table) => jacksIn(show, table)),
    );
    const all = outputs(show);
    const wanted = new Set(all);
    expect(all.length).toBeGreaterThan(20);
    expect(told.filter((jack) => wanted.has(jack)).toSorted()).toEqual(all.toSorted());
  });

  test("[Q9] of every rig of the catalogue", async () => {
    for (const [name, { show }] of rigs.RIGS) {
      const told = (await sheets(show)).flatMap(({ tables }) =>
        tables.filter(({ title }) => title === "Outputs").flatMap((table) => jacksIn(show, table)),
      );
      const all = new Set(outputs(show));
      expect(told.filter((jack) => all.has(jack)).toSorted(), name).toEqual([...all].toSorted());
    }
  });

  test("[Q9] every source stands at its jack, once", async () => {
    const show = demo();
    const told = (await sheets(show)).flatMap(({ tables }) =>
      tables
        .filter(({ title }) => title === "Inputs")
        .flatMap(({ rows }) => rows.map(({ cells }) => cellOf(cells[1]).text)),
    );
    expect(told.toSorted()).toEqual(show.sources.map(({ name }) => name).toSorted());
  });
});

describe("[Q9] what should be heard", () => {
  test("[Q9] at the demo’s stage", async () => {
    const all = await sheets(demo());
    const stage = rowsOf(all, "line-check/stage-left", "Outputs");
    expect(stage).toContain("Stage left | Out 9 | Wedge 1 Centre left | Mix 1 | W1: Wedge 1 In 1");
    expect(stage).toContain("Stage left | Out 1 | PA left | Matrix 1 | M3: Loudspeaker processor In 1");
    expect(stage).toContain("Stage left | Out 15 | Stage manager | Mix 3");
    expect(stage).toContain(
      "Split | Direct 1–16 | the sources of these inputs, one by one | In 1–16 | M1: Stage left In 1–16",
    );
    expect(rowsOf(all, "line-check/in-ear-rack", "Outputs")).toContain(
      "Loudspeakers, transmitters and the like | Ears 1 Lead vocal In 2, Radio B | Ears Lead vocal right | Mix 10",
    );
    expect(rowsOf(all, "line-check/stage-left", "Inputs")).toContain(
      "Split | In 5 | Hi-hat | microphone | on | Front of house | Front of house 5, Monitors 5, Truck 5",
    );
    // Recorder tracks are wanted, though no plug reaches them.
    expect(rowsOf(all, "line-check/monitor-position", "Outputs")).toContain(
      "Recorder | Track 48 | Track 48 Clarinet | Band A In 16",
    );
  });

  test("[Q9] quiet jacks in one line for each reason; what is wanted and doesn’t come, in bold with the reason", async () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["out 1 x2 < main 1"] },
        wedge: { name: "Wedge", type: "wedge" },
      },
      cables: ["X1: house.out.4 - wedge.in.1"],
      wants: ["Left: house.out.1 < house.mix.1", "Fill: house.out.3"],
    });
    const all = await sheets(show);
    expect(rowsOf(all, "line-check/stage", "Outputs")).toEqual([
      "House | Local out 1 | Left | Main 1, not House Mix 1",
      "House | Local out 2 | no name given | Main 2",
      "House | Local out 3 | Fill | nothing is assigned to House Local out 3",
      "House | Local out 4 | nothing | nothing is assigned to House Local out 4 | X1: Wedge In 1",
      "House | Local out 5–8 | nothing | nothing assigned",
      "Loudspeakers, transmitters and the like | Wedge Thru 1 | nothing | nothing assigned",
    ]);
    const { rows } = all[0]!.tables[0]!;
    expect(rows.map(({ cells }) => cellOf(cells[2]).strong ?? false)).toEqual([
      true,
      false,
      true,
      true,
      false,
      false,
    ]);
  });
});

describe("[Q9] the last result", () => {
  const ref = (device: string, group: string, number: number): TerminalRef =>
    ({ device, group, number }) as unknown as TerminalRef;
  const check = (show: Show, at: TerminalRef, more: Partial<LineCheck> = {}): LineCheck => {
    const analysis = analyse(show);
    const trace = fingerprint(analysis, findTerminal(analysis.wiring, at)!);
    return { at, result: "passed", date: "2026-11-24", note: "", trace, ...more };
  };
  const last = async (show: Show): Promise<string[]> =>
    (await sheets(show)).flatMap(({ tables }) =>
      tables.flatMap(({ columns, rows }) => {
        const at = columns.findIndex(({ title }) => title === "Last check");
        return at < 0 ? [] : rows.map(({ cells }) => cellOf(cells[at]).text).filter((text) => text !== "");
      }),
    );
  const checkedR02: Show = {
    ...rigs.R02.show,
    lineChecks: [
      check(rigs.R02.show, ref("ears", "out", 3)),
      check(rigs.R02.show, ref("box", "out", 1), { result: "failed", note: "hum" }),
    ],
  };
  const withHouse = (change: (text: string) => string): Show =>
    JSON.parse(change(JSON.stringify(checkedR02))) as Show;

  test("[Q9] stands beside its jack, with its date", async () => {
    expect(await last(checkedR02)).toEqual(["failed 2026-11-24; hum", "passed 2026-11-24"]);
    expect(await last(rigs.R02.show)).toEqual([]);
  });

  test("[Q9] of two checks of one jack the later one is told", async () => {
    const jack = ref("ears", "out", 3);
    const show = {
      ...checkedR02,
      lineChecks: [
        check(rigs.R02.show, jack, { date: "2026-11-25", result: "failed" }),
        check(rigs.R02.show, jack, { date: "2026-11-23" }),
      ],
    };
    expect(await last(show)).toEqual(["failed 2026-11-25"]);
  });

  test("[Q9] goes stale with the way to the jack, and with nothing else", async () => {
    // Another name and a longer cable change nothing that was heard.
    const renamed = withHouse((text) =>
      text.replace('"name":"House"', '"name":"Front"').replace('"length":75', '"length":80'),
    );
    expect(await last(renamed)).toEqual(["failed 2026-11-24; hum", "passed 2026-11-24"]);
    // Monitors' block now comes from mix 1 on: the ears' check is stale, the box's isn't.
    const rerouted: Show = {
      ...checkedR02,
      devices: checkedR02.devices.map((device) =>
        device.id === "monitors"
          ? {
              ...device,
              routing: device.routing.map((setting) =>
                setting.to.first === 33 ? { ...setting, from: { ...setting.from, first: 1 } } : setting,
              ),
            }
          : device,
      ),
    };
    expect(await last(rerouted)).toEqual([
      "failed 2026-11-24; hum",
      "passed 2026-11-24; stale: changed since",
    ]);
  });

  test("[Q9] an input’s check is bound to the channels that carry its source", async () => {
    const plan = (from: string): Show =>
      rig({
        devices: {
          house: { name: "House", type: "console-24", set: [`ch 1 < link1 ${from}`] },
          box: { name: "Box", type: "box-16-8", mode: "one" },
        },
        cables: ["L1: house.link1 - box.a, 50 m"],
        sources: ["Kick: box.in.1"],
        channels: ["Kick: house.ch.1 < Kick"],
      });
    const lineChecks = [check(plan("1"), ref("box", "in", 1))];
    expect(await last({ ...plan("1"), lineChecks })).toEqual(["passed 2026-11-24"]);
    expect(await last({ ...plan("2"), lineChecks })).toEqual(["passed 2026-11-24; stale: changed since"]);
  });
});
