/** What the input lists, the output patch and the cable schedule say. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { analyse, cablesById, findTerminal, loadShow, ownersAt, type Analysis, type Show } from "#engine";
import { id, type CableId } from "#engine/model/ids.ts";
import type { CellLike, PaperTable } from "#engine/paperwork/block.ts";
import type { PaperJob, Sheet } from "#engine/paperwork/page.ts";
import { shoppingTable, sparesFor } from "#engine/paperwork/sheets/cables.ts";
import { jackLabels } from "#engine/paperwork/labels/jack-labels.ts";
import { jackCables } from "#engine/paperwork/jack-cables.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";

const FILES = [
  "quayside.hopline",
  "quayside-faults.hopline",
  "starter-club.hopline",
  "starter-festival.hopline",
  "starter-theatre.hopline",
];

const analyses = new Map<string, Analysis>();
function analysisOf(file: string): Analysis {
  const known = analyses.get(file);
  if (known) return known;
  const loaded = loadShow(readFileSync(new URL(`../../assets/demo/${file}`, import.meta.url), "utf8"));
  if (!loaded.ok) throw new Error(loaded.error.message);
  const made = analyse(loaded.value);
  analyses.set(file, made);
  return made;
}

async function sheetsOf(file: string, kind: string): Promise<readonly Sheet[]> {
  const analysis = analysisOf(file);
  const job: PaperJob = { analysis, paper: "A4", date: "2026-11-26", author: "" };
  const entries = sheetEntries(analysis).filter((entry) => entry.kind === kind);
  return Promise.all(entries.map(async (entry) => entry.make(job, {})));
}

const textOf = (cell: CellLike | undefined): string => (typeof cell === "object" ? cell.text : (cell ?? ""));

/** A table's rows as texts by the columns' titles, with the group they stand in. */
function rowsOf(table: PaperTable): readonly Record<string, string>[] {
  let group = "";
  return table.rows.map((row) => {
    group = row.group ?? group;
    const cells = table.columns.map(({ title }, n) => [title, textOf(row.cells[n])]);
    return { group, ...(Object.fromEntries(cells) as Record<string, string>) };
  });
}

/** Signals of `Out 9–16`: 8; of `AES 1A–3B`, whose jacks hold two each: 6. */
function jacksIn(name: string): number {
  const [, first, side, last = first, lastSide = side] = /(\d+)([AB])?(?:–(\d+)([AB])?)?$/.exec(name) ?? [];
  // A jack alone needs no number: `Radio A–B`.
  if (first === undefined) return name.endsWith("A–B") ? 2 : 1;
  const at = (jack: string | undefined, leg: string | undefined): number =>
    leg === undefined ? Number(jack) : Number(jack) * 2 + (leg === "B" ? 1 : 0);
  return at(last, lastSide) - at(first, side) + 1;
}

