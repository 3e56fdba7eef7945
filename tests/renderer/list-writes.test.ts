/** What is typed and pasted in a list as edits, and files and clipboard text as rows. */
import { describe, expect, test } from "vitest";
import { analyse, applyEdits, id, tableOf, type Show, type SourceId, type TableId } from "#engine";
import { decoded, guessSeparator, readList } from "../../renderer/tables/read-list.ts";
import type { Draft } from "../../renderer/tables/lists.ts";
import {
  canWrite,
  columnTitle,
  outcomeOf,
  pasted,
  rowsSeen,
  tellSeen,
  type Seen,
  type SeenWrite,
} from "../../renderer/tables/write.ts";
import { smallShow } from "./small-show.ts";

/** Three sources, so that an order can differ from the table's. */
function withSources(): Show {
  const show = smallShow();
  const [vocal] = show.sources;
  const more = ["Bass", "Keys"].map((name, n) => ({
    ...vocal!,
    id: id<SourceId>(`s${n}`),
    name,
    at: { ...vocal!.at, number: n + 2 },
  }));
  return { ...show, sources: [vocal!, ...more] };
}

function see(list: TableId, show: Show = withSources(), drafts: readonly Draft[] = []): Seen {
  const table = tableOf(list, show, analyse(show));
  return { table, order: table.keys.map((_, n) => n), drafts };
}

const columnAt = ({ table }: Seen, heading: string): number => {
  const at = table.columns.findIndex(({ name }) => name === heading);
  if (at < 0) throw new Error(`no column ${heading}`);
  return at;
};

const names = (show: Show): readonly string[] => show.sources.map(({ name }) => name);

describe("what is written in cells", () => {
  test("goes to the rows as they are sorted on the screen, and a bad cell is told where it stands there", () => {
    const seen: Seen = { ...see("inputs"), order: [2, 0, 1] };
    const [source, jack] = [columnAt(seen, "Source"), columnAt(seen, "Plugged in")];
    expect(tellSeen(seen, 0, source)).toBe("Keys");
    const { edits, bad, changed, added } = outcomeOf(seen, [
      { row: 0, column: source, text: "Organ" },
      { row: 2, column: jack, text: "Nowhere 9" },
      { row: 1, column: jack, text: "Nowhere 8" },
    ]);
    expect(names(applyEdits(withSources(), edits))).toEqual(["Lead vocal", "Bass", "Organ"]);
    expect([changed, added]).toEqual([1, 0]);
    expect(bad.map(({ row, column, text, heading }) => [row, column, text, heading])).toEqual([
      [1, jack, "Nowhere 8", "Plugged in"],
      [2, jack, "Nowhere 9", "Plugged in"],
    ]);
  });

  test("in the row for new ones makes a new row at the end, with all of its cells", () => {
    const seen = see("inputs");
    const { edits, added, drafts } = outcomeOf(seen, [
      { row: 3, column: columnAt(seen, "Source"), text: "Snare" },
      { row: 3, column: columnAt(seen, "Plugged in"), text: "Stage box 7" },
    ]);
    const after = applyEdits(withSources(), edits);
    expect(names(after)).toEqual(["Lead vocal", "Bass", "Keys", "Snare"]);
    expect(after.sources[3]!.at).toMatchObject({ device: "box", number: 7 });
    expect([added, drafts]).toEqual([1, []]);
  });

  test("a row that lacks something waits unfinished with what it has, and is finished by the cell that it lacks", () => {
    const seen = see("cables", smallShow());
    const [tag, from, to] = ["Tag", "From", "To"].map((name) => columnAt(seen, name));
    const first = outcomeOf(seen, [{ row: 1, column: from!, text: "FOH console Link 2" }]);
    expect(first.edits).toEqual([]);
    expect(first.drafts.map((draft) => [...draft])).toEqual([[["from", "FOH console Link 2"]]]);
    const waiting: Seen = { ...seen, drafts: first.drafts };
    expect([rowsSeen(seen), rowsSeen(waiting)]).toEqual([2, 3]);
    expect(tellSeen(waiting, 1, from!)).toBe("FOH console Link 2");
    expect(tellSeen(waiting, 1, tag!)).toBe("");
    const done = outcomeOf(waiting, [{ row: 1, column: to!, text: "Stage box Link B" }]);
    expect(done.drafts).toEqual([]);
    const cables = applyEdits(smallShow(), done.edits).cables;
    expect(cables[1]!.ends.map(({ device, group }) => `${device} ${group}`)).toEqual(["foh link2", "box b"]);
  });

  test("an unfinished row that is cleared goes, and one that isn't touched stays", () => {
    const kept: Draft = new Map([["from", "FOH console Link 2"]]);
    const gone: Draft = new Map([["to", "Stage box Link B"]]);
    const seen = see("cables", smallShow(), [gone, kept]);
    const { drafts, edits } = outcomeOf(seen, [{ row: 1, column: columnAt(seen, "To"), text: " " }]);
    expect(drafts).toEqual([kept]);
    expect(edits).toEqual([]);
  });
});

