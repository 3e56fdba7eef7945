/** Every output jack: what is wanted there, from which tap, and what arrives by the analysis. */
import type { Analysis } from "../analysis.ts";
import { without } from "../findings/remedies.ts";
import type { Category } from "../model/device-type.ts";
import { id, type DeviceId, type WantId } from "../model/ids.ts";
import { gather, once } from "../model/once.ts";
import { err, ok } from "../model/result.ts";
import type { Mix, Show, TerminalRef, Want } from "../model/show.ts";
import { ms, type Ms } from "../model/units.ts";
import { plain } from "../trace/lookup.ts";
import { arrivesAt, ownersAt } from "../trace/owners.ts";
import { busName } from "../trace/records.ts";
import { findTerminal, fullName, terminalOf } from "../trace/terminal.ts";
import { verdictText } from "../trace/told.ts";
import { traceOf } from "../trace/walk.ts";
import { isOutput, spanGroup } from "../wiring/layout.ts";
import { directoryOf, OUTPUT_JACK, readTerminal, TAP, tellTerminal } from "./places.ts";
import { makeTable, type ColumnSpec, type Created, type NewCells, type Table } from "./table.ts";
import { readName, type Read } from "./words.ts";
import type { Work } from "./work.ts";

/** A jack with the want that stands there; a second want on the jack has a row of its own. */
interface OutputRow {
  readonly key: string;
  readonly to: TerminalRef;
  readonly want: Want | null;
  /** False: no output jack of the rig, such as a recorder's track. */
  readonly isJack: boolean;
}

/** Boxes on stage first, then what hangs on them, then the consoles' own jacks. */
const ORDER: readonly Category[] = ["stage box", "breakout", "personal mixer", "console"];

export function outputRank(category: Category | undefined): number {
  const at = category ? ORDER.indexOf(category) : -1;
  return at < 0 ? ORDER.length : at;
}

const refKey = ({ device, group, number }: TerminalRef): string => `${device}/${group}/${number}`;

const rowsOf = once((show: Show): readonly OutputRow[] => {
  const directory = directoryOf(show);
  const wantsAt = new Map<string, Want[]>();
  for (const want of show.wants) {
    const list = wantsAt.get(refKey(want.to));
    if (list) list.push(want);
    else wantsAt.set(refKey(want.to), [want]);
  }
  const rank = (device: DeviceId): number => outputRank(directory.layout(device)?.type.category);
  const rows: OutputRow[] = [];
  const addWants = (key: string, to: TerminalRef, isJack: boolean): void => {
    const [first = null, ...more] = wantsAt.get(refKey(to)) ?? [];
    wantsAt.delete(refKey(to));
    rows.push({ key, to, want: first, isJack });
    for (const want of more) rows.push({ key: `want:${want.id}`, to, want, isJack: false });
  };
  const devices = show.devices.map(({ id: device }) => device).sort((a, b) => rank(a) - rank(b));
  for (const device of devices) {
    for (const span of directory.layout(device)?.spans ?? []) {
      if (!isOutput(span)) continue;
      for (let number = 1; number <= span.count; number++) {
        const to = { device, group: spanGroup(span), number };
        addWants(`jack:${refKey(to)}`, to, true);
      }
    }
  }
  for (const { id: key, to } of show.wants) {
    if (wantsAt.has(refKey(to))) addWants(`want:${key}`, to, false);
  }
  return rows;
});

/** Milliseconds, as a limit is typed. Null: the cell is empty. */
function readMs(text: string): Read<Ms | null> {
  const typed = text.trim().replace(",", ".");
  if (typed === "") return ok(null);
  const number = Number(/^(\d+(?:\.\d+)?)\s*(?:ms)?$/i.exec(typed)?.[1]);
  return Number.isFinite(number) && number <= 60_000
    ? ok(ms(number))
    : err(`“${text.trim()}” is no time in ms, such as 8 or 2.5.`);
}

/** A tap by where it is, or by the name of the one mix that is called so; `L` and `R` tell the sides of a stereo one. */
export function readTap(show: Show, text: string): Read<TerminalRef> {
  const read = readTerminal(show, text, TAP);
  return read.ok ? read : (byMixName(show, text) ?? read);
}

