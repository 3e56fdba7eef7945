/** F12 and F13: settings of which only one counts, and settings that do nothing. */
import type { Assignment, Stream } from "../model/show.ts";
import { numbersName, ranges, sideName, terminalOf } from "../trace/terminal.ts";
import { holds, NO_RULE } from "../wiring/fabric.ts";
import type { Span } from "../wiring/layout.ts";
import type { StreamWay } from "../wiring/network.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../wiring/wiring.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";
import { darkFeeds } from "./feeds.ts";
import { gather } from "../model/once.ts";
import { cleared } from "../model/routing.ts";
import { wiredOf } from "../trace/records.ts";
import { deviceFix, modeFixes } from "./remedies.ts";

/** Visits each destination terminal of a device's settings, with the setting's place among them and the place in it. */
function eachTarget(
  wired: WiredDevice,
  visit: (span: Span, number: number, setting: number, n: number) => void,
): void {
  wired.device.routing.forEach(({ to, count }, setting) => {
    const span = wired.fabric.layout.destinations.get(to.group);
    if (!span) return;
    for (let n = 0; n < count && to.first + n <= span.count; n++) visit(span, to.first + n, setting, n);
  });
}

function told(
  wiring: Wiring,
  wired: WiredDevice,
  span: Span,
  numbers: readonly number[],
  check: string,
  words: {
    readonly title: (where: string) => string;
    readonly reason: string;
    readonly key?: string;
  },
): Finding {
  const where = `${wired.device.name} ${sideName(span)} ${numbersName(span, numbers)}`;
  const terminals = numbers.map((number) => terminalOf(wiring, wired.base + span.start + number - 1));
  return {
    id: `${check}:${wired.device.id}:${terminals[0]!.group}${words.key ?? ""}`,
    check,
    severity: "warning",
    title: words.title(where),
    reason: words.reason,
    terminals,
    devices: [wired.device.id],
    cables: [],
    wants: [],
  };
}

export const setTwice: Check = {
  id: "set-twice",
  about: "two settings on one destination, two streams on one slot",
  reads: ({ wiring }) => [wiring.conduct, wiring.ways],
  run: ({ wiring }) => {
    const seen = new Uint8Array(wiring.size);
    const settings = wiring.devices.flatMap((wired) => {
      // One setting alone sets nothing twice.
      if (!wired || wired.device.routing.length < 2) return [];
      const twice = new Map<Span, number[]>();
      eachTarget(wired, (span, number) => {
        const terminal = wired.base + span.start + number - 1;
        if (seen[terminal] === 1) gather(twice, span, number);
        seen[terminal] = 1;
      });
      return Array.from(twice, ([span, numbers]) =>
        told(wiring, wired, span, numbers, "set-twice", {
          title: (where) => `${where} is set twice`,
          reason: "The later of the two settings counts; the earlier one does nothing.",
        }),
      );
    });
    return [...settings, ...lateStreams(wiring).map((late) => toldLate(wiring, late))];
  },
  propose: ({ wiring }, { id: finding, devices: [id] }) => {
    const late = lateStreams(wiring).find((each) => lateId(each) === finding);
    if (late) return [withoutReceiver(late.way)];
    const { device } = wiredOf(wiring, id!)!;
    // From the last setting to the first: what a later one sets, an earlier one gives up.
    const set = new Set<string>();
    const last = (setting: Assignment, n: number): boolean => {
      const key = `${setting.to.group}:${setting.to.first + n}`;
      return set.size === set.add(key).size;
    };
    const kept = device.routing
      .toReversed()
      .map((setting) => cleared([setting], last))
      .toReversed();
    return [deviceFix(`Drop what is set over at ${device.name}`, { ...device, routing: kept.flat() })];
  },
};

/** A stream's way to a receiver where streams before it in the show have some of its slots. */
interface Late {
  readonly way: StreamWay;
  readonly slots: readonly number[];
  readonly before: Stream;
}

function lateStreams({ ways, size }: Wiring): readonly Late[] {
  if (ways.length < 2) return [];
  // The way that brings something to a slot, from 1 on.
  const taken = new Int32Array(size);
  return ways.flatMap((way, index): Late[] => {
    const { stream, receiver, to } = way;
    const { start, count } = to.device.fabric.layout.sources.get(to.port.id)!;
    const slots: number[] = [];
    let before: Stream | null = null;
    const { first } = stream.to[receiver]!;
    const last = Math.min(first + stream.channels - 1, count);
    for (let slot = first; slot <= last; slot++) {
      const terminal = to.device.base + start + slot - 1;
      if (taken[terminal] === 0) taken[terminal] = index + 1;
      else {
        before ??= ways[taken[terminal]! - 1]!.stream;
        slots.push(slot);
      }
    }
    return before ? [{ way, slots, before }] : [];
  });
}

const lateId = ({ way: { stream, receiver } }: Late): string => `set-twice:stream:${stream.id}:${receiver}`;
const streamName = ({ name, id }: Stream): string => `“${name || id}”`;

function toldLate(wiring: Wiring, late: Late): Finding {
  const { way, slots, before } = late;
  const { device, port } = way.to;
  const span = device.fabric.layout.sources.get(port.id)!;
  return found(
    {
      id: lateId(late),
      check: "set-twice",
      severity: "warning",
      title: `${device.device.name} ${sideName(span)} ${ranges(slots)} ${slots.length === 1 ? "is" : "are"} taken by a second stream`,
      reason: `${streamName(before)} stands before ${streamName(way.stream)} in the show and counts there; what the other brings is lost.`,
    },
    {
      terminals: slots.map((slot) => terminalOf(wiring, device.base + span.start + slot - 1)),
      devices: [device.device.id],
    },
  );
}

