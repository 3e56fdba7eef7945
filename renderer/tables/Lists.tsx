/** The lists of the show: one table at a time, with what is done to it above, and what it says below. */
import { useEffect, useMemo, useRef, useState } from "react";
import {
  desksWithMixes,
  guessMapping,
  id,
  never,
  TABLE_NAMES,
  tableOf,
  TABLES,
  type DeviceId,
  type RowSubject,
  type TableId,
} from "#engine";
import { COMMANDS, isEnabled, labelOf, runCommand, stateNow } from "../commands/commands.ts";
import { useSession } from "../files/session-context.ts";
import { ui } from "../state/ui.ts";
import { plural } from "../words/verdicts.ts";
import type { Focus } from "../state/contract.ts";
import { app, useApp } from "../state/store.ts";
import { BadCells } from "./BadCells.tsx";
import { focusGridSoon, type GridHandle } from "./at-hand.ts";
import { listenToListClipboard } from "./clipboard.ts";
import { Grid, type Doing, type Wrote } from "./Grid.tsx";
import { lists, sayOf, setDrafts, showTable, useLists } from "./lists.ts";
import { carried, ordered, type Order, type Sort } from "./selection.ts";
import { StageSwitch } from "./StageSwitch.tsx";
import { outcomeOf, type Outcome, type Seen, type SeenWrite } from "./write.ts";

interface Asked {
  readonly outcome: Outcome;
  readonly doing: string;
  readonly label: string;
  /** The text of several lines that was pasted; else null. */
  readonly pasted: string | null;
}

const NO_DRAFTS: readonly never[] = [];

