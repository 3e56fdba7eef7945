/** The input list: what each source is, where it is plugged, who sets its preamp, and its channel at each console. */
import { id, type ChannelId, type DeviceId, type SourceId } from "../model/ids.ts";
import { err, ok } from "../model/result.ts";
import {
  SOURCE_KINDS,
  type ChannelPlan,
  type Show,
  type Source,
  type SourceKind,
  type TerminalRef,
} from "../model/show.ts";
import { without } from "../findings/remedies.ts";
import { numbersIn, ranges } from "../trace/terminal.ts";
import { plain } from "../trace/lookup.ts";
import { spanGroup, spanName, type Span } from "../wiring/layout.ts";
import { directoryOf, INPUT_JACK, readTerminal, tellTerminal, type Directory } from "./places.ts";
import {
  field,
  makeTable,
  type ColumnSpec,
  type Complaint,
  type Created,
  type NewCells,
  type Table,
} from "./table.ts";
import { readChoice, readDecibels, readName, readYes, tellChoice, type Choice, type Read } from "./words.ts";
import type { Work } from "./work.ts";

/** As the file's schema has it, in dB. */
export const MOST_DECIBELS = 200;

export const SOURCE_KIND_CHOICES: readonly Choice<SourceKind>[] = SOURCE_KINDS.map((kind) => ({
  value: kind,
  names: [
    kind,
    ...((
      {
        microphone: [
          "mic",
          // Input lists say what sort it is.
          ...["dynamic", "condenser", "ribbon", "boundary", "wireless", "radio", "headset", "lavalier"],
        ],
        DI: ["d i", "direct box", "active DI", "passive DI", "DI active", "DI passive"],
        playback: ["track", "computer"],
        talkback: ["tb"],
      } as Partial<Record<SourceKind, string[]>>
    )[kind] ?? []),
  ],
}));

const source = field<Source>(
  (work, key) => work.get("sources", key),
  (work, record) => work.put("sources", record),
);

export function inputsTable(show: Show): Table {
  const directory = directoryOf(show);
  const consoles = consolesOf(show, directory);
  const owners = [...directory.devices.values()].filter(
    ({ id: device }) => directory.layout(device)?.type.mixer !== undefined,
  );
  const columns: ColumnSpec<Source>[] = [
    {
      id: "name",
      name: "Source",
      width: 20,
      counts: true,
      also: ["name", "input", "instrument", "description", "source name"],
      tell: ({ name }) => name,
      write: source((record, text, work) => {
        const read = readName(text, true);
        if (!read.ok) return read.error;
        // A channel that bears its source's name goes on doing so.
        for (const plan of [...work.all("channels")]) {
          if (plan.source === record.id && plan.name === record.name)
            work.put("channels", { ...plan, name: read.value });
        }
        return { ...record, name: read.value };
      }),
    },
    {
      id: "kind",
      name: "Kind",
      width: 12,
      also: ["type", "mic/di", "mic or di"],
      tell: ({ kind }) => tellChoice(kind, SOURCE_KIND_CHOICES),
      write: source((record, text) => {
        const read = readChoice(text, SOURCE_KIND_CHOICES);
        return read.ok ? { ...record, kind: read.value } : read.error;
      }),
      choices: () => SOURCE_KINDS,
    },
    {
      id: "jack",
      name: "Plugged in",
      width: 20,
      counts: true,
      also: ["jack", "box", "stage jack", "box and jack", "patch", "stage box", "socket", "input jack"],
      tell: ({ at }) => tellTerminal(show, at, INPUT_JACK),
      write: source((record, text) => {
        const read = readTerminal(show, text, INPUT_JACK);
        return read.ok ? { ...record, at: read.value } : read.error;
      }),
    },
    {
      id: "phantom",
      name: "48 V",
      width: 6,
      also: ["phantom", "+48", "48v", "phantom power", "p48"],
      tell: ({ phantom }) => (phantom ? "yes" : ""),
      write: source((record, text) => {
        const read = readYes(text, ["48", "+48", "48v", "48 v", "+48v", "phantom"]);
        return read.ok ? { ...record, phantom: read.value } : read.error;
      }),
      choices: () => ["yes", "no"],
    },
    {
      id: "owner",
      name: "Preamp owner",
      width: 16,
      also: ["owner", "gain owner", "preamp"],
      tell: ({ preampOwner }) => (preampOwner === undefined ? "" : directory.book.tell(preampOwner)),
      write: source((record, text) => {
        if (text.trim() === "") return without(record, "preampOwner");
        const read = directory.book.find(text);
        return read.ok ? { ...record, preampOwner: id<DeviceId>(read.value) } : read.error;
      }),
      choices: () => owners.map(({ id: device }) => directory.book.tell(device)),
      owner: ({ preampOwner }) => preampOwner ?? null,
    },
    {
      id: "gain",
      name: "Gain dB",
      width: 8,
      figures: true,
      also: ["gain", "gain (db)"],
      tell: ({ gain }) => (gain === undefined ? "" : String(gain)),
      write: source((record, text) => {
        const read = readDecibels(text, MOST_DECIBELS);
        if (!read.ok) return read.error;
        return read.value === null ? without(record, "gain") : { ...record, gain: read.value };
      }),
    },
    ...consoles.map((desk) => channelColumn(show, directory, desk)),
  ];
  return makeTable({
    id: "inputs",
    name: "Inputs",
    one: "input",
    many: "inputs",
    empty: "No inputs yet. Type a name in the row above, or paste rows from a spreadsheet.",
    known: [["name"], ["jack"]],
    // Most lists have one number for each input, which is its channel wherever it goes.
    together: [
      {
        name: consoles.length > 1 ? "All consoles’ ch" : "Channel",
        also: [
          "ch",
          "ch.",
          "chan",
          "channel",
          "channel no",
          "channel number",
          "ch no",
          "ch #",
          "input no",
          "#",
          "no",
          "no.",
        ],
        columns: consoles.map((desk) => `channel:${desk}`),
      },
    ],
    show,
    rows: show.sources,
    key: ({ id: key }) => key,
    columns,
    subject: ({ id: key }) => ({ kind: "source", source: key }),
    create: (work, cells) => createSource(work, cells),
    remove(work, { id: key, name }) {
      work.remove("sources", key);
      for (const plan of [...work.all("channels")]) if (plan.source === key) unplan(work, plan, name);
    },
    settle: (work, touched) => settleChannels(work, directory, touched),
  });
}

