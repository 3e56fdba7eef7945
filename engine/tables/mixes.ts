/** The mixes of each console, with what goes into them as text: `1–8, 11 post, 12 pre`. */
import { id, type DeviceId, type GroupId, type MixId } from "../model/ids.ts";
import { err, ok } from "../model/result.ts";
import type { Mix, MixMember, Show } from "../model/show.ts";
import type { MixSection, SectionRole } from "../model/device-type.ts";
import { plain } from "../trace/lookup.ts";
import { numbersIn } from "../trace/terminal.ts";
import { spanGroup, spanName, type Span } from "../wiring/layout.ts";
import { deskFor, nextFree } from "./channels.ts";
import { directoryOf, type Directory } from "./places.ts";
import { field, makeTable, type ColumnSpec, type Created, type NewCells, type Table } from "./table.ts";
import { oneOf, readChoice, readName, readWhole, tellChoice, type Choice, type Read } from "./words.ts";
import type { Work } from "./work.ts";

/** Sections whose taps take mixes; what the others take is fixed. */
const BUSES: readonly SectionRole[] = ["mix", "main", "matrix"];

const WIDTHS: readonly Choice<1 | 2>[] = [
  { value: 1, names: ["mono", "1", "m"] },
  { value: 2, names: ["stereo", "2", "s", "st"] },
];

const mixField = field<Mix>(
  (work, key) => work.get("mixes", key),
  (work, record) => work.put("mixes", record),
);

const sectionsOf = (directory: Directory, desk: DeviceId): readonly MixSection[] =>
  (directory.layout(desk)?.type.mixer?.sections ?? []).filter(({ role }) => BUSES.includes(role));

const sectionChoices = (directory: Directory, desk: DeviceId): readonly Choice<GroupId>[] =>
  sectionsOf(directory, desk).map(({ id: group, name }) => ({ value: group, names: [name, group] }));

const sectionOf = (directory: Directory, desk: DeviceId, group: GroupId): MixSection | undefined =>
  directory.layout(desk)?.type.mixer?.sections.find((section) => section.id === group);

/** What may go into a bus: sections, the first of which needs no name. */
export function membersFrom(directory: Directory, { console: desk, group }: Mix): readonly Span[] {
  const layout = directory.layout(desk);
  return (sectionOf(directory, desk, group)?.from ?? []).flatMap((each): Span[] => {
    const span = layout?.destinations.get(each) ?? layout?.sources.get(each);
    return span?.side === "bus" ? [span] : [];
  });
}

/** Runs of neighbours with one tap; those of one tap stand together before its name. */
export function tellMembers(spans: readonly Span[], members: readonly MixMember[]): string {
  const parts: { text: string; tap: MixMember["tap"] }[] = [];
  for (let n = 0; n < members.length;) {
    const { group, number, tap } = members[n]!;
    let count = 1;
    while (
      members[n + count]?.group === group &&
      members[n + count]?.tap === tap &&
      members[n + count]?.number === number + count
    )
      count++;
    const span = spans.findIndex((each) => spanGroup(each) === group);
    const name = span === 0 ? "" : span > 0 ? `${spanName(spans[span]!)} ` : `#${group} `;
    parts.push({ text: `${name}${count === 1 ? number : `${number}–${number + count - 1}`}`, tap });
    n += count;
  }
  return parts
    .map(({ text, tap }, index) => (parts[index + 1]?.tap === tap ? text : `${text} ${tap}`))
    .join(", ");
}

