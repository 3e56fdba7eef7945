/** Building blocks of the inspector: a heading, named facts, and names that lead on. */
import { useState, type ReactNode } from "react";
import { fullName, findTerminal, shortName, type DeviceId, type Terminal } from "#engine";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { Term } from "../parts/Term.tsx";
import type { WordId } from "../words/glossary.ts";
import type { Focus } from "../state/contract.ts";
import { app, useApp } from "../state/store.ts";
import { useTyping } from "../state/typing.ts";
import { deviceName } from "../words/names.ts";
import { capital } from "../words/verdicts.ts";

export function Head({ kind, word, title, children }: Partial<Named> & { kind: string; title: ReactNode }) {
  return (
    <header className="inspector-head">
      <p className="soft small">
        <Name name={kind} word={word} />
      </p>
      <h2>{title}</h2>
      {children}
    </header>
  );
}

/** `what`: such as `device`. One that was just made is not known yet, which is no reason to say so. */
export function Gone({ what }: { what: string }) {
  const isBehind = useApp(({ analysis, show }) => analysis.show !== show);
  if (isBehind) return null;
  return <Head kind={capital(what)} title={`This ${what} is no longer in the show.`} />;
}

interface Named {
  /** The word of the glossary that the name is. */
  readonly word?: WordId | undefined;
  readonly children: ReactNode;
}

const Name = ({ name, word }: { name: string; word: WordId | undefined }) =>
  word ? <Term word={word}>{name}</Term> : name;

export function Section({ title, word, children }: Named & { title: string }) {
  return (
    <section className="inspector-section">
      <h3>
        <Name name={title} word={word} />
      </h3>
      {children}
    </section>
  );
}

export function Facts({ children }: { children: ReactNode }) {
  return <dl>{children}</dl>;
}

export function Fact({ name, word, children }: Named & { name: string }) {
  return (
    <div className="named">
      <dt>
        <Name name={name} word={word} />
      </dt>
      <dd>{children}</dd>
    </div>
  );
}

export function GoTo({ focus, children }: { focus: Focus; children: ReactNode }) {
  return (
    <button type="button" className="link cut" onClick={() => app.getState().look(focus, true)}>
      {children}
    </button>
  );
}

export function DeviceLink({ device }: { device: DeviceId }) {
  const name = useApp((state) => deviceName(state.analysis, device));
  return (
    <span className="with-mark">
      <OwnerTag device={device} />
      <GoTo focus={{ kind: "device", device }}>{name}</GoTo>
    </span>
  );
}

/** `short`: without the device, where that is plain from what stands around. */
export function TerminalLink({ terminal, short = false }: { terminal: Terminal; short?: boolean }) {
  const name = useApp(({ analysis: { wiring } }) => {
    const at = findTerminal(wiring, terminal);
    return at === null ? "a terminal that is gone" : short ? shortName(wiring, at) : fullName(wiring, at);
  });
  return <GoTo focus={{ kind: "terminal", terminal }}>{name}</GoTo>;
}

export function DeviceList({ devices }: { devices: readonly DeviceId[] }) {
  return (
    <ol className="plain-list">
      {devices.map((device) => (
        <li key={device}>
          <DeviceLink device={device} />
        </li>
      ))}
    </ol>
  );
}

/**
 * A text field whose value becomes a change when it is left or Enter is pressed, so that one edit is one undo step.
 * Escape takes back what was typed. `onCommit` answers why a text can't be taken; the text then stays, with the reason.
 */
export function Commit({
  label,
  value,
  onCommit,
  multiline = false,
  placeholder,
}: {
  label: string;
  value: string;
  onCommit: (value: string) => string | void;
  multiline?: boolean;
  placeholder?: string;
}) {
  // What was typed holds only as long as the value that it was typed over: undo must show through, and what was taken
  // back must not come up again. What is typed on after a commit is typed over what comes of that.
  const [last, setDraft] = useState<Draft>({ over: value, text: value, refusal: null, sent: null });
  const isTypedOn = last.sent !== null && last.text !== last.sent;
  const draft: Draft =
    last.over === value
      ? last
      : { over: value, text: isTypedOn ? last.text : value, refusal: null, sent: null };
  if (draft !== last) setDraft(draft);
  const { text: typed, refusal } = draft;
  const setTyped = (text: string): void => setDraft({ ...draft, text, refusal: null });
  const commit = (): void => {
    if (typed === value) return;
    const reason = onCommit(typed) ?? null;
    setDraft({ over: value, text: typed, refusal: reason, sent: reason === null ? typed : null });
  };
  useTyping(typed, typed === value || refusal !== null ? null : () => void onCommit(typed));
  const common = {
    className: "field",
    "aria-label": label,
    "aria-invalid": refusal !== null || undefined,
    value: typed,
    placeholder,
    onChange: (event: React.ChangeEvent<HTMLInputElement | HTMLTextAreaElement>) =>
      setTyped(event.target.value),
    onBlur: commit,
    onKeyDown: (event: React.KeyboardEvent<HTMLElement>) => {
      if (event.key === "Escape") {
        setDraft({ over: value, text: value, refusal: null, sent: null });
        event.stopPropagation();
      } else if (event.key === "Enter" && !multiline) commit();
    },
  };
  return (
    <>
      {multiline ? <textarea {...common} /> : <input type="text" {...common} />}
      {refusal !== null && (
        <span className="field-refusal tone-danger small" role="alert">
          {refusal}
        </span>
      )}
    </>
  );
}

/** What was typed over a value, and why it can't be taken. */
interface Draft {
  readonly over: string;
  readonly text: string;
  readonly refusal: string | null;
  /** What was committed of it, and isn't the value yet; null: nothing. */
  readonly sent: string | null;
}
