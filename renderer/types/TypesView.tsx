/** The editor of device types, in place of the canvas: list, form, bench. */
import { useEffect, useMemo, useRef } from "react";
import { CATALOGUE, checkType, hasErrors, rulePlace, type DeviceType, type TypeProblem } from "#engine";
import { useSession } from "../files/session-context.ts";
import { Icon } from "../parts/Icon.tsx";
import { app, useApp } from "../state/store.ts";
import { ui, useUi } from "../state/ui.ts";
import { StageSwitch } from "../tables/StageSwitch.tsx";
import { plural } from "../words/verdicts.ts";
import { isChanged, type Draft } from "./draft.ts";
import {
  beginBlank,
  beginCopy,
  dropDraft,
  followShow,
  jumpTo,
  openDraft,
  openType,
  redoType,
  undoType,
  useEditor,
} from "./editor.ts";
import { TypeForm } from "./TypeForm.tsx";
import { TypeGuide } from "./TypeGuide.tsx";
import { Bench } from "./TypeTrace.tsx";
import { exportType, importType, placeDevice, takeVersion } from "./use.ts";
import "./types.css";

export function TypesView() {
  const showId = useApp((state) => state.show.id);
  useEffect(() => followShow(app.getState().show), [showId]);
  const types = useApp((state) => state.show.types);
  const state = useEditor((all) => all);
  const draft = useMemo(() => openDraft(state, types), [state, types]);
  const guide = useUi(({ typeGuide }) => typeGuide);
  const hadGuide = useRef(guide);
  const view = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // Who closes the guide is where they opened it.
    if (hadGuide.current && !guide) view.current?.querySelector<HTMLElement>(".guide-link")?.focus();
    hadGuide.current = guide;
  }, [guide]);
  return (
    <div ref={view} className="types-view" data-guide={guide || undefined}>
      {guide ? <TypeGuide /> : <TypeList />}
      {draft ? (
        <Open draft={draft} inShow={types.some(({ id }) => id === draft.type.id)} />
      ) : (
        <div className="type-middle">
          <p className="empty soft">
            Choose a type of the show, or start one: blank, from the catalogue, or from a file. Write down
            what the maker’s sheet says; the bench on the right shows what it comes to.
          </p>
          {/* The list is where the guide is now. */}
          {guide && <StartType />}
        </div>
      )}
    </div>
  );
}

