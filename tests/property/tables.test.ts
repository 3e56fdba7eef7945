/** Tables of random shows: what is exported and read again is the same, be it into the show or into one without the list. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  analyse,
  applyEdits,
  asWritten,
  csvOf,
  guessMapping,
  harmless,
  planImport,
  tableOf,
  TABLES,
  type Show,
  type TableId,
} from "#engine";
import { demo } from "../engine/demo.ts";
import { readList } from "../../renderer/tables/read-list.ts";
import { randomRig } from "./random-rig.ts";

/** Cells that programs run, or that tear a file apart. */
const NASTY = [
  "=1+1",
  " =1",
  "＝1",
  "@x",
  "+1",
  "-12.5",
  "a\nb",
  "\n=1",
  'say "so"',
  "a,b;c",
  "'=1",
  "x\ty",
  "#3",
  "a #b",
];

const name = fc.oneof(
  fc.constantFrom(...NASTY),
  fc.string({ unit: "grapheme", minLength: 1, maxLength: 12 }).filter((text) => text.trim() !== ""),
);

/** The show with other names, two of which may be the same. */
const renamed = (show: Show, names: readonly string[]): Show => {
  const at = (n: number, own: string): string => names[n % names.length] ?? own;
  return {
    ...show,
    sources: show.sources.map((source, n) => ({ ...source, name: at(n, source.name) })),
    mixes: show.mixes.map((mix, n) => ({ ...mix, name: at(n + 1, mix.name) })),
    channels: show.channels.map((plan, n) => ({ ...plan, name: at(n + 2, plan.name) })),
    cables: show.cables.map((cable, n) => ({ ...cable, tag: at(n + 3, cable.tag) })),
  };
};

const open = (id: TableId, show: Show) => tableOf(id, show, analyse(show));

function reread(id: TableId, from: Show, into: Show) {
  const [headings = [], ...rows] = readList(csvOf(open(id, from)), ",").rows;
  const table = open(id, into);
  return planImport(table, rows, guessMapping(table, headings) ?? [], true);
}

const cells = (id: TableId, show: Show): readonly (readonly string[])[] => {
  const table = open(id, show);
  return table.keys.map((_, row) => table.columns.map((_column, column) => table.tell(row, column)));
};

const EMPTIED: Readonly<Partial<Record<TableId, (show: Show) => Show>>> = {
  inputs: (show) => ({ ...show, sources: [], channels: [] }),
  mixes: (show) => ({ ...show, mixes: [] }),
  cables: (show) => ({ ...show, cables: [] }),
  channels: (show) => ({ ...show, channels: [] }),
};

describe("export and import", () => {
  test.each(TABLES)("[L7] %s: read into the same show, nothing changes", (id) => {
    fc.assert(
      fc.property(fc.nat(99_999), fc.array(name, { maxLength: 6 }), (seed, names) => {
        const show = renamed(randomRig(seed).show, names);
        const { written, bad } = reread(id, show, show);
        expect(bad).toEqual([]);
        expect(written.edits).toEqual([]);
      }),
      { numRuns: 15 },
    );
  });

  test.each(Object.keys(EMPTIED) as TableId[])(
    "[L7] %s: read into the demo without them, they are all there again",
    (id) => {
      const show = demo();
      const bare = EMPTIED[id]!(show);
      const { written, bad } = reread(id, show, bare);
      expect(bad).toEqual([]);
      expect(cells(id, applyEdits(bare, written.edits))).toEqual(cells(id, show));
    },
  );

  test("[L7] any cell is written harmless and read as it was", () => {
    fc.assert(
      fc.property(fc.oneof(name, fc.string({ unit: "binary" })), (cell) => {
        expect(asWritten(harmless(cell))).toBe(cell);
      }),
      { numRuns: 2000 },
    );
  });
});