/** The consoles, and whatever else has a channel planned. */
function consolesOf({ devices, channels }: Show, directory: Directory): readonly DeviceId[] {
  const planned = new Set(channels.map((plan) => plan.console));
  return devices
    .filter(({ id: device }) => {
      const layout = directory.layout(device);
      return layout && channelSpans(directory, device).length > 0
        ? layout.type.category === "console" || planned.has(device)
        : false;
    })
    .map(({ id: device }) => device);
}

/** A device's sections of channels, in the order of its type. */
export const channelSpans = (directory: Directory, device: DeviceId): readonly Span[] =>
  (directory.layout(device)?.spans ?? []).filter(
    (span) => span.side === "bus" && span.section.role === "channel",
  );

/** Numbers of channels at one console: those of the first section bare, those of others after its name. */
function channelColumn(show: Show, directory: Directory, desk: DeviceId): ColumnSpec<Source> {
  const spans = channelSpans(directory, desk);
  const plans = new Map<string, ChannelPlan[]>();
  for (const plan of show.channels) {
    if (plan.console !== desk || plan.source === undefined) continue;
    const list = plans.get(plan.source) ?? [];
    list.push(plan);
    plans.set(plan.source, list);
  }
  const name = directory.book.tell(desk);
  return {
    id: `channel:${desk}`,
    name: `${name} ch`,
    width: Math.max(7, Math.min(14, name.length + 5)),
    figures: true,
    counts: true,
    also: [name, `${name} channel`, `ch ${name}`].map((text) => text.toLowerCase()),
    tell: ({ id: key }) => tellChannels(spans, plans.get(key) ?? []),
    write: (work, key, text) => {
      const read = readChannels(spans, text);
      if (!read.ok) return `${name}: ${read.error}`;
      planChannels(work, desk, id<SourceId>(key), read.value);
      return null;
    },
    owner: ({ id: key }) => (plans.has(key) ? desk : null),
  };
}

interface Place {
  readonly group: ChannelPlan["group"];
  readonly number: number;
}

function tellChannels(spans: readonly Span[], plans: readonly ChannelPlan[]): string {
  const parts = spans.flatMap((span, index) => {
    const numbers = plans.filter(({ group }) => group === spanGroup(span)).map(({ number }) => number);
    if (numbers.length === 0) return [];
    return [index === 0 ? ranges(numbers) : `${spanName(span)} ${ranges(numbers)}`];
  });
  return parts.join("; ");
}

function readChannels(spans: readonly Span[], text: string): Read<readonly Place[]> {
  const places: Place[] = [];
  for (const part of text.split(";").map((each) => each.trim())) {
    if (part === "" || part === "-" || part === "–") continue;
    const [, name = "", numbers = ""] = /^(?:(.*?[^\d\s,–-])\s+)?([\d\s,–-]+)$/.exec(part) ?? [];
    const span =
      name === "" || ["ch", "channel"].includes(plain(name))
        ? spans[0]
        : spans.find((each) => plain(spanName(each)) === plain(name));
    const list = span && numbers !== "" ? numbersIn(numbers, span.count) : null;
    if (!span || !list || list.length === 0)
      return err(`“${part}” is no channel; there are 1–${spans[0]?.count ?? 0}.`);
    for (const number of list) places.push({ group: spanGroup(span), number });
  }
  return ok(places);
}

/** A channel that was planned for a source only is planned no more; one with a name of its own keeps that. */
export function unplan(work: Work, plan: ChannelPlan, sourceName: string): void {
  const isBare = plan.name === "" || plain(plan.name) === plain(sourceName);
  if (isBare) work.remove("channels", plan.id);
  else work.put("channels", without(without(plan, "source"), "follows"));
}

