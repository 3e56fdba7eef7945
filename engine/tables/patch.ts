/**
 * Patching what the lists plan: each source to the channels that are to carry it, each wanted tap to its jack. Ways over
 * settings are `routes/ways.ts`' to find; here stands which are asked for, and that none is taken that takes something
 * away from somebody else.
 */
import { rewired, type Unchecked } from "../analysis.ts";
import { listOf, tapName } from "../findings/describe.ts";
import { NOWHERE, standing } from "../findings/standing.ts";
import { applyEdits, type Edit } from "../model/edit.ts";
import { modesThatHelp, pairsThatHelp, type ModeChange, type TriedMode } from "../routes/modes.ts";
import { noWayText, settingLines, type SettingLine } from "../routes/told.ts";
import { decidedAt, disturbedBy, wayOver, type NoWay, type WaySettings } from "../routes/ways.ts";
import { arrivesAt, comesFrom } from "../trace/owners.ts";
import { findTerminal, fullName, locate, namesOf } from "../trace/terminal.ts";
import { gather } from "../model/once.ts";
import { joined } from "../model/routing.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Assignment } from "../model/show.ts";
import type { Wiring } from "../wiring/wiring.ts";

/** Sources or wants that one reason keeps from where they should arrive. */
export interface Refused {
  /** `Wedge 1`, or `Wedge 1, Wedge 2 and 6 more`, and the channels or jacks. */
  readonly name: string;
  readonly where: string;
  readonly reason: string;
  /** How many they are. */
  readonly count: number;
}

export interface Patching {
  readonly edits: readonly Edit[];
  /** What the devices' own pages are to read, and what they read before. */
  readonly lines: readonly SettingLine[];
  /** Rows that arrive with these settings, and those that did already. */
  readonly brought: number;
  readonly already: number;
  /** Gathered by reason. */
  readonly refused: readonly Refused[];
  /** The same with other modes, where some of what is refused gets a way by them; null where none does. */
  readonly withModes: (Patching & { readonly modes: readonly ModeChange[] }) | null;
}

/** What is patched: channels to their sources, or what the wants say. */
export type Planned = "channels" | "wants";

/** Settings for all that is planned, and what has none. Changes nothing. */
export const patchPlanned = (rig: Unchecked, what: Planned): Patching =>
  what === "channels" ? patchChannels(rig) : patchWants(rig);

interface Ask {
  readonly name: string;
  readonly source: number;
  readonly target: number;
}

/** Channels that are planned to carry a source. */
export function patchChannels(rig: Unchecked): Patching {
  const { show } = rig;
  const at = standing(rig.wiring);
  const jacks = new Map(show.sources.map(({ id, name }, n) => [id, { name, jack: at.sources[n]! }]));
  const asks: Ask[] = [];
  const refused: Refusal[] = [];
  show.channels.forEach(({ source, name, number }, n) => {
    const known = source === undefined ? undefined : jacks.get(source);
    if (!known) return;
    const target = at.channels[n]!;
    if (target !== NOWHERE && known.jack !== NOWHERE)
      asks.push({ name: known.name, source: known.jack, target });
    else {
      const reason =
        target === NOWHERE
          ? "The channel isn’t in the rig."
          : "The jack that it is plugged in isn’t in the rig.";
      refused.push({
        name: known.name,
        where: name === "" ? `channel ${number}` : name,
        reason,
        cause: alone(`channel ${n}`),
        ask: null,
      });
    }
  });
  return patch(rig, asks, refused);
}

/** Wants that name a tap. */
export function patchWants(rig: Unchecked): Patching {
  const { wiring, show } = rig;
  const asks: Ask[] = [];
  const refused: Refusal[] = [];
  for (const { name, to, from } of show.wants) {
    if (!from) continue;
    const [source, target] = [findTerminal(wiring, from), findTerminal(wiring, to)];
    if (source !== null && target !== null) asks.push({ name, source, target });
    else
      refused.push({
        name,
        where: target ?? "a jack that is gone",
        reason: `${target === null ? "The jack" : "The tap"} isn’t in the rig.`,
        cause: alone(`want ${name}`),
        ask: null,
      });
  }
  return patch(rig, asks, refused);
}

