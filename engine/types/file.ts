/** A device type as a file of its own, `.hopline-type`, and its way into a show. */
import validateType from "../exchange/generated/type-validator.js";
import { fail, findHostile, isRecord, jsonProblem, type LoadError } from "../exchange/load.ts";
import { idsTwiceIn, told, type SchemaError } from "../exchange/validate.ts";
import { TYPE_FORMAT, TYPE_VERSION, type DeviceType } from "../model/device-type.ts";
import type { Edit } from "../model/edit.ts";
import { id, type TypeId } from "../model/ids.ts";
import { ok, type Result } from "../model/result.ts";
import { sameData } from "../model/same.ts";
import type { Show } from "../model/show.ts";

export const TYPE_EXTENSION = ".hopline-type";

/** Far above any type; a file of more isn't looked into. */
export const MOST_TYPE_CHARACTERS = 5_000_000;

/** Type → text. The same type gives the same bytes; ends with a line break. */
export const saveType = (type: DeviceType): string =>
  `${JSON.stringify({ format: TYPE_FORMAT, version: TYPE_VERSION, type }, null, 2)}\n`;

/**
 * Reads a `.hopline-type` file's text: whole, or refused with a place and a reason. A byte order mark before it is passed
 * over. What `checkType` says of the type is another matter: it loads, and the editor tells.
 */
export function loadType(file: string): Result<DeviceType, LoadError> {
  if (file.length > MOST_TYPE_CHARACTERS) {
    return fail(
      "hostile",
      "",
      "the file is larger than 5 million characters, more than any device type needs",
    );
  }
  const text = file.startsWith("\uFEFF") ? file.slice(1) : file;
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return fail(
      "not-json",
      "",
      `the file is not JSON: ${jsonProblem(text).replace("of the show", "of the type")}`,
    );
  }
  if (!isRecord(value) || value["format"] !== TYPE_FORMAT) {
    return fail(
      "not-a-type",
      "",
      `the file is JSON but not a device type: its "format" is not "${TYPE_FORMAT}"`,
    );
  }
  const version = value["version"];
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1) {
    return fail("not-a-type", "version", "a whole number from 1 on is needed");
  }
  if (version > TYPE_VERSION) {
    return fail(
      "newer",
      "version",
      `the file was written by a newer Hopline (file version ${version}; this one reads up to ${TYPE_VERSION})`,
    );
  }
  const hostile = findHostile(value);
  if (hostile) return fail("hostile", hostile.path, hostile.message);
  if (!validateType(value)) {
    const [fault] = validateType.errors as readonly SchemaError[];
    const { path, message } = told(fault!);
    return fail("invalid", path, message);
  }
  const type = value["type"] as DeviceType;
  const twice = idsTwiceIn(type);
  return twice === null ? ok(type) : fail("invalid", "type", twice);
}

/** Where a type stands to a show. */
export type TypeStanding =
  /** The show has no type of its id. */
  | { readonly kind: "new" }
  /** The show has it as it is. */
  | { readonly kind: "same" }
  /** The show has another type under its id: it can come as a new version of that, or as a copy. */
  | { readonly kind: "other"; readonly present: DeviceType };

export function standingOf({ types }: Pick<Show, "types">, type: DeviceType): TypeStanding {
  const present = types.find((each) => each.id === type.id);
  if (!present) return { kind: "new" };
  return sameData(present, type) ? { kind: "same" } : { kind: "other", present };
}

/** The edits that put a type beside the ones that the show has. */
export const addType = (type: DeviceType): readonly Edit[] => [{ kind: "put", list: "types", record: type }];

/** The same type under an id and a name that no other has. */
export function copyOfType(type: DeviceType, others: readonly Pick<DeviceType, "id" | "name">[]): DeviceType {
  const ids = new Set<string>(others.map((other) => other.id));
  const names = new Set(others.map(({ name }) => name));
  const name = firstFree(
    (n) => (n === 0 ? type.name : n === 1 ? `${type.name}, copy` : `${type.name}, copy ${n}`),
    names,
  );
  return { ...type, id: id<TypeId>(freeId(type.id, ids)), name: name.slice(0, 200) };
}

/** `wanted` as an id that isn't taken: with a number after it where it is. */
export function freeId(wanted: string, taken: ReadonlySet<string>): string {
  const stem = wanted.slice(0, 56);
  return firstFree((n) => (n === 0 ? wanted.slice(0, 64) : `${stem}-${n + 1}`), taken);
}

function firstFree(name: (n: number) => string, taken: ReadonlySet<string>): string {
  for (let n = 0; ; n++) if (!taken.has(name(n))) return name(n);
}