/**
 * Plans a source on the channels of a console and on no others there. Its plan moves with name, trim and the rest. What
 * else stands on those channels is `settleChannels`' to judge, since another row of the same paste may yet move it.
 */
function planChannels(work: Work, desk: DeviceId, key: SourceId, places: readonly Place[]): void {
  const name = work.get("sources", key)?.name ?? "";
  const mine = [...work.all("channels")].filter((plan) => plan.console === desk && plan.source === key);
  const isAt = (plan: ChannelPlan, { group, number }: Place): boolean =>
    plan.group === group && plan.number === number;
  const toGo = mine.filter((plan) => !places.some((place) => isAt(plan, place)));
  for (const place of places) {
    if (mine.some((plan) => isAt(plan, place))) continue;
    const moved = toGo.shift();
    if (moved) work.put("channels", { ...moved, ...place });
    else
      work.put("channels", {
        id: id<ChannelId>(work.freeId("channels", "channel")),
        console: desk,
        ...place,
        name,
        source: key,
      });
  }
  for (const plan of toGo) unplan(work, plan, name);
}

/** No channel carries two sources: a plan with only a name gives way, another one is complained of and taken back. */
function settleChannels(
  work: Work,
  directory: Directory,
  touched: ReadonlySet<string>,
): readonly Complaint[] {
  const complaints: Complaint[] = [];
  const before = new Map(work.show.channels.map((plan) => [plan.id, plan]));
  const isTouched = (plan: ChannelPlan): boolean =>
    plan.source !== undefined && touched.has(plan.source) && before.get(plan.id) !== plan;
  // What is taken back may stand where another has moved, so until nothing is complained of any more.
  for (let again = true; again;) {
    again = false;
    const at = new Map<string, ChannelPlan>();
    for (const plan of [...work.all("channels")]) {
      const key = `${plan.console}/${plan.group}/${plan.number}`;
      const other = at.get(key);
      if (!other) {
        at.set(key, plan);
        continue;
      }
      const [mover, stays] = isTouched(plan) ? [plan, other] : [other, plan];
      if (!isTouched(mover)) continue;
      if (stays.source === undefined) {
        work.remove("channels", stays.id);
        const kept = before.has(mover.id) || stays.name === "" ? mover : { ...mover, name: stays.name };
        work.put("channels", kept);
        at.set(key, kept);
        continue;
      }
      const was = before.get(mover.id);
      if (was) work.put("channels", was);
      else work.remove("channels", mover.id);
      const name = work.get("sources", stays.source)?.name ?? stays.name;
      complaints.push({
        key: mover.source!,
        column: `channel:${mover.console}`,
        reason: `Channel ${mover.number} of ${directory.book.tell(mover.console)} is planned for ${name}.`,
      });
      again = true;
      break;
    }
  }
  return complaints;
}

/** A new source stands at the jack that was typed, else at the next one after the last source. */
function createSource(work: Work, cells: NewCells): Created {
  const name = readName(cells.get("name") ?? "", true);
  if (!name.ok) return { ok: false, column: "name", reason: name.error };
  const jack = cells.get("jack");
  const at = jack === undefined ? nextJack(work) : readTerminal(work.show, jack, INPUT_JACK);
  if (!at.ok) return { ok: false, column: "jack", reason: at.error };
  const key = work.freeId("sources", "source");
  const kind: SourceKind = "microphone";
  work.put("sources", { id: id<SourceId>(key), name: name.value, kind, at: at.value, phantom: false });
  return { ok: true, key, used: ["name", "jack"] };
}

const placeKey = ({ device, group, number }: TerminalRef): string => `${device}/${group}/${number}`;

/** The free input jack after that of the last source, in the same bank; else the first free one of a stage box. */
function nextJack(work: Work): Read<TerminalRef> {
  const directory = directoryOf(work.show);
  const sources = [...work.all("sources")];
  const taken = new Set(sources.map(({ at }) => placeKey(at)));
  const free = (span: Span, device: DeviceId, from: number): TerminalRef | null => {
    if (span.side !== "jack") return null;
    for (let number = from; number <= span.count; number++) {
      const ref = { device, group: span.bank.id, number };
      if (!taken.has(placeKey(ref))) return ref;
    }
    return null;
  };
  const last = sources.at(-1)?.at;
  const bank = last && directory.layout(last.device)?.sources.get(last.group);
  const next = last && bank ? free(bank, last.device, last.number + 1) : null;
  if (next) return ok(next);
  for (const { id: device } of work.show.devices) {
    const layout = directory.layout(device);
    if (layout?.type.category !== "stage box") continue;
    const found = layout.spans.filter(INPUT_JACK.prefers).map((span) => free(span, device, 1));
    const first = found.find((ref) => ref !== null);
    if (first) return ok(first);
  }
  return err("No stage box has a free input jack: type the jack that it is plugged in.");
}