export function Lists() {
  const show = useApp((state) => state.show);
  const shown = useLists((state) => state.table);
  const filter = useLists((state) => state.filter);
  const sort = useLists((state) => state.sort);
  const drafts = useLists((state) => state.drafts[shown] ?? NO_DRAFTS);
  const desk = useLists((state) => (shown === "members" ? state.desk : null));
  const analysis = useApp((state) => (shown === "outputs" ? state.analysis : null));
  const table = useMemo(
    () => tableOf(shown, show, analysis ?? app.getState().analysis, desk),
    [shown, show, analysis, desk],
  );
  const order = useOrder(table, filter, sort, show.id);
  const seen = useMemo((): Seen => ({ table, order, drafts }), [table, order, drafts]);
  const grid = useRef<GridHandle>(null);
  const said = useLists((state) => (state.said.of === shown ? state.said.text : ""));
  const setSaid = (text: string): void => sayOf(shown, text);
  const lastPasted = useRef("");
  const [asked, setAsked] = useState<Asked | null>(null);
  const filterField = useRef<HTMLInputElement>(null);
  useEffect(listenToListClipboard, []);
  useEffect(() => {
    // The list may come long after it was asked for, with the show.
    if (document.activeElement === document.body) grid.current?.focus();
  }, []);

  const take = ({ edits, drafts: left }: Outcome, label: string): void => {
    if (edits.length > 0) app.getState().change({ kind: "edits", edits }, label);
    setDrafts(shown, left);
  };

  const onType = (write: SeenWrite): Wrote => {
    const outcome = outcomeOf(seen, [write]);
    const own = outcome.bad.find(({ row, column }) => row === write.row && column === write.column);
    // A new row that lacks other cells waits for them; what was typed into this one has been read, or wasn't yet.
    if (own && write.text.trim() !== "") return { ok: false, reason: own.reason };
    if (own && write.row < order.length) return { ok: false, reason: own.reason };
    const name = table.columns[write.column]!.name;
    take(outcome, outcome.added > 0 ? `new ${table.one}` : `${name} in ${table.name}`);
    const lacking = outcome.bad[0];
    setSaid(lacking ? `${lacking.heading}: ${lacking.reason}` : "");
    return { ok: true };
  };

  const onTake = (write: SeenWrite): void => {
    const { edits } = outcomeOf(seen, [write]);
    if (edits.length > 0) app.getState().change({ kind: "edits", edits }, `typing in ${table.name}`);
  };

  const onWrite = (writes: readonly SeenWrite[], doing: Doing, beyond: number): void => {
    const outcome = outcomeOf(seen, writes);
    const rows = new Set(writes.map(({ row }) => row)).size;
    const verb = { paste: "pasting", fill: "filling down", clearing: "clearing", set: "setting" }[doing];
    const label = `${verb} ${plural(rows, "row", "rows")} of ${table.name}`;
    if (outcome.bad.length > 0) {
      const isList = doing === "paste" && lastPasted.current.includes("\n");
      setAsked({ outcome, doing, label, pasted: isList ? lastPasted.current : null });
      return;
    }
    take(outcome, label);
    setSaid(told(outcome, beyond));
  };

  /** A list with headings goes by these and not by where it is pasted. */
  const onRows = (text: string, cells: readonly (readonly string[])[]): boolean => {
    lastPasted.current = text;
    const [headings = [], ...rows] = cells;
    const known = new Set(guessMapping(table, headings)?.filter((column) => column !== null));
    // One word alone may be a cell: a console's name is also the heading of its channels.
    if (rows.length === 0 || known.size < 2) return false;
    matchColumns(text);
    return true;
  };
  const matchColumns = (text: string): void =>
    ui.setState({ dialog: { kind: "import-list", table: shown, file: { name: "what was pasted", text } } });

  const onRemove = (rows: readonly number[]): void => {
    if (!table.shrinks) {
      setSaid(`Rows of ${table.name} can’t be deleted here.`);
      return;
    }
    const known = rows.flatMap((row) => order[row] ?? []);
    const gone = new Set(rows.map((row) => row - order.length));
    const edits = table.remove(known);
    if (edits.length > 0) {
      const label = `deleting ${plural(known.length, table.one, table.many)}`;
      app.getState().change({ kind: "edits", edits }, label);
    }
    setDrafts(
      shown,
      drafts.filter((_, place) => !gone.has(place)),
    );
    setSaid(`${plural(known.length, table.one, table.many)} deleted.`);
  };

  const onLook = (row: number): void => {
    const known = order[row];
    if (known !== undefined) app.getState().look(focusOf(table.subject(known)));
  };

  return (
    <div className="lists">
      <div className="lists-bar">
        <StageSwitch />
        <Tabs shown={shown} onShow={showTable} />
        {shown === "members" && <DeskChoice />}
        <PatchButton table={shown} />
        <span className="lists-files">
          <CommandButton id="import-list" label="Import…" />
          <CommandButton id="export-list" label="Export" />
        </span>
        <input
          ref={filterField}
          className="field lists-filter"
          type="search"
          aria-label={`Filter ${table.name}`}
          placeholder="Filter rows"
          value={filter}
          onChange={(event) => lists.setState({ filter: event.target.value })}
          onKeyDown={(event) => {
            if (event.key !== "Enter" && event.key !== "ArrowDown") return;
            event.preventDefault();
            grid.current?.focus();
          }}
        />
      </div>
      <Grid
        // Another console's mixes are another table in all but name.
        key={desk}
        handle={grid}
        seen={seen}
        sort={sort}
        onSort={(next) => lists.setState({ sort: next })}
        onType={onType}
        onTake={onTake}
        onWrite={onWrite}
        onRemove={onRemove}
        onLook={onLook}
        onSay={setSaid}
        onRows={onRows}
        onLeave={() => filterField.current?.focus()}
      />
      {table.keys.length === 0 && drafts.length === 0 && <p className="lists-empty soft">{table.empty}</p>}
      <footer className="lists-foot">
        <span className="number">
          {order.length === table.keys.length
            ? plural(table.keys.length, table.one, table.many)
            : `${order.length} of ${plural(table.keys.length, table.one, table.many)}`}
          {drafts.length > 0 && `, ${plural(drafts.length, "row", "rows")} unfinished`}
        </span>
        <span className="soft cut" role="status">
          {said}
        </span>
      </footer>
      {asked && (
        <BadCells
          outcome={asked.outcome}
          doing={asked.doing}
          onMatch={
            asked.pasted === null
              ? null
              : () => {
                  setAsked(null);
                  matchColumns(asked.pasted ?? "");
                }
          }
          onAnswer={(takeTheRest) => {
            setAsked(null);
            if (takeTheRest) {
              take(asked.outcome, asked.label);
              setSaid(told(asked.outcome, 0));
            } else setSaid(`Nothing has been changed.`);
            grid.current?.focus();
          }}
        />
      )}
    </div>
  );
}

