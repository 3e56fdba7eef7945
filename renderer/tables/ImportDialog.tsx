/** A list from a file or the clipboard, shown with what it would change before it does. */
import { useMemo, useRef, useState } from "react";
import {
  guessMapping,
  planImport,
  TABLE_NAMES,
  tableByHeadings,
  tableOf,
  TABLES,
  type DeviceId,
  type ImportPlan,
  type Mapping,
  type Table,
  type TableId,
} from "#engine";
import { Frame } from "../dialogs/Frame.tsx";
import { sayOf, showTable, useLists } from "./lists.ts";
import { app, useApp } from "../state/store.ts";
import { plural } from "../words/verdicts.ts";
import {
  decoded,
  guessSeparator,
  LARGEST_LIST,
  readList,
  SEPARATOR_NAMES,
  SEPARATORS,
  type Separator,
} from "./read-list.ts";

interface Source {
  readonly name: string;
  readonly text: string;
  readonly separator: Separator;
  readonly hasHeadings: boolean;
  /** What the user chose in place of the guess, by the list's column. */
  readonly chosen: ReadonlyMap<number, Mapping[number]>;
}

const sourceOf = (name: string, text: string, table: Table): Source => {
  const separator = guessSeparator(text);
  const [first = []] = readList(text, separator).rows;
  return { name, text, separator, hasHeadings: guessMapping(table, first) !== null, chosen: new Map() };
};

/** What was chosen for another list than the one that is shown: its headings are that list's. */
function listOf(text: string, shown: TableId, desk: DeviceId | null): TableId {
  const { show, analysis } = app.getState();
  const tables = [shown, ...TABLES.filter((each) => each !== shown)].map((each) =>
    tableOf(each, show, analysis, desk),
  );
  const [first = []] = readList(text, guessSeparator(text)).rows;
  return tableByHeadings(tables, first)?.id ?? shown;
}

interface Props {
  readonly table: TableId;
  /** A file that is there already, such as one that was dropped into the window. */
  readonly file?: { readonly name: string; readonly text: string } | undefined;
  readonly onClose: () => void;
}