/** The stream without one receiver; without any it goes. */
function withoutReceiver({ stream, receiver, to }: StreamWay): Fix {
  const label = `Take ${to.device.device.name} out of ${streamName(stream)}`;
  const ends = stream.to.toSpliced(receiver, 1);
  if (ends.length === 0) return { label, edits: [{ kind: "remove", list: "streams", id: stream.id }] };
  return { label, edits: [{ kind: "put", list: "streams", record: { ...stream, to: ends } }] };
}

/** Whether a rule of the mode overrules a setting at its n-th terminal, or the mode can't hold it there. */
export function idle(
  { fabric }: WiredDevice,
  span: Span,
  setting: Assignment,
  n: number,
): "overruled" | "refused" | null {
  const index = fabric.rule[span.start + setting.to.first + n - 1]!;
  const rule = index === NO_RULE ? null : fabric.rules[index]!;
  if (rule && rule.kind !== "patch") return "overruled";
  const held = rule && fabric.layout.sources.has(setting.from.group) && holds(rule, setting, n);
  return held ? null : "refused";
}

/** Whether it is this setting of its device that feeds a terminal. */
const feeds = ({ state, edge, setting }: Wiring, terminal: number, index: number): boolean =>
  state[terminal] === State.fed && edge[terminal] === Edge.patched && setting[terminal] === index;

/** Whether each setting of a device feeds all that it assigns. That is so nearly everywhere, and then no rule is asked. */
function allFeed(wiring: Wiring, { base, device, fabric }: WiredDevice): boolean {
  return device.routing.every(({ to, count }, setting) => {
    const span = fabric.layout.destinations.get(to.group);
    const last = to.first + count - 1;
    if (!span || last > span.count) return false;
    for (let number = to.first; number <= last; number++) {
      if (!feeds(wiring, base + span.start + number - 1, setting)) return false;
    }
    return true;
  });
}

/** The settings of destinations that the device doesn't have, one finding. */
function lost({ device, fabric }: WiredDevice): Finding[] {
  const missing = new Map<string, string>();
  for (const { to, count } of device.routing) {
    const span = fabric.layout.destinations.get(to.group);
    if (!span) missing.set(to.group, `Nothing can be set at “${to.group}”`);
    else if (to.first + count - 1 > span.count) {
      missing.set(to.group, `${sideName(span)} has ${span.count}, and number ${to.first + count - 1} is set`);
    }
  }
  if (missing.size === 0) return [];
  return [
    found(
      {
        id: `setting-idle:${device.id}:lost`,
        check: "setting-idle",
        severity: "warning",
        title: `${device.name} has settings of what isn't there`,
        reason: `${[...missing.values()].join("; ")}. The settings are kept as they are.`,
      },
      { devices: [device.id] },
    ),
  ];
}

export const settingIdle: Check = {
  id: "setting-idle",
  about: "a setting that the mode can't hold or that a fixed rule overrules",
  reads: ({ wiring, arrivals }) => [arrivals.root, wiring.conduct, wiring.show.wants, wiring.show.channels],
  run: (rig) =>
    rig.wiring.devices.flatMap((wired) => {
      if (!wired || allFeed(rig.wiring, wired)) return [];
      const { wiring } = rig;
      const dark = darkFeeds(rig);
      const { fabric, device } = wired;
      const overruled = new Map<Span, number[]>();
      const refused = new Map<Span, number[]>();
      eachTarget(wired, (span, number, setting, n) => {
        const terminal = wired.base + span.start + number - 1;
        // What the setting feeds it can hold.
        if (feeds(wiring, terminal, setting)) return;
        const why = idle(wired, span, device.routing[setting]!, n);
        if (why === "overruled") gather(overruled, span, number);
        // Where a wanted feed is dark for it, that is an error already.
        else if (why === "refused" && !dark.has(terminal)) gather(refused, span, number);
      });
      const mode = fabric.mode?.name ?? device.mode;
      return [
        ...[...overruled].map(([span, numbers]) =>
          told(wiring, wired, span, numbers, "setting-idle", {
            title: (where) => `The setting of ${where} does nothing`,
            reason: `In mode “${mode}” that is wired inside the device and can't be set.`,
            // One group may have settings of both sorts.
            key: ":wired",
          }),
        ),
        ...[...refused].map(([span, numbers]) =>
          told(wiring, wired, span, numbers, "setting-idle", {
            title: (where) =>
              `${device.name} can't hold the setting of ${where.slice(device.name.length + 1)}`,
            reason: `In mode “${mode}” it takes whole, aligned runs from the sources that its type lists.`,
          }),
        ),
        ...lost(wired),
      ];
    }),
  propose: ({ wiring }, { devices: [id] }) => {
    const wired = wiredOf(wiring, id!)!;
    const { destinations } = wired.fabric.layout;
    const routing = cleared(wired.device.routing, (setting, n) => {
      const span = destinations.get(setting.to.group);
      return !span || setting.to.first + n > span.count || idle(wired, span, setting, n) !== null;
    });
    return [
      ...modeFixes(wired),
      deviceFix(`Take the settings without effect off ${wired.device.name}`, { ...wired.device, routing }),
    ];
  },
};
