/**
 * Text → show. A file is loaded whole or refused with a place and a reason; nothing half-loaded ever leaves here.
 */
import { err, ok, type Result } from "../model/result.ts";
import type { ListName } from "../model/edit.ts";
import { CONTENT_LISTS } from "../model/revisions.ts";
import {
  SHOW_FORMAT,
  SHOW_VERSION,
  type ArrivalGroup,
  type Device,
  type Mix,
  type Revision,
  type Show,
  type ShowContent,
  type Stream,
} from "../model/show.ts";
import { jsonFault } from "./json-fault.ts";
import { unpackRevisions, type PackedRevision } from "./revisions.ts";
import { migrate } from "./migrate.ts";
import { tooLarge } from "./size.ts";
import { validate } from "./validate.ts";

export type LoadErrorCode = "not-json" | "hostile" | "not-a-show" | "not-a-type" | "newer" | "invalid";

export interface LoadError {
  readonly code: LoadErrorCode;
  /** Where in the file, as a path like `devices[3].routing[0].count`; empty for the file as a whole. */
  readonly path: string;
  /** One plain line that says what and where. */
  readonly message: string;
}

/** Limits on what is read: far above any rig, far below what would hang a machine. */
export const MOST_CHARACTERS = 50_000_000;
export const MOST_DEPTH = 64;
export const MOST_ITEMS = 200_000;

export function fail(code: LoadErrorCode, path: string, message: string): Result<never, LoadError> {
  const place = plain(path);
  return err({ code, path: place, message: place ? `${place}: ${plain(message)}` : plain(message) });
}

/** A file's own keys stand in paths: whatever would break a line or move a terminal's cursor is left out, and length too. */
function plain(text: string): string {
  const line = text.replaceAll(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]+/gu, " ");
  return line.length > MOST_TOLD ? `${line.slice(0, MOST_TOLD)}…` : line;
}

const MOST_TOLD = 240;

/** Reads a `.hopline` file's text. A byte order mark before it is passed over, as RFC 8259 allows. */
export function loadShow(file: string): Result<Show, LoadError> {
  if (file.length > MOST_CHARACTERS) {
    return fail("hostile", "", "the file is larger than 50 million characters, more than any show needs");
  }
  const text = file.startsWith("\uFEFF") ? file.slice(1) : file;
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return fail("not-json", "", `the file is not JSON: ${jsonProblem(text)}`);
  }
  if (!isRecord(value) || value["format"] !== SHOW_FORMAT) {
    return fail("not-a-show", "", `the file is JSON but not a show: its "format" is not "${SHOW_FORMAT}"`);
  }
  const version = value["version"];
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1) {
    return fail("not-a-show", "version", "a whole number from 1 on is needed");
  }
  if (version > SHOW_VERSION) {
    return fail(
      "newer",
      "version",
      `the file was written by a newer Hopline (file version ${version}; this one reads up to ${SHOW_VERSION})`,
    );
  }
  // A migration sees the file before its schema is checked.
  const hostile = version < SHOW_VERSION ? findHostile(value) : null;
  if (hostile) return fail("hostile", hostile.path, hostile.message);
  const current = migrate(value, version);
  const problem = validate(current);
  if (problem) {
    // What the schema allows has neither depth nor odd keys, so the walk for them is kept for what it refuses.
    const worse = findHostile(current);
    return worse
      ? fail("hostile", worse.path, worse.message)
      : fail("invalid", problem.path, problem.message);
  }
  const show = current as unknown as Omit<Show, "revisions"> & {
    readonly revisions: readonly PackedRevision[];
  };
  if (countItems(show) > MOST_ITEMS) {
    return fail("hostile", "", `the file has more than ${MOST_ITEMS} entries in all lists`);
  }
  const large = tooLarge(show);
  if (large) return fail("hostile", large.path, large.message);
  const revisions = unpackRevisions(show, show.revisions);
  if (!revisions.ok) {
    const { code, path, message } = revisions.error;
    return fail(code, path, message);
  }
  const largeThen = tooLargeThen(show, revisions.value);
  if (largeThen) return fail("hostile", largeThen.path, largeThen.message);
  return ok({ ...show, revisions: revisions.value });
}

/** The first revision whose rig is too large to be worked out. One that shares its lists with another is as large. */
function tooLargeThen(now: ShowContent, revisions: readonly Revision[]): ReturnType<typeof tooLarge> {
  let checked = now;
  for (const [index, { was }] of [...revisions.entries()].reverse()) {
    if (!was || CONTENT_LISTS.every((name) => was[name] === checked[name])) continue;
    const large = tooLarge(was);
    if (large) return { ...large, path: `revisions[${index}].was.${large.path}` };
    checked = was;
  }
  return null;
}

/** Entries of a valid file's long lists, the short ones inside its types left out. */
function countItems(
  file: Omit<Show, "revisions"> & { readonly revisions: readonly PackedRevision[] },
): number {
  const { lineChecks, revisions } = file;
  let items = countContent(file) + lineChecks.length + revisions.length;
  for (const { was } of revisions) {
    for (const name of was ? CONTENT_LISTS : []) {
      const { order = [], records = [] } = was![name] ?? {};
      items += order.length + countRecords(name, records);
    }
  }
  return items;
}

const countContent = (content: ShowContent): number =>
  CONTENT_LISTS.reduce((items, name) => items + countRecords(name, content[name] ?? []), 0);

/** The records of a list and of the lists inside them. */
function countRecords(name: ListName, records: readonly object[]): number {
  let items = records.length;
  if (name === "devices") for (const { routing } of records as readonly Device[]) items += routing.length;
  if (name === "streams") for (const { to } of records as readonly Stream[]) items += to.length;
  if (name === "mixes" || name === "groups") {
    for (const { members } of records as readonly (Mix | ArrivalGroup)[]) items += members.length;
  }
  return items;
}

export const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** What keeps a text from being JSON, with its line and column, which a person can go to. */
export function jsonProblem(text: string): string {
  if (text.trim() === "") return "it is empty";
  const fault = jsonFault(text);
  return fault ? `${fault.what} (line ${fault.line}, column ${fault.column})` : "it can't be read";
}

/** Walks the parsed value with a stack of its own, since depth is one of the things that it looks for. */
export function findHostile(root: unknown): { readonly path: string; readonly message: string } | null {
  let items = 0;
  const open: { readonly value: unknown; readonly path: string; readonly depth: number }[] = [
    { value: root, path: "", depth: 0 },
  ];
  for (let entry = open.pop(); entry; entry = open.pop()) {
    const { value, path, depth } = entry;
    if (typeof value !== "object" || value === null) continue;
    if (depth > MOST_DEPTH)
      return { path: path.slice(0, 80), message: `nested deeper than ${MOST_DEPTH} levels` };
    if (Array.isArray(value)) {
      items += value.length;
      if (items > MOST_ITEMS) return { path, message: `more than ${MOST_ITEMS} entries in all lists` };
      for (let n = value.length - 1; n >= 0; n--) {
        if (typeof value[n] === "object")
          open.push({ value: value[n], path: `${path}[${n}]`, depth: depth + 1 });
      }
      continue;
    }
    for (const key of Object.keys(value)) {
      if (key === "__proto__" || key === "constructor" || key === "prototype") {
        return { path: join(path, key), message: "a key of this name is refused" };
      }
      open.push({ value: (value as Record<string, unknown>)[key], path: join(path, key), depth: depth + 1 });
    }
  }
  return null;
}

const join = (path: string, key: string): string => (path ? `${path}.${key}` : key);
