/** Chooses sheets and paper, shows the very pages that come out, and makes the PDF. */
import { useEffect, useMemo, useRef, useState, type KeyboardEvent } from "react";
import { PAPERS, tableCsv, type Paper, type Show } from "#engine";
import { pageSvg } from "#engine/paperwork/html.ts";
import { LABEL_GRIDS, labelsOn } from "#engine/paperwork/labels/grid.ts";
import { ROW_SIZES } from "#engine/paperwork/labels/strips.ts";
import type { Page, Sheet } from "#engine/paperwork/page.ts";
import { outlineOf, pagesOf } from "#engine/paperwork/set.ts";
import { KIND_WORDS, type SheetEntry, type SheetKind } from "#engine/paperwork/sheets/entry.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";
import { layoutLibrary } from "../canvas/layout-library.ts";
import { Frame } from "../dialogs/Frame.tsx";
import { useSession } from "../files/session-context.ts";
import { Icon } from "../parts/Icon.tsx";
import { TooLong } from "../parts/TooLong.tsx";
import { app, useApp } from "../state/store.ts";
import { millFor } from "../worker/papers.ts";
import { today } from "../words/dates.ts";
import { LONGEST, tooLong } from "../words/limits.ts";
import { plural } from "../words/verdicts.ts";
import {
  byKind,
  choiceOf,
  editsFor,
  isGrid,
  noteOf,
  offered,
  orderOf,
  revisionToMark,
  subjectsOf,
  tailOf,
  toggled,
  type Choice,
} from "./choice.ts";
import { paperFonts } from "./fonts.ts";
import { createMaker, type Maker } from "./maker.ts";
import { pagePng, pictureUrl } from "./picture.ts";
import "./paper.css";

/** What the dialog is busy with. */
type Work =
  | { readonly kind: "making"; readonly sheets: number; readonly of: number }
  | { readonly kind: "printing"; readonly pages: number };

interface Shown {
  readonly entry: string;
  readonly page: number;
}

const firstChosen = (entries: readonly SheetEntry[], chosen: ReadonlySet<string>): string =>
  (entries.find(({ id }) => chosen.has(id)) ?? entries[0])?.id ?? "";

/** Another show that is opened beneath has sheets of its own. */
export function PaperDialog({ onClose }: { onClose: () => void }) {
  const id = useApp((state) => state.analysis.show.id);
  return <Papers key={id} onClose={onClose} />;
}

