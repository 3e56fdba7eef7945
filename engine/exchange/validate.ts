/** Checks a parsed file against the published JSON Schema and against what a schema can't say; tells the first fault. */
import type { ListName } from "../model/edit.ts";
import { CONTENT_LISTS } from "../model/revisions.ts";
import validateSchema from "./generated/show-validator.js";
import type { PackedRevision } from "./revisions.ts";

export interface Fault {
  /** `devices[3].routing[0].count` */
  readonly path: string;
  readonly message: string;
}

/** What a generated validator tells of a fault; the shape is that of the schema library. */
export interface SchemaError {
  readonly instancePath: string;
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
  readonly message?: string;
}

/** Null where the file holds. */
export function validate(file: Readonly<Record<string, unknown>>): Fault | null {
  if (!validateSchema(file)) {
    const error = (validateSchema.errors as readonly SchemaError[] | null)?.[0];
    return error ? told(error) : { path: "", message: "the file doesn't follow the schema" };
  }
  return doubleIds(file);
}

/** `/devices/3/routing/0` → `devices[3].routing[0]`. */
function readable(pointer: string): string {
  return pointer
    .split("/")
    .slice(1)
    .map((part) => part.replaceAll("~1", "/").replaceAll("~0", "~"))
    .reduce((path, part) => (/^\d+$/.test(part) ? `${path}[${part}]` : path ? `${path}.${part}` : part), "");
}

/** A validator's fault as a path that a person can follow and what must be. */
export function told({ instancePath, keyword, params, message }: SchemaError): Fault {
  const path = readable(instancePath);
  const at = (key: unknown): string => (path ? `${path}.${String(key)}` : String(key));
  switch (keyword) {
    case "required":
      return { path: at(params["missingProperty"]), message: "is missing" };
    case "additionalProperties":
      return { path: at(params["additionalProperty"]), message: "is not a field that Hopline knows" };
    case "enum":
      return { path, message: `must be one of ${(params["allowedValues"] as unknown[]).join(", ")}` };
    case "const":
      return { path, message: `must be ${JSON.stringify(params["allowedValue"])}` };
    case "type":
      return { path, message: `must be ${article(String(params["type"]))}` };
    case "minimum":
    case "maximum":
      return { path, message: `must be ${String(params["comparison"])} ${String(params["limit"])}` };
    case "pattern":
      return { path, message: "is empty, too long, or has characters that don't belong here" };
    case "maxItems":
    case "minItems":
      return {
        path,
        message: `must have ${keyword === "maxItems" ? "at most" : "at least"} ${String(params["limit"])} entries`,
      };
    case "discriminator":
      return { path, message: "has a kind that Hopline doesn't know" };
    default:
      return { path, message: message ?? "doesn't follow the schema" };
  }
}

const article = (type: string): string => (/^[aio]/.test(type) ? `an ${type}` : `a ${type}`);

/** What a schema can't say: two records of one list with one id, in the show or in what a revision tells of its own. */
function doubleIds(file: Readonly<Record<string, unknown>>): Fault | null {
  const show = file as { readonly [List in ListName]?: Ids };
  for (const list of CONTENT_LISTS) {
    const fault = idsTwice(list, show[list] ?? [], list);
    if (fault) return fault;
  }
  for (const [index, { was }] of (file["revisions"] as readonly PackedRevision[]).entries()) {
    for (const list of was ? CONTENT_LISTS : []) {
      const fault = idsTwice(list, was![list]?.records ?? [], `revisions[${index}].was.${list}.records`);
      if (fault) return fault;
    }
  }
  return null;
}

function idsTwice(list: ListName, records: Ids, path: string): Fault | null {
  const twice = secondOf(records);
  if (twice >= 0)
    return { path: `${path}[${twice}].id`, message: `"${records[twice]!.id}" stands there twice` };
  if (list !== "types") return null;
  for (const [index, type] of (records as readonly TypeIds[]).entries()) {
    const message = idsTwiceIn(type);
    if (message !== null) return { path: `${path}[${index}]`, message };
  }
  return null;
}

/** Two groups or two modes of a type with one id; null where there are none. */
export function idsTwiceIn({ banks, ports, modes, mixer }: TypeIds): string | null {
  const groups = [...banks, ...ports, ...(mixer?.sections ?? [])];
  for (const [what, ids] of [
    ["groups", groups],
    ["modes", modes],
  ] as const) {
    const again = secondOf(ids);
    if (again >= 0) return `two ${what} have the id "${ids[again]!.id}"`;
  }
  return null;
}

/** Index of the first record whose id another before it has; −1 for none. */
function secondOf(records: Ids): number {
  if (countUp(records)) return -1;
  const seen = new Set<string>();
  return records.findIndex(({ id }) => seen.size === seen.add(id).size);
}

/** Whether each id comes after the one before it, the shorter first, as in most lists: then no set of thousands is needed. */
function countUp(records: Ids): boolean {
  for (let n = 1; n < records.length; n++) {
    const [before, id] = [records[n - 1]!.id, records[n]!.id];
    if (id.length < before.length || (id.length === before.length && id <= before)) return false;
  }
  return true;
}

type Ids = readonly { readonly id: string }[];
interface TypeIds {
  readonly id: string;
  readonly banks: Ids;
  readonly ports: Ids;
  readonly modes: Ids;
  readonly mixer?: { readonly sections: Ids };
}