export function ImportDialog({ table: shown, file: given, onClose }: Props) {
  const show = useApp((state) => state.show);
  const desk = useLists((state) => state.desk);
  const [id, setId] = useState(() => (given ? listOf(given.text, shown, desk) : shown));
  const table = useMemo(() => tableOf(id, show, app.getState().analysis, desk), [id, show, desk]);
  const [source, setSource] = useState<Source | null>(() =>
    given ? sourceOf(given.name, given.text, table) : null,
  );
  const [clears, setClears] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const file = useRef<HTMLInputElement>(null);

  const list = useMemo(() => (source ? readList(source.text, source.separator) : null), [source]);
  const width = list ? Math.max(0, ...list.rows.map((row) => row.length)) : 0;
  const mapping = useMemo((): Mapping => {
    if (!source || !list) return [];
    const guessed =
      (source.hasHeadings ? guessMapping(table, list.rows[0] ?? []) : null) ??
      Array.from({ length: width }, (_, n) =>
        n < table.columns.length && !table.columns[n]!.readOnly ? n : null,
      );
    return Array.from(
      { length: width },
      (_, n) => source.chosen.get(n) ?? (source.chosen.has(n) ? null : (guessed[n] ?? null)),
    );
  }, [source, list, table, width]);
  const rows = useMemo(
    () => (list && source ? list.rows.slice(source.hasHeadings ? 1 : 0) : []),
    [list, source],
  );
  const plan = useMemo(
    () => (source ? planImport(table, rows, mapping, clears) : null),
    [table, rows, mapping, clears, source],
  );

  const startWith = (name: string, text: string, into = listOf(text, id, desk)): void => {
    setId(into);
    setSource(sourceOf(name, text, tableOf(into, show, app.getState().analysis, desk)));
  };

  const open = async (chosen: File): Promise<void> => {
    if (chosen.size > LARGEST_LIST) {
      setProblem(`“${chosen.name}” is larger than ${LARGEST_LIST / 1_000_000} MB: that is no list.`);
      return;
    }
    setProblem(null);
    startWith(chosen.name, decoded(new Uint8Array(await chosen.arrayBuffer())));
  };

  const take = (): void => {
    if (!plan) return;
    const { added, changed, edits } = plan.written;
    app.getState().change({ kind: "edits", edits }, `importing ${table.many}`);
    sayOf(
      id,
      [
        added > 0 ? `${plural(added, "row", "rows")} added.` : "",
        changed > 0 ? `${plural(changed, "row", "rows")} changed.` : "",
        plan.bad.length > 0 ? `${plural(plan.bad.length, "cell", "cells")} left out.` : "",
      ]
        .filter(Boolean)
        .join(" "),
    );
    showTable(id);
    onClose();
  };

  const count = plan ? plan.written.added + plan.written.changed : 0;
  return (
    <Frame
      wide
      title={`Import ${TABLE_NAMES[id].toLowerCase()}`}
      onClose={onClose}
      buttons={
        <>
          {source && (
            <button type="button" className="button" onClick={() => setSource(null)}>
              Another list
            </button>
          )}
          <span className="spring" />
          <button type="button" className="button" onClick={onClose}>
            Cancel
          </button>
          <button
            // It takes the keys from the field that goes as the list comes.
            key={source ? "import" : "nothing"}
            type="button"
            className="button main"
            disabled={!plan || plan.written.edits.length === 0}
            autoFocus={source !== null}
            onClick={take}
          >
            {count > 0 ? `Import ${plural(count, "row", "rows")}` : "Import"}
          </button>
        </>
      }
    >
      {!source || !list || !plan ? (
        <div className="import-start">
          <p>
            Takes the rows of a CSV file, or of a spreadsheet by way of the clipboard. Nothing is changed
            before you have seen what would be.
          </p>
          <input
            ref={file}
            type="file"
            hidden
            aria-label="CSV file"
            accept=".csv,.tsv,.txt,text/csv,text/tab-separated-values,text/plain"
            onChange={(event) => {
              const chosen = event.target.files?.[0];
              event.target.value = "";
              if (chosen) void open(chosen).catch(() => setProblem(`“${chosen.name}” can’t be read.`));
            }}
          />
          <button type="button" className="button main" onClick={() => file.current?.click()}>
            Choose a file…
          </button>
          <textarea
            className="field"
            autoFocus
            aria-label="Rows to import"
            placeholder="Or paste rows here"
            value=""
            onChange={(event) => {
              if (event.target.value.trim() !== "") startWith("what was pasted", event.target.value);
            }}
          />
          {problem && (
            <p className="tone-danger" role="alert">
              {problem}
            </p>
          )}
        </div>
      ) : (
        <>
          <div className="import-options">
            <span className="cut">
              {plural(rows.length, "row", "rows")} of {source.name}
            </span>
            <label>
              Into{" "}
              <select
                className="field"
                aria-label="List to import into"
                value={id}
                onChange={(event) => startWith(source.name, source.text, event.target.value as TableId)}
              >
                {TABLES.map((each) => (
                  <option key={each} value={each}>
                    {TABLE_NAMES[each]}
                  </option>
                ))}
              </select>
            </label>
            <label>
              Separated by{" "}
              <select
                className="field"
                value={source.separator}
                onChange={(event) =>
                  setSource({ ...source, separator: event.target.value as Separator, chosen: new Map() })
                }
              >
                {SEPARATORS.map((each) => (
                  <option key={each} value={each}>
                    {SEPARATOR_NAMES[each]}
                  </option>
                ))}
              </select>
            </label>
            <label>
              <input
                type="checkbox"
                checked={source.hasHeadings}
                onChange={(event) =>
                  setSource({ ...source, hasHeadings: event.target.checked, chosen: new Map() })
                }
              />{" "}
              First row is headings
            </label>
            <label>
              <input type="checkbox" checked={clears} onChange={(event) => setClears(event.target.checked)} />{" "}
              Empty cells clear
            </label>
          </div>
          {list.trouble && <p className="tone-warn">{list.trouble}</p>}
          <Columns
            table={table}
            headings={source.hasHeadings ? (list.rows[0] ?? []) : []}
            rows={rows}
            mapping={mapping}
            onMap={(column, to) =>
              setSource({ ...source, chosen: new Map([...source.chosen, [column, to]]) })
            }
          />
          <Changes plan={plan} table={table} />
        </>
      )}
    </Frame>
  );
}

