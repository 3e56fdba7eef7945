/**
 * One table as a grid: a cursor that the keyboard drives, cells that are typed into, areas that are copied, pasted, filled
 * and cleared. Only the rows in view are in the page. What it writes goes to `onWrite`, which knows the document.
 */
import { defaultRangeExtractor, useVirtualizer } from "@tanstack/react-virtual";
import {
  memo,
  useCallback,
  useEffect,
  useId,
  useImperativeHandle,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import type { Column, TableId } from "#engine";
import { onMac, thisPlatform } from "../commands/keys.ts";
import { followPointer } from "../parts/follow-pointer.ts";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { cellsOf, counted, tsvOf } from "./cells.ts";
import { CellEditor, type Step } from "./CellEditor.tsx";
import {
  areaOf,
  at,
  isOne,
  moved,
  stepped,
  within,
  type Area,
  type Cell,
  type Selection,
  type Sort,
} from "./selection.ts";
import { useRowHeight } from "../parts/row-height.ts";
import { setWidth, useLists } from "./lists.ts";
import { RowLooks, type RowLook } from "./rows.ts";
import { takeInHand, type GridHandle } from "./at-hand.ts";
import { canWrite, columnTitle, pasted, rowsSeen, tellSeen, type Seen, type SeenWrite } from "./write.ts";

const ROW = 26;
const HEAD = 30;
const NUMBERS = 46;
/** Rows that are kept ready above and below. */
const OVERSCAN = 6;
/** Width of a character of the table's type, on average. */
const CHARACTER = 6.8;

/** What became of a write: a reason where the one cell couldn't be read, which keeps its editor open. */
export type Wrote = { readonly ok: true } | { readonly ok: false; readonly reason: string };

/** What is done to several cells at once. */
export type Doing = "paste" | "fill" | "clearing" | "set";

interface Props {
  readonly seen: Seen;
  readonly sort: Sort | null;
  readonly onSort: (sort: Sort | null) => void;
  /** One typed cell is written at once; several go through a question where some can't be read. */
  readonly onType: (write: SeenWrite) => Wrote;
  /** Makes the edits of one typed cell that can be read, and says nothing. */
  readonly onTake: (write: SeenWrite) => void;
  readonly onWrite: (writes: readonly SeenWrite[], doing: Doing, beyond: number) => void;
  readonly onRemove: (rows: readonly number[]) => void;
  readonly onLook: (row: number) => void;
  readonly onSay: (line: string) => void;
  readonly onLeave: () => void;
  /** Takes rows that come with headings of their own; false: it doesn't, and they are pasted where they are. */
  readonly onRows: (text: string, cells: readonly (readonly string[])[]) => boolean;
  readonly handle: React.Ref<GridHandle>;
}

interface Editing extends Cell {
  readonly text: string;
  /** All of it is chosen, as when typing began on the cell; else the caret stands behind it. */
  readonly fresh: boolean;
}

export function Grid({
  seen,
  sort,
  onSort,
  onType,
  onTake,
  onWrite,
  onRemove,
  onLook,
  onSay,
  onLeave,
  onRows,
  handle,
}: Props) {
  const { table, order, drafts } = seen;
  const scroller = useRef<HTMLDivElement>(null);
  const rowHeight = useRowHeight(ROW);
  const headHeight = useRowHeight(HEAD);
  const base = useId();
  const [selection, setSelection] = useState<Selection>(() => at(0, 0));
  const [editing, setEditing] = useState<Editing | null>(null);
  const [reason, setReason] = useState<string | null>(null);
  const rows = rowsSeen(seen);
  const extent = { rows, whole: order.length + drafts.length, columns: table.columns.length };
  const chosen = within(selection, extent);
  const area = areaOf(chosen);
  const own = useLists((state) => state.widths);
  const [looks] = useState(() => new RowLooks());
  const columns = looks.columnsOf(table);
  const { widths, lefts, total } = useMemo(() => columnsOf(table.id, columns, own), [table.id, columns, own]);

  // eslint-disable-next-line react-hooks/incompatible-library -- the virtualizer's functions change as it scrolls, which is what they are for
  const virtual = useVirtualizer({
    count: rows,
    getScrollElement: () => scroller.current,
    estimateSize: () => rowHeight,
    overscan: OVERSCAN,
    paddingStart: headHeight,
    scrollPaddingStart: headHeight,
  });
  useLayoutEffect(() => virtual.measure(), [virtual, rowHeight]);

  /** As many as are ever there at once. */
  const pool = Math.ceil((virtual.scrollRect?.height ?? 0) / rowHeight) + 2 * OVERSCAN + 4;
  const across = useVirtualizer({
    horizontal: true,
    count: columns.length,
    getScrollElement: () => scroller.current,
    estimateSize: (index) => widths[index]!,
    overscan: 3,
    paddingStart: NUMBERS,
    // The first one is held at the left.
    rangeExtractor: (range) => [...new Set([0, ...defaultRangeExtractor(range)])],
  });
  useLayoutEffect(() => across.measure(), [across, widths]);
  const shownColumns = useStableList(
    across
      .getVirtualItems()
      .map(({ index }) => index)
      .filter((index) => index < columns.length),
  );
  // Those left out between the first column and the next one that is there.
  const [, second] = shownColumns;
  const gap = second === undefined ? 0 : lefts[second]! - lefts[0]! - widths[0]!;

  const cursorRow = chosen.cursor.row;
  const cursorColumn = chosen.cursor.column;
  useLayoutEffect(() => {
    const box = scroller.current;
    if (!box || rows === 0) return;
    const top = cursorRow * rowHeight;
    if (top < box.scrollTop) box.scrollTop = top;
    else if (top + rowHeight + headHeight > box.scrollTop + box.clientHeight)
      box.scrollTop = top + rowHeight + headHeight - box.clientHeight;
    if (cursorColumn === 0) return;
    const left = lefts[cursorColumn]!;
    const held = NUMBERS + widths[0]!;
    if (left - held < box.scrollLeft) box.scrollLeft = left - held;
    else if (left + widths[cursorColumn]! > box.scrollLeft + box.clientWidth)
      box.scrollLeft = left + widths[cursorColumn]! - box.clientWidth;
    // Only where the cursor goes, or another table comes: an edit must not pull the scrolling back.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [cursorRow, cursorColumn, table.id]);

  useEffect(() => {
    setEditing(null);
    setReason(null);
    setSelection(at(0, 0));
    // Another table begins at its own beginning.
    scroller.current?.scrollTo({ left: 0, top: 0 });
  }, [table.id]);

  const focus = (): void => scroller.current?.focus({ preventScroll: true });
  /** The keys come back when the editor has gone: before that the browser would lay out a page that is about to change. */
  const [takesKeys, setTakesKeys] = useState(0);
  useLayoutEffect(() => {
    if (takesKeys > 0) scroller.current?.focus({ preventScroll: true });
  }, [takesKeys]);
  /** Without taking the keys: whoever has them now was gone to by the user. */
  const leaveEditing = (): void => {
    setEditing(null);
    setReason(null);
  };
  const stopEditing = (): void => {
    leaveEditing();
    setTakesKeys((times) => times + 1);
  };

  const edit = (cell: Cell, text: string | null): void => {
    if (!canWrite(seen, cell.row, cell.column)) {
      onSay(`${table.columns[cell.column]!.name} can’t be typed here.`);
      return;
    }
    setReason(null);
    setEditing({ ...cell, text: text ?? tellSeen(seen, cell.row, cell.column), fresh: text !== null });
  };

  /** Writes what was typed and goes on. Where it can't be read the editor stays, with the reason. */
  const commit = (text: string, step: Step | null, back: boolean): void => {
    if (!editing) return;
    if (step === "all") {
      stopEditing();
      const cells = isOne(chosen) ? [editing] : cellsIn(area).flat();
      const writable = cells.filter(({ row, column }) => canWrite(seen, row, column));
      return onWrite(
        writable.map(({ row, column }) => ({ row, column, text })),
        "set",
        0,
      );
    }
    const wrote = onType({ row: editing.row, column: editing.column, text });
    if (!wrote.ok) {
      if (step !== null) {
        setReason(wrote.reason);
        return;
      }
      // The user has gone elsewhere already, so the editor can't stay.
      leaveEditing();
      onSay(`${wrote.reason} The cell stays as it was.`);
      return;
    }
    if (step === null) return leaveEditing();
    stopEditing();
    // A new row has come behind this one, if this was it.
    const next = stepped(at(editing.row, editing.column), step, back, { ...extent, rows: rows + 1 });
    if (next) setSelection(next);
  };

  const cellsIn = ({ top, bottom, left, right }: Area): readonly (readonly Cell[])[] =>
    Array.from({ length: bottom - top + 1 }, (_, n) =>
      Array.from({ length: right - left + 1 }, (_, m) => ({ row: top + n, column: left + m })),
    );
  const textsIn = (where: Area): readonly (readonly string[])[] =>
    cellsIn(where).map((line) => line.map(({ row, column }) => tellSeen(seen, row, column)));

  const clear = (): void => {
    const cells = cellsIn(area).flat();
    const writable = cells.filter(
      ({ row, column }) => tellSeen(seen, row, column) !== "" && canWrite(seen, row, column),
    );
    if (writable.length > 0)
      onWrite(
        writable.map((cell) => ({ ...cell, text: "" })),
        "clearing",
        0,
      );
  };

  /** Takes the top row of the selection down it, or the row above into the one row, counting on where columns count. */
  const fillDown = (): void => {
    const single = area.top === area.bottom;
    const from = single ? area.top - 1 : area.top;
    if (from < 0) return;
    const writes: SeenWrite[] = [];
    for (let row = from + 1; row <= area.bottom; row++) {
      for (let column = area.left; column <= area.right; column++) {
        if (!canWrite(seen, row, column)) continue;
        const text = tellSeen(seen, from, column);
        writes.push({ row, column, text: table.columns[column]!.counts ? counted(text, row - from) : text });
      }
    }
    if (writes.length > 0) onWrite(writes, "fill", 0);
  };

  const chosenRows = (): readonly number[] =>
    Array.from({ length: area.bottom - area.top + 1 }, (_, n) => area.top + n);
  const paste = (text: string): void => {
    const cells = cellsOf(text);
    if (cells.length === 0) {
      onSay("There is no text on the clipboard.");
      return;
    }
    if (onRows(text, cells)) return;
    const { writes, beyond } = pasted(seen, area, cells);
    onWrite(writes, "paste", beyond);
    const width = Math.max(...cells.map((line) => line.length));
    // The cursor at the beginning: a long list that is pasted isn't scrolled to its end.
    setSelection({
      cursor: { row: area.top, column: area.left },
      anchor: {
        row: area.top + Math.max(cells.length, area.bottom - area.top + 1) - 1,
        column: Math.min(extent.columns - 1, Math.max(area.right, area.left + width - 1)),
      },
    });
  };
  const all = (): Selection => moved(chosen, { key: "a", shift: false, command: true }, extent, 1)!;

  const hand: GridHandle = {
    focus,
    texts: () => tsvOf(textsIn(area)),
    clear,
    paste,
    fillDown,
    chooseAll: () => setSelection(all()),
    removeRows: () => onRemove(chosenRows()),
  };
  useImperativeHandle(handle, () => hand);
  const latest = useRef(hand);
  useEffect(() => {
    latest.current = hand;
  });
  useLayoutEffect(() => takeInHand(latest), []);

  const onKeyDown = (event: React.KeyboardEvent): void => {
    if (event.target !== event.currentTarget) return;
    if (event.altKey) {
      const by = event.key === "ArrowRight" ? WIDER : event.key === "ArrowLeft" ? -WIDER : 0;
      if (!event.shiftKey || by === 0) return;
      event.preventDefault();
      const column = table.columns[cursorColumn]!;
      setWidth(table.id, column.id, widths[cursorColumn]! + by);
      return;
    }
    const command = onMac(thisPlatform()) ? event.metaKey : event.ctrlKey;
    const { key, shiftKey: shift } = event;
    const page = Math.max(
      1,
      Math.floor(((scroller.current?.clientHeight ?? rowHeight) - headHeight) / rowHeight) - 1,
    );
    const next = moved(chosen, { key, shift, command }, extent, page);
    const current = chosen.cursor;
    if (next) setSelection(next);
    else if (key === "Tab" || key === "Enter") {
      if (command && key === "Enter") onLook(current.row);
      else {
        const step = stepped(chosen, key, shift, extent);
        if (!step) return;
        setSelection(step);
      }
    } else if (key === "F2") edit(current, null);
    else if (key === "Escape") {
      if (isOne(chosen)) onLeave();
      else setSelection(at(current.row, current.column));
    } else if ((key === "Delete" || key === "Backspace") && !command) clear();
    else if ((key === "Delete" || key === "Backspace") && command) onRemove(chosenRows());
    else if (command && key.toLowerCase() === "d") fillDown();
    else if (key === " " && isYesNo(seen, current)) {
      const yes = tellSeen(seen, current.row, current.column) === "yes";
      onType({ ...current, text: yes ? "no" : "yes" });
    } else if (key === " " && nextOf(current) !== null) toggle(current);
    else if (key.length === 1 && !command && !event.metaKey) edit(current, key);
    else return;
    event.preventDefault();
  };

  const nextOf = ({ row, column }: Cell): string | null => {
    const known = order[row];
    return known === undefined ? null : table.next(known, column);
  };
  /** Takes the cell one on, and with it all that is chosen. */
  const toggle = (cell: Cell): void => {
    const text = nextOf(cell);
    if (text === null) return;
    const cells = isOne(chosen) ? [cell] : cellsIn(area).flat();
    const writes = cells.filter((each) => nextOf(each) !== null).map((each) => ({ ...each, text }));
    if (writes.length === 1) onType(writes[0]!);
    else onWrite(writes, "set", 0);
  };

  const onCopy = (event: React.ClipboardEvent, cut: boolean): void => {
    if (event.target !== event.currentTarget) return;
    event.clipboardData.setData("text/plain", tsvOf(textsIn(area)));
    event.preventDefault();
    const count = (area.bottom - area.top + 1) * (area.right - area.left + 1);
    onSay(`${count === 1 ? "1 cell" : `${count} cells`} ${cut ? "cut" : "copied"}.`);
    if (cut) clear();
  };

  const onPaste = (event: React.ClipboardEvent): void => {
    if (event.target !== event.currentTarget) return;
    event.preventDefault();
    paste(event.clipboardData.getData("text/plain"));
  };

  const cellAt = (target: EventTarget | null): Cell | null => {
    const element = target instanceof Element ? target.closest("[data-column]") : null;
    const row = element?.closest("[data-row]");
    if (!element || !row) return null;
    return { row: Number(row.getAttribute("data-row")), column: Number(element.getAttribute("data-column")) };
  };

  const onPointerDown = (event: React.PointerEvent): void => {
    const cell = cellAt(event.target);
    if (!cell || event.button !== 0 || (event.target as Element).closest("input,button")) return;
    if (editing) {
      leaveEditing();
      // At once: the editor writes what was typed as the keys leave it.
      focus();
    }
    if (cell.column < 0) {
      const last = extent.columns - 1;
      const from = event.shiftKey ? chosen.anchor.row : cell.row;
      setSelection({ anchor: { row: from, column: 0 }, cursor: { row: cell.row, column: last } });
      return;
    }
    setSelection(event.shiftKey ? { ...chosen, cursor: cell } : at(cell.row, cell.column));
  };
  const onPointerMove = (event: React.PointerEvent): void => {
    if (event.buttons !== 1 || event.pointerType === "touch" || editing) return;
    const cell = cellAt(event.target);
    if (!cell || cell.column < 0) return;
    setSelection((before) =>
      before.cursor.row === cell.row && before.cursor.column === cell.column
        ? before
        : { ...before, cursor: cell },
    );
  };

  const cellId = (row: number, column: number): string => `${base}-${row}-${column}`;
  const take = (text: string): void => {
    if (editing) onTake({ row: editing.row, column: editing.column, text });
  };
  const stable = useRef({ commit, stopEditing, edit, take });
  useEffect(() => {
    stable.current = { commit, stopEditing, edit, take };
  });
  const onTakeTyped = useCallback((text: string) => stable.current.take(text), []);
  const onCommit = useCallback(
    (text: string, step: Step | null, back: boolean) => stable.current.commit(text, step, back),
    [],
  );
  const onCancel = useCallback(() => stable.current.stopEditing(), []);

  return (
    <div
      ref={scroller}
      className="grid"
      role="grid"
      aria-label={table.name}
      aria-rowcount={rows + 1}
      aria-colcount={extent.columns + 1}
      aria-multiselectable
      aria-activedescendant={editing ? undefined : cellId(cursorRow, cursorColumn)}
      tabIndex={0}
      onKeyDown={onKeyDown}
      onCopy={(event) => onCopy(event, false)}
      onCut={(event) => onCopy(event, true)}
      onPaste={onPaste}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onDoubleClick={(event) => {
        const cell = cellAt(event.target);
        if (!cell || cell.column < 0 || editing) return;
        if (nextOf(cell) === null) edit(cell, null);
        else toggle(cell);
      }}
    >
      <div className="grid-rows" style={{ width: total, height: virtual.getTotalSize() }}>
        <div className="grid-head" role="row" aria-rowindex={1} style={{ height: headHeight }}>
          <span className="grid-number" role="columnheader" aria-colindex={1} style={{ width: NUMBERS }}>
            <span className="visually-hidden">Row</span>
          </span>
          {shownColumns.map((index) => {
            const column = columns[index]!;
            return (
              <span
                key={column.id}
                role="columnheader"
                aria-colindex={index + 2}
                aria-sort={sort?.column === index ? (sort.down ? "descending" : "ascending") : "none"}
                className="grid-heading"
                data-first={index === 0 || undefined}
                data-figures={column.figures || undefined}
                style={cellStyle(index, widths, second, gap)}
              >
                <button
                  type="button"
                  tabIndex={-1}
                  title={column.slim ? `${column.name}: sort` : `Sort by ${columnTitle(column)}`}
                  onClick={() => {
                    onSort(nextSort(sort, index));
                    focus();
                  }}
                >
                  <span className="cut">{column.name}</span>
                  {sort?.column === index && <span aria-hidden="true">{sort.down ? "▾" : "▴"}</span>}
                </button>
                <Grip
                  table={table.id}
                  column={column.id}
                  name={column.name}
                  width={widths[index]!}
                  onDone={focus}
                />
              </span>
            );
          })}
        </div>
        {virtual.getVirtualItems().map(({ index: row, start }) => {
          const isChosen = row >= area.top && row <= area.bottom;
          return (
            <Line
              // A row that leaves the view hands its place in the page to one that comes.
              key={`${table.id} ${row % pool}`}
              look={looks.row(seen, row)}
              one={table.one}
              row={row}
              start={start}
              height={rowHeight}
              columns={columns}
              shownColumns={shownColumns}
              gap={gap}
              widths={widths}
              base={base}
              left={isChosen ? area.left : -1}
              right={isChosen ? area.right : -1}
              cursor={row === cursorRow ? cursorColumn : -1}
              editing={editing?.row === row ? editing : null}
              choices={
                editing?.row === row ? table.choices(order[row] ?? table.keys.length, editing.column) : null
              }
              reason={editing?.row === row ? reason : null}
              upwards={
                editing?.row === row &&
                row > 8 &&
                start - (scroller.current?.scrollTop ?? 0) > (scroller.current?.clientHeight ?? 0) * 0.6
              }
              onCommit={onCommit}
              onCancel={onCancel}
              onTake={onTakeTyped}
            />
          );
        })}
      </div>
    </div>
  );
}

function isYesNo({ table, order }: Seen, { row, column }: Cell): boolean {
  const choices = table.choices(order[row] ?? table.keys.length, column);
  return choices?.length === 2 && choices[0] === "yes";
}

/** Up, down, and back to the show's own order. */
const nextSort = (sort: Sort | null, column: number): Sort | null => {
  if (sort?.column !== column) return { column, down: false };
  return sort.down ? null : { column, down: true };
};

/** Pixels that a key makes a column wider. */
const WIDER = 16;

/** The right edge of a heading: dragged it gives the column another width, pressed twice the usual one. */
function Grip({
  table,
  column,
  name,
  width,
  onDone,
}: {
  table: TableId;
  column: string;
  name: string;
  width: number;
  onDone: () => void;
}) {
  return (
    <span
      className="grid-grip"
      role="separator"
      aria-orientation="vertical"
      aria-label={`Width of ${name}`}
      title={`Width of ${name}: drag, or Alt+Shift+arrows in the list; twice for the usual one`}
      onPointerDown={(event) => {
        if (event.button !== 0) return;
        event.preventDefault();
        event.stopPropagation();
        const from = event.clientX;
        const follow = ({ x }: { readonly x: number }): void => setWidth(table, column, width + x - from);
        followPointer(event, { move: follow, drop: follow, end: onDone });
      }}
      onDoubleClick={(event) => {
        event.stopPropagation();
        setWidth(table, column, null);
      }}
    />
  );
}

function columnsOf(table: TableId, columns: readonly Column[], own: Readonly<Record<string, number>>) {
  const widths = columns.map(
    ({ id: column, width, name, slim }) =>
      own[`${table}:${column}`] ?? Math.round(Math.max(width, slim ? 0 : name.length + 3) * CHARACTER + 16),
  );
  const lefts: number[] = [];
  let left = NUMBERS;
  for (const width of widths) {
    lefts.push(left);
    left += width;
  }
  return { widths, lefts, total: left };
}

/** The list of before while it holds the same. */
function useStableList(list: readonly number[]): readonly number[] {
  const key = list.join(" ");
  // eslint-disable-next-line react-hooks/exhaustive-deps -- the key says all of the list
  return useMemo(() => list, [key]);
}

const cellStyle = (
  index: number,
  widths: readonly number[],
  second: number | undefined,
  gap: number,
): React.CSSProperties =>
  index === 0
    ? { width: widths[0], left: NUMBERS }
    : index === second && gap > 0
      ? { width: widths[index], marginLeft: gap }
      : { width: widths[index] };

interface LineProps {
  readonly look: RowLook;
  /** What a row is of. */
  readonly one: string;
  readonly row: number;
  readonly start: number;
  readonly height: number;
  readonly columns: readonly Column[];
  /** The first column and those in view. */
  readonly shownColumns: readonly number[];
  readonly gap: number;
  readonly widths: readonly number[];
  readonly base: string;
  readonly left: number;
  readonly right: number;
  readonly cursor: number;
  readonly editing: Editing | null;
  readonly choices: readonly string[] | null;
  readonly reason: string | null;
  readonly upwards: boolean;
  readonly onCommit: (text: string, step: Step | null, back: boolean) => void;
  readonly onCancel: () => void;
  readonly onTake: (text: string) => void;
}

const Line = memo(function Line({
  look,
  one,
  row,
  start,
  height,
  columns,
  shownColumns,
  gap,
  widths,
  base,
  left,
  right,
  cursor,
  editing,
  choices,
  reason,
  upwards,
  onCommit,
  onCancel,
  onTake,
}: LineProps) {
  const { texts, owners, writable, isDraft, isNew } = look;
  const [, second] = shownColumns;
  return (
    <div
      className="grid-line"
      role="row"
      aria-rowindex={row + 2}
      data-row={row}
      data-draft={isDraft || undefined}
      data-editing={editing !== null || undefined}
      style={{ top: start, height }}
    >
      <span
        className="grid-number number"
        role="rowheader"
        aria-colindex={1}
        aria-label={isNew ? "new row" : isDraft ? `row ${row + 1}, unfinished` : `row ${row + 1}`}
        data-column={-1}
        data-chosen={left >= 0 || undefined}
        style={{ width: NUMBERS }}
      >
        {isNew ? "+" : row + 1}
      </span>
      {shownColumns.map((index) => {
        const column = columns[index]!;
        const text = texts[index] ?? "";
        const owner = owners[index] ?? null;
        const isEditing = editing?.column === index;
        return (
          <span
            key={column.id}
            id={index === cursor ? `${base}-${row}-${index}` : undefined}
            className="grid-cell"
            role="gridcell"
            aria-colindex={index + 2}
            aria-selected={index >= left && index <= right}
            aria-readonly={!writable[index]}
            data-column={index}
            data-first={index === 0 || undefined}
            data-cursor={index === cursor || undefined}
            data-figures={column.figures || undefined}
            style={cellStyle(index, widths, second, gap)}
          >
            {isEditing ? (
              <CellEditor
                name={`${column.name}, row ${row + 1}`}
                start={editing.text}
                fresh={editing.fresh}
                choices={choices}
                reason={reason}
                upwards={upwards}
                onCommit={onCommit}
                onCancel={onCancel}
                onTake={onTake}
              />
            ) : (
              <>
                {owner !== null && text !== "" && <OwnerTag device={owner} />}
                <span className="cut">{text}</span>
                {isNew && index === 0 && <span className="grid-hint">New {one}</span>}
              </>
            )}
          </span>
        );
      })}
    </div>
  );
});