function Papers({ onClose }: { onClose: () => void }) {
  const session = useSession();
  const analysis = useApp((state) => state.analysis);
  const focus = useApp((state) => state.focus);
  const sheets = useMemo(() => sheetEntries(analysis), [analysis]);
  const entries = useMemo(() => offered(analysis, sheets, focus), [analysis, sheets, focus]);
  const [choice, setChoice] = useState(() => choiceOf(analysis.show, sheets));
  const [shown, setShown] = useState<Shown>(() => ({ entry: firstChosen(entries, choice.chosen), page: 0 }));
  const [work, setWork] = useState<Work | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const stop = useRef<AbortController | null>(null);
  useEffect(() => () => stop.current?.abort(), []);

  const { paper, listPaper, author, arrangement, delays, marks, perRow, digits, tagsOn, tagOrder, startAt } =
    choice;
  const order = useMemo(
    () => orderOf(analysis.show, choice, today()),
    // What is chosen doesn't stand on a page.
    // eslint-disable-next-line react-hooks/exhaustive-deps
    [
      analysis,
      paper,
      listPaper,
      author,
      arrangement,
      delays,
      marks,
      perRow,
      digits,
      tagsOn,
      tagOrder,
      startAt,
    ],
  );
  const mill = useMemo(() => millFor(analysis, layoutLibrary), [analysis]);
  useEffect(() => () => mill.close(), [mill]);
  const maker = useMemo(() => createMaker((entry) => mill.sheet(entry, order)), [mill, order]);
  const wanted = useMemo(() => entries.filter(({ id }) => choice.chosen.has(id)), [entries, choice.chosen]);
  const counted = useCount(maker, wanted);
  const mark = revisionToMark(analysis.show, marks);

  const print = async (): Promise<void> => {
    setProblem(null);
    const stopping = new AbortController();
    stop.current = stopping;
    const { signal } = stopping;
    try {
      setWork({ kind: "making", sheets: 0, of: wanted.length });
      const made = await maker.all(wanted, signal, (sheets) =>
        setWork({ kind: "making", sheets, of: wanted.length }),
      );
      if (!made) return;
      const pages = pagesOf(made);
      setWork({ kind: "printing", pages });
      const { show } = analysis;
      const number = crypto.randomUUID();
      signal.addEventListener("abort", () => void session.host.cancelPrint(number));
      const printed = await session.printPaper({
        job: number,
        name: `${show.title} ${made.length === 1 ? made[0]!.sheet.title : "papers"}`,
        pages: made.flatMap(({ sheet }) => sheet.pages),
        facts: { title: `${show.title}: papers`, author, date: order.job.date, outline: outlineOf(made) },
      });
      if (!printed.ok) {
        if (printed.error.code !== "cancelled") setProblem(printed.error.message);
        return;
      }
      if (printed.value === null) return;
      const kinds = byKind(wanted).map(({ kind }) => KIND_WORDS[kind].name);
      keep(show, choice, sheets, mark?.name ?? null, noteOf(pages, kinds));
      session.remark(`${plural(pages, "page is", "pages are")} in ${printed.value}`);
      onClose();
    } catch (error) {
      setProblem(`The papers can’t be made: ${error instanceof Error ? error.message : String(error)}`);
    } finally {
      stop.current = null;
      setWork(null);
    }
  };

  const set = (part: Partial<Choice>): void => setChoice((now) => ({ ...now, ...part }));
  const busy = work !== null;
  const isEmpty = analysis.show.devices.length === 0;
  return (
    <Frame
      full
      title="Papers"
      onClose={() => (busy ? stop.current?.abort() : onClose())}
      buttons={
        <>
          {work ? (
            <Progress work={work} />
          ) : (
            <label className="check">
              <input
                type="checkbox"
                checked={marks}
                onChange={(event) => set({ marks: event.target.checked })}
              />
              {mark
                ? `Mark revision ${mark.name} when they are printed`
                : marks
                  ? "Nothing has changed since the last revision"
                  : "Mark a revision when they are printed"}
            </label>
          )}
          <span className="spring" />
          <button type="button" className="button" onClick={() => (busy ? stop.current?.abort() : onClose())}>
            Cancel
          </button>
          <button
            type="button"
            className="button main"
            disabled={busy || wanted.length === 0 || isEmpty}
            onClick={() => void print()}
          >
            {counted === null ? "Make PDF" : `Make PDF of ${plural(counted, "page", "pages")}`}
          </button>
        </>
      }
    >
      {isEmpty ? (
        <p>There is nothing to print yet: the show has no devices.</p>
      ) : (
        <div className="paper-dialog">
          <fieldset className="paper-choice" disabled={busy} aria-label="What is printed">
            <Settings choice={choice} onSet={set} />
            <Kinds
              show={analysis.show}
              entries={entries}
              choice={choice}
              shown={shown.entry}
              onSet={set}
              onShow={(entry) => setShown({ entry, page: 0 })}
            />
          </fieldset>
          <Preview maker={maker} entries={entries} wanted={wanted} shown={shown} onShow={setShown} />
        </div>
      )}
      {problem && (
        <p className="tone-danger" role="alert">
          {problem}
        </p>
      )}
    </Frame>
  );
}

/** One step: what was chosen, and the revision that the papers name. */
function keep(
  show: Show,
  choice: Choice,
  entries: readonly SheetEntry[],
  revision: string | null,
  note: string,
): void {
  const edits = editsFor(show, choice, entries);
  const { change } = app.getState();
  if (revision === null) change({ kind: "edits", edits }, "choosing papers");
  else {
    change(
      { kind: "mark-revision", name: revision, date: today(), note, edits },
      `marking revision ${revision}`,
    );
  }
}