function TypeList() {
  const types = useApp((state) => state.show.types);
  const devices = useApp((state) => state.show.devices);
  const drafts = useEditor((state) => state.drafts);
  const open = useEditor((state) => state.open);
  const fresh = [...drafts.values()].filter(({ type }) => !types.some(({ id }) => id === type.id));
  const row = (type: DeviceType, note: string, changed: boolean) => (
    <li key={type.id}>
      <button
        type="button"
        className="type-row"
        aria-current={open === type.id || undefined}
        onClick={(event) => {
          openType(type.id);
          // Whoever came by the keyboard goes on in the form, past the rest of the list.
          if (event.detail === 0) jumpTo("name");
        }}
      >
        <span className="type-row-name">{type.name}</span>
        <span className="soft small">{[changed ? "draft" : "", note].filter(Boolean).join(", ")}</span>
      </button>
    </li>
  );
  return (
    <nav className="type-list" aria-label="Device types">
      <div className="type-list-head">
        <StageSwitch />
      </div>
      <StartType />
      <button type="button" className="link guide-link" onClick={() => ui.setState({ typeGuide: true })}>
        How to write one
      </button>
      <h3>In this show</h3>
      <ul>
        {types.map((type) => {
          const draft = drafts.get(type.id);
          const count = devices.filter((device) => device.type === type.id).length;
          return row(
            draft?.type ?? type,
            count === 0 ? "no device" : plural(count, "device", "devices"),
            draft !== undefined && isChanged(draft),
          );
        })}
        {types.length === 0 && <li className="soft small type-none">None yet.</li>}
      </ul>
      {fresh.length > 0 && (
        <>
          <h3>In the making</h3>
          <ul>{fresh.map(({ type }) => row(type, "not in the show yet", false))}</ul>
        </>
      )}
      <h3>Start from a generic one</h3>
      <ul aria-label="Start from a generic type">
        {CATALOGUE.map((type) => (
          <li key={type.id}>
            <button
              type="button"
              className="type-row"
              aria-label={`Start from ${type.name}`}
              onClick={() => beginCopy(type)}
            >
              <span className="type-row-name">{type.name}</span>
            </button>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function StartType() {
  const session = useSession();
  const file = useRef<HTMLInputElement>(null);
  return (
    <>
      <h3 className="type-start-head">Start a new one</h3>
      <div className="type-start">
        <button type="button" className="button small" onClick={beginBlank}>
          Blank
        </button>
        <button type="button" className="button small" onClick={() => file.current?.click()}>
          From a file…
        </button>
        <input
          ref={file}
          type="file"
          hidden
          aria-label="A device type’s file"
          accept=".hopline-type"
          onChange={(event) => {
            const chosen = event.target.files?.[0];
            // The same file may be chosen again.
            event.target.value = "";
            if (chosen) void importType(session, chosen);
          }}
        />
      </div>
    </>
  );
}

const gone: { jump: object | null } = { jump: null };

function Open({ draft, inShow }: { draft: Draft; inShow: boolean }) {
  const { type } = draft;
  const problems = useMemo(() => checkType(type), [type]);
  const form = useRef<HTMLDivElement>(null);
  const jump = useEditor((state) => state.jump);
  useEffect(() => {
    // Once: an editor that comes up again doesn't go to a field that was asked for long ago.
    if (!jump || jump === gone.jump) return;
    gone.jump = jump;
    goTo(form.current, jump.path);
  }, [jump]);
  return (
    <>
      <div className="type-middle">
        <Head draft={draft} inShow={inShow} problems={problems} />
        <div className="type-scroll" ref={form} key={type.id}>
          <TypeForm type={type} />
        </div>
      </div>
      <aside className="type-side" aria-label="On the bench">
        <ProblemList type={type} problems={problems} />
        <Bench type={type} />
      </aside>
    </>
  );
}

/** Puts the cursor in the field of a path, or in the nearest part around it. */
function goTo(form: HTMLElement | null, path: string): void {
  if (!form) return;
  for (let at = path; ; at = at.replace(/(\.[^.[]*|\[\d+\])$/, "")) {
    const found = form.querySelector<HTMLElement>(`[data-path="${CSS.escape(at)}"]`);
    if (found) {
      for (let shut = found.closest("details"); shut; shut = shut.parentElement?.closest("details") ?? null)
        shut.open = true;
      const target = found.matches("input,select,button")
        ? found
        : (found.querySelector<HTMLElement>("input,select,button") ?? found);
      target.focus({ preventScroll: true });
      // What is there now, such as the name of a new type, is there to be typed over.
      if (target instanceof HTMLInputElement) target.select();
      found.scrollIntoView({ block: "center" });
      return;
    }
    if (at === "") return;
  }
}

function Head({
  draft,
  inShow,
  problems,
}: {
  draft: Draft;
  inShow: boolean;
  problems: readonly TypeProblem[];
}) {
  const session = useSession();
  const { type, past, future } = draft;
  const changed = isChanged(draft) || !inShow;
  const faulty = hasErrors(problems);
  const state = faulty
    ? "has errors, so it can’t be used yet"
    : !inShow
      ? "not in the show yet"
      : changed
        ? "a draft; the show has the former version"
        : "as in the show";
  return (
    <header className="type-head">
      <div className="type-title">
        <h2 className="cut" title={type.name}>
          {type.name}
        </h2>
        <span className={faulty ? "tone-danger small" : "soft small"} role="status">
          {state}
        </span>
      </div>
      <div className="type-run">
        <button
          type="button"
          className="button small"
          disabled={past.length === 0}
          title={past.length > 0 ? `Undo ${past.at(-1)!.label}` : undefined}
          onClick={undoType}
        >
          Undo
        </button>
        <button
          type="button"
          className="button small"
          disabled={future.length === 0}
          title={future.length > 0 ? `Redo ${future.at(-1)!.label}` : undefined}
          onClick={redoType}
        >
          Redo
        </button>
        <span className="spring" />
        {changed && (
          <button type="button" className="button small" onClick={() => dropDraft(type.id)}>
            Drop the draft
          </button>
        )}
        <button
          type="button"
          className="button small"
          disabled={faulty}
          onClick={() => void exportType(session, type)}
        >
          Save as a file…
        </button>
        {!changed && (
          <button type="button" className="button small" onClick={() => placeDevice(type)}>
            Place a device of it
          </button>
        )}
        <button
          type="button"
          className="button small main"
          disabled={faulty || !changed}
          onClick={() => void takeVersion()}
        >
          Use this version
        </button>
      </div>
    </header>
  );
}

function ProblemList({ type, problems }: { type: DeviceType; problems: readonly TypeProblem[] }) {
  if (problems.length === 0) {
    return (
      <p className="type-fine tone-ok small">
        <Icon name="check" size={14} /> Nothing wrong with it.
      </p>
    );
  }
  const errors = problems.filter(({ severity }) => severity === "error");
  const remarks = problems.filter(({ severity }) => severity === "remark");
  return (
    <section className="type-problems" aria-label="Problems">
      <h3>
        {[
          errors.length > 0 ? plural(errors.length, "error", "errors") : "",
          remarks.length > 0 ? plural(remarks.length, "remark", "remarks") : "",
        ]
          .filter(Boolean)
          .join(", ")}
      </h3>
      <ul>
        {[...errors, ...remarks].map(({ severity, path, text }, n) => (
          <li key={n}>
            <button type="button" className="type-problem" onClick={() => jumpTo(path)}>
              <span className={severity === "error" ? "tone-danger" : "tone-note"}>
                <Icon name={severity === "error" ? "error" : "note"} size={14} />
              </span>
              <span>
                <span className="visually-hidden">{severity}: </span>
                {rulePlace(type, path) && <span className="soft">{rulePlace(type, path)}: </span>}
                {text}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