/** Why rows are refused; those of one `key` are told together. */
interface Cause {
  readonly key: string;
  /** Another mode may do away with it. */
  readonly otherMode: boolean;
  /** Another jack of the same bank may. */
  readonly otherJack: boolean;
}

/** One that nothing of that kind helps. */
const alone = (key: string): Cause => ({ key, otherMode: false, otherJack: false });

/** One row that is refused; of those of one cause the reason of the first is told. */
interface Refusal {
  readonly name: string;
  readonly where: number | string;
  readonly reason: string;
  readonly cause: Cause;
  readonly ask: Ask | null;
}

/** Modes that are tried one after the other: each time the one, or where none helps the two, with which most arrives. */
const MOST_MODES = 12;

function patch(rig: Unchecked, asks: readonly Ask[], early: readonly Refusal[]): Patching {
  const first = settled(rig, asks, early);
  const modes: TriedMode[] = [];
  let best = first;
  for (let changed = rig; modes.length < MOST_MODES && best.refusals.length > 0;) {
    const former = best;
    const better = (tried: readonly (readonly TriedMode[])[]): Better | null =>
      tried
        .filter((changes) => !changes.some(({ device }) => modes.some((each) => each.device === device)))
        .map((changes) => ({
          changes,
          found: settledOn(former, changes, asks, early) ?? settled(changes.at(-1)!.after, asks, early),
        }))
        .reduce<Better | null>(
          (most, each) => (arriving(each.found) > arriving(most?.found ?? former) ? each : most),
          null,
        );
    const next =
      better(singleModes(changed, best.refusals)) ??
      (modes.length + 2 <= MOST_MODES ? better(modePairs(changed, best.refusals)) : null);
    if (!next) break;
    modes.push(...next.changes);
    best = next.found;
    changed = next.changes.at(-1)!.after;
  }
  const plain = patchingOf(rig, first, []);
  return {
    ...plain,
    withModes:
      modes.length > 0 ? { ...patchingOf(rig, best, modes), modes: modes.map(told), withModes: null } : null,
  };
}

const told = ({ device, name, was, mode, to }: TriedMode): ModeChange => ({ device, name, was, mode, to });

/** What modes bring beside what is settled already. Null where they would take some of that away. */
function settledOn(
  former: Settled,
  changes: readonly TriedMode[],
  asks: readonly Ask[],
  early: readonly Refusal[],
): Settled | null {
  const edits = changes.map(({ device, to }): Edit => {
    const record = { ...former.rig.show.devices.find(({ id }) => id === device)!, mode: to };
    return { kind: "put", list: "devices", record };
  });
  const rig = rewired(applyEdits(former.rig.show, edits), former.rig);
  if (disturbedBy(former.rig, rig, []).length > 0) return null;
  const found = settled(rig, asks, early);
  // What arrives by the modes alone is brought, too.
  return {
    ...found,
    made: byDevice([...former.made, ...found.made]),
    brought: arriving(found) - former.already,
    already: former.already,
  };
}

const arriving = ({ brought, already }: Settled): number => brought + already;

/** Changes of modes, and what settings come to with them. */
interface Better {
  readonly changes: readonly TriedMode[];
  readonly found: Settled;
}

const keyOf = (changes: readonly TriedMode[]): string =>
  changes
    .map(({ device, mode }) => `${device}:${mode}`)
    .sort()
    .join();

/** Modes that open a way for what there is none for. */
function singleModes(rig: Unchecked, refusals: readonly Refusal[]): readonly (readonly TriedMode[])[] {
  const found = new Map<string, readonly TriedMode[]>();
  for (const { source, target } of byModeOnly(refusals, MOST_CAUSES))
    for (const change of modesThatHelp(rig, source, target)) found.set(keyOf([change]), [change]);
  return [...found.values()];
}

/** The same, two devices at once. */
function modePairs(rig: Unchecked, refusals: readonly Refusal[]): readonly (readonly TriedMode[])[] {
  const found = new Map<string, readonly TriedMode[]>();
  for (const { source, target } of byModeOnly(refusals, MOST_PAIRED)) {
    for (const changes of pairsThatHelp(rig, source, target)) {
      found.set(keyOf(changes), changes);
      if (found.size >= MOST_PAIRS) return [...found.values()];
    }
  }
  return [...found.values()];
}

