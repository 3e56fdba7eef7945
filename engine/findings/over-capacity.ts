/** F7: settings and streams that use slots which don't exist at the rate concerned. */
import type { Stream } from "../model/show.ts";
import { rateName } from "../model/units.ts";
import { ranges, sideName, terminalOf, type Terminal } from "../trace/terminal.ts";
import { linkCapacity, slotsAt, streamSlots } from "../wiring/join.ts";
import type { Span } from "../wiring/layout.ts";
import type { StreamWay } from "../wiring/network.ts";
import type { Port } from "../wiring/plugs.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { counted } from "./describe.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";
import { gather } from "../model/once.ts";
import { cleared } from "../model/routing.ts";
import { wiredOf } from "../trace/records.ts";
import { deviceFix, rateFixes } from "./remedies.ts";

type PortSpan = Extract<Span, { side: "receive" | "send" }>;

export const overCapacity: Check = {
  id: "over-capacity",
  about: "a setting or stream on slots that don't exist at the rate",
  reads: ({ wiring }) => [wiring.conduct, wiring.show.cables, wiring.ways],
  run: ({ wiring }) => [
    ...wiring.devices.flatMap((wired) => {
      // Most devices set nothing.
      if (!wired || wired.device.routing.length === 0) return [];
      const { layout } = wired.fabric;
      const used = new Map<PortSpan, Used>();
      const use = (span: Span | undefined, first: number, count: number): void => {
        if (!span || span.side === "jack" || span.side === "bus") return;
        let there = used.get(span);
        if (!there) used.set(span, (there = { ...capacity(wiring, wired, span), beyond: [] }));
        // A slot past every rate's table is a setting that can't be held, which check F13 tells of.
        const last = Math.min(first + count - 1, span.count);
        for (let slot = Math.max(first, there.slots + 1); slot <= last; slot++) there.beyond.push(slot);
      };
      for (const { to, from, count } of wired.device.routing) {
        use(layout.destinations.get(to.group), to.first, count);
        use(layout.sources.get(from.group), from.first, count);
      }
      return [...used].flatMap(([span, there]) =>
        there.beyond.length > 0 ? [told(wiring, wired, span, there)] : [],
      );
    }),
    ...tooLong(wiring).map(toldStream),
  ],
  propose: ({ wiring }, { id: finding, devices: [id], terminals }) => {
    const stream = tooLong(wiring).find((each) => streamId(each[0]!) === finding);
    if (stream) return shortened(stream);
    const wired = wiredOf(wiring, id!)!;
    const [{ group, side }] = terminals as [Terminal];
    const far = wiring.plugs.ofPort(wired.index, group)?.far;
    const beyond = new Set(terminals.map(({ number }) => number));
    const routing = cleared(wired.device.routing, ({ to, from }, n) =>
      side === "send"
        ? to.group === group && beyond.has(to.first + n)
        : from.group === group && beyond.has(from.first + n),
    );
    return [
      ...rateFixes(far ? [wired.device, far.device.device] : [wired.device]),
      deviceFix(`Clear the settings of ${wired.device.name} past the last slot`, {
        ...wired.device,
        routing,
      }),
    ];
  },
};

/** A row of slots that settings use. */
interface Used extends Capacity {
  /** The numbers that they use past the last slot. */
  readonly beyond: number[];
}

function told(
  wiring: Wiring,
  wired: WiredDevice,
  span: PortSpan,
  { slots, rate, cable, beyond }: Used,
): Finding {
  const { device } = wired;
  return {
    id: `over-capacity:${device.id}:${span.port.id}:${span.side}`,
    check: "over-capacity",
    severity: "error",
    title: `${device.name} ${sideName(span)} is set past its last slot`,
    reason: `It carries ${slots} slots at ${rateName(rate)}; ${missing(beyond)}.`,
    terminals: beyond.map((number) => terminalOf(wiring, wired.base + span.start + number - 1)),
    devices: [device.id],
    cables: cable ? [cable] : [],
    wants: [],
  };
}

const missing = (slots: readonly number[]): string =>
  slots.length === 1 ? `slot ${slots[0]!} does not exist` : `slots ${ranges(slots)} do not exist`;

/** The streams that go past the last slot of their sender, of a switch or of a receiver: their ways that do so. */
function tooLong({ ways }: Wiring): readonly (readonly StreamWay[])[] {
  const long = new Map<Stream, StreamWay[]>();
  for (const way of ways) if (fitting(way) < way.stream.channels) gather(long, way.stream, way);
  return [...long.values()];
}

/** The channels of a stream that there are slots for on one of its ways. */
function fitting(way: StreamWay): number {
  const { stream, receiver } = way;
  const { send, receive } = streamSlots(way);
  return Math.min(send - stream.from.first, receive - stream.to[receiver]!.first) + 1;
}

const portName = ({ device, port }: Port): string => `${device.device.name} ${port.name}`;
const streamId = ({ stream }: StreamWay): string => `over-capacity:stream:${stream.id}`;
const streamName = ({ name, id }: Stream): string => `“${name || id}”`;

function toldStream(ways: readonly StreamWay[]): Finding {
  const { stream, from } = ways[0]!;
  const lines = new Set<string>();
  const tell = (what: string, { device }: Port, first: number, slots: number): void => {
    const last = first + stream.channels - 1;
    const start = Math.max(first, slots + 1);
    if (last < start) return;
    const beyond = Array.from({ length: last - start + 1 }, (_, n) => start + n);
    lines.add(`${what} ${slots} slots at ${rateName(device.rate)}; ${missing(beyond)}.`);
  };
  for (const way of ways) {
    const { send, receive } = streamSlots(way);
    tell(`${portName(from)} gets through with`, from, stream.from.first, send);
    tell(`${portName(way.to)} takes`, way.to, stream.to[way.receiver]!.first, receive);
  }
  return found(
    {
      id: streamId(ways[0]!),
      check: "over-capacity",
      severity: "error",
      title: `Stream ${streamName(stream)} goes past the last slot`,
      reason: [...lines].join(" "),
    },
    { devices: [...new Set([from, ...ways.map(({ to }) => to)].map(({ device }) => device.device.id))] },
  );
}

/** With the channels that there are slots for on every way. */
function shortened(ways: readonly StreamWay[]): readonly Fix[] {
  const { stream } = ways[0]!;
  const channels = Math.min(...ways.map(fitting));
  if (channels < 1) return [];
  const label = `Send ${counted(channels, "channel")} in ${streamName(stream)}`;
  return [{ label, edits: [{ kind: "put", list: "streams", record: { ...stream, channels } }] }];
}

interface Capacity {
  readonly slots: number;
  readonly rate: WiredDevice["rate"];
  /** The link's. */
  readonly cable: Finding["cables"][number] | null;
}

/** Slots of a port's row: those of its link where one is plugged in, else its own at the device's rate. */
function capacity(wiring: Wiring, wired: WiredDevice, span: PortSpan): Capacity {
  const plugged = wiring.plugs.ofPort(wired.index, span.port.id)?.cable;
  if (plugged?.join.kind === "link") {
    const [a, b] = plugged.join.ends;
    const [near, far] = a.device === wired && a.port === span.port ? [a, b] : [b, a];
    const [from, to] = span.side === "send" ? [near, far] : [far, near];
    return { ...linkCapacity(from, to), cable: plugged.cable.id };
  }
  return { slots: slotsAt(span.port, span.side, wired.rate), rate: wired.rate, cable: null };
}