/** Pages of all chosen sheets, counted while nothing else is done; null as long as it isn't known. */
function useCount(maker: Maker, wanted: readonly SheetEntry[]): number | null {
  const [known, setKnown] = useState<{ readonly of: readonly SheetEntry[]; readonly pages: number } | null>(
    null,
  );
  useEffect(() => {
    const stop = new AbortController();
    maker
      .all(wanted, stop.signal, () => {})
      .then(
        (made) => made && setKnown({ of: wanted, pages: pagesOf(made) }),
        // Told where the sheet is looked at or printed.
        () => setKnown(null),
      );
    return () => stop.abort();
  }, [maker, wanted]);
  return known?.of === wanted && wanted.length > 0 ? known.pages : null;
}

function Progress({ work }: { work: Work }) {
  const words =
    work.kind === "making"
      ? `Sheet ${Math.min(work.sheets + 1, work.of)} of ${work.of}`
      : `Printing ${plural(work.pages, "page", "pages")}…`;
  return (
    <div className="paper-progress" role="status">
      <progress
        aria-label={words}
        {...(work.kind === "making" ? { max: Math.max(work.of, 1), value: work.sheets } : {})}
      />
      <span>{words}</span>
    </div>
  );
}

function Settings({ choice, onSet }: { choice: Choice; onSet: (part: Partial<Choice>) => void }) {
  const [author, setAuthor] = useState(choice.author);
  const refusal = tooLong(author.trim(), LONGEST.name);
  const take = (): void => void (refusal === undefined && onSet({ author: author.trim() }));
  const papers = (label: string, value: Paper, set: (paper: Paper) => void) => (
    <label>
      <span>{label}</span>
      <select className="field" value={value} onChange={(event) => set(event.target.value as Paper)}>
        {PAPERS.map((paper) => (
          <option key={paper}>{paper}</option>
        ))}
      </select>
    </label>
  );
  return (
    <div className="paper-settings">
      {papers("Lists on", choice.listPaper, (listPaper) => onSet({ listPaper }))}
      {papers("Diagram on", choice.paper, (paper) => onSet({ paper }))}
      <label className="paper-author">
        <span>Author</span>
        <input
          className="field"
          aria-invalid={refusal !== undefined || undefined}
          value={author}
          placeholder="Stands at the foot of each page"
          onChange={(event) => setAuthor(event.target.value)}
          // All pages name the author, so they are made again once it is typed.
          onBlur={take}
          onKeyDown={(event) => event.key === "Enter" && take()}
        />
        <TooLong reason={refusal} />
      </label>
    </div>
  );
}

interface KindsProps {
  readonly show: Show;
  readonly entries: readonly SheetEntry[];
  readonly choice: Choice;
  readonly shown: string;
  readonly onSet: (part: Partial<Choice>) => void;
  readonly onShow: (entry: string) => void;
}