/** Of what another mode may bring one of those that fail alike. */
function byModeOnly(refusals: readonly Refusal[], most: number): readonly Ask[] {
  const asked = new Map<string, Ask>();
  for (const { cause, ask } of refusals)
    if (ask !== null && cause.otherMode && !asked.has(cause.key)) asked.set(cause.key, ask);
  return [...asked.values()].slice(0, most);
}

/** Of a rig where next to nothing is cabled not every row is tried with every mode. */
const MOST_CAUSES = 8;
/** Pairs are many more: they are looked for on behalf of fewer rows, and so many are tried. */
const MOST_PAIRED = 3;
const MOST_PAIRS = 24;

function patchingOf(
  { wiring }: Unchecked,
  { made, brought, already, refusals, rig }: Settled,
  modes: readonly ModeChange[],
): Omit<Patching, "withModes"> {
  const devices = new Set([...modes.map(({ device }) => device), ...made.map(({ device }) => device)]);
  const edits = [...devices].map((device): Edit => {
    const record = rig.show.devices.find(({ id }) => id === device)!;
    return { kind: "put", list: "devices", record };
  });
  return { edits, lines: settingLines(wiring, made), brought, already, refused: gathered(rig, refusals) };
}

const MOST_NAMES = 3;

function gathered(rig: Unchecked, refusals: readonly Refusal[]): readonly Refused[] {
  const { wiring } = rig;
  const byCause = new Map<string, Refusal[]>();
  for (const refusal of refusals) gather(byCause, refusal.cause.key, refusal);
  return [...byCause.values()].map((alike) => {
    const places = alike.flatMap(({ where }) => (typeof where === "number" ? where : []));
    return {
      name: listOf(
        alike.map(({ name }) => name),
        MOST_NAMES,
      ),
      where: places.length > 0 ? namesOf(wiring, places) : (alike[0]!.where as string),
      reason: alike[0]!.reason + inStep(rig, alike[0]!),
      count: alike.length,
    };
  });
}

/** Of a row that is out of step with its block the next terminal of the same bank where it would stand right. */
function inStep(rig: Unchecked, { cause, ask }: Refusal): string {
  if (ask === null || !cause.otherJack) return "";
  const { span, number } = locate(rig.wiring, ask.target);
  for (let step = 1; step < MOST_STEPS; step++) {
    for (const by of [step, -step]) {
      if (number + by < 1 || number + by > span.count) continue;
      const found = wayOver(rig, [ask.source], [ask.target + by]);
      if (found.kind === "way" && found.disturbed.length === 0)
        return ` ${fullName(rig.wiring, ask.target + by)} would fit.`;
    }
  }
  return "";
}

/** Blocks are rarely longer. */
const MOST_STEPS = 8;

/** What settings alone come to. */
interface Settled {
  /** The rig with them. */
  readonly rig: Unchecked;
  readonly made: readonly WaySettings[];
  readonly brought: number;
  readonly already: number;
  readonly refusals: readonly Refusal[];
}

function settled(rig: Unchecked, asks: readonly Ask[], early: readonly Refusal[]): Settled {
  const { wiring, arrivals } = rig;
  const refusals = [...early];
  const refuse = (ask: Ask, reason: string, cause = alone(`${refusals.length}`)): void =>
    void refusals.push({ name: ask.name, where: ask.target, reason, cause, ask });
  const open: Ask[] = [];
  const taken = new Set<number>();
  let already = 0;
  for (const ask of asks) {
    if (taken.has(ask.target)) {
      refuse(ask, "Another row wants this one too.");
      continue;
    }
    taken.add(ask.target);
    const isThere = arrivesAt(wiring, arrivals, ask.target) && comesFrom(arrivals, ask.target, ask.source);
    if (isThere) already++;
    else open.push(ask);
  }
  // What arrives somewhere already must stay so: a way that takes it away isn't taken.
  let current = rig;
  let brought = 0;
  const made: WaySettings[] = [];
  const queue: (readonly Ask[])[] = [...rowsIn(wiring, open)].reverse();
  while (queue.length > 0) {
    const row = queue.pop()!;
    let clash: Clash | null = null;
    const found = wayOver(
      current,
      row.map(({ source }) => source),
      row.map(({ target }) => target),
    );
    if (found.kind === "none") {
      const stuck = row.findIndex(({ source, target }) => source === found.source && target === found.target);
      refuse(row[stuck]!, noWayText(current.wiring, found), causeOf(current.wiring, found));
      queue.push(...[row.slice(stuck + 1), row.slice(0, stuck)].filter((rest) => rest.length > 0));
    } else if (found.disturbed.length === 0 && (clash = clashOf(current, found.after, row, asks)) === null) {
      made.push(...found.settings);
      current = found.after;
      brought += row.length;
    } else if (row.length > 1) {
      // One of them takes something from somebody: in halves it shows which.
      const half = Math.ceil(row.length / 2);
      queue.push(row.slice(half), row.slice(0, half));
    } else if (clash !== null) {
      refuse(row[0]!, clash.reason, clash.cause);
    } else {
      const { terminal, was } = found.disturbed[0]!;
      const more = found.disturbed.length > 1 ? `, and ${found.disturbed.length - 1} more like it` : "";
      refuse(
        row[0]!,
        `Only by taking ${tapName(current.wiring, was)} from ${fullName(current.wiring, terminal)}${more}.`,
      );
    }
  }
  return { rig: current, made: byDevice(made), brought, already, refusals };
}

