import { useState } from "react";
import { nextRevisionName, type Recovery, type Revision } from "#engine";
import { useSession } from "../files/session-context.ts";
import { app, useApp } from "../state/store.ts";
import type { ConflictAnswer, RecoveryAnswer, UnsavedAnswer } from "../state/ui.ts";
import { TooLong } from "../parts/TooLong.tsx";
import { today } from "../words/dates.ts";
import { LONGEST, tooLong } from "../words/limits.ts";
import { Frame } from "./Frame.tsx";

export function UnsavedDialog({
  title,
  before,
  onAnswer,
}: {
  title: string;
  before: string;
  onAnswer: (answer: UnsavedAnswer) => void;
}) {
  return (
    <Frame
      question
      title={`Save the changes to “${title}”?`}
      onClose={() => onAnswer("cancel")}
      buttons={
        <>
          <button type="button" className="button" onClick={() => onAnswer("discard")}>
            Don’t save
          </button>
          <span className="spring" />
          <button type="button" className="button" onClick={() => onAnswer("cancel")}>
            Cancel
          </button>
          <button type="button" className="button main" autoFocus onClick={() => onAnswer("save")}>
            Save
          </button>
        </>
      }
    >
      <p>They are lost by {before} unless they are saved.</p>
    </Frame>
  );
}

export function ConflictDialog({
  name,
  onAnswer,
}: {
  name: string;
  onAnswer: (answer: ConflictAnswer) => void;
}) {
  return (
    <Frame
      question
      title={`“${name}” has changed on disk`}
      onClose={() => onAnswer("cancel")}
      buttons={
        <>
          <button type="button" className="button" onClick={() => onAnswer("reload")}>
            Reload, drop mine
          </button>
          <button type="button" className="button" onClick={() => onAnswer("overwrite")}>
            Overwrite with mine
          </button>
          <span className="spring" />
          <button type="button" className="button" onClick={() => onAnswer("cancel")}>
            Cancel
          </button>
          <button type="button" className="button main" autoFocus onClick={() => onAnswer("save-as")}>
            Save as…
          </button>
        </>
      }
    >
      <p>Another window or program wrote the file since it was opened here. “Save as” keeps both versions.</p>
    </Frame>
  );
}

const WHEN = new Intl.DateTimeFormat("en-GB", { dateStyle: "medium", timeStyle: "short" });

export function RecoveryDialog({
  copies,
  onAnswer,
}: {
  copies: readonly Recovery[];
  onAnswer: (answer: RecoveryAnswer) => void;
}) {
  const session = useSession();
  const [left, setLeft] = useState(copies);
  /** A copy may be all that there is of a day's work: it goes at the second press. */
  const [sure, setSure] = useState<string | null>(null);
  const drop = (showId: string): void => {
    void session.forgetRecovery(showId);
    // At once, so that the next press is on the next copy.
    const rest = left.filter((copy) => copy.showId !== showId);
    setLeft(rest);
    if (rest.length === 0) onAnswer({ kind: "later" });
  };
  return (
    <Frame
      question
      title="Unsaved work from last time"
      onClose={() => onAnswer({ kind: "later" })}
      buttons={
        <>
          <span className="spring" />
          <button type="button" className="button" onClick={() => onAnswer({ kind: "later" })}>
            Decide later
          </button>
        </>
      }
    >
      <p>
        Hopline ended before this was saved. A copy stays until it is opened, deleted, or that show is edited
        again.
      </p>
      <ul className="recovery-list">
        {left.map((copy) => (
          <li key={copy.showId}>
            <div className="recovery-text">
              <strong className="cut">{copy.title}</strong>
              <span className="soft small">
                {WHEN.format(copy.writtenAt)}, {copy.path ?? "never saved"}
              </span>
            </div>
            <button
              type="button"
              className="button small"
              onBlur={() => setSure(null)}
              onClick={() => (sure === copy.showId ? drop(copy.showId) : setSure(copy.showId))}
            >
              {sure === copy.showId ? "Delete for good" : "Delete"}
            </button>
            <button
              type="button"
              className="button small main"
              autoFocus={copy === copies[0]}
              onClick={() => onAnswer({ kind: "restore", copy })}
            >
              Open
            </button>
          </li>
        ))}
      </ul>
    </Frame>
  );
}

