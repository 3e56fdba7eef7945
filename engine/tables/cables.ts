/** The cable schedule: tag, kind, length, and what each cable joins. */
import { CABLES, JACK_CABLES } from "../catalog/cables.ts";
import { without } from "../findings/remedies.ts";
import { CABLE_KINDS, type CableKind } from "../model/device-type.ts";
import { id, type CableId } from "../model/ids.ts";
import { err, ok } from "../model/result.ts";
import type { Cable, CableEnd, Settings, Show } from "../model/show.ts";
import { FOOT_IN_METRES, metres, metresToFeet, round, type Metres } from "../model/units.ts";
import { spanGroup } from "../wiring/layout.ts";
import { directoryOf, readEnd, tellEnd, type Directory } from "./places.ts";
import { field, makeTable, type ColumnSpec, type Created, type NewCells, type Table } from "./table.ts";
import { LONGEST_NAME, readChoice, readWhole, tellChoice, type Choice, type Read } from "./words.ts";
import type { Work } from "./work.ts";

const KINDS: readonly Choice<CableKind>[] = CABLE_KINDS.map((kind) => ({
  value: kind,
  names: [CABLES[kind].name, kind],
}));

/** As the file's schema has them. */
const MOST_METRES = 100_000;
const MOST_WAYS = 1024;

/** A length in the show's units, or in those that are typed behind it. Null: not known. */
export function readLength(text: string, units: Settings["units"]): Read<Metres | null> {
  const typed = text.trim().replace(",", ".");
  if (typed === "" || typed === "?") return ok(null);
  const [, number, unit = ""] =
    /^(\d+(?:\.\d+)?)\s*(m|metres?|meters?|ft|feet|foot|'|′)?$/i.exec(typed) ?? [];
  if (number === undefined) return err(`“${text.trim()}” is no length, such as 75 or 250 ft.`);
  const isFeet = unit === "" ? units === "imperial" : !unit.toLowerCase().startsWith("m");
  // A tenth of a millimetre: feet that were metres become the same metres again.
  const length = round(Number(number) * (isFeet ? FOOT_IN_METRES : 1), isFeet ? 4 : 9);
  return length <= MOST_METRES ? ok(metres(length)) : err("That is longer than any cable.");
}

export const tellLength = (length: Metres | undefined, units: Settings["units"]): string => {
  if (length === undefined) return "";
  return String(units === "metric" ? length : round(metresToFeet(length), 4));
};

const cableField = field<Cable>(
  (work, key) => work.get("cables", key),
  (work, record) => work.put("cables", record),
);

export function cablesTable(show: Show): Table {
  const { units } = show.settings;
  const end = (
    key: "from" | "to",
    name: string,
    index: 0 | 1,
    also: readonly string[],
  ): ColumnSpec<Cable> => ({
    id: key,
    name,
    width: 28,
    counts: true,
    also,
    tell: ({ ends }) => tellEnd(show, ends[index]),
    write: cableField((record, text) => {
      const read = readEnd(show, text);
      if (!read.ok) return read.error;
      const ends: [CableEnd, CableEnd] = [...record.ends];
      ends[index] = read.value;
      return { ...record, ends };
    }),
  });
  const columns: ColumnSpec<Cable>[] = [
    {
      id: "tag",
      name: "Tag",
      width: 8,
      counts: true,
      also: ["label", "cable", "cable tag", "name", "id"],
      tell: ({ tag }) => tag,
      write: cableField((record, text) =>
        text.length <= LONGEST_NAME
          ? { ...record, tag: text.trim() === "" ? "" : text }
          : `A tag has at most ${LONGEST_NAME} characters.`,
      ),
    },
    {
      id: "kind",
      name: "Kind",
      width: 24,
      also: ["type", "cable type", "cable kind"],
      tell: ({ kind }) => tellChoice(kind, KINDS),
      write: cableField((record, text) => {
        const read = readChoice(text, KINDS);
        return read.ok ? { ...record, kind: read.value } : read.error;
      }),
      choices: () => KINDS.map(({ names }) => names[0]!),
    },
    {
      id: "length",
      name: units === "metric" ? "Length m" : "Length ft",
      width: 9,
      figures: true,
      also: ["length", "length (m)", "length (ft)", "run"],
      tell: ({ length }) => tellLength(length, units),
      write: cableField((record, text) => {
        const read = readLength(text, units);
        if (!read.ok) return read.error;
        return read.value === null ? without(record, "length") : { ...record, length: read.value };
      }),
    },
    end("from", "From", 0, ["source", "end a", "a"]),
    end("to", "To", 1, ["destination", "end b", "b"]),
    {
      id: "ways",
      name: "Ways",
      width: 6,
      figures: true,
      also: ["cores", "pairs", "circuits"],
      tell: ({ ways }) => String(ways),
      write: cableField((record, text) => {
        const read = readWhole(text, 1, MOST_WAYS);
        return read.ok ? { ...record, ways: read.value } : read.error;
      }),
    },
  ];
  return makeTable({
    id: "cables",
    name: "Cables",
    one: "cable",
    many: "cables",
    empty: "No cables yet. Type a tag and both ends in the row above, or plug them on the canvas.",
    known: [["tag"], ["from", "to"]],
    show,
    rows: show.cables,
    key: ({ id: key }) => key,
    columns,
    subject: ({ id: key }) => ({ kind: "cable", cable: key }),
    create,
    remove: (work, { id: key }) => work.remove("cables", key),
  });
}

/** A cable is one once both its ends are known; its kind is the first that the near end takes, its tag the next free one. */
function create(work: Work, cells: NewCells): Created {
  const from = readEnd(work.show, cells.get("from") ?? "");
  if (!from.ok) return { ok: false, column: "from", reason: from.error };
  const to = readEnd(work.show, cells.get("to") ?? "");
  if (!to.ok) return { ok: false, column: "to", reason: to.error };
  const key = work.freeId("cables", "cable");
  work.put("cables", {
    id: id<CableId>(key),
    kind: usualKind(directoryOf(work.show), from.value),
    tag: cells.get("tag") === undefined ? work.freeTag(isPort(work.show, from.value) ? "L" : "C") : "",
    ways: 1,
    ends: [from.value, to.value],
  });
  return { ok: true, key, used: ["from", "to"] };
}

const isPort = (show: Show, { device, group }: CableEnd): boolean =>
  directoryOf(show)
    .layout(device)
    ?.type.ports.some(({ id: port }) => port === group) ?? false;

function usualKind(directory: Directory, { device, group }: CableEnd): CableKind {
  const span = directory.layout(device)?.spans.find((each) => spanGroup(each) === group);
  if (span?.side === "jack") return JACK_CABLES[span.bank.level][0]?.kind ?? "line";
  return span?.side === "bus" ? "line" : (span?.port.cables[0]?.kind ?? "cat5e-shielded");
}
