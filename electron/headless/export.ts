/**
 * `headless export`: a show's papers, tables, hand-out and wiring as files. Everything is made before the first file is
 * written, and each goes to disk whole or not at all.
 */
import { promises as fs } from "node:fs";
import { extname, join, resolve, sep } from "node:path";
import {
  csvOf,
  dot,
  err,
  graphml,
  handoutHtml,
  nearest,
  ok,
  outlineOf,
  pageSvg,
  paperOfLists,
  PAPERS,
  sheetEntries,
  sheetsNamed,
  signalNamed,
  slug,
  TABLE_NAMES,
  tableCsv,
  tableOf,
  WIRING_LEVELS,
  type Analysis,
  type AtReport,
  type MadeSheet,
  type Paper,
  type PaperFont,
  type PaperJob,
  type PaperTools,
  type Result,
  type Sheet,
  type SheetEntry,
  type TableId,
  type WiringLevel,
} from "#engine";
import { writeExport } from "../services/exports.ts";
import { BrowserPainter, MOST_PIXELS, pixelsOf } from "../services/pictures.ts";
import type { Services } from "../services/services.ts";

export const EXPORT_FORMATS = ["pdf", "svg", "png", "csv", "html", "graphml", "dot"] as const;
export type ExportFormat = (typeof EXPORT_FORMATS)[number];

/** Whether diagrams may be among what is exported. */
export const needsLayout = ({ to = "", sheet }: ExportOptions): boolean =>
  ["pdf", "svg", "png", "csv"].includes(to.toLowerCase()) &&
  (sheet === undefined || sheet.some((name) => /diagram|signal/i.test(name)));

export interface ExportOptions {
  readonly to?: string;
  readonly sheet?: readonly string[];
  readonly paper?: string;
  readonly out?: string;
  readonly date?: string;
  readonly author?: string;
  readonly scale?: string;
}

export interface ExportReport {
  readonly format: "hopline.export/1";
  readonly at?: AtReport;
  readonly to: ExportFormat;
  readonly date: string;
  readonly files: readonly {
    readonly path: string;
    readonly bytes: number;
    /** What stands in it: ids of sheets, names of lists or the level of the wiring; none for the hand-out. */
    readonly sheets: readonly string[];
  }[];
}

/** A file before it has a path. */
interface Made {
  /** What it is called in a folder, without its ending. */
  readonly name: string;
  readonly sheets: readonly string[];
  readonly bytes: Uint8Array;
}

interface Order {
  readonly to: ExportFormat;
  readonly sheets: readonly string[];
  readonly paper: Paper | null;
  readonly date: string;
  readonly author: string;
  readonly scale: number;
}

/** What is needed from around the engine. */
export interface ExportTools {
  readonly services: Services;
  /** Folder of what comes with the app. */
  readonly assets: string;
  readonly paperTools: PaperTools;
  readonly signal: AbortSignal;
}

const text = (content: string): Uint8Array => new TextEncoder().encode(content);

/** Writes what is asked for, or says in one line why nothing was written. */
export async function exportFiles(
  analysis: Analysis,
  options: ExportOptions,
  tools: ExportTools,
): Promise<Result<ExportReport, string>> {
  const order = orderOf(options);
  if (!order.ok) return order;
  if (options.out === undefined || options.out === "") return err("export needs --out PATH");
  const { to, date } = order.value;
  const target = await targetOf(options.out, to);
  if (!target.ok) return target;
  const made = await make(analysis, order.value, tools);
  if (!made.ok) return made;
  const paths = target.value(made.value.map(({ name }) => name));
  if (!paths.ok) return paths;
  const written = await writeAll(tools.services, made.value, paths.value);
  if (!written.ok) return written;
  return ok({
    format: "hopline.export/1",
    to,
    date,
    files: made.value.map(({ sheets, bytes }, n) => ({ path: paths.value[n]!, bytes: bytes.length, sheets })),
  });
}