/** The settings of several ways, those of one device together. */
function byDevice(made: readonly WaySettings[]): readonly WaySettings[] {
  const settings = new Map<DeviceId, Assignment[]>();
  for (const { device, settings: list } of made) for (const each of list) gather(settings, device, each);
  return [...settings].map(([device, list]) => ({ device, settings: joined(list) }));
}

interface Clash {
  readonly reason: string;
  readonly cause: Cause;
}

/**
 * Settings go block by block: what would bring these rows may bring something to a jack of the block that another console
 * is to feed. Nobody gets that block unasked, for a wrong mix at full level is worse than none.
 */
function clashOf(
  { wiring, arrivals }: Unchecked,
  after: Unchecked,
  row: readonly Ask[],
  asks: readonly Ask[],
): Clash | null {
  const console = wiring.deviceOf[row[0]!.source]!;
  const targets = new Set(row.map(({ target }) => target));
  const wronged = asks.find(
    ({ source, target }) =>
      wiring.deviceOf[source] !== console &&
      !targets.has(target) &&
      !arrivesAt(wiring, arrivals, target) &&
      arrivesAt(after.wiring, after.arrivals, target) &&
      !comesFrom(after.arrivals, target, source),
  );
  if (!wronged) return null;
  const { name, source, target } = wronged;
  const wrong = tapName(after.wiring, after.arrivals.root[target]!);
  return {
    reason:
      `This goes in whole blocks: ${wrong} would also arrive at ${fullName(wiring, target)}, where “${name}” should get ` +
      `${tapName(wiring, source)}. Two consoles can’t share a block: move one console’s feeds to another block.`,
    cause: {
      key: `shared ${console} ${wiring.deviceOf[source]} ${locate(wiring, target).wired.index}`,
      otherMode: true,
      otherJack: false,
    },
  };
}

/** Signals of one device that come to nothing for the same reason at the same outputs fail alike. */
function causeOf(wiring: Wiring, { source, target, why }: NoWay): Cause {
  const at = decidedAt(wiring, target) ?? target;
  const of = ({ span, wired }: ReturnType<typeof locate>): string => `${wired.index}.${span.start}`;
  // Rows that are out of step alike can be put in step together.
  const own =
    why.kind === "fixed" || why.kind === "apart"
      ? ""
      : ` ${why.kind === "unaligned" ? target - source : target}`;
  const [from, to, decided] = [source, target, at].map((terminal) => of(locate(wiring, terminal)));
  return {
    key: `no way ${why.kind} ${from} ${to} ${decided}${own}`,
    otherMode: true,
    otherJack: why.kind === "unaligned",
  };
}

/** Asks of one device whose targets stand side by side, which it patches in one go. */
function rowsIn({ deviceOf }: Wiring, asks: readonly Ask[]): readonly (readonly Ask[])[] {
  const rows: Ask[][] = [];
  for (const ask of [...asks].sort((a, b) => a.target - b.target)) {
    const last = rows.at(-1);
    const before = last?.at(-1);
    if (
      last &&
      before &&
      before.target + 1 === ask.target &&
      deviceOf[before.source] === deviceOf[ask.source]
    )
      last.push(ask);
    else rows.push([ask]);
  }
  return rows;
}