describe("[Q10] the output patch", () => {
  it.each(FILES)("has every output jack of the rig once, box by box and place by place: %s", async (file) => {
    const { show } = analysisOf(file);
    const types = new Map(show.types.map((type) => [type.id, type]));
    // Counted from the file: jacks of banks that go out and have a connector, each with its signals.
    const jacks = show.devices.flatMap(({ type }) =>
      (types.get(type)?.banks ?? [])
        .filter(({ direction, connector }) => direction === "out" && connector !== "none")
        .map(({ count, perJack }) => count * perJack),
    );
    const total = jacks.reduce((sum, count) => sum + count, 0);
    for (const kind of ["outputs by box", "outputs by place"]) {
      const sheets = await sheetsOf(file, kind);
      const rows = sheets.flatMap(({ tables }) => tables.flatMap(rowsOf));
      const told = rows.reduce((sum, { Jack }) => sum + jacksIn(Jack!), 0);
      expect(told, kind).toBe(total);
    }
  });

  it("tells at each wanted jack of the demo what is wanted, and the owner that the trace tells", async () => {
    const analysis = analysisOf("quayside.hopline");
    const { wiring, arrivals, show } = analysis;
    const [sheet] = await sheetsOf("quayside.hopline", "outputs by box");
    const rows = sheet!.tables.flatMap(({ rows: all }) => all);
    const types = new Map(show.types.map((type) => [type.id, type]));
    const names = rows.map(({ cells }) => textOf(cells[1]));
    for (const want of show.wants) {
      const device = show.devices.find(({ id }) => id === want.to.device)!;
      const bank = types.get(device.type)!.banks.find(({ id }) => id === want.to.group)!;
      if (bank.direction !== "out" || bank.connector === "none") continue;
      expect(names.join("\n"), want.name).toContain(want.name);
      const row = rows.find(({ cells }) => textOf(cells[1]).split(" / ").includes(want.name))!;
      const feed = row.cells[2];
      const terminal = findTerminal(wiring, want.to)!;
      const owners = ownersAt(wiring, arrivals, terminal).map((index) => show.devices[index]!.id);
      expect(typeof feed === "object" ? feed.owners : [], want.name).toEqual(owners);
    }
  });

  it("says where the cable leads, and in bold why nothing arrives", async () => {
    const [left] = (await sheetsOf("quayside.hopline", "outputs by place")).filter(
      ({ id }) => id === "outputs/stage-left",
    );
    const out9 = left!.tables
      .flatMap(rowsOf)
      .find((row) => row["group"]!.startsWith("Stage left:") && row["Jack"] === "Out 9");
    expect(out9).toMatchObject({ Feed: "Wedge 1 Centre left", "Comes from": "Mix 1", Cable: "W1" });
    expect(out9!["Goes to"]).toMatch(/^Wedge 1/);
    // Of the planted faults: the console's interface is not plugged, so the truck's four feeds are dark.
    const [faulty] = (await sheetsOf("quayside-faults.hopline", "outputs by place")).filter(
      ({ id }) => id === "outputs/stage-left",
    );
    const row = faulty!.tables[0]!.rows.find(({ cells }) => textOf(cells[1]) === "Presenter ears left")!;
    expect(row.cells[2]).toEqual({
      text: expect.stringContaining("nothing is plugged in") as string,
      strong: true,
    });
  });

  it("has a sheet for what stands in a place that the show doesn't have", () => {
    const { show } = analysisOf("starter-club.hopline");
    const entries = (of: Show): readonly string[] =>
      sheetEntries(analyse(of))
        .filter(({ kind }) => kind === "outputs by place")
        .map(({ title }) => title);
    expect(entries(show)).not.toContain("Output patch: No place");
    expect(entries({ ...show, places: [] })).toEqual(["Output patch: No place"]);
  });

  it("takes a multicore of more ways than its bank has jacks for no cable of the jacks beyond", () => {
    const { show } = analysisOf("quayside.hopline");
    // M3 joins outputs 1 to 8 of the box with the processor's eight inputs; of forty ways the rest hang loose.
    const cables = show.cables.map((cable) => (cable.tag === "M3" ? { ...cable, ways: 40 } : cable));
    const { wiring } = analyse({ ...show, cables });
    const tags = [...jackCables(wiring).values()].flat().filter(({ cable }) => cable.tag === "M3");
    // Both ends of eight ways.
    expect(tags).toHaveLength(16);
  });

  it("[Q10] tells both cables of one jack, and the way of a multicore, as the jack's label does", async () => {
    const { show } = analysisOf("quayside.hopline");
    const w1 = show.cables.find(({ tag }) => tag === "W1")!;
    // A second cable in the jack of wedge 1 that leads to wedge 2, whose own cable is taken out.
    const far = show.cables.find(({ tag }) => tag === "W2")!.ends[1];
    const cables = show.cables
      .filter(({ tag }) => tag !== "W2")
      .concat({ ...w1, id: id<CableId>("second"), tag: "W9", ends: [w1.ends[0], far] });
    const analysis = analyse({ ...show, cables });
    const entry = sheetEntries(analysis).find(({ title }) => title === "Output patch: Stage left")!;
    const { tables } = await entry.make({ analysis, paper: "A4", date: "2026-11-26", author: "" }, {});
    const rows = tables.flatMap(rowsOf);
    const named = (jack: string) => rows.find(({ Jack }) => Jack === jack)!;
    expect([named("Out 9")["Cable"], named("Out 9")["Goes to"]]).toEqual([
      "W1, W9",
      "Wedge 1 In 1, Wedge 2 In 1",
    ]);
    // M3 takes outputs 1 to 8 of the box to the processor's eight inputs.
    expect([named("Out 3")["Cable"], named("Out 3")["Goes to"]]).toEqual([
      "M3/3",
      "Loudspeaker processor In 3",
    ]);
    const box = analysis.wiring.devices.find((wired) => wired?.device.name === "Stage left")!;
    const bank = box.fabric.layout.type.banks.find(({ id: each }) => each === "out")!;
    const labels = jackLabels(analysis, box, bank);
    expect([labels[8]!.cable, labels[2]!.cable]).toEqual([
      "W1 to Wedge 1, W9 to Wedge 2",
      "M3/3 to Loudspeaker processor",
    ]);
  });

  it("[Q10] says where no cable is planned, and leaves the box out where there is nothing to patch", async () => {
    const [sheet] = (await sheetsOf("quayside.hopline", "outputs by place")).filter(
      ({ title }) => title === "Output patch: Bandstand",
    );
    const said = sheet!.tables[0]!.rows.map(({ cells: [jack, name, , , to], idle, group }) => [
      group!.split(":")[0],
      ...[jack, name, to].map((cell) => (typeof cell === "object" ? cell.text : cell)),
      idle ?? false,
    ]);
    // `build/demo/quayside.ts`: wedge 5 hangs on out 1 of Band A; the dressing room is wanted and has no cable; a wedge's
    // thru hands on its feed, and nothing is wanted or plugged in there.
    expect(said).toContainEqual(["Band A", "Out 1", "Wedge 5 Cornets", "Wedge 5 In 1", false]);
    expect(said).toContainEqual(["Band B", "Out 5", "Dressing room", "no cable in the plan", false]);
    const none = ["Nothing to patch here", "Wedge 5 Thru 1", "Cornets", "nothing planned", true];
    expect(said).toContainEqual(none);
    // The mixer's pair of phones and twelve wedges, behind the two boxes.
    expect(said.filter(([group]) => group === none[0])).toEqual(said.slice(-14));
    const boxes = sheet!.pages.map(({ svg }) => [...svg.matchAll(/<rect [^>]*width="3.4"/g)].length);
    expect(boxes.reduce((a, b) => a + b)).toBe(said.filter(([, , , , idle]) => !idle).length);
  });

  it("tells runs of jacks without a feed in one line", async () => {
    const [sheet] = await sheetsOf("starter-club.hopline", "outputs by box");
    const free = sheet!.tables.flatMap(rowsOf).filter(({ Feed }) => Feed === "no feed");
    expect(free.length).toBeGreaterThan(0);
    for (const { Jack } of free) expect(Jack).toMatch(/^.+ \d+[AB]?(–\d+[AB]?)?$/);
  });
});