/** The tap of the one mix that is called so; null where none is. */
function byMixName(show: Show, text: string): Read<TerminalRef> | null {
  const [, base = "", side] = /^(.*?)(?:\s+(l|r|left|right))?$/i.exec(text.trim()) ?? [];
  const called = (name: string): readonly Mix[] =>
    show.mixes.filter((mix) => mix.name !== "" && plain(mix.name) === plain(name));
  const whole = called(text);
  const [mix, ...others] = whole.length > 0 ? whole : called(base);
  if (!mix) return null;
  if (others.length > 0) return err(`Several mixes are called “${mix.name}”: say the console and bus.`);
  const isRight = whole.length === 0 && side !== undefined && /^r/i.test(side) && mix.width === 2;
  return ok({ device: mix.console, group: mix.group, number: mix.first + (isRight ? 1 : 0) });
}

/** A want without a tap that is called as one mix is comes from that mix. */
function withUsualTap(show: Show, want: Want): Want {
  const tap = want.from ? null : byMixName(show, want.name);
  return tap?.ok ? { ...want, from: tap.value } : want;
}

/** What an output may come from, by the names that are read: mixes that have one first, then all buses of consoles. */
const tapNames = once((show: Show): readonly string[] => {
  const { layout } = directoryOf(show);
  const names = show.mixes.map(({ name }) => name).filter((name) => name !== "");
  // One that several mixes have says too little.
  const alike = new Map<string, string[]>();
  for (const name of names) gather(alike, plain(name), name);
  const named = [...alike.values()].flatMap((same) => (same.length === 1 ? same : []));
  const buses = show.devices.flatMap(({ id: device }) =>
    (layout(device)?.spans ?? []).flatMap((span) =>
      span.side === "bus" && ["mix", "main", "matrix"].includes(span.section.role)
        ? Array.from({ length: span.count }, (_, n) =>
            tellTerminal(show, { device, group: spanGroup(span), number: n + 1 }, TAP),
          )
        : [],
    ),
  );
  return [...named, ...buses];
});