function orderOf({ to, sheet = [], paper, date, author = "", scale }: ExportOptions): Result<Order, string> {
  const formats = EXPORT_FORMATS.join(", ");
  if (to === undefined) return err(`export needs --to, one of ${formats}`);
  const format = EXPORT_FORMATS.find((each) => each === to.toLowerCase());
  if (!format) return err(`"${to}" can't be exported to; there are ${formats}`);
  const size = PAPERS.find((each) => each.toLowerCase() === paper?.toLowerCase()) ?? null;
  if (paper !== undefined && !size)
    return err(`there is no paper "${paper}"; there are ${PAPERS.join(", ")}`);
  if (date !== undefined && !isDay(date)) return err(`--date needs a day such as 2026-11-26, not "${date}"`);
  const times = scale === undefined ? 2 : Number(scale);
  if (scale?.trim() === "" || !(times >= 0.1 && times <= 20)) {
    return err(`--scale needs a number from 0.1 to 20, not "${scale}"; 1 is 96 pixels to the inch`);
  }
  if (format === "html" && sheet.length > 0) {
    return err("the hand-out is one page of the whole show and takes no --sheet");
  }
  const day = date ?? today();
  return ok({ to: format, sheets: sheet, paper: size, date: day, author, scale: times });
}

function isDay(text: string): boolean {
  const at = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
  return at !== null && !Number.isNaN(at.getTime()) && at.toISOString().startsWith(text);
}

