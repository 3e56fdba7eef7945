/** F26: who sets the gain of a source's preamp, whether they can, and whether phantom power gets to the source. */
import type { DeviceId } from "../model/ids.ts";
import type { Source } from "../model/show.ts";
import { findTerminal, fullName, locate, terminalOf } from "../trace/terminal.ts";
import type { Span } from "../wiring/layout.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { counted, deviceName, listOf } from "./describe.ts";
import { found, type Check, type Finding } from "./finding.ts";
import { gather, once } from "./once.ts";

export const preamp: Check = {
  id: "preamp",
  about:
    "a preamp out of its owner's reach or without an owner, and phantom power where it isn't wanted or can't get",
  run: ({ wiring }) => [
    ...outOfReach(wiring),
    ...phantomIntoLine(wiring),
    ...phantomOverIsolated(wiring),
    ...withoutOwner(wiring),
  ],
};

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
export const preampsOf = once((wiring: Wiring): ReadonlyMap<Source, readonly Preamp[]> => {
  const preamps = new Map<Source, readonly Preamp[]>();
  for (const source of wiring.show.sources) {
    const jack = findTerminal(wiring, source.at);
    if (jack !== null) preamps.set(source, from(wiring, jack));
  }
  return preamps;
});

function from(wiring: Wiring, start: number): readonly Preamp[] {
  const { downStart, downList, deviceOf } = wiring;
  const preamps: Preamp[] = [];
  const seen = new Set<number>();
  const waiting: { readonly at: number; readonly isolated: boolean }[] = [{ at: start, isolated: false }];
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const { at } = next;
    if (seen.has(at)) continue;
    seen.add(at);
    const { span } = locate(wiring, at);
    const isolated = next.isolated || (span.side === "jack" && span.bank.leg === "isolated");
    const onward = [...downList.subarray(downStart[at], downStart[at + 1])];
    const digital =
      (span.side === "jack" && span.bank.convert !== undefined) ||
      onward.some((to) => locate(wiring, to).span.side !== "jack");
    if (!digital) for (const to of onward) waiting.push({ at: to, isolated });
    else if (micInput(span)) preamps.push({ jack: at, device: deviceOf[at]!, isolated });
  }
  return preamps.sort((a, b) => a.jack - b.jack);
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

/** Whether a console can set the preamps of a device. Its own are always in reach. */
export const canSet = (wiring: Wiring, desk: number, device: number): boolean =>
  controlGroups(wiring)[desk] === controlGroups(wiring)[device];

/** The preamps of a source that its owner can set. */
export const ownPreamps = (wiring: Wiring, owner: number, preamps: readonly Preamp[]): readonly Preamp[] =>
  preamps.filter(({ device }) => canSet(wiring, owner, device));

/** Sources whose owner can't get at their preamps, by owner and by the devices that those stand in. */
function outOfReach(wiring: Wiring): Finding[] {
  const lost = new Map<string, { readonly source: Source; readonly preamps: readonly Preamp[] }[]>();
  for (const [source, preamps] of preampsOf(wiring)) {
    const owner = wiring.indexOf.get(source.preampOwner!);
    if (owner === undefined || preamps.length === 0) continue;
    if (ownPreamps(wiring, owner, preamps).length > 0) continue;
    const boxes = [...new Set(preamps.map(({ device }) => wiring.devices[device]!.device.id))];
    gather(lost, `${source.preampOwner}:${boxes.join(":")}`, { source, preamps });
  }
  return [...lost].map(([key, entries]) => {
    const [{ source, preamps }] = entries as [(typeof entries)[number]];
    const boxes = [...new Set(preamps.map(({ device }) => wiring.devices[device]!.device))];
    const owner = deviceName(wiring, source.preampOwner!);
    const names = entries.map((entry) => entry.source.name);
    return found(
      {
        id: `preamp:reach:${key}`,
        check: "preamp",
        severity: "error",
        title: `${owner} can't set the ${names.length === 1 ? `preamp of ${names[0]}` : `preamps of ${counted(names.length, "source")}`}`,
        reason: `${names.length === 1 ? "It stands" : "They stand"} in ${listOf(boxes.map(({ name }) => name))}, and no cable whose both ports carry preamp control leads there from ${owner}: ${listOf(names)}.`,
      },
      {
        terminals: entries.flatMap((entry) => entry.preamps.map(({ jack }) => terminalOf(wiring, jack))),
        devices: [...boxes.map(({ id }) => id), source.preampOwner!],
      },
    );
  });
}