describe("[Q11] the input list of a console", () => {
  it.each(FILES)(
    "has each channel that is planned there once, in the order of the console: %s",
    async (file) => {
      const { show } = analysisOf(file);
      for (const sheet of await sheetsOf(file, "inputs")) {
        const desk = show.devices.find(({ name }) => sheet.title === `Input list: ${name}`)!;
        const planned = show.channels.filter((plan) => plan.console === desk.id);
        const rows = sheet.tables.flatMap(rowsOf);
        expect(rows.map(({ Name }) => Name).sort()).toEqual(
          planned
            .map(({ name, source }) => name || show.sources.find(({ id }) => id === source)?.name || "")
            .sort(),
        );
        const numbers = new Map<string, number[]>();
        for (const { group, Ch } of rows) numbers.set(group!, [...(numbers.get(group!) ?? []), Number(Ch)]);
        for (const list of numbers.values()) expect(list).toEqual([...list].sort((a, b) => a - b));
      }
    },
  );

  it("says where a source is plugged, its phantom, and whose its preamp is", async () => {
    const sheets = await sheetsOf("quayside.hopline", "inputs");
    const monitors = sheets.find(({ id }) => id === "inputs/monitors")!;
    const row = monitors.tables[0]!.rows.find(({ cells }) => textOf(cells[1]) === "Hi-hat")!;
    // From the demo's own records: the hi-hat is in the split's jack 5, on phantom, owned by front of house.
    expect(row.cells.map(textOf).slice(0, 7)).toEqual([
      "5",
      "Hi-hat",
      "",
      "microphone",
      "Split 5",
      "Link 1 in 5",
      "48 V",
    ]);
    const house = analysisOf("quayside.hopline").show.devices.find(({ name }) => name === "Front of house")!;
    expect(row.cells[7]).toMatchObject({ owners: [house.id] });
  });
});

describe("[Q12] the cable schedule", () => {
  it.each(FILES)("has every cable once, with its tag and length: %s", async (file) => {
    const { show } = analysisOf(file);
    const [sheet] = await sheetsOf(file, "cables");
    const rows = rowsOf(sheet!.tables[0]!);
    expect(rows.map(({ Tag }) => Tag).sort()).toEqual(show.cables.map(({ tag }) => tag || "no tag").sort());
    for (const { Tag, Length } of rows) {
      const cable = [...cablesById(show).values()].find(({ tag }) => tag === Tag);
      if (cable?.length !== undefined) expect(Length).toBe(`${Math.round(cable.length * 10) / 10} m`);
    }
  });

  it.each([
    [1, 1],
    [10, 1],
    [11, 2],
    [24, 3],
  ])("of %i cables of one sort it takes %i to spare", (count, spares) => {
    // One in ten, at least one: common practice.
    expect(sparesFor(count)).toBe(spares);
  });

  it("brings microphone cables of the demo: 24 in the rig, three of the longest to spare", () => {
    // By hand from the demo: 8 × 25 m, 4 × 15 m, 12 × 10 m; three spares of 25 m. 11 × 25 + 4 × 15 + 12 × 10 = 455.
    const rows = rowsOf(shoppingTable(analysisOf("quayside.hopline"))).filter(
      ({ group }) => group === "microphone cable",
    );
    expect(
      rows.map((row) => [row["Length"], row["In the rig"], row["Spare"], row["To bring"], row["Together"]]),
    ).toEqual([
      ["25 m", "8", "3", "11", "275 m"],
      ["15 m", "4", "", "4", "60 m"],
      ["10 m", "12", "", "12", "120 m"],
      ["all", "24", "3", "27", "455 m"],
    ]);
  });
});
