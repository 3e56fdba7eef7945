/** The ownership sheet says what the owners' report says, and the way of each block in short. */
import { describe, expect, test } from "vitest";
import { analyse, ownersReport, type Show } from "#engine";
import { cellOf } from "#engine/paperwork/columns.ts";
import type { PaperTable } from "#engine/paperwork/block.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";
import { demo, STARTERS } from "./demo.ts";
import * as rigs from "./rigs/index.ts";

async function ownership(show: Show, sheet = "ownership"): Promise<PaperTable> {
  const analysis = analyse(show);
  const entry = sheetEntries(analysis).find(({ id }) => id === sheet)!;
  const { tables } = await entry.make({ analysis, paper: "A4", date: "2026-11-26", author: "" }, {});
  return tables[0]!;
}

const said = ({ rows }: PaperTable): string[] =>
  rows.map(({ cells, group }) =>
    [group!.split("  ·  ")[0], ...cells.map((cell) => cellOf(cell).text)].join(" | "),
  );

/** What hands on, jack by jack, what comes in: it has no blocks to own. */
const HANDS_ON = new Set(["loudspeaker", "radio", "personal mixer", "split"]);

describe("[Q8] block ownership", () => {
  test("[Q8] two consoles through a third, by hand: R02", async () => {
    expect(said(await ownership(rigs.R02.show)).slice(0, 4)).toEqual([
      "Stage box | Out 1–8 | one owner | House | 8 of 8 | House, Stage box | House Mix 1–8 → Link 1 out 1–8",
      "Stage box | Out 9–16 | one owner | House | 8 of 8 | House, Stage box | House Mix 9–16 → Link 1 out 9–16",
      "Ears rack | Out 1–8 | one owner | Monitors | 8 of 8 | Monitors, House, Stage box, Ears rack | " +
        "Monitors Mix 9–16 → Link 1 out 33–40 → House Link 1 out 33–40 → Stage box Monitor bus 1–8",
      "Ears rack | Out 9–16 | one owner | Broadcast | 8 of 8 | Broadcast, Monitors, House, Stage box, Ears rack | " +
        "Broadcast Mix 1–8 → Link 1 out 1–8 → Monitors Link 1 out 41–48 → House Link 1 out 41–48 → Stage box Monitor bus 9–16",
    ]);
  });

  test("[Q8] a block of jacks that carry pairs is told by its jacks: 8 signals of AES3 are 4 jacks, R17", async () => {
    expect(said(await ownership(rigs.R17.show))[0]).toBe(
      "Converter A | AES3 out 1–4 | one owner | House | 8 of 8 | House, Converter A | House Mix 1–8 → Link 1 out 1–8",
    );
  });

  test("[Q8] shared and unfed blocks say so, and each part of a block its own way: R13", async () => {
    const table = await ownership(rigs.R13.show);
    const rows = said(table);
    expect(rows.find((row) => row.startsWith("House | Local out 1–8"))).toMatch(
      /\| shared \| House, Monitors \|/,
    );
    expect(rows.find((row) => row.startsWith("Spare | Local out 1–8"))).toMatch(
      /\| unfed \| {2}\| 0 of 8 \|/,
    );
    const shared = table.rows.find(({ cells }) => cellOf(cells[1]).text === "shared")!;
    expect(cellOf(shared.cells[2]).owners).toEqual(["house", "monitors"]);
    expect(cellOf(shared.cells[1]).strong).toBe(true);
  });

  const SHOWS: readonly (readonly [string, Show])[] = [
    ...(["quayside", "quayside-faults", ...STARTERS] as const).map((name) => [name, demo(name)] as const),
    ...[...rigs.RIGS].map(([name, { show }]) => [name, show] as const),
  ];

  test("[Q8] nothing differs from the owners’ report, and no block is left out", async () => {
    let blocks = 0;
    for (const [name, show] of SHOWS) {
      const analysis = analyse(show);
      const kept = new Set(
        show.devices
          .filter(({ type }) => {
            const found = show.types.find(({ id }) => id === type);
            return found !== undefined && !HANDS_ON.has(found.category);
          })
          .map((device) => device.name),
      );
      const reported = ownersReport(analysis).blocks.filter(({ device }) => kept.has(device));
      if (reported.length === 0) continue;
      const lines = reported.map(
        ({ device, label, first, last, state, owners, fed, gatekeepers }) =>
          `${device} | ${label} | ${state} | ${owners.join(", ")} | ${fed} of ${last - first + 1} | ${gatekeepers.join(", ")}`,
      );
      const printed = said(await ownership(show)).map((row) => row.split(" | ").slice(0, 6).join(" | "));
      expect(printed.toSorted(), name).toEqual(lines.toSorted());
      blocks += lines.length;
    }
    expect(blocks).toBeGreaterThan(100);
  });

  test("[Q8] each place has its own blocks, every block of the whole once", async () => {
    const show = demo();
    const analysis = analyse(show);
    const entries = sheetEntries(analysis).filter(({ kind }) => kind === "ownership");
    // The places that have boxes, consoles, interfaces or recorders; the bandstand's are the chain of two boxes.
    expect(entries.map(({ title }) => title)).toEqual(
      [
        "",
        ": Harbour bar",
        ": Delay tower",
        ": Front of house",
        ": Monitor position",
        ": Truck",
        ": Stage left",
        ": In-ear rack",
        ": Bandstand",
      ].map((place) => `Block ownership${place}`),
    );
    const whole = said(await ownership(show));
    const met: string[] = [];
    for (const { id, title } of entries.slice(1)) {
      const rows = said(await ownership(show, id));
      expect(rows.length).toBeGreaterThan(0);
      for (const row of rows) {
        const device = show.devices.find(({ name }) => name === row.split(" | ")[0])!;
        const place = show.places.find((each) => each.id === device.place)!;
        expect(title).toBe(`Block ownership: ${place.name}`);
      }
      met.push(...rows);
    }
    expect(met.toSorted()).toEqual(whole.toSorted());
    // A rig in one place has one sheet.
    expect(
      sheetEntries(analyse(rigs.R02.show))
        .filter(({ kind }) => kind === "ownership")
        .map(({ id }) => id),
    ).toEqual(["ownership"]);
  });

  test("[Q8] the stage-left sheet of the demo, by hand: zones and wedges of its box, and what hangs on it", async () => {
    const table = await ownership(demo(), "ownership/stage-left");
    const marked = table.rows.map(({ group, cells }) => [
      group!.split("  ·  ")[0],
      ...[0, 2].map((n) => cellOf(cells[n]).text),
      cellOf(cells[2]).owners,
    ]);
    // What `build/demo/quayside.ts` wants there: zones on 1–8, wedges on 9–12, the truck's feeds on 13–16.
    expect(marked).toEqual([
      ["Stage left", "Out 1–8", "Front of house", ["foh"]],
      ["Stage left", "Out 9–12", "Monitors", ["mon"]],
      ["Stage left", "Out 13–16", "Truck", ["trk"]],
      ["Truck box", "Out 1–8", "Truck", ["trk"]],
      ["Loudspeaker processor", "Out 1–8", "Front of house", ["foh"]],
    ]);
  });

  test("[Q8] every device that a way names is one that could break it", async () => {
    const show = demo();
    for (const { cells, group } of (await ownership(show)).rows) {
      const keepers = cellOf(cells[4]).text.split(", ");
      const way = cellOf(cells[5]).text;
      for (const keeper of keepers) {
        const isHere = group!.startsWith(`${keeper}  ·`);
        expect(isHere || way.includes(keeper), `${way} names ${keeper}`).toBe(true);
      }
    }
  });
});