/** A tap counts for the numbers before it, back to the tap before; without one at the end it is post. */
export function readMembers(spans: readonly Span[], text: string): Read<readonly MixMember[]> {
  const members: MixMember[] = [];
  let waiting: Omit<MixMember, "tap">[] = [];
  const close = (tap: MixMember["tap"]): void => {
    members.push(...waiting.map((member) => ({ ...member, tap })));
    waiting = [];
  };
  for (const part of text.split(/[,;\n]+/).map((each) => each.trim())) {
    if (part === "") continue;
    const [, rest = part, tap] = /^(.*?)\s*\b(pre|post)(?:[ -]?fader)?$/i.exec(part) ?? [];
    const [, name = "", numbers = ""] = /^(.*?)\s*(\d+(?:\s*[-–]\s*\d+)?)?$/.exec(rest.trim()) ?? [];
    if (numbers !== "") {
      const known = plain(name).replace(/^ch$/, "channel");
      const span =
        name === ""
          ? spans[0]
          : name.startsWith("#")
            ? spans.find((each) => spanGroup(each) === name.slice(1))
            : spans.find(
                (each) => plain(spanName(each)) === known || spanGroup(each).toLowerCase() === known,
              );
      if (!span) {
        return err(
          spans.length === 0
            ? "Nothing can go into this bus."
            : `“${name}” can’t go into this bus; ${oneOf(spans.map(spanName))} can.`,
        );
      }
      const list = numbersIn(numbers, span.count);
      if (!list) return err(`${spanName(span)} has 1–${span.count}: “${numbers}” isn’t among them.`);
      waiting.push(...list.map((number) => ({ group: spanGroup(span), number })));
    } else if (name !== "" || tap === undefined || waiting.length === 0) {
      return err(`“${part}” is no number: write “1–8 post, 12 pre”.`);
    }
    if (tap !== undefined) close(tap.toLowerCase() === "pre" ? "pre" : "post");
  }
  close("post");
  const twice = members.find(
    ({ group, number }, n) =>
      members.findIndex((each) => each.group === group && each.number === number) !== n,
  );
  if (twice) return err(`${twice.number} stands there twice.`);
  return ok(members);
}

export function mixesTable(show: Show): Table {
  const directory = directoryOf(show);
  const desks = show.devices.filter(({ id: device }) => sectionsOf(directory, device).length > 0);
  const columns: ColumnSpec<Mix>[] = [
    {
      id: "name",
      name: "Mix",
      width: 20,
      counts: true,
      also: ["name", "mix name", "label", "bus name"],
      tell: ({ name }) => name,
      write: mixField((record, text) => {
        const read = readName(text, false);
        return read.ok ? { ...record, name: read.value } : read.error;
      }),
    },
    {
      id: "console",
      name: "Console",
      width: 16,
      also: ["desk", "mixer"],
      tell: (mix) => directory.book.tell(mix.console),
      write: mixField((record, text) => {
        const read = readDesk(directory, text);
        if (!read.ok) return read.error;
        const group = sectionOf(directory, read.value, record.group)
          ? record.group
          : sectionsOf(directory, read.value)[0]!.id;
        return { ...record, console: read.value, group };
      }),
      choices: () => desks.map(({ id: device }) => directory.book.tell(device)),
      owner: (mix) => mix.console,
    },
    {
      id: "bus",
      name: "Bus type",
      width: 10,
      also: ["buses", "section", "bus section", "type of bus"],
      tell: (mix) => sectionOf(directory, mix.console, mix.group)?.name ?? `#${mix.group}`,
      write: mixField((record, text) => {
        const read = readChoice(text, sectionChoices(directory, record.console));
        return read.ok ? { ...record, group: read.value } : read.error;
      }),
      choices: (row) => (row ? sectionChoices(directory, row.console).map(({ names }) => names[0]!) : []),
    },
    {
      id: "first",
      name: "Bus no.",
      width: 7,
      figures: true,
      counts: true,
      also: ["first", "number", "bus", "bus no", "bus number", "first bus", "no", "no.", "#"],
      tell: ({ first }) => String(first),
      write: mixField((record, text) => {
        const count = sectionOf(directory, record.console, record.group)?.count ?? 0;
        const read = readWhole(text, 1, count);
        return read.ok ? { ...record, first: read.value } : read.error;
      }),
    },
    {
      id: "width",
      name: "Width",
      width: 8,
      also: ["mono/stereo", "mono or stereo", "stereo", "format"],
      tell: ({ width }) => tellChoice(width, WIDTHS),
      write: mixField((record, text) => {
        const read = readChoice(text, WIDTHS);
        return read.ok ? { ...record, width: read.value } : read.error;
      }),
      choices: () => ["mono", "stereo"],
    },
    {
      id: "members",
      name: "Members",
      width: 44,
      also: ["channels", "sources", "takes"],
      tell: (mix) => tellMembers(membersFrom(directory, mix), mix.members),
      write: mixField((record, text) => {
        const read = readMembers(membersFrom(directory, record), text);
        return read.ok ? { ...record, members: read.value } : read.error;
      }),
    },
  ];
  return makeTable({
    id: "mixes",
    name: "Mixes",
    one: "mix",
    many: "mixes",
    empty: "No mixes yet. Type a name in the row above, or paste rows from a spreadsheet.",
    known: [["console", "bus", "first"], ["name"]],
    show,
    rows: show.mixes,
    key: ({ id: key }) => key,
    columns,
    subject: ({ id: key }) => ({ kind: "mix", mix: key }),
    create: (work, cells) => create(work, directory, cells),
    remove: (work, { id: key }) => work.remove("mixes", key),
  });
}

