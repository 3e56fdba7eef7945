/** F7: a setting that uses link slots which don't exist at the link's rate. */
import { rateName } from "../model/units.ts";
import { ranges, terminalOf, type Terminal } from "../trace/terminal.ts";
import { linkCapacity, slotsAt } from "../wiring/join.ts";
import type { Span } from "../wiring/layout.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import type { Check, Finding } from "./finding.ts";
import { cleared } from "../model/routing.ts";
import { wiredOf } from "../trace/records.ts";
import { deviceFix, rateFixes } from "./remedies.ts";

type PortSpan = Extract<Span, { side: "receive" | "send" }>;

export const overCapacity: Check = {
  id: "over-capacity",
  about: "a setting on link slots that don't exist at the link's rate",
  reads: ({ wiring }) => [wiring.conduct, wiring.show.cables],
  run: ({ wiring }) =>
    wiring.devices.flatMap((wired) => {
      if (!wired) return [];
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
  propose: ({ wiring }, { devices: [id], terminals }) => {
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
    title: `${device.name} ${span.port.name} is set past its last slot`,
    reason: `It carries ${slots} slots at ${rateName(rate)}; slot ${ranges(beyond)} does not exist.`,
    terminals: beyond.map((number) => terminalOf(wiring, wired.base + span.start + number - 1)),
    devices: [device.id],
    cables: cable ? [cable] : [],
    wants: [],
  };
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