/** Cancel, and the button that sends the dialog's form. */
export function FormButtons({
  form,
  does,
  ready,
  onClose,
}: {
  form: string;
  does: string;
  ready: boolean;
  onClose: () => void;
}) {
  return (
    <>
      <span className="spring" />
      <button type="button" className="button" onClick={onClose}>
        Cancel
      </button>
      <button type="submit" form={form} className="button main" disabled={!ready}>
        {does}
      </button>
    </>
  );
}

export function RenameDialog({ onClose }: { onClose: () => void }) {
  const title = useApp((state) => state.show.title);
  const [typed, setTyped] = useState(title);
  const plain = typed.trim();
  const rename = (): void => {
    if (plain !== "") app.getState().change({ kind: "set-title", title: plain }, "renaming the show");
    onClose();
  };
  return (
    <Frame
      title="Rename show"
      onClose={onClose}
      buttons={<FormButtons form="rename-show" does="Rename" ready={plain !== ""} onClose={onClose} />}
    >
      <form
        id="rename-show"
        onSubmit={(event) => {
          event.preventDefault();
          rename();
        }}
      >
        <input
          className="field"
          aria-label="Title of the show"
          autoFocus
          value={typed}
          onFocus={(event) => event.target.select()}
          onChange={(event) => setTyped(event.target.value)}
        />
      </form>
    </Frame>
  );
}

export function RevisionDialog({ onClose }: { onClose: () => void }) {
  const revisions = useApp((state) => state.show.revisions);
  const [name, setName] = useState(() => nextRevisionName(revisions));
  const [note, setNote] = useState("");
  const plain = name.trim();
  const longName = tooLong(plain, LONGEST.name);
  const longNote = tooLong(note.trim(), LONGEST.note);
  const ready = plain !== "" && longName === undefined && longNote === undefined;
  const mark = (): void => {
    if (!ready) return;
    app
      .getState()
      .change(
        { kind: "mark-revision", name: plain, date: today(), note: note.trim() },
        `marking revision ${plain}`,
      );
    onClose();
  };
  return (
    <Frame
      title="Mark a revision"
      onClose={onClose}
      buttons={<FormButtons form="mark-revision" does="Mark" ready={ready} onClose={onClose} />}
    >
      <p>Keeps the show as it is now in the file, to look at later.</p>
      <form
        id="mark-revision"
        className="dialog-form"
        onSubmit={(event) => {
          event.preventDefault();
          mark();
        }}
      >
        <input
          className="field"
          aria-label="Name of the revision"
          placeholder="Name"
          aria-invalid={longName !== undefined || undefined}
          autoFocus
          value={name}
          onFocus={(event) => event.target.select()}
          onChange={(event) => setName(event.target.value)}
        />
        <TooLong reason={longName} />
        <textarea
          className="field"
          aria-label="Note on the revision"
          placeholder="What it is, or what has changed"
          aria-invalid={longNote !== undefined || undefined}
          value={note}
          onChange={(event) => setNote(event.target.value)}
        />
        <TooLong reason={longNote} />
      </form>
      {revisions.length > 0 && <RevisionList revisions={revisions} />}
    </Frame>
  );
}

/** Latest first, so that the one to go on from stands beside the field. */
function RevisionList({ revisions }: { revisions: readonly Revision[] }) {
  return (
    <ul className="recovery-list" aria-label="Revisions so far">
      {revisions.toReversed().map(({ name, date, note, was }, index) => (
        <li key={index}>
          <div className="recovery-text">
            <strong className="cut">{name}</strong>
            <span className="soft small">
              {[date, note, was ? "" : "a note only"].filter(Boolean).join(", ")}
            </span>
          </div>
        </li>
      ))}
    </ul>
  );
}
