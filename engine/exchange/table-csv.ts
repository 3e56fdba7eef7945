/**
 * The tables of papers as CSV. What paper tells by other means than text (the line above a group of rows, owners' marks,
 * the mark of an assumed value) gets a column of its own, so that nothing is lost.
 */
import type { DeviceId } from "../model/ids.ts";
import type { CellLike, PaperCell, PaperTable } from "../paperwork/block.ts";
import { csvOfRows } from "../tables/csv.ts";

const cellOf = (cell: CellLike | undefined): PaperCell =>
  typeof cell === "string" ? { text: cell } : (cell ?? { text: "" });

/** Rows of cells, the headings first; `nameOf` tells an owner's name. */
export function tableRows(
  { columns, rows }: PaperTable,
  nameOf: (device: DeviceId) => string,
): readonly (readonly string[])[] {
  const cells = rows.map((row) => columns.map((_, column) => cellOf(row.cells[column])));
  const owners = ({ owners = [] }: PaperCell): string => owners.map(nameOf).join(" + ");
  const grouped = rows.some(({ group }) => group !== undefined);
  const assumed = cells.some((row) => row.some((cell) => cell.assumed === true));
  // Where the text is the owner's name already, the mark says nothing more.
  const marked = columns.map((_, column) =>
    cells.some((row) => owners(row[column]!) !== "" && owners(row[column]!) !== row[column]!.text),
  );
  const headings = columns.flatMap(({ title }, column) =>
    marked[column] ? [title, `${title}: owner`] : [title],
  );
  let group = "";
  return [
    [...(grouped ? ["Group"] : []), ...headings, ...(assumed ? ["Assumed"] : [])],
    ...cells.map((row, n) => {
      group = rows[n]!.group ?? group;
      return [
        ...(grouped ? [group] : []),
        ...row.flatMap((cell, column) => (marked[column] ? [cell.text, owners(cell)] : [cell.text])),
        ...(assumed
          ? [
              columns
                .filter((_, column) => row[column]!.assumed)
                .map(({ title }) => title)
                .join("; "),
            ]
          : []),
      ];
    }),
  ];
}

/** A table of a paper as CSV (L7). */
export const tableCsv = (table: PaperTable, nameOf: (device: DeviceId) => string): string =>
  csvOfRows(tableRows(table, nameOf));
