/** A cell while it is typed in: a field, and where few texts fit the list of them. */
import { useEffect, useId, useLayoutEffect, useRef, useState } from "react";
import { useTyping } from "../state/typing.ts";

/** Where typing goes on from. `all`: nowhere, and every chosen cell gets the text. */
export type Step = "Enter" | "Tab" | "all";

interface Props {
  readonly name: string;
  readonly start: string;
  /** Typing replaced what stood there, so that the arrow keys may leave the cell. */
  readonly fresh: boolean;
  readonly choices: readonly string[] | null;
  readonly reason: string | null;
  readonly upwards: boolean;
  readonly onCommit: (text: string, step: Step | null, back: boolean) => void;
  readonly onCancel: () => void;
  /** Makes the edit that leaving the cell would make, and nothing else. */
  readonly onTake: (text: string) => void;
}

const MOST_SHOWN = 60;

export function CellEditor({
  name,
  start,
  fresh,
  choices,
  reason,
  upwards,
  onCommit,
  onCancel,
  onTake,
}: Props) {
  const field = useRef<HTMLInputElement>(null);
  const done = useRef(false);
  const [text, setText] = useState(start);
  /** Place in the fitting choices; −1: what is typed counts. */
  const [picked, setPicked] = useState(-1);
  const base = useId();
  useTyping(text, text === start && !fresh ? null : () => onTake(text));
  useLayoutEffect(() => {
    const input = field.current!;
    input.focus({ preventScroll: true });
    const end = input.value.length;
    if (fresh) input.setSelectionRange(end, end);
    else input.setSelectionRange(0, end);
    // Once, as it opens.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, []);
  useEffect(() => {
    if (reason !== null) done.current = false;
  }, [reason]);

  // What is wider than the rest of the list would be cut there.
  const below = useRef<HTMLSpanElement>(null);
  const [leftwards, setLeftwards] = useState(false);
  useLayoutEffect(() => {
    const edge = below.current?.closest("[role=grid]")?.getBoundingClientRect().right;
    const left = field.current?.getBoundingClientRect().left ?? 0;
    if (edge !== undefined) setLeftwards(left + below.current!.offsetWidth > edge);
  }, [text, reason]);

  const typed = text.trim().toLowerCase();
  const isUntouched = text === start && !fresh;
  const fitting = (choices ?? [])
    .filter((choice) => isUntouched || choice.toLowerCase().includes(typed))
    .sort((a, b) => (isUntouched ? 0 : Number(starts(b, typed)) - Number(starts(a, typed))))
    .slice(0, MOST_SHOWN);

  const commit = (value: string, step: Step | null, back: boolean): void => {
    done.current = true;
    onCommit(value, step, back);
  };

  const onKeyDown = (event: React.KeyboardEvent): void => {
    const { key, shiftKey } = event;
    if (key === "Enter" && (event.ctrlKey || event.metaKey)) commit(fitting[picked] ?? text, "all", false);
    else if (key === "Enter" || key === "Tab") commit(fitting[picked] ?? text, key, shiftKey);
    else if (key === "Escape") {
      done.current = true;
      onCancel();
    } else if (key === "ArrowDown" && fitting.length > 0) setPicked((picked + 1) % fitting.length);
    else if (key === "ArrowUp" && fitting.length > 0)
      setPicked(picked <= 0 ? fitting.length - 1 : picked - 1);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };

  return (
    <span className="cell-editor" data-upwards={upwards || undefined} data-leftwards={leftwards || undefined}>
      <input
        ref={field}
        role={choices ? "combobox" : undefined}
        aria-expanded={choices ? fitting.length > 0 : undefined}
        aria-controls={choices ? `${base}-choices` : undefined}
        aria-activedescendant={picked >= 0 ? `${base}-${picked}` : undefined}
        aria-label={name}
        aria-invalid={reason !== null}
        aria-describedby={reason === null ? undefined : `${base}-reason`}
        value={text}
        spellCheck={false}
        autoComplete="off"
        onChange={(event) => {
          setText(event.target.value);
          setPicked(-1);
        }}
        onKeyDown={onKeyDown}
        onBlur={() => {
          if (!done.current) commit(text, null, false);
        }}
      />
      {(reason !== null || fitting.length > 0) && (
        <span ref={below} className="cell-below">
          {reason !== null && (
            <span id={`${base}-reason`} role="alert" className="cell-reason">
              {reason}
            </span>
          )}
          {fitting.length > 0 && (
            <span role="listbox" id={`${base}-choices`} className="cell-choices" aria-label={name}>
              {fitting.map((choice, index) => (
                <span
                  key={choice}
                  id={`${base}-${index}`}
                  role="option"
                  aria-selected={index === picked}
                  className="cell-choice cut"
                  onPointerDown={(event) => {
                    event.preventDefault();
                    event.stopPropagation();
                    commit(choice, "Enter", false);
                  }}
                >
                  {choice}
                </span>
              ))}
            </span>
          )}
        </span>
      )}
    </span>
  );
}

const starts = (choice: string, typed: string): boolean => choice.toLowerCase().startsWith(typed);
