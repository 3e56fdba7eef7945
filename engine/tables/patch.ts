/**
 * Patching what the lists plan: each source to the channels that are to carry it, each wanted tap to its jack. Ways over
 * settings are `routes/ways.ts`' to find; here stands which are asked for, and that none is taken that takes something
 * away from somebody else.
 */
import type { Analysis } from "../analysis.ts";
import { tapName } from "../findings/describe.ts";
import { NOWHERE, standing } from "../findings/standing.ts";
import type { Edit } from "../model/edit.ts";
import { noWayText, settingLines, type SettingLine } from "../routes/told.ts";
import { wayFor } from "../routes/ways.ts";
import { arrivesAt, comesFrom } from "../trace/owners.ts";
import { findTerminal, fullName } from "../trace/terminal.ts";
import { joined } from "../model/routing.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Assignment } from "../model/show.ts";

export interface Refused {
  /** The source or want, and the channel or jack where it should arrive. */
  readonly name: string;
  readonly where: string;
  readonly reason: string;
}

export interface Patching {
  readonly edits: readonly Edit[];
  /** What the devices' own pages are to read, and what they read before. */
  readonly lines: readonly SettingLine[];
  /** Rows that arrive with these settings, and those that did already. */
  readonly brought: number;
  readonly already: number;
  readonly refused: readonly Refused[];
}

interface Ask {
  readonly name: string;
  readonly source: number;
  readonly target: number;
}

/** Channels that are planned to carry a source. */
export function patchChannels(analysis: Analysis): Patching {
  const { show } = analysis;
  const at = standing(analysis.wiring);
  const jacks = new Map(show.sources.map(({ id, name }, n) => [id, { name, jack: at.sources[n]! }]));
  const asks: Ask[] = [];
  const refused: Refused[] = [];
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
      refused.push({ name: known.name, where: name === "" ? `channel ${number}` : name, reason });
    }
  });
  return patch(analysis, asks, refused);
}

/** Wants that name a tap. */
export function patchWants(analysis: Analysis): Patching {
  const { wiring, show } = analysis;
  const asks: Ask[] = [];
  const refused: Refused[] = [];
  for (const { name, to, from } of show.wants) {
    if (!from) continue;
    const [source, target] = [findTerminal(wiring, from), findTerminal(wiring, to)];
    if (source !== null && target !== null) asks.push({ name, source, target });
    else
      refused.push({
        name,
        where: target === null ? "a jack that is gone" : fullName(wiring, target),
        reason: `${target === null ? "The jack" : "The tap"} isn’t in the rig.`,
      });
  }
  return patch(analysis, asks, refused);
}

function patch(analysis: Analysis, asks: readonly Ask[], early: readonly Refused[]): Patching {
  const { wiring, arrivals } = analysis;
  const refused = [...early];
  const refuse = ({ name, target }: Ask, reason: string): void =>
    void refused.push({ name, where: fullName(wiring, target), reason });
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
  let current = analysis;
  let brought = 0;
  const settings = new Map<DeviceId, Assignment[]>();
  const queue: (readonly Ask[])[] = [...rowsIn(open)].reverse();
  while (queue.length > 0) {
    const row = queue.pop()!;
    const found = wayFor(
      current,
      row.map(({ source }) => source),
      row.map(({ target }) => target),
    );
    if (found.kind === "none") {
      const stuck = row.findIndex(({ source, target }) => source === found.source && target === found.target);
      refuse(row[stuck]!, noWayText(current.wiring, found));
      queue.push(...[row.slice(stuck + 1), row.slice(0, stuck)].filter((rest) => rest.length > 0));
    } else if (found.disturbed.length === 0) {
      for (const { device, settings: made } of found.settings)
        settings.set(device, [...(settings.get(device) ?? []), ...made]);
      current = found.after;
      brought += row.length;
    } else if (row.length > 1) {
      // One of them takes something from somebody: in halves it shows which.
      const half = Math.ceil(row.length / 2);
      queue.push(row.slice(half), row.slice(0, half));
    } else {
      const { terminal, was } = found.disturbed[0]!;
      const more = found.disturbed.length > 1 ? `, and ${found.disturbed.length - 1} more likewise` : "";
      refuse(
        row[0]!,
        `Only by taking ${tapName(current.wiring, was)} from ${fullName(current.wiring, terminal)}${more}.`,
      );
    }
  }
  const made = [...settings].map(([device, list]) => ({ device, settings: joined(list) }));
  const edits = made.map(({ device }): Edit => {
    const record = current.show.devices.find(({ id }) => id === device)!;
    return { kind: "put", list: "devices", record };
  });
  return { edits, lines: settingLines(wiring, made), brought, already, refused };
}

/** Asks whose targets stand side by side, which a console patches in one go. */
function rowsIn(asks: readonly Ask[]): readonly (readonly Ask[])[] {
  const rows: Ask[][] = [];
  for (const ask of [...asks].sort((a, b) => a.target - b.target)) {
    const last = rows.at(-1);
    if (last && last.at(-1)!.target + 1 === ask.target) last.push(ask);
    else rows.push([ask]);
  }
  return rows;
}