function Kinds({ show, entries, choice, shown, onSet, onShow }: KindsProps) {
  const { chosen } = choice;
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const subjects = useMemo(() => subjectsOf(entries, show), [entries, show]);
  const choose = (ids: readonly string[], on: boolean): void => onSet({ chosen: toggled(chosen, ids, on) });
  return (
    <>
      <div className="paper-pick">
        <button
          type="button"
          className="button"
          onClick={() =>
            choose(
              entries.map(({ id }) => id),
              true,
            )
          }
        >
          All
        </button>
        <button type="button" className="button" onClick={() => onSet({ chosen: new Set() })}>
          None
        </button>
        <select
          className="field"
          aria-label="Only the sheets of one console or place"
          value=""
          onChange={(event) =>
            onSet({
              chosen: new Set(entries.map(({ id }) => id).filter((id) => tailOf(id) === event.target.value)),
            })
          }
        >
          <option value="">Only those of…</option>
          {subjects.map(({ tail, name }) => (
            <option key={tail} value={tail}>
              {name}
            </option>
          ))}
        </select>
      </div>
      <ul className="paper-kinds" aria-label="Sheets">
        {byKind(entries).map(({ kind, entries: of }) => {
          const { name, use } = KIND_WORDS[kind];
          const count = of.filter(({ id }) => chosen.has(id)).length;
          const isOpen = opened.has(kind);
          return (
            <li key={kind}>
              <div className="paper-kind">
                {of.length > 1 ? (
                  <button
                    type="button"
                    className="icon-button"
                    aria-expanded={isOpen}
                    aria-label={`Single sheets of ${name}`}
                    onClick={() => setOpened(toggled(opened, [kind], !isOpen))}
                  >
                    <Icon name="chevron" />
                  </button>
                ) : (
                  <span className="paper-indent" />
                )}
                <input
                  type="checkbox"
                  aria-label={name}
                  checked={count === of.length}
                  ref={(box) => {
                    if (box) box.indeterminate = count > 0 && count < of.length;
                  }}
                  onChange={() =>
                    choose(
                      of.map(({ id }) => id),
                      count < of.length,
                    )
                  }
                />
                <button
                  type="button"
                  className="paper-name"
                  aria-pressed={of.some(({ id }) => id === shown)}
                  onClick={() => onShow(of[0]!.id)}
                >
                  <span>
                    {name}
                    {of.length > 1 && (
                      <span className="soft">
                        {" "}
                        {count} of {of.length}
                      </span>
                    )}
                  </span>
                  <span className="soft small">{use}</span>
                </button>
              </div>
              {isOpen && (
                <ul className="paper-sheets">
                  {of.map(({ id, title }) => (
                    <li key={id} className="paper-kind">
                      <input
                        type="checkbox"
                        aria-label={title}
                        checked={chosen.has(id)}
                        onChange={(event) => choose([id], event.target.checked)}
                      />
                      <button
                        type="button"
                        className="paper-name"
                        aria-pressed={id === shown}
                        onClick={() => onShow(id)}
                      >
                        {title}
                      </button>
                    </li>
                  ))}
                </ul>
              )}
              {count > 0 && <Look kind={kind} choice={choice} onSet={onSet} />}
            </li>
          );
        })}
      </ul>
    </>
  );
}

interface LookProps {
  readonly choice: Choice;
  readonly onSet: (part: Partial<Choice>) => void;
}

/** What can be said of how a kind of sheet is made. */
function Look({ kind, ...props }: LookProps & { kind: SheetKind }) {
  if (kind === "diagram") return <DiagramLook {...props} />;
  if (kind === "jack strips") return <StripLook {...props} />;
  return kind === "cable tags" ? <TagLook {...props} /> : null;
}

function StripLook({ choice, onSet }: LookProps) {
  return (
    <div className="paper-look">
      <label>
        <span>Jacks in a row</span>
        <select
          className="field"
          value={choice.perRow}
          onChange={({ target: { value } }) =>
            onSet({ perRow: ROW_SIZES.find((size) => String(size) === value) ?? "fit" })
          }
        >
          <option value="fit">as the bank parts</option>
          {ROW_SIZES.map((size) => (
            <option key={size} value={size}>
              {size}
            </option>
          ))}
        </select>
      </label>
      <label className="check">
        <input
          type="checkbox"
          checked={choice.digits}
          onChange={(event) => onSet({ digits: event.target.checked })}
        />
        Numbers as colours too
      </label>
    </div>
  );
}

