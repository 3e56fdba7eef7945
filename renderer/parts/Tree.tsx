/**
 * A tree of rows, thousands of them if need be: only those in view are in the page. Arrow keys move, Left and Right
 * close and open, Enter takes the row; typing goes to the next row that starts so.
 */
import { useVirtualizer } from "@tanstack/react-virtual";
import { useEffect, useId, useRef, useState, type ReactNode } from "react";
import { Icon } from "./Icon.tsx";
import { useRowHeight } from "./row-height.ts";

export interface TreeRow {
  readonly key: string;
  readonly level: 1 | 2 | 3;
  /** Undefined: nothing to open. */
  readonly open?: boolean;
  /** What it is called, for a screen reader and for typing ahead. */
  readonly name: string;
  readonly tall?: boolean;
  readonly press?: () => void;
  readonly render: () => ReactNode;
}

interface Props {
  readonly label: string;
  readonly rows: readonly TreeRow[];
  /** Key of the row for what is looked at. Apart from the rows, so that looking elsewhere builds none anew. */
  readonly selected: string | null;
  readonly onToggle: (key: string, open: boolean) => void;
  /** Stands in place of the rows where there are none. */
  readonly empty: ReactNode;
}

const ROW = 24;
const TALL = 40;
/** A pause longer than this starts a new word when typing ahead. */
const TYPING_MS = 700;

export function Tree({ label, rows, selected, onToggle, empty }: Props) {
  const scroller = useRef<HTMLDivElement>(null);
  const rowHeight = useRowHeight(ROW);
  const tallHeight = useRowHeight(TALL);
  const [active, setActive] = useState<string | null>(null);
  const typed = useRef({ text: "", at: 0 });
  const base = useId();
  // eslint-disable-next-line react-hooks/incompatible-library -- the virtualizer's functions change as it scrolls, which is what they are for
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: (index) => (rows[index]!.tall ? tallHeight : rowHeight),
    getItemKey: (index) => rows[index]!.key,
    overscan: 8,
  });
  useEffect(() => virtual.measure(), [rows, virtual, rowHeight, tallHeight]);

  const selectedIndex = selected === null ? -1 : rows.findIndex(({ key }) => key === selected);
  const isShown = selectedIndex >= 0;
  useEffect(() => {
    setActive(null);
    if (isShown) virtual.scrollToIndex(selectedIndex, { align: "auto" });
    // Only when the selection moves or comes into the list: an edit must not pull the scrolling back.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [selected, isShown]);

  const activeIndex = active === null ? selectedIndex : rows.findIndex(({ key }) => key === active);

  const go = (index: number): void => {
    const to = Math.max(0, Math.min(rows.length - 1, index));
    const row = rows[to];
    if (!row) return;
    setActive(row.key);
    virtual.scrollToIndex(to, { align: "auto" });
  };

  const toggle = (row: TreeRow): void => {
    if (row.open !== undefined) onToggle(row.key, !row.open);
  };

  const press = (row: TreeRow): void => {
    setActive(row.key);
    if (row.press) row.press();
    else toggle(row);
  };

  const typeAhead = (key: string): void => {
    const now = Date.now();
    const text = (now - typed.current.at > TYPING_MS ? "" : typed.current.text) + key.toLowerCase();
    typed.current = { text, at: now };
    const from = text.length === 1 ? activeIndex + 1 : Math.max(activeIndex, 0);
    const found = [...rows.keys()]
      .map((n) => (n + from) % rows.length)
      .find((n) => rows[n]!.name.toLowerCase().startsWith(text));
    if (found !== undefined) go(found);
  };

  const onKeyDown = (event: React.KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target !== event.currentTarget) return;
    const row = rows[activeIndex];
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? rowHeight) / rowHeight) - 1);
    if (event.key === "ArrowDown") go(activeIndex + 1);
    else if (event.key === "ArrowUp") go(activeIndex < 0 ? rows.length - 1 : activeIndex - 1);
    else if (event.key === "PageDown") go(activeIndex + page);
    else if (event.key === "PageUp") go(activeIndex - page);
    else if (event.key === "Home") go(0);
    else if (event.key === "End") go(rows.length - 1);
    else if (event.key === "ArrowRight" && row) {
      if (row.open === false) toggle(row);
      else if (row.open) go(activeIndex + 1);
    } else if (event.key === "ArrowLeft" && row) {
      if (row.open) toggle(row);
      else go(rows.findLastIndex((other, index) => index < activeIndex && other.level < row.level));
    } else if ((event.key === "Enter" || event.key === " ") && row) press(row);
    else if (event.key.length === 1 && event.key !== " ") typeAhead(event.key);
    else return;
    event.preventDefault();
  };

  if (rows.length === 0) return <div className="empty">{empty}</div>;
  return (
    <div
      ref={scroller}
      className="tree"
      role="tree"
      aria-label={label}
      tabIndex={0}
      aria-activedescendant={activeIndex >= 0 ? `${base}-${activeIndex}` : undefined}
      onKeyDown={onKeyDown}
    >
      <div className="tree-rows" style={{ height: virtual.getTotalSize() }}>
        {virtual.getVirtualItems().map((item) => {
          const row = rows[item.index]!;
          return (
            <div
              key={row.key}
              id={`${base}-${item.index}`}
              role="treeitem"
              aria-level={row.level}
              aria-label={row.name}
              aria-selected={row.key === selected}
              aria-expanded={row.open}
              aria-setsize={-1}
              className="tree-row"
              data-level={row.level}
              data-active={item.index === activeIndex || undefined}
              style={{ transform: `translateY(${item.start}px)`, height: item.size }}
              onClick={() => press(row)}
            >
              {row.open !== undefined && (
                <button
                  type="button"
                  tabIndex={-1}
                  className="tree-twist"
                  data-open={row.open}
                  aria-label={`${row.open ? "Close" : "Open"} ${row.name}`}
                  onClick={(event) => {
                    event.stopPropagation();
                    setActive(row.key);
                    toggle(row);
                  }}
                >
                  <Icon name="chevron" size={12} />
                </button>
              )}
              {row.render()}
            </div>
          );
        })}
      </div>
    </div>
  );
}
