/** F26: who sets the gain of a source's preamp, whether they can, and whether phantom power gets to the source. */
import type { DeviceId } from "../model/ids.ts";
import type { Source } from "../model/show.ts";
import { findTerminal, fullName, spanAt, terminalOf } from "../trace/terminal.ts";
import { mixOutOf } from "../wiring/mixes.ts";
import type { Span } from "../wiring/layout.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { counted, deviceName, listOf, namesFrom } from "./describe.ts";
import { devicesAt } from "./feeds.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";
import { isJoin } from "../trace/joins.ts";
import { once } from "../model/once.ts";
import { isConsole } from "./remedies.ts";
import { NOWHERE, standing } from "./standing.ts";

export const preamp: Check = {
  id: "preamp",
  about:
    "a preamp out of its owner's reach or without an owner, and phantom power where it isn't wanted or can't get",
  reads: ({ wiring, arrivals }) => [arrivals.root, wiring.conduct, wiring.show.sources, wiring.show.cables],
  run: ({ wiring }) => [
    ...outOfReach(wiring),
    ...phantomIntoLine(wiring),
    ...phantomOverIsolated(wiring),
    ...withoutOwner(wiring),
  ],
  propose: ({ wiring }, { id }) => {
    const [, kind] = id.split(":");
    const sources = wiring.show.sources;
    if (kind === "phantom") {
      const source = sources.find((candidate) => id === phantomId(candidate));
      return source
        ? [sourceFix(`Take phantom power off ${source.name}`, { ...source, phantom: false })]
        : [];
    }
    if (kind === "no-owner") return ownerFixes(wiring, ownerless(wiring), () => true);
    if (kind === "leg") {
      const cut = behindIsolated(wiring).find((each) => id === legId(each.owner));
      // Another console may set the preamp on the direct leg.
      return cut ? ownerFixes(wiring, cut.fed, ({ isolated }) => !isolated) : [];
    }
    const lost = unreached(wiring).find((each) => id === reachId(each));
    return lost ? ownerFixes(wiring, lost.fed, () => true) : [];
  },
};

const phantomId = ({ id }: Source): string => `preamp:phantom:${id}`;
const legId = (owner: DeviceId | null): string => `preamp:leg:${owner ?? ""}`;

const sourceFix = (label: string, ...records: readonly Source[]): Fix => ({
  label,
  edits: records.map((record) => ({ kind: "put", list: "sources", record })),
});

/** One for each console that can set a fitting preamp of every one of the sources. */
function ownerFixes(wiring: Wiring, fed: readonly Fed[], fits: (preamp: Preamp) => boolean): Fix[] {
  return wiring.devices.flatMap((wired): Fix[] => {
    if (!wired || !isConsole(wired)) return [];
    const { id, name } = wired.device;
    const all = fed.every(({ preamps }) => ownPreamps(wiring, wired.index, preamps).some(fits));
    if (!all || fed.every(({ source }) => source.preampOwner === id)) return [];
    return [
      sourceFix(
        `Let ${name} set the gain of ${fed.length === 1 ? fed[0]!.source.name : counted(fed.length, "source")}`,
        ...fed.map(({ source }) => ({ ...source, preampOwner: id })),
      ),
    ];
  });
}

/** A jack that turns a source to digital, with the gain that somebody has to set. */
export interface Preamp {
  readonly jack: number;
  /** The device that it stands in. */
  readonly device: number;
  /** Whether the signal came over an isolated leg of a passive split. */
  readonly isolated: boolean;
}

/** A jack that a microphone preamp stands behind, if it is this device that makes the signal digital. */
const micInput = (span: Span): boolean =>
  span.side === "jack" && span.bank.direction === "in" && span.bank.level === "mic";

/**
 * The preamps of each source: the first microphone jacks downstream, over analogue cables and through passive devices,
 * whose signal goes on digitally. Behind a split there can be two.
 */
export const preampsOf = once((wiring: Wiring): readonly Fed[] => {
  const at = standing(wiring);
  const open: number[] = [];
  return wiring.show.sources.map((source, n) => ({
    source,
    preamps: at.sources[n] === NOWHERE ? [] : from(wiring, at.sources[n]!, open),
  }));
});

/** A source and its preamps, in the show's order. */
export interface Fed {
  readonly source: Source;
  readonly preamps: readonly Preamp[];
}