function TagLook({ choice, onSet }: LookProps) {
  const { tagsOn } = choice;
  const most = tagsOn === "plain" ? 1 : labelsOn(LABEL_GRIDS[tagsOn]);
  return (
    <div className="paper-look">
      <label>
        <span>On</span>
        <select
          className="field"
          value={tagsOn}
          onChange={({ target: { value } }) => onSet({ tagsOn: isGrid(value) ? value : "plain", startAt: 1 })}
        >
          <option value="plain">plain paper, to be cut</option>
          {Object.entries(LABEL_GRIDS).map(([id, { name }]) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      {tagsOn !== "plain" && (
        <label>
          <span>First free label</span>
          <input
            className="field"
            type="number"
            min={1}
            max={most}
            value={choice.startAt}
            onChange={({ target: { valueAsNumber } }) =>
              onSet({ startAt: Math.min(Math.max(Math.round(valueAsNumber) || 1, 1), most) })
            }
          />
        </label>
      )}
      <label>
        <span>In order of</span>
        <select
          className="field"
          value={choice.tagOrder}
          onChange={({ target: { value } }) => onSet({ tagOrder: value === "place" ? "place" : "cable" })}
        >
          <option value="cable">cables</option>
          <option value="place">places</option>
        </select>
      </label>
    </div>
  );
}

function DiagramLook({ choice, onSet }: LookProps) {
  return (
    <div className="paper-look">
      <label>
        <span>Devices stand</span>
        <select
          className="field"
          value={choice.arrangement}
          onChange={(event) => onSet({ arrangement: event.target.value as Choice["arrangement"] })}
        >
          <option value="tidy">as fits the paper</option>
          <option value="canvas">as on the canvas</option>
        </select>
      </label>
      <label className="check">
        <input
          type="checkbox"
          checked={choice.delays}
          onChange={(event) => onSet({ delays: event.target.checked })}
        />
        Delays
      </label>
    </div>
  );
}

interface PreviewProps {
  readonly maker: Maker;
  readonly entries: readonly SheetEntry[];
  readonly wanted: readonly SheetEntry[];
  readonly shown: Shown;
  readonly onShow: (shown: Shown) => void;
}

function Preview({ maker, entries, wanted, shown, onShow }: PreviewProps) {
  const entry = entries.find(({ id }) => id === shown.entry);
  const made = useSheet(maker, entry);
  const sheet = made?.sheet ?? null;
  const number = sheet ? Math.min(shown.page, sheet.pages.length - 1) : 0;
  const page = sheet?.pages[number];
  const picture = usePicture(page);
  const [drawn, setDrawn] = useState(false);
  const [whole, setWhole] = useState(true);
  const [grey, setGrey] = useState(false);

  const place = wanted.findIndex(({ id }) => id === shown.entry);
  const turn = (by: 1 | -1): void => {
    if (sheet && sheet.pages[number + by]) return onShow({ entry: shown.entry, page: number + by });
    const next = wanted[place + by];
    if (next) onShow({ entry: next.id, page: by > 0 ? 0 : Infinity });
  };
  const canTurn = (by: 1 | -1): boolean => Boolean(sheet?.pages[number + by] ?? wanted[place + by]);
  const onKeyDown = (event: KeyboardEvent): void => {
    const by = { PageDown: 1, ArrowRight: 1, PageUp: -1, ArrowLeft: -1 }[event.key] as 1 | -1 | undefined;
    if (by === undefined) return;
    event.preventDefault();
    turn(by);
  };
  const what = entry && sheet ? `${entry.title}, page ${number + 1} of ${sheet.pages.length}` : "";
  return (
    <section className="paper-preview" aria-label="Preview">
      <div className="paper-bar">
        <button
          type="button"
          className="icon-button paper-back"
          aria-label="Page before"
          disabled={!canTurn(-1)}
          onClick={() => turn(-1)}
        >
          <Icon name="chevron" />
        </button>
        <button
          type="button"
          className="icon-button"
          aria-label="Next page"
          disabled={!canTurn(1)}
          onClick={() => turn(1)}
        >
          <Icon name="chevron" />
        </button>
        <span className="cut" role="status">
          {what}
        </span>
        <span className="spring" />
        <label className="check">
          <input type="checkbox" checked={grey} onChange={(event) => setGrey(event.target.checked)} />
          Black and white
        </label>
        <select
          className="field"
          aria-label="Size of the preview"
          value={whole ? "whole" : "real"}
          onChange={(event) => setWhole(event.target.value === "whole")}
        >
          <option value="whole">Whole page</option>
          <option value="real">Real size</option>
        </select>
      </div>
      <div
        className="paper-desk"
        data-whole={whole || undefined}
        tabIndex={0}
        role="group"
        aria-label="Page; arrow keys turn"
        onKeyDown={onKeyDown}
      >
        {made?.problem && (
          <p className="tone-danger" role="alert">
            This sheet can’t be made: {made.problem}
          </p>
        )}
        {entry && !made?.problem && (!made || !drawn) && (
          <p className="wait">
            “{entry.title}” is being {made ? "drawn" : "set"}…
          </p>
        )}
        {page && picture && (
          <img
            src={picture}
            alt={what}
            // The first picture brings its letters with it, which a busy machine takes a while to draw.
            onLoad={() => setDrawn(true)}
            data-grey={grey || undefined}
            style={whole ? { aspectRatio: `${page.width} / ${page.height}` } : { width: `${page.width}mm` }}
          />
        )}
      </div>
      {sheet && page && <PageFiles sheet={sheet} page={page} number={number} />}
    </section>
  );
}

/** The page that is looked at as a file of its own, and what its sheet says as a table. */
function PageFiles({ sheet, page, number }: { sheet: Sheet; page: Page; number: number }) {
  const session = useSession();
  const { show } = useApp((state) => state.analysis);
  const name = `${show.title} ${sheet.title}${sheet.pages.length > 1 ? ` page ${number + 1}` : ""}`;
  const nameOf = (device: string): string => show.devices.find(({ id }) => id === device)?.name ?? device;
  const save = (ending: string, what: string, make: () => Promise<Uint8Array>): void => {
    make().then(
      (bytes) => session.exportBytes(name, ending, bytes, what),
      (error: unknown) =>
        session.problem(`${what} can’t be made: ${error instanceof Error ? error.message : String(error)}`),
    );
  };
  const text = (words: string): Uint8Array => new TextEncoder().encode(words);
  return (
    <div className="paper-bar" role="group" aria-label="This page as a file">
      <span className="soft">This page as</span>
      <button
        type="button"
        className="button"
        onClick={() => save("svg", "The page", async () => text(pageSvg(page, await paperFonts())))}
      >
        SVG
      </button>
      <button
        type="button"
        className="button"
        onClick={() => save("png", "The page", async () => pagePng(page, await paperFonts()))}
      >
        PNG
      </button>
      {sheet.tables.map((table, n) => (
        <button
          key={n}
          type="button"
          className="button"
          onClick={() =>
            void session.exportText(
              `${show.title} ${sheet.title} ${table.title}`.trim(),
              "csv",
              tableCsv(table, nameOf),
              "The table",
            )
          }
        >
          {table.title === "" ? "CSV of the table" : `CSV of “${table.title}”`}
        </button>
      ))}
    </div>
  );
}

interface Made {
  readonly of: Maker;
  readonly entry: SheetEntry;
  readonly sheet: Sheet | null;
  readonly problem: string | null;
}

/** The sheet, once it is made. While another one is being made the last one stays, so that nothing flickers. */
function useSheet(maker: Maker, entry: SheetEntry | undefined): Made | null {
  const [made, setMade] = useState<Made | null>(null);
  useEffect(() => {
    if (!entry) return;
    let isWanted = true;
    const tell = (sheet: Sheet | null, problem: string | null): void => {
      if (isWanted) setMade({ of: maker, entry, sheet, problem });
    };
    maker.make(entry).then(
      (sheet) => tell(sheet, null),
      (error: unknown) => tell(null, error instanceof Error ? error.message : String(error)),
    );
    return () => {
      isWanted = false;
    };
  }, [maker, entry]);
  return made && made.entry.id === entry?.id ? made : null;
}

function usePicture(page: Page | undefined): string | null {
  const [picture, setPicture] = useState<string | null>(null);
  useEffect(() => {
    if (!page) return;
    let isWanted = true;
    void paperFonts().then((fonts) => {
      if (isWanted) setPicture(pictureUrl(page, fonts));
    });
    return () => {
      isWanted = false;
    };
  }, [page]);
  // Let go of once the next one stands in its place.
  useEffect(
    () => () => {
      if (picture !== null) URL.revokeObjectURL(picture);
    },
    [picture],
  );
  return picture;
}