export const isConsole = (wired: WiredDevice | null): boolean =>
  wired?.fabric.layout.type.category === "console";

/** Microphones at a box whose gain is nobody's. A console's own jacks are its own business. */
export const ownerless = (wiring: Wiring): readonly Source[] =>
  [...preampsOf(wiring)].flatMap(([source, preamps]) =>
    source.kind === "microphone" &&
    source.preampOwner === undefined &&
    preamps.length > 0 &&
    !preamps.some(({ device }) => isConsole(wiring.devices[device]!))
      ? [source]
      : [],
  );

function withoutOwner(wiring: Wiring): Finding[] {
  const sources = ownerless(wiring);
  if (sources.length === 0) return [];
  const jacks = sources.flatMap((source) =>
    preampsOf(wiring)
      .get(source)!
      .map(({ jack }) => jack),
  );
  const boxes = [...new Set(jacks.map((jack) => locate(wiring, jack).wired.device))];
  return [
    found(
      {
        id: "preamp:no-owner",
        check: "preamp",
        severity: "note",
        title: `${counted(sources.length, "microphone")} at ${listOf(boxes.map(({ name }) => name))} ${sources.length === 1 ? "names" : "name"} no console that sets the gain`,
        reason: `${listOf(sources.map(({ name }) => name))}. One console sets the analogue gain; every other one trims digitally by the opposite of each step.`,
      },
      { terminals: jacks.map((jack) => terminalOf(wiring, jack)), devices: boxes.map(({ id }) => id) },
    ),
  ];
}

/** 48 V on the legs of a line output does it no good, and playback has no use for it. */
function phantomIntoLine(wiring: Wiring): Finding[] {
  return wiring.show.sources.flatMap((source): Finding[] => {
    if (!source.phantom || (source.kind !== "line" && source.kind !== "playback")) return [];
    const jack = findTerminal(wiring, source.at);
    return [
      found(
        {
          id: `preamp:phantom:${source.id}`,
          check: "preamp",
          severity: "error",
          title: `Phantom power is on for ${source.name}, a ${source.kind} source`,
          reason: `${jack === null ? source.name : fullName(wiring, jack)} gets 48 V; a ${source.kind} output isn't made for it.`,
        },
        {
          terminals: jack === null ? [] : [terminalOf(wiring, jack)],
          devices: jack === null ? [] : [source.at.device],
        },
      ),
    ];
  });
}

/** Phantom on a passive split comes from one console only, the one on the direct leg: common practice. */
function phantomOverIsolated(wiring: Wiring): Finding[] {
  const cut = new Map<DeviceId, { readonly source: Source; readonly preamps: readonly Preamp[] }[]>();
  for (const [source, preamps] of preampsOf(wiring)) {
    const owner = wiring.indexOf.get(source.preampOwner!);
    if (!source.phantom || owner === undefined) continue;
    const own = ownPreamps(wiring, owner, preamps);
    if (own.length > 0 && own.every(({ isolated }) => isolated)) {
      gather(cut, source.preampOwner!, { source, preamps: own });
    }
  }
  return [...cut].map(([owner, entries]) => {
    const names = entries.map(({ source }) => source.name);
    const jacks = entries.flatMap(({ preamps }) => preamps.map(({ jack }) => jack));
    const boxes = [...new Set(jacks.map((jack) => locate(wiring, jack).wired.device))];
    return found(
      {
        id: `preamp:leg:${owner}`,
        check: "preamp",
        severity: "error",
        title: `Phantom power from ${deviceName(wiring, owner)} doesn't reach ${names.length === 1 ? names[0]! : counted(names.length, "source")}`,
        reason: `The preamps that it sets, in ${listOf(boxes.map(({ name }) => name))}, stand on the isolated leg of a split, which phantom doesn't pass: ${listOf(names)}. It has to come from the direct leg.`,
      },
      {
        terminals: jacks.map((jack) => terminalOf(wiring, jack)),
        devices: [owner, ...boxes.map(({ id }) => id)],
      },
    );
  });
}
