/** F23: wanted feeds whose running time rests on numbers that nobody took from a sheet, a standard or a measurement. */
import { CABLES } from "../catalog/cables.ts";
import type { Delay } from "../model/device-type.ts";
import { arrivesAt } from "../trace/owners.ts";
import { NO_RULE, type Fabric } from "../wiring/fabric.ts";
import type { PluggedCable } from "../wiring/plugs.ts";
import { Edge, type Wiring } from "../wiring/wiring.ts";
import { counted, listOf } from "./describe.ts";
import { plannedFeeds, wantsOf, type Feed } from "./feeds.ts";
import { found, type Check } from "./finding.ts";
import { once } from "../model/once.ts";

export const assumedPath: Check = {
  id: "assumed-path",
  about: "wanted feeds whose delay rests on assumed numbers",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    wiring.show.cables,
    wiring.show.wants,
    wiring.show.channels,
    wiring.show.streams,
  ],
  run: ({ wiring, arrivals }) => {
    const assumed = new Assumed(wiring);
    const resting: Feed[] = [];
    let wanted = 0;
    for (const feed of plannedFeeds(wiring)) {
      if (feed.want === null || !arrivesAt(wiring, arrivals, feed.terminal)) continue;
      wanted++;
      if (assumed.reaches(feed.terminal)) resting.push(feed);
    }
    if (resting.length === 0) return [];
    const devices = [...assumed.devices].map((index) => wiring.devices[index]!);
    const types = new Set(devices.map(({ fabric }) => fabric.layout.type.name));
    const kinds = [...assumed.cables].map((index) => CABLES[wiring.plugs.cables[index]!.cable.kind].name);
    const whose = [
      devices.length === 0
        ? ""
        : `${listOf(devices.map(({ device }) => device.name))} (${counted(types.size, "device type")})`,
      kinds.length === 0 ? "" : `the delay per metre of ${listOf([...new Set(kinds)])}`,
    ].filter((part) => part !== "");
    return [
      found(
        {
          id: "assumed-path",
          check: "assumed-path",
          severity: "note",
          title: `${resting.length} of ${counted(wanted, "wanted feed")} ${resting.length === 1 ? "rests" : "rest"} on assumed delays`,
          reason: `Assumed numbers stand in ${whose.join(", and in ")}. Put in those of the makers' sheets before you rely on the times.`,
        },
        { devices: devices.map(({ device }) => device.id), wants: wantsOf(resting) },
      ),
    ];
  },
};

const isAssumed = (delay: Delay | undefined): boolean => delay?.provenance === "assumed";

/** Which times at a terminal are assumed, as a sum: counted as a signal leaves it, as it comes in, of the rule that feeds it. */
const LEAVING = 1;
const ENTERING = 2;
const RULE = 4;

const assumedTimes = once(({ layout, rule, rules }: Fabric): Uint8Array => {
  const times = new Uint8Array(layout.size);
  for (const span of layout.spans) {
    const assumed =
      (span.side === "jack" && isAssumed(span.bank.convert)) ||
      (span.side === "send" && isAssumed(span.port.sendDelay)) ||
      (span.side === "receive" && isAssumed(span.port.receiveDelay));
    if (!assumed) continue;
    const leaving = span.side === "send" || (span.side === "jack" && span.bank.direction === "in");
    times.fill(leaving ? LEAVING : ENTERING, span.start, span.start + span.count);
  }
  rule.forEach((index, offset) => {
    if (index !== NO_RULE && isAssumed(rules[index]!.delay)) times[offset]! |= RULE;
  });
  return times;
});

const UNSEEN = 0;
const SURE = 1;
const RESTS = 2;

/** Walks up from terminals, each once, and notes whose numbers are assumed. Agrees with the traces' parts. */
export class Assumed {
  readonly devices = new Set<number>();
  readonly cables = new Set<number>();
  readonly #seen: Uint8Array;
  readonly #times: Uint8Array;
  readonly #wiring: Wiring;
  readonly #path: number[] = [];
  /** Devices that are noted: asked far more often than new ones come. */
  readonly #noted: Uint8Array;
  constructor(wiring: Wiring) {
    this.#wiring = wiring;
    this.#seen = new Uint8Array(wiring.size);
    this.#times = new Uint8Array(wiring.size);
    this.#noted = new Uint8Array(wiring.devices.length);
    for (const wired of wiring.devices) if (wired) this.#times.set(assumedTimes(wired.fabric), wired.base);
  }

  /** Whether a part of the way to the terminal is assumed. */
  reaches(target: number): boolean {
    const { feeder } = this.#wiring;
    const path = this.#path;
    let at = target;
    while (this.#seen[at] === UNSEEN && feeder[at]! >= 0) {
      path.push(at);
      at = feeder[at]!;
    }
    let rests = this.#seen[at] === RESTS;
    while (path.length > 0) {
      const terminal = path.pop()!;
      if (this.#step(terminal)) rests = true;
      this.#seen[terminal] = rests ? RESTS : SURE;
    }
    return rests;
  }

  /** Whether a part of the step into a terminal is assumed: what its feeder adds in leaving, the way, its own. */
  #step(terminal: number): boolean {
    const { feeder, edge, setting, deviceOf, plugs, ways } = this.#wiring;
    const from = feeder[terminal]!;
    const own = this.#times[terminal]!;
    let assumed = false;
    if ((this.#times[from]! & LEAVING) !== 0) assumed = this.#note(deviceOf[from]!);
    if ((own & ENTERING) !== 0) assumed = this.#note(deviceOf[terminal]!);
    if (edge[terminal] === Edge.cable) return this.#pass(plugs.cables[setting[terminal]!]!) || assumed;
    if (edge[terminal] === Edge.stream) {
      for (const { cable } of ways[setting[terminal]!]!.legs) assumed = this.#pass(cable) || assumed;
      return assumed;
    }
    return ((own & RULE) !== 0 && this.#note(deviceOf[terminal]!)) || assumed;
  }

  #note(device: number): true {
    if (this.#noted[device] === 0) this.devices.add(device);
    this.#noted[device] = 1;
    return true;
  }

  /** Whether the cable's own time is assumed. */
  #pass({ index, cable }: PluggedCable): boolean {
    if (cable.length === undefined || CABLES[cable.kind].provenance !== "assumed") return false;
    this.cables.add(index);
    return true;
  }
}