/** `open`: an empty stack. Splits can be plugged one behind the other without end. It is empty again in the end. */
function from(wiring: Wiring, start: number, open: number[]): readonly Preamp[] {
  const { devices, downStart, downList, deviceOf } = wiring;
  const plugged = spanAt(wiring, start);
  // Nearly every source is plugged straight in the jack whose preamp it has.
  if (plugged.side === "jack" && plugged.bank.convert) {
    return micInput(plugged) ? [{ jack: start, device: deviceOf[start]!, isolated: false }] : [];
  }
  const preamps: Preamp[] = [];
  // What lies downstream of a source is a tree, for nothing has two feeders and the source has none; joins alone can be
  // come to twice.
  let joins: Set<number> | null = null;
  // Of what lies behind an isolated leg the complement.
  open.push(start);
  while (open.length > 0) {
    const next = open.pop()!;
    const at = next < 0 ? ~next : next;
    const span = spanAt(wiring, at);
    const isolated = next < 0 || (span.side === "jack" && span.bank.leg === "isolated");
    const first = downStart[at]!;
    const end = downStart[at + 1]!;
    let digital = span.side === "jack" && span.bank.convert !== undefined;
    for (let n = first; n < end && !digital; n++) digital = spanAt(wiring, downList[n]!).side !== "jack";
    if (digital) {
      if (micInput(span)) preamps.push({ jack: at, device: deviceOf[at]!, isolated });
      continue;
    }
    for (let n = end - 1; n >= first; n--) open.push(isolated ? ~downList[n]! : downList[n]!);
    if (devices[deviceOf[at]!]!.fabric.layout.joins.length === 0) continue;
    const out = mixOutOf(wiring);
    for (let n = out.start[at]!; n < out.start[at + 1]!; n++) {
      // A passive join is passed as a passive split is.
      const tap = out.terminal[n]!;
      if (!isJoin(wiring, tap) || joins?.has(tap)) continue;
      joins = (joins ?? new Set()).add(tap);
      open.push(isolated ? ~tap : tap);
    }
  }
  return inOrder(preamps) ? preamps : preamps.sort((a, b) => a.jack - b.jack);
}

/** They are met by ascending jacks mostly, and there are many sources. */
function inOrder(preamps: readonly Preamp[]): boolean {
  for (let n = 1; n < preamps.length; n++) if (preamps[n]!.jack < preamps[n - 1]!.jack) return false;
  return true;
}

/**
 * The devices whose preamps can be set from each other: joined by cables whose both ports carry preamp control. Each has
 * the number of its group.
 */
const controlGroups = once((wiring: Wiring): Int32Array => {
  const groups = new Int32Array(wiring.devices.length).map((_, index) => index);
  const groupOf = (index: number): number => {
    let at = index;
    while (groups[at] !== at) at = groups[at] = groups[groups[at]!]!;
    return at;
  };
  for (const plugged of wiring.plugs.cables) {
    const { join } = plugged;
    if (join.kind !== "link" || !join.ends.every(({ port }) => port.carriesPreamp)) continue;
    const [a, b] = join.ends;
    // A cable that comes second in a port joins nothing.
    const far = wiring.plugs.ofPort(a.device.index, a.port.id);
    if (far?.cable === plugged && far.far) groups[groupOf(a.device.index)] = groupOf(b.device.index);
  }
  return groups.map((_, index) => groupOf(index));
});

/** The preamps that a console can set. Those of its own jacks are always in reach. */
export function ownPreamps(wiring: Wiring, desk: number, preamps: readonly Preamp[]): readonly Preamp[] {
  const groups = controlGroups(wiring);
  return preamps.filter(({ device }) => groups[device] === groups[desk]);
}

/** The source's owner by its index; −1 where it names none, or one that the show doesn't have (F14). */
const ownerOf = ({ indexOf }: Wiring, { preampOwner }: Source): number =>
  preampOwner === undefined ? -1 : (indexOf.get(preampOwner) ?? -1);

function jacksOf(fed: readonly Fed[]): readonly number[] {
  const jacks: number[] = [];
  for (const { preamps } of fed) for (const { jack } of preamps) jacks.push(jack);
  return jacks;
}

interface Unreached {
  readonly owner: DeviceId;
  /** Where the preamps stand. */
  readonly boxes: readonly DeviceId[];
  readonly fed: Fed[];
}

const reachId = ({ owner, boxes }: Unreached): string => `preamp:reach:${owner}:${boxes.join(":")}`;

/** Sources whose owner can't get at their preamps, by owner and by the devices that those stand in. */
function unreached(wiring: Wiring): readonly Unreached[] {
  const groups = controlGroups(wiring);
  const lost = new Map<string, Unreached>();
  for (const fed of preampsOf(wiring)) {
    const owner = ownerOf(wiring, fed.source);
    if (owner < 0 || fed.preamps.length === 0) continue;
    if (fed.preamps.some(({ device }) => groups[device] === groups[owner])) continue;
    const boxes = [...new Set(fed.preamps.map(({ device }) => wiring.devices[device]!.device.id))];
    const entry = { owner: fed.source.preampOwner!, boxes, fed: [] };
    const there = lost.get(reachId(entry)) ?? entry;
    lost.set(reachId(entry), there);
    there.fed.push(fed);
  }
  return [...lost.values()];
}