export function outputsTable(show: Show, analysis: Analysis): Table {
  const directory = directoryOf(show);
  const { wiring, arrivals } = analysis;
  const at = (row: OutputRow): number | null => findTerminal(wiring, row.to);
  const ownerOf = (row: OutputRow): DeviceId | null => {
    const terminal = at(row);
    const owners = terminal === null ? [] : ownersAt(wiring, arrivals, terminal);
    return owners.length === 1 ? wiring.devices[owners[0]!]!.device.id : null;
  };
  const columns: ColumnSpec<OutputRow>[] = [
    {
      id: "jack",
      name: "Jack",
      width: 22,
      also: ["output", "output jack", "to", "box and jack"],
      tell: ({ to }) => tellTerminal(show, to, OUTPUT_JACK),
      isFixed: ({ isJack }) => isJack,
      write: (work, key, text) => {
        const want = wantOf(work, key);
        const read = readTerminal(show, text, OUTPUT_JACK);
        if (!read.ok) return read.error;
        if (want) work.put("wants", { ...want, to: read.value });
        return null;
      },
    },
    {
      id: "want",
      name: "Wanted",
      width: 20,
      counts: true,
      also: ["want", "name", "feed", "destination", "goes to"],
      tell: ({ want }) => want?.name ?? "",
      write: (work, key, text) => {
        const want = wantOf(work, key);
        if (text.trim() === "") {
          if (want) work.remove("wants", want.id);
          return null;
        }
        const read = readName(text, true);
        if (!read.ok) return read.error;
        if (want?.name === read.value) return null;
        work.put("wants", withUsualTap(show, { ...(want ?? newWant(work, key)), name: read.value }));
        return null;
      },
    },
    {
      id: "from",
      name: "From",
      width: 24,
      counts: true,
      also: ["source", "mix", "tap", "comes from"],
      tell: ({ want }) => (want?.from ? tellTerminal(show, want.from, TAP) : ""),
      write: (work, key, text) => {
        const want = wantOf(work, key);
        if (text.trim() === "") {
          if (want) work.put("wants", without(want, "from"));
          return null;
        }
        const read = readTap(show, text);
        if (!read.ok) return read.error;
        const name = busName(show, read.value) ?? tellTerminal(show, read.value, TAP);
        work.put("wants", { ...(want ?? { ...newWant(work, key), name }), from: read.value });
        return null;
      },
      choices: () => tapNames(show),
      owner: ({ want }) => want?.from?.device ?? null,
    },
    {
      id: "limit",
      name: "Limit ms",
      width: 8,
      figures: true,
      also: ["limit", "latency limit"],
      tell: ({ want }) => (want?.limit === undefined ? "" : String(want.limit)),
      write: (work, key, text) => {
        const want = wantOf(work, key);
        const read = readMs(text);
        if (!read.ok) return read.error;
        if (!want) return read.value === null ? null : "A limit needs a name in “Wanted” first.";
        work.put("wants", read.value === null ? without(want, "limit") : { ...want, limit: read.value });
        return null;
      },
    },
    {
      id: "arrives",
      name: "Arrives",
      width: 34,
      tell: (row) => {
        const terminal = at(row);
        if (terminal === null) return "not in the rig";
        if (!arrivesAt(wiring, arrivals, terminal)) return verdictText(wiring, traceOf(wiring, terminal));
        const root = arrivals.root[terminal]!;
        const source = wiring.show.sources[wiring.sourceAt[root]!];
        if (source) return source.name;
        const name = busName(wiring.show, terminalOf(wiring, root));
        return name === null ? fullName(wiring, root) : `${fullName(wiring, root)} “${name}”`;
      },
    },
    {
      id: "owner",
      name: "Owner",
      width: 16,
      tell: (row) => {
        const terminal = at(row);
        if (terminal === null) return "";
        return ownersAt(wiring, arrivals, terminal)
          .map((index) => wiring.devices[index]!.device.name)
          .join(", ");
      },
      owner: ownerOf,
    },
    {
      id: "delay",
      name: "Delay ms",
      width: 8,
      figures: true,
      tell: (row) => {
        const terminal = at(row);
        if (terminal === null || !arrivesAt(wiring, arrivals, terminal)) return "";
        return arrivals.delay[terminal]!.toFixed(2);
      },
    },
  ];
  return makeTable({
    id: "outputs",
    name: "Outputs",
    one: "output",
    many: "outputs",
    empty: "No device of this show has an output jack: add boxes and consoles on the canvas.",
    known: [["jack"]],
    show,
    rows: rowsOf(show),
    key: ({ key }) => key,
    columns,
    subject: ({ to }) => ({ kind: "terminal", at: to }),
    create: (work, cells) => create(work, cells),
    // The jack stays; what is wanted there goes.
    remove(work, { want }) {
      if (want) work.remove("wants", want.id);
    },
  });

  function wantOf(work: Work, key: string): Want | undefined {
    if (key.startsWith("want:")) return work.get("wants", key.slice("want:".length));
    const jack = key.slice("jack:".length);
    for (const want of work.all("wants")) if (refKey(want.to) === jack) return want;
    return undefined;
  }

  function newWant(work: Work, key: string): Want {
    const [device, group, number] = key.slice("jack:".length).split("/");
    const to = {
      device: id<DeviceId>(device!),
      group: id<TerminalRef["group"]>(group!),
      number: Number(number),
    };
    const name = `${directory.book.tell(to.device)} ${to.number}`;
    return { id: id<WantId>(work.freeId("wants", "want")), name, to };
  }

  function create(work: Work, cells: NewCells): Created {
    const to = readTerminal(show, cells.get("jack") ?? "", OUTPUT_JACK);
    if (!to.ok) return { ok: false, column: "jack", reason: to.error };
    const typed = cells.get("want");
    const from = cells.get("from") === undefined ? null : readTap(show, cells.get("from")!);
    if (from && !from.ok) return { ok: false, column: "from", reason: from.error };
    const usual = from ? (busName(show, from.value) ?? tellTerminal(show, from.value, TAP)) : "";
    const name = readName(typed ?? usual, true);
    if (!name.ok) return { ok: false, column: "want", reason: name.error };
    const key = work.freeId("wants", "want");
    const want: Want = { id: id<WantId>(key), name: name.value, to: to.value };
    work.put("wants", from ? { ...want, from: from.value } : withUsualTap(show, want));
    return { ok: true, key: `want:${key}`, used: ["jack", "want", "from"] };
  }
}
