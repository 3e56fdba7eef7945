/** Checks a parsed file against the published JSON Schema and against what a schema can't say; tells the first fault. */
import validateSchema from "./generated/show-validator.js";

export interface Fault {
  /** `devices[3].routing[0].count` */
  readonly path: string;
  readonly message: string;
}

/** What the generated validator tells of a fault; the shape is that of the schema library. */
interface SchemaError {
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

function told({ instancePath, keyword, params, message }: SchemaError): Fault {
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

/** Lists whose records are known by their id. */
const KEYED = [
  "places",
  "types",
  "devices",
  "cables",
  "sources",
  "channels",
  "mixes",
  "wants",
  "streams",
  "groups",
] as const;

function doubleIds(file: Readonly<Record<string, unknown>>): Fault | null {
  for (const list of KEYED) {
    const seen = new Set<string>();
    for (const [index, { id }] of ((file[list] ?? []) as { readonly id: string }[]).entries()) {
      if (seen.has(id)) return { path: `${list}[${index}].id`, message: `"${id}" stands there twice` };
      seen.add(id);
    }
  }
  for (const [index, type] of (file["types"] as TypeIds[]).entries()) {
    const seen = new Set<string>();
    for (const { id } of [...type.banks, ...type.ports, ...(type.mixer?.sections ?? [])]) {
      if (seen.has(id)) return { path: `types[${index}]`, message: `two groups have the id "${id}"` };
      seen.add(id);
    }
    const modes = new Set<string>();
    for (const { id } of type.modes) {
      if (modes.has(id)) return { path: `types[${index}]`, message: `two modes have the id "${id}"` };
      modes.add(id);
    }
  }
  return null;
}

type Ids = readonly { readonly id: string }[];
interface TypeIds {
  readonly banks: Ids;
  readonly ports: Ids;
  readonly modes: Ids;
  readonly mixer?: { readonly sections: Ids };
}