function readDesk(directory: Directory, text: string): Read<DeviceId> {
  const found = directory.book.find(text);
  if (!found.ok) return found;
  const desk = id<DeviceId>(found.value);
  return sectionsOf(directory, desk).length > 0
    ? ok(desk)
    : err(`${directory.book.tell(desk)} has no mix buses.`);
}

/** A new mix stands on the console and buses of the one before, on the next free bus; a stereo one on the next odd one. */
function create(work: Work, directory: Directory, cells: NewCells): Created {
  const mixes = [...work.all("mixes")];
  const last = mixes.at(-1);
  const desks = work.show.devices
    .map(({ id: device }) => device)
    .filter((device) => sectionsOf(directory, device).length > 0);
  const desk = deskFor(directory, cells.get("console"), last?.console, desks, (text) =>
    readDesk(directory, text),
  );
  if (!desk.ok) return { ok: false, column: "console", reason: desk.error };
  const sections = sectionsOf(directory, desk.value);
  const usual =
    sections.find((section) => last?.console === desk.value && section.id === last.group) ??
    sections.find(({ role }) => role === "mix") ??
    sections[0]!;
  const group = cells.has("bus")
    ? readChoice(cells.get("bus")!, sectionChoices(directory, desk.value))
    : ok(usual.id);
  if (!group.ok) return { ok: false, column: "bus", reason: group.error };
  const width = cells.has("width") ? readChoice(cells.get("width")!, WIDTHS) : ok<1 | 2>(1);
  if (!width.ok) return { ok: false, column: "width", reason: width.error };
  const count = sections.find((section) => section.id === group.value)?.count ?? 0;
  const taken = new Set(
    mixes
      .filter((mix) => mix.console === desk.value && mix.group === group.value)
      .flatMap((mix) => (mix.width === 2 ? [mix.first, mix.first + 1] : [mix.first])),
  );
  const typed = cells.get("first");
  let first = typed === undefined ? nextFree(taken, count) : readWhole(typed, 1, count);
  if (first.ok && typed === undefined && width.value === 2 && first.value % 2 === 0)
    first = first.value < count ? ok(first.value + 1) : err(`No pair of buses is free.`);
  if (!first.ok) return { ok: false, column: "first", reason: first.error };
  const key = work.freeId("mixes", "mix");
  work.put("mixes", {
    id: id<MixId>(key),
    console: desk.value,
    group: group.value,
    first: first.value,
    width: width.value,
    name: "",
    members: [],
  });
  return { ok: true, key, used: ["console", "bus", "first", "width"] };
}
