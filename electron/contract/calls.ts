/**
 * What passes between the page and its host, for both hosts: the names, and for each the check of its arguments. The
 * types come from `HostApi`, so that a method added there is missed here by the compiler.
 */
import type {
  ExportRequest,
  HostApi,
  MenuEntry,
  Page,
  PdfBookmark,
  PdfFacts,
  PrintRequest,
  Recovery,
  SaveRequest,
  WatchRequest,
  WindowState,
} from "#engine";
import { bytes, day, flag, length, list, nullable, oneOf, record, text, whole } from "./check.ts";
import type { Check } from "./check.ts";

/** The methods that ask the host for something and wait for the answer. */
export type CallName = {
  [Name in keyof HostApi]: HostApi[Name] extends (...args: never[]) => Promise<unknown> ? Name : never;
}[keyof HostApi];

export type Calls = Pick<HostApi, CallName>;

type Checks<Args extends readonly unknown[]> = { readonly [Index in keyof Args]: Check<Args[Index]> };

/** 50 MB: the largest show that is opened or saved. */
export const MAX_SHOW_BYTES = 50 * 1024 * 1024;
/** Exports may be larger than the show: a poster as a picture, a set of sheets. */
export const MAX_EXPORT_BYTES = 100 * 1024 * 1024;

const path = text(4096);
const title = text(1000);
const suggestedName = text(255);
/** Characters, never more than bytes; the bytes are counted where they are written. */
const showText = text(MAX_SHOW_BYTES);
const showId = text(200);
const job = text(100);

const MAX_OUTLINE_DEPTH = 3;
const MAX_PAGES = 100_000;

const isBookmark =
  (depth: number): Check<PdfBookmark> =>
  (value): value is PdfBookmark =>
    record<PdfBookmark>({
      title,
      page: whole(MAX_PAGES),
      below: list(isBookmark(depth - 1), depth > 1 ? MAX_PAGES : 0),
    })(value);

/** Millimetres; a PDF has no longer side (ISO 32000-1, annex C: 14 400 units of 1/72 inch). */
const side = length(5080);

const page = record<Page>({ width: side, height: side, svg: text(MAX_EXPORT_BYTES) });

const facts = record<PdfFacts>({
  title,
  author: title,
  date: day,
  outline: list(isBookmark(MAX_OUTLINE_DEPTH), MAX_PAGES),
});

/** Each call's arguments. `null` and a missing argument differ; there is no optional one. */
export const CALLS: { readonly [Name in CallName]: Checks<Parameters<Calls[Name]>> } = {
  startFile: [],
  pickOpen: [],
  pickSave: [suggestedName],
  listFolder: [nullable(path)],
  open: [path],
  save: [record<SaveRequest>({ path, text: showText, expect: nullable(text(200)) })],
  watchFile: [record<WatchRequest>({ window: text(200), path: nullable(path), stamp: nullable(text(200)) })],
  demos: [],
  recent: [],
  noteRecent: [path, title],
  writeRecovery: [
    record<Omit<Recovery, "writtenAt">>({
      showId,
      title,
      path: nullable(path),
      text: showText,
      unfinished: nullable(showText),
    }),
  ],
  recoveries: [],
  dropRecovery: [showId],
  exportBytes: [record<ExportRequest>({ suggestedName, bytes, path: nullable(path) })],
  printPdf: [
    record<PrintRequest>({
      job,
      suggestedName,
      pages: list(page, MAX_PAGES),
      facts,
      path: nullable(path),
    }),
  ],
  cancelPrint: [job],
};

export const CALL_NAMES = Object.keys(CALLS) as readonly CallName[];

export const isCallName = (name: string): name is CallName => Object.hasOwn(CALLS, name);

/** Whether `args` fit the call. The answer is sound because the table's type ties each name to its arguments. */
export function argumentsFit<Name extends CallName>(
  name: Name,
  args: unknown,
): args is Parameters<Calls[Name]> {
  const checks = CALLS[name] as readonly Check<unknown>[];
  return (
    Array.isArray(args) && args.length === checks.length && checks.every((check, index) => check(args[index]))
  );
}

/** Calls `name` on a host's implementation, with arguments that were checked. */
export function invoke<Name extends CallName>(
  calls: Calls,
  name: Name,
  args: Parameters<Calls[Name]>,
): ReturnType<Calls[Name]> {
  const method = calls[name] as (...args: Parameters<Calls[Name]>) => ReturnType<Calls[Name]>;
  return method(...args);
}

export const isWindowState = record<WindowState>({ title, path: nullable(path), modified: flag });

const label = text(200);
const isMenuCommand = record<Extract<MenuEntry, { kind: "command" }>>({
  kind: oneOf("command"),
  id: label,
  label,
  keys: text(60),
  enabled: flag,
});
const isSeparator = record<Extract<MenuEntry, { kind: "separator" }>>({ kind: oneOf("separator") });

/** A menu deeper than this is a mistake, and would cost a stack. */
const MAX_MENU_DEPTH = 4;

const isMenuEntry =
  (depth: number): Check<MenuEntry> =>
  (value): value is MenuEntry =>
    isMenuCommand(value) ||
    isSeparator(value) ||
    (depth > 1 &&
      record<Extract<MenuEntry, { kind: "submenu" }>>({
        kind: oneOf("submenu"),
        label,
        entries: list(isMenuEntry(depth - 1), 200),
      })(value));

export const isMenu = list(isMenuEntry(MAX_MENU_DEPTH), 30);