describe("what is pasted", () => {
  const writesOf = ({ writes }: { readonly writes: readonly SeenWrite[] }) =>
    writes.map(({ row, column, text }) => `${row}.${column} ${text}`);
  const area = (top: number, left: number, bottom = top, right = left) => ({ top, left, bottom, right });

  test("stands from the cell on; what would be past the last column is counted and left out", () => {
    const seen = see("inputs");
    const last = seen.table.columns.length - 1;
    expect(
      pasted(seen, area(1, 0), [
        ["a", "b"],
        ["c", "d"],
      ]),
    ).toMatchObject({ beyond: 0 });
    expect(
      writesOf(
        pasted(seen, area(1, 0), [
          ["a", "b"],
          ["c", "d"],
        ]),
      ),
    ).toEqual(["1.0 a", "1.1 b", "2.0 c", "2.1 d"]);
    const over = pasted(seen, area(0, last), [["3", "x", "y"]]);
    expect([writesOf(over), over.beyond]).toEqual([[`0.${last} 3`], 2]);
  });

  test("one cell goes over all that is chosen", () => {
    expect(writesOf(pasted(see("inputs"), area(0, 0, 1, 1), [["x"]]))).toEqual([
      "0.0 x",
      "0.1 x",
      "1.0 x",
      "1.1 x",
    ]);
  });

  test("rows go again and again over a choice that holds them several times, and once over one that doesn't", () => {
    const two = [["a"], ["b"]];
    expect(writesOf(pasted(see("inputs"), area(0, 0, 3, 0), two))).toEqual([
      "0.0 a",
      "1.0 b",
      "2.0 a",
      "3.0 b",
    ]);
    expect(writesOf(pasted(see("inputs"), area(0, 0, 2, 0), two))).toEqual(["0.0 a", "1.0 b"]);
  });

  test("a list that doesn't grow takes no rows past its last; one that does takes them as new ones", () => {
    const rows = [["a"], ["b"], ["c"]];
    const devices = pasted(see("devices"), area(1, 0), rows);
    expect([writesOf(devices), devices.beyond]).toEqual([["1.0 a"], 2]);
    expect(pasted(see("inputs"), area(2, 0), rows)).toMatchObject({ beyond: 0, writes: { length: 3 } });
  });

  test("over a cell that only tells, its own text is no write, and another is one that is refused by name", () => {
    const seen = see("outputs");
    const owner = columnAt(seen, "Owner");
    expect(canWrite(seen, 0, owner)).toBe(false);
    expect(canWrite(seen, 0, columnAt(seen, "Wanted"))).toBe(true);
    expect(columnTitle(seen.table.columns[owner]!)).toBe("Owner, told only");
    expect(pasted(seen, area(0, owner), [["FOH console"]]).writes).toEqual([]);
    const { writes } = pasted(seen, area(0, owner), [["Somebody"]]);
    const { edits, bad } = outcomeOf(seen, writes);
    expect(edits).toEqual([]);
    expect(bad.map(({ heading, text }) => [heading, text])).toEqual([["Owner", "Somebody"]]);
  });
});

describe("files and clipboard text", () => {
  test.each([
    ["Name,Jack\nVox 1,3\nVox 2,4", ","],
    ["Name;Jack\nVox 1;3\nVox 2;4", ";"],
    ["Name\tJack\nVox, lead\t3\nVox, back\t4", "\t"],
    ["Name;Gain\nVox;34,5\nBass;28,0", ";"],
    ["no cells at all", ","],
  ])("%j comes apart at %j", (text, separator) => {
    expect(guessSeparator(text)).toBe(separator);
  });

  test("empty lines are no rows, a byte order mark is no text, and quoted cells keep separators and line breaks", () => {
    expect(readList('\ufeffName,Note\n\nVox,"left, then\nright"\n , \n', ",")).toEqual({
      rows: [
        ["Name", "Note"],
        ["Vox", "left, then\nright"],
      ],
      trouble: null,
    });
  });

  test("a quotation mark that never closes is told with its line", () => {
    expect(readList('Name,Note\nVox,"left', ",").trouble).toBe(
      "Line 2: a quotation mark opens and never closes.",
    );
  });

  test("more rows than any show has are cut with a word; as many as are read are not", () => {
    const rows = (count: number): string => Array.from({ length: count }, (_, n) => `Vox ${n},1`).join("\n");
    expect(readList(rows(20_000), ",").trouble).toBeNull();
    const cut = readList(rows(20_001), ",");
    expect([cut.rows.length, cut.trouble]).toEqual([20_000, "Only the first 20000 rows are read."]);
  });

  // é is C3 A9 in UTF-8, E9 00 and 00 E9 in UTF-16, and E9 in Windows-1252 (the Unicode standard's tables).
  test.each([
    ["UTF-8", [0xc3, 0xa9], "é"],
    ["UTF-16, low byte first", [0xff, 0xfe, 0xe9, 0x00], "é"],
    ["UTF-16, high byte first", [0xfe, 0xff, 0x00, 0xe9], "é"],
    ["Windows-1252", [0xe9], "é"],
  ])("bytes of %s", (_, bytes, text) => {
    expect(decoded(Uint8Array.from(bytes))).toBe(text);
  });
});