const ROWS_SHOWN = 4;

/** What an option stands for: `3`, `6,7` for several columns together, nothing. */
function mappedTo(value: string): Mapping[number] {
  if (value === "") return null;
  const columns = value.split(",").map(Number);
  return columns.length === 1 ? columns[0]! : columns;
}

function Columns({
  table,
  headings,
  rows,
  mapping,
  onMap,
}: {
  table: Table;
  headings: readonly string[];
  rows: readonly (readonly string[])[];
  mapping: Mapping;
  onMap: (column: number, to: Mapping[number]) => void;
}) {
  return (
    <div className="bad-cells import-columns" role="region" aria-label="First rows" tabIndex={0}>
      <table>
        <thead>
          <tr>
            {mapping.map((to, column) => (
              <th key={column} scope="col">
                <span className="cut">{headings[column] ?? `Column ${column + 1}`}</span>
                <select
                  className="field"
                  aria-label={`${headings[column] ?? `Column ${column + 1}`} is`}
                  value={to === null ? "" : String(to)}
                  onChange={(event) => onMap(column, mappedTo(event.target.value))}
                >
                  <option value="">left out</option>
                  {table.together
                    .filter(({ columns }) => columns.length > 1)
                    .map(({ name, columns }) => (
                      <option key={name} value={String(columns)}>
                        {name}
                      </option>
                    ))}
                  {table.columns.map(({ id, name, readOnly }, index) =>
                    readOnly ? null : (
                      <option key={id} value={index}>
                        {name}
                      </option>
                    ),
                  )}
                </select>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, ROWS_SHOWN).map((row, index) => (
            <tr key={index}>
              {mapping.map((to, column) => (
                <td key={column} className={`cut ${to === null ? "soft" : ""}`}>
                  {row[column] ?? ""}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const CHANGES_SHOWN = 200;

function Changes({ plan: { written, same, changes, bad }, table }: { plan: ImportPlan; table: Table }) {
  const parts = [
    written.added > 0 ? `${plural(written.added, table.one, table.many)} to add` : "",
    written.changed > 0 ? `${plural(written.changed, table.one, table.many)} to change` : "",
    same > 0 ? `${same} the same already` : "",
    bad.length > 0
      ? `${plural(bad.length, "cell", "cells")} can’t be read and ${bad.length === 1 ? "is" : "are"} left out`
      : "",
  ].filter(Boolean);
  return (
    <>
      <p className="import-sum" role="status">
        {parts.length > 0 ? `${parts.join(", ")}.` : "No column is taken yet: choose what they are above."}
      </p>
      {(bad.length > 0 || changes.length > 0) && (
        <div className="bad-cells patch-list" role="region" aria-label="What would change" tabIndex={0}>
          <table>
            <thead>
              <tr>
                <th scope="col">Row</th>
                <th scope="col">Column</th>
                <th scope="col">Cell</th>
                <th scope="col">What happens</th>
              </tr>
            </thead>
            <tbody>
              {bad.slice(0, CHANGES_SHOWN).map(({ line, heading, text, reason }, index) => (
                <tr key={`bad-${index}`}>
                  <td className="number">{line}</td>
                  <td>{heading}</td>
                  <td className="cut">{text}</td>
                  <td className="tone-danger">{reason}</td>
                </tr>
              ))}
              {changes.slice(0, CHANGES_SHOWN).map(({ line, heading, before, after }) => (
                <tr key={`${line}-${heading}`}>
                  <td className="number">{line}</td>
                  <td>{heading}</td>
                  <td className="cut">{after}</td>
                  <td className="soft cut">{before === "" ? "new" : `was ${before}`}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {changes.length > CHANGES_SHOWN && (
            <p className="soft">… and {changes.length - CHANGES_SHOWN} more.</p>
          )}
        </div>
      )}
    </>
  );
}