function today(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

type Paths = (names: readonly string[]) => Result<readonly string[], string>;

/** Where files go: into a folder that is there, each under its name, or to PATH, numbered where there are several. */
async function targetOf(out: string, to: ExportFormat): Promise<Result<Paths, string>> {
  const path = resolve(out);
  const folder = await fs.stat(path).then(
    (info) => info.isDirectory(),
    () => false,
  );
  const ending = `.${to}`;
  if (folder) {
    return ok((names) => {
      const taken = new Set<string>();
      return ok(
        names.map((name) => {
          let free = name;
          for (let n = 2; taken.has(free); n++) free = `${name}-${n}`;
          taken.add(free);
          return join(path, `${free}${ending}`);
        }),
      );
    });
  }
  if (out.endsWith("/") || out.endsWith(sep)) return err(`the folder ${out} is not there`);
  if (extname(path).toLowerCase() !== ending) {
    return err(`--out needs a name that ends in ${ending}, or a folder that is there, not "${out}"`);
  }
  const base = path.slice(0, -ending.length);
  return ok((names) =>
    ok(names.length === 1 ? [path] : names.map((_, n) => `${base}-${n + 1}${path.slice(-ending.length)}`)),
  );
}

async function make(
  analysis: Analysis,
  order: Order,
  tools: ExportTools,
): Promise<Result<readonly Made[], string>> {
  const title = slug(analysis.show.title);
  switch (order.to) {
    case "html":
      return ok([{ name: `${title}-hand-out`, sheets: [], bytes: text(handoutHtml(analysis, order.date)) }]);
    case "graphml":
    case "dot": {
      const write = order.to === "dot" ? dot : graphml;
      const levels = levelsOf(order.sheets);
      if (!levels.ok) return levels;
      return ok(
        levels.value.map((level) => ({
          name: `${title}-${level}`,
          sheets: [level],
          bytes: text(write(analysis, level)),
        })),
      );
    }
    case "csv":
      return tables(analysis, order, tools);
    case "svg":
    case "png":
    case "pdf":
      return papers(analysis, order, tools, order.to);
  }
}

function levelsOf(names: readonly string[]): Result<readonly WiringLevel[], string> {
  if (names.length === 0) return ok(["signals"]);
  const levels: WiringLevel[] = [];
  for (const name of names) {
    const level = WIRING_LEVELS.find((each) => each === name.toLowerCase());
    if (!level) return err(`the wiring has no sheet "${name}"; there are ${WIRING_LEVELS.join(" and ")}`);
    levels.push(level);
  }
  return ok([...new Set(levels)]);
}

function jobOf(analysis: Analysis, { paper, date, author }: Order): PaperJob {
  const usual = analysis.show.settings.paper;
  return { analysis, paper: paper ?? usual, listPaper: paper ?? paperOfLists(usual), date, author };
}

/** The sheets that are named, each once, in the order of a set; the diagrams of single signals stand first. */
function chosen(
  analysis: Analysis,
  entries: readonly SheetEntry[],
  names: readonly string[],
): Result<readonly SheetEntry[], string> {
  const wanted = new Set<SheetEntry>();
  const signals = new Map<string, SheetEntry>();
  for (const name of names) {
    const [, signal] = /^\s*signal\/(.+)$/i.exec(name) ?? [];
    if (signal !== undefined) {
      const entry = signalNamed(analysis, signal);
      if (!entry.ok) {
        const meant = entry.error.nearest.map((each) => `"signal/${each}"`).join(", ");
        return err(`the show has no source or jack "${signal}"${meant === "" ? "" : `; nearest: ${meant}`}`);
      }
      signals.set(entry.value.id, entry.value);
      continue;
    }
    const found = sheetsNamed(entries, name);
    if (!found.ok) {
      const kinds = [...new Set(entries.map(({ kind }) => slug(kind)))].join(", ");
      return err(found.error.includes("; nearest: ") ? found.error : `${found.error}; there are ${kinds}`);
    }
    for (const entry of found.value) wanted.add(entry);
  }
  return ok([...signals.values(), ...entries.filter((entry) => wanted.has(entry))]);
}

/**
 * Diagrams wait for the layout library most of their time; the other sheets are made meanwhile, and what is left to do once
 * the last diagram has come is kept small.
 */
async function madeOf(
  entries: readonly SheetEntry[],
  job: PaperJob,
  { paperTools, services }: ExportTools,
  to: ExportFormat,
): Promise<readonly MadeSheet[]> {
  const made = new Map<SheetEntry, Promise<Sheet> | Sheet>();
  const isDiagram = ({ kind }: SheetEntry): boolean => kind === "diagram";
  const isPdf = to === "pdf";
  const set = async (entry: SheetEntry): Promise<Sheet> => {
    const sheet = await entry.make(job, paperTools);
    if (isPdf) for (const page of sheet.pages) await services.press.prepare(page);
    return sheet;
  };
  for (const entry of entries.filter(isDiagram)) {
    const sheet = set(entry);
    // Told below, when it is its turn.
    sheet.catch(() => undefined);
    made.set(entry, sheet);
  }
  for (const entry of entries.filter((each) => !isDiagram(each))) {
    made.set(entry, await set(entry));
    await breathe();
  }
  if (isPdf) await services.press.ready();
  return Promise.all(entries.map(async (entry) => ({ kind: entry.kind, sheet: await made.get(entry)! })));
}

/** What waits for the layout library has its turn. */
const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

const LISTS = Object.keys(TABLE_NAMES) as readonly TableId[];

/** `list/inputs`: a list of the app beside the papers' tables. */
async function tables(
  analysis: Analysis,
  order: Order,
  tools: ExportTools,
): Promise<Result<readonly Made[], string>> {
  const { show, wiring } = analysis;
  const nameOf = (device: string): string =>
    show.devices[wiring.indexOf.get(device as never) ?? -1]?.name ?? device;
  const all = order.sheets.length === 0;
  const lists: TableId[] = all ? [...LISTS] : [];
  const names: string[] = [];
  for (const name of order.sheets) {
    const asked = /^lists?(?:\/(.*))?$/i.exec(name.trim());
    const rest = asked?.[1];
    if (!asked) names.push(name);
    else if (rest === undefined) lists.push(...LISTS);
    else {
      const list = LISTS.find((each) => each === rest.toLowerCase());
      if (!list) {
        const meant = nearest(rest, LISTS)[0];
        return err(
          `there is no list "${rest}"; ${meant ? `nearest: list/${meant}; ` : ""}there are ${LISTS.join(", ")}`,
        );
      }
      lists.push(list);
    }
  }
  const entries = sheetEntries(analysis);
  const sheets = all ? ok(entries) : chosen(analysis, entries, names);
  if (!sheets.ok) return sheets;
  const made = await madeOf(sheets.value, jobOf(analysis, order), tools, order.to);
  const ofSheets = made.flatMap(({ sheet: { id, tables: parts } }) =>
    parts.map((table, n) => ({
      name: `${id.replaceAll("/", "-")}${parts.length === 1 ? "" : `-${n + 1}`}`,
      sheets: [id],
      bytes: text(tableCsv(table, nameOf)),
    })),
  );
  const ofLists = [...new Set(lists)].map((id) => ({
    name: `list-${id}`,
    sheets: [`list/${id}`],
    bytes: text(csvOf(tableOf(id, show, analysis))),
  }));
  const found = [...ofSheets, ...ofLists];
  if (found.length === 0) return err(`${order.sheets.join(", ")} has no table; export it to svg, png or pdf`);
  return ok(found);
}

async function papers(
  analysis: Analysis,
  order: Order,
  tools: ExportTools,
  to: "svg" | "png" | "pdf",
): Promise<Result<readonly Made[], string>> {
  const entries = sheetEntries(analysis);
  const all = order.sheets.length === 0;
  // A picture is of one thing; a PDF takes the whole set.
  const sheets =
    all && to === "pdf" ? ok(entries) : chosen(analysis, entries, all ? ["diagram"] : order.sheets);
  if (!sheets.ok) return sheets;
  const made = await madeOf(sheets.value, jobOf(analysis, order), tools, order.to);
  const { show } = analysis;
  if (to === "pdf") {
    const [only] = made;
    const title = made.length === 1 ? `${show.title}: ${only!.sheet.title}` : show.title;
    const printed = await tools.services.press.pdf(
      {
        pages: made.flatMap(({ sheet }) => sheet.pages),
        facts: { title, author: order.author, date: order.date, outline: outlineOf(made) },
      },
      tools.signal,
    );
    if (!printed.ok) return err(printed.error.message);
    const name = made.length === 1 ? only!.sheet.id.replaceAll("/", "-") : slug(show.title);
    return ok([{ name, sheets: made.map(({ sheet }) => sheet.id), bytes: printed.value }]);
  }
  const fonts = await fontsIn(tools.assets);
  if (!fonts.ok) return fonts;
  const pages = made.flatMap(({ sheet: { id, pages: all } }) =>
    all.map((page, n) => ({
      page,
      name: `${id.replaceAll("/", "-")}${all.length === 1 ? "" : `-${n + 1}`}`,
      sheets: [id],
      svg: pageSvg(page, fonts.value),
    })),
  );
  if (to === "svg")
    return ok(pages.map(({ name, sheets: ids, svg }) => ({ name, sheets: ids, bytes: text(svg) })));
  for (const { page } of pages) {
    const { width, height } = pixelsOf(page, order.scale);
    const most = Math.max(width, height);
    if (most > MOST_PIXELS) {
      return err(
        `at --scale ${order.scale} the picture would be ${most} pixels long; at most ${MOST_PIXELS} can be made`,
      );
    }
  }
  const painted = await new BrowserPainter().paint(
    pages.map(({ page: { width, height }, svg }) => ({ svg, width, height })),
    order.scale,
  );
  if (!painted.ok) return err(painted.error.message);
  return ok(pages.map(({ name, sheets: ids }, n) => ({ name, sheets: ids, bytes: painted.value[n]! })));
}

async function fontsIn(assets: string): Promise<Result<readonly PaperFont[], string>> {
  const path = join(assets, "fonts", "paper-font.json");
  try {
    return ok(JSON.parse(await fs.readFile(path, "utf8")) as readonly PaperFont[]);
  } catch {
    return err(`the typeface of papers is missing: ${path} can't be read`);
  }
}

/** Where one can't be written, what of the others is new is taken away again. */
async function writeAll(
  { writer }: Services,
  made: readonly Made[],
  paths: readonly string[],
): Promise<Result<null, string>> {
  const added: string[] = [];
  for (const [n, { bytes }] of made.entries()) {
    const path = paths[n]!;
    const isNew = await fs.access(path).then(
      () => false,
      () => true,
    );
    const written = await writeExport(writer, path, bytes, "replace");
    if (!written.ok) {
      for (const each of added) await writer.remove(each);
      return err(written.error.message);
    }
    if (isNew) added.push(path);
  }
  return ok(null);
}
