/** What the channels of each console are called, and which source each is meant to carry. */
import { without } from "../findings/remedies.ts";
import { id, type ChannelId, type DeviceId, type GroupId, type SourceId } from "../model/ids.ts";
import { once } from "../model/once.ts";
import { err, ok } from "../model/result.ts";
import type { ChannelPlan, Show } from "../model/show.ts";
import { spanGroup, spanName } from "../wiring/layout.ts";
import { channelSpans, MOST_DECIBELS } from "./inputs.ts";
import { directoryOf, type Directory } from "./places.ts";
import {
  field,
  makeTable,
  type ColumnSpec,
  type Complaint,
  type Created,
  type NewCells,
  type Table,
} from "./table.ts";
import {
  bookOf,
  readChoice,
  readDecibels,
  readName,
  readWhole,
  readYes,
  type Book,
  type Choice,
  type Read,
} from "./words.ts";
import type { Work } from "./work.ts";

export const sourceBook = once(({ sources }: Show): Book => bookOf(sources, "source"));

const channel = field<ChannelPlan>(
  (work, key) => work.get("channels", key),
  (work, record) => work.put("channels", record),
);

const sectionChoices = (directory: Directory, desk: DeviceId): readonly Choice<GroupId>[] =>
  channelSpans(directory, desk).map((span) => ({
    value: spanGroup(span),
    names: [spanName(span), spanGroup(span)],
  }));

const countOf = (directory: Directory, desk: DeviceId, group: GroupId): number =>
  channelSpans(directory, desk).find((span) => spanGroup(span) === group)?.count ?? 0;

/** Devices with channels, as the console column takes them. */
function readDesk(directory: Directory, text: string): Read<DeviceId> {
  const found = directory.book.find(text);
  if (!found.ok) return found;
  const desk = id<DeviceId>(found.value);
  return channelSpans(directory, desk).length > 0
    ? ok(desk)
    : err(`${directory.book.tell(desk)} has no channels.`);
}

export function channelsTable(show: Show): Table {
  const directory = directoryOf(show);
  const sources = sourceBook(show);
  const desks = show.devices.filter(({ id: device }) => channelSpans(directory, device).length > 0);
  const columns: ColumnSpec<ChannelPlan>[] = [
    {
      id: "name",
      name: "Channel",
      width: 20,
      counts: true,
      also: ["name", "channel name", "label"],
      tell: ({ name }) => name,
      write: channel((record, text) => {
        const read = readName(text, false);
        return read.ok ? { ...record, name: read.value } : read.error;
      }),
    },
    {
      id: "console",
      name: "Console",
      width: 16,
      also: ["desk", "mixer"],
      tell: (plan) => directory.book.tell(plan.console),
      write: channel((record, text) => {
        const read = readDesk(directory, text);
        if (!read.ok) return read.error;
        const desk = read.value;
        const [first] = sectionChoices(directory, desk);
        const group = countOf(directory, desk, record.group) > 0 ? record.group : first!.value;
        return { ...record, console: desk, group };
      }),
      choices: () => desks.map(({ id: device }) => directory.book.tell(device)),
      owner: (plan) => plan.console,
    },
    {
      id: "section",
      name: "Section",
      width: 10,
      tell: (plan) =>
        sectionChoices(directory, plan.console).find(({ value }) => value === plan.group)?.names[0] ??
        `#${plan.group}`,
      write: channel((record, text) => {
        const read = readChoice(text, sectionChoices(directory, record.console));
        return read.ok ? { ...record, group: read.value } : read.error;
      }),
      choices: (row) => (row ? sectionChoices(directory, row.console).map(({ names }) => names[0]!) : []),
    },
    {
      id: "number",
      name: "Number",
      width: 7,
      figures: true,
      counts: true,
      also: ["channel number", "ch", "no", "#"],
      tell: ({ number }) => String(number),
      write: channel((record, text) => {
        const read = readWhole(text, 1, countOf(directory, record.console, record.group));
        return read.ok ? { ...record, number: read.value } : read.error;
      }),
    },
    {
      id: "source",
      name: "Source",
      width: 20,
      counts: true,
      also: ["input", "carries"],
      tell: ({ source }) => (source === undefined ? "" : sources.tell(source)),
      write: channel((record, text, work) => {
        if (text.trim() === "") return without(record, "source");
        const read = sources.find(text);
        if (!read.ok) return read.error;
        // A channel that bears its source's name goes on doing so.
        const before = record.source === undefined ? "" : (work.get("sources", record.source)?.name ?? "");
        const source = id<SourceId>(read.value);
        const name = record.name === before ? (work.get("sources", source)?.name ?? "") : record.name;
        return { ...record, name, source };
      }),
      choices: () => sources.names,
    },
    {
      id: "trim",
      name: "Trim dB",
      width: 8,
      figures: true,
      also: ["trim", "digital trim"],
      tell: ({ trim }) => (trim === undefined ? "" : String(trim)),
      write: channel((record, text) => {
        const read = readDecibels(text, MOST_DECIBELS);
        if (!read.ok) return read.error;
        return read.value === null ? without(record, "trim") : { ...record, trim: read.value };
      }),
    },
    {
      id: "follows",
      name: "Follows gain",
      width: 11,
      also: ["follows", "gain follow", "compensates"],
      tell: ({ follows }) => (follows === undefined ? "" : follows ? "yes" : "no"),
      write: channel((record, text) => {
        if (text.trim() === "") return without(record, "follows");
        const read = readYes(text, ["follows"]);
        return read.ok ? { ...record, follows: read.value } : read.error;
      }),
      choices: () => ["yes", "no"],
    },
  ];
  return makeTable({
    id: "channels",
    name: "Channels",
    one: "channel",
    many: "channels",
    empty: "No channel is planned yet. Type one in the row above, or give inputs their channel numbers.",
    known: [["console", "section", "number"]],
    show,
    rows: show.channels,
    key: ({ id: key }) => key,
    columns,
    subject: ({ console: device, group, number }) => ({ kind: "terminal", at: { device, group, number } }),
    create: (work, cells) => create(work, directory, cells),
    remove: (work, { id: key }) => work.remove("channels", key),
    settle: (work, touched) => settle(work, directory, touched),
  });
}