function outOfReach(wiring: Wiring): Finding[] {
  return unreached(wiring).map((entry) => {
    const owner = deviceName(wiring, entry.owner);
    const names = entry.fed.map(({ source }) => source.name);
    return found(
      {
        id: reachId(entry),
        check: "preamp",
        severity: "error",
        title: `${owner} can't set the ${names.length === 1 ? `preamp of ${names[0]!}` : `preamps of ${counted(names.length, "source")}`}`,
        reason: `${names.length === 1 ? "It stands" : "They stand"} in ${listOf(entry.boxes.map((box) => deviceName(wiring, box)))}, and no cable whose both ports carry preamp control leads there from ${owner}: ${listOf(names)}.`,
      },
      {
        terminals: jacksOf(entry.fed).map((jack) => terminalOf(wiring, jack)),
        devices: [...entry.boxes, entry.owner],
      },
    );
  });
}

/** Microphones at a box whose gain is nobody's. A console's own jacks are its own business. */
const ownerless = (wiring: Wiring): readonly Fed[] =>
  preampsOf(wiring).filter(
    ({ source, preamps }) =>
      source.kind === "microphone" &&
      source.preampOwner === undefined &&
      preamps.length > 0 &&
      !preamps.some(({ device }) => isConsole(wiring.devices[device]!)),
  );

function withoutOwner(wiring: Wiring): Finding[] {
  const fed = ownerless(wiring);
  if (fed.length === 0) return [];
  const jacks = jacksOf(fed);
  const boxes = devicesAt(wiring, jacks);
  return [
    found(
      {
        id: "preamp:no-owner",
        check: "preamp",
        severity: "note",
        title: `${counted(fed.length, "microphone")} at ${listOf(boxes.map((box) => deviceName(wiring, box)))} ${fed.length === 1 ? "names" : "name"} no console that sets the gain`,
        reason: `${namesFrom(fed, ({ source }) => source.name)}. One console sets the analogue gain; every other one trims digitally by the opposite of each step.`,
      },
      { terminals: jacks.map((jack) => terminalOf(wiring, jack)), devices: boxes },
    ),
  ];
}

/** 48 V on the legs of a line output does it no good, and playback has no use for it. */
function phantomIntoLine(wiring: Wiring): Finding[] {
  const wrong = wiring.show.sources.filter(
    ({ phantom, kind }) => phantom && (kind === "line" || kind === "playback"),
  );
  return wrong.map((source) => {
    const jack = findTerminal(wiring, source.at);
    return found(
      {
        id: phantomId(source),
        check: "preamp",
        severity: "error",
        title: `Phantom power is on for ${source.name}, a ${source.kind} source`,
        reason: `${jack === null ? source.name : fullName(wiring, jack)} gets 48 V; a ${source.kind} output isn't made for it.`,
      },
      {
        terminals: jack === null ? [] : [terminalOf(wiring, jack)],
        devices: jack === null ? [] : [source.at.device],
      },
    );
  });
}

interface Cut {
  /** Null: none is named, so that any preamp would do. */
  readonly owner: DeviceId | null;
  readonly fed: Fed[];
}

/** Sources that want phantom, and whose owner sets no preamp but those on an isolated leg; by owner. */
function behindIsolated(wiring: Wiring): readonly Cut[] {
  const cuts = new Map<DeviceId | null, Cut>();
  for (const fed of preampsOf(wiring)) {
    const { phantom, preampOwner: id = null } = fed.source;
    if (!phantom || (id !== null && !wiring.indexOf.has(id))) continue;
    const own = preampsAt(wiring, id, fed.preamps);
    if (own.length === 0 || own.some(({ isolated }) => !isolated)) continue;
    const cut = cuts.get(id) ?? { owner: id, fed: [] };
    cuts.set(id, cut);
    cut.fed.push(fed);
  }
  return [...cuts.values()];
}

/** Those that an owner can set; all where none is named. */
const preampsAt = (wiring: Wiring, owner: DeviceId | null, preamps: readonly Preamp[]): readonly Preamp[] =>
  owner === null ? preamps : ownPreamps(wiring, wiring.indexOf.get(owner)!, preamps);

/** Phantom on a passive split comes from one console only, the one on the direct leg: common practice. */
function phantomOverIsolated(wiring: Wiring): Finding[] {
  return behindIsolated(wiring).map(({ owner, fed }) => {
    const names = fed.map(({ source }) => source.name);
    const jacks = jacksOf(
      fed.map(({ source, preamps }) => ({ source, preamps: preampsAt(wiring, owner, preamps) })),
    );
    const boxes = devicesAt(wiring, jacks);
    return found(
      {
        id: legId(owner),
        check: "preamp",
        severity: "error",
        title: `Phantom power${owner === null ? "" : ` from ${deviceName(wiring, owner)}`} doesn't reach ${names.length === 1 ? names[0]! : counted(names.length, "source")}`,
        reason: `${owner === null ? "All preamps there are" : "The preamps that it sets"}, in ${listOf(boxes.map((box) => deviceName(wiring, box)))}, stand on the isolated leg of a split, which phantom doesn't pass: ${listOf(names)}. It has to come from the direct leg.`,
      },
      {
        terminals: jacks.map((jack) => terminalOf(wiring, jack)),
        devices: [...new Set([...(owner === null ? [] : [owner]), ...boxes])],
      },
    );
  });
}