/** Whose mixes the matrix shows. */
function DeskChoice() {
  const show = useApp((state) => state.show);
  const desks = desksWithMixes(show);
  const chosen = useLists((state) => state.desk);
  if (desks.length === 0) return null;
  return (
    <select
      className="field lists-desk"
      aria-label="Console whose mixes are shown"
      value={chosen !== null && desks.includes(chosen) ? chosen : desks[0]}
      onChange={(event) => {
        sayOf("members", "");
        lists.setState({ desk: id<DeviceId>(event.target.value) });
      }}
    >
      {desks.map((desk) => (
        <option key={desk} value={desk}>
          {show.devices.find((device) => device.id === desk)?.name}
        </option>
      ))}
    </select>
  );
}

/** What makes the settings that this table plans. Nothing is set before the preview is agreed to. */
function PatchButton({ table }: { table: TableId }) {
  if (table === "outputs") return <CommandButton id="patch-wants" />;
  return table === "inputs" || table === "channels" ? <CommandButton id="patch-channels" /> : null;
}

function CommandButton({ id, label }: { id: string; label?: string }) {
  const session = useSession();
  const command = COMMANDS.find((each) => each.id === id)!;
  const enabled = useApp((state) => isEnabled(command, { app: state, ui: ui.getState() }));
  const name = labelOf(command, stateNow());
  return (
    <button
      type="button"
      className="button small"
      title={label && name}
      aria-label={label && name}
      disabled={!enabled}
      onClick={() => runCommand(command, { session })}
    >
      {label ?? name}
    </button>
  );
}

function told({ added, changed }: Outcome, beyond: number): string {
  const parts = [
    added > 0 ? `${plural(added, "row", "rows")} added.` : "",
    changed > 0 ? `${plural(changed, "row", "rows")} changed.` : "",
    beyond > 0 ? `${plural(beyond, "cell", "cells")} past the last column or row left out.` : "",
  ];
  return parts.filter(Boolean).join(" ") || "Nothing differs.";
}

function Tabs({ shown, onShow }: { shown: TableId; onShow: (table: TableId) => void }) {
  const list = useRef<HTMLDivElement>(null);
  const onKeyDown = (event: React.KeyboardEvent): void => {
    const by = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
    if (by === 0) return;
    event.preventDefault();
    const next = (TABLES.indexOf(shown) + by + TABLES.length) % TABLES.length;
    onShow(TABLES[next]!);
    (list.current?.children[next] as HTMLElement | undefined)?.focus();
  };
  return (
    <div ref={list} className="lists-tabs" role="tablist" aria-label="Tables" onKeyDown={onKeyDown}>
      {TABLES.map((id) => (
        <button
          key={id}
          type="button"
          role="tab"
          className="lists-tab"
          aria-selected={id === shown}
          tabIndex={id === shown ? 0 : -1}
          onClick={() => {
            onShow(id);
            focusGridSoon();
          }}
        >
          {TABLE_NAMES[id]}
        </button>
      ))}
    </div>
  );
}

/**
 * The rows that are seen. They are ordered when the user sorts or filters; an edit leaves them where they stand, or a row
 * would jump away from under the cursor.
 */
function useOrder(
  table: Seen["table"],
  filter: string,
  sort: Sort | null,
  showId: string,
): readonly number[] {
  const isPlain = sort === null && filter.trim() === "";
  const made = useMemo((): Order | null => {
    if (isPlain) return null;
    const rows = ordered(table, table.columns.length, sort, filter);
    return { shown: rows.map((row) => table.keys[row]!), known: new Set(table.keys) };
    // eslint-disable-next-line react-hooks/exhaustive-deps -- made when the user asks for it, not when a cell changes
  }, [table.id, showId, filter, sort]);
  return useMemo(() => (made ? carried(made, table.keys) : [...table.keys.keys()]), [made, table]);
}

function focusOf(subject: RowSubject): Focus {
  switch (subject.kind) {
    case "source":
      return { kind: "source", source: subject.source };
    case "mix":
      return { kind: "mix", mix: subject.mix };
    case "cable":
      return { kind: "cable", cable: subject.cable };
    case "device":
      return { kind: "device", device: subject.device };
    case "bus":
      return { kind: "terminal", terminal: { ...subject.at, side: "bus" } };
    case "terminal":
      return { kind: "terminal", terminal: { ...subject.at, side: "jack" } };
    default:
      return never(subject);
  }
}