const placeOf = (plan: ChannelPlan): string => `${plan.console}/${plan.group}/${plan.number}`;

/** Where a typed console, the row above, or the only console says. */
export function deskFor(
  directory: Directory,
  typed: string | undefined,
  last: DeviceId | undefined,
  desks: readonly DeviceId[],
  read: (text: string) => Read<DeviceId>,
): Read<DeviceId> {
  if (typed !== undefined) return read(typed);
  if (last !== undefined && desks.includes(last)) return ok(last);
  const [only, ...others] = desks;
  if (only === undefined) return err("There is no console in the show yet.");
  return others.length === 0
    ? ok(only)
    : err(`Say which console: ${desks.map((desk) => directory.book.tell(desk)).join(", ")}.`);
}

/** A new plan stands on the console of the one before, on the next channel there that is free. */
function create(work: Work, directory: Directory, cells: NewCells): Created {
  const plans = [...work.all("channels")];
  const desks = work.show.devices
    .map(({ id: device }) => device)
    .filter((device) => channelSpans(directory, device).length > 0);
  const desk = deskFor(directory, cells.get("console"), plans.at(-1)?.console, desks, (text) =>
    readDesk(directory, text),
  );
  if (!desk.ok) return { ok: false, column: "console", reason: desk.error };
  const choices = sectionChoices(directory, desk.value);
  const section = cells.has("section") ? readChoice(cells.get("section")!, choices) : ok(choices[0]!.value);
  if (!section.ok) return { ok: false, column: "section", reason: section.error };
  const count = countOf(directory, desk.value, section.value);
  const taken = new Set(
    plans
      .filter((plan) => plan.console === desk.value && plan.group === section.value)
      .map(({ number }) => number),
  );
  const typed = cells.get("number");
  const number = typed === undefined ? nextFree(taken, count) : readWhole(typed, 1, count);
  if (!number.ok) return { ok: false, column: "number", reason: number.error };
  const key = work.freeId("channels", "channel");
  work.put("channels", {
    id: id<ChannelId>(key),
    console: desk.value,
    group: section.value,
    number: number.value,
    name: "",
  });
  return { ok: true, key, used: ["console", "section", "number"] };
}

/** The number after the highest one taken, else the lowest free one. */
export function nextFree(taken: ReadonlySet<number>, count: number): Read<number> {
  const after = Math.max(0, ...taken) + 1;
  if (after <= count) return ok(after);
  for (let number = 1; number <= count; number++) if (!taken.has(number)) return ok(number);
  return err(`All ${count} are taken.`);
}

/** Of two plans on one channel the one that was written is complained of, and goes back to where it was. */
function settle(work: Work, directory: Directory, touched: ReadonlySet<string>): readonly Complaint[] {
  const complaints: Complaint[] = [];
  const before = new Map<string, ChannelPlan>(work.show.channels.map((plan) => [plan.id, plan]));
  for (let again = true; again;) {
    again = false;
    const at = new Map<string, ChannelPlan>();
    for (const plan of [...work.all("channels")]) {
      const other = at.get(placeOf(plan));
      if (!other) {
        at.set(placeOf(plan), plan);
        continue;
      }
      const hasMoved = (each: ChannelPlan): boolean => {
        const was = before.get(each.id);
        return touched.has(each.id) && (was === undefined || placeOf(was) !== placeOf(each));
      };
      const mover = hasMoved(plan) ? plan : hasMoved(other) ? other : null;
      if (!mover) continue;
      const stays = mover === plan ? other : plan;
      const was = before.get(mover.id);
      if (was) {
        const { console: desk, group, number } = was;
        work.put("channels", { ...mover, console: desk, group, number });
      } else work.remove("channels", mover.id);
      const name = stays.name === "" ? "another row" : stays.name;
      complaints.push({
        key: mover.id,
        column: "number",
        reason: `Channel ${mover.number} of ${directory.book.tell(mover.console)} is ${name}’s already.`,
      });
      again = true;
      break;
    }
  }
  return complaints;
}
