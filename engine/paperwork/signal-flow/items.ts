/**
 * What stands in the boxes of a signal-flow diagram: for each device its name and kind, and a row for each cable that is
 * plugged in it, with the ranges of slots or jacks that it carries and whose they are. Nothing here has a place yet.
 *
 * Small devices of one kind in one place that hang on the same device are told together, as a *stack*: twelve wedges are
 * one box with twelve rows, which is how a patch list has them.
 */
import type { Analysis } from "../../analysis.ts";
import { Assumed } from "../../findings/assumed-path.ts";
import type { Rect } from "../../layout/geometry.ts";
import { sizeOf, typesOf } from "../../layout/scene.ts";
import type { DeviceType } from "../../model/device-type.ts";
import type { DeviceId, GroupId, PlaceId } from "../../model/ids.ts";
import type { Cable, CableEnd, Device } from "../../model/show.ts";
import { lengthName } from "../../model/units.ts";
import { arrivesAt, ownersAt } from "../../trace/owners.ts";
import { placesById } from "../../trace/records.ts";
import { numbersName, sideName } from "../../trace/terminal.ts";
import { layoutOf, mostSlots, spanGroup, type Span } from "../../wiring/layout.ts";
import { Edge, State, type WiredDevice, type Wiring } from "../../wiring/wiring.ts";
import type { Scoped } from "./scope.ts";

/** Neighbouring or scattered terminals of one group that have the same owners. */
export interface Part {
  /** Indexes of the devices that own them; none where they come straight from sources, or not at all. */
  readonly owners: readonly number[];
  readonly arrives: boolean;
  /** `1–8, 17–24` */
  readonly numbers: string;
  /** `0.93 ms`, `0.93–1.40 ms`; empty where delays weren't asked for. */
  readonly delay: string;
  /** The delay rests on a number that nobody has confirmed. */
  readonly assumed: boolean;
}

/** What one way of a port or one stretch of a bank carries. */
export interface Told {
  readonly label: string;
  readonly parts: readonly Part[];
}

/** The end of a cable at a box. */
export interface Plug {
  /** Index of the cable in the show. */
  readonly cable: number;
  readonly end: 0 | 1;
}

export interface ItemRow {
  readonly plug: Plug | null;
  /** In a stack: the device that the row is. */
  readonly name: string;
  readonly told: readonly Told[];
}

/** A device, or a stack of them. */
export interface Item {
  readonly id: string;
  readonly name: string;
  /** Type, mode, position, place: as much as there is to say. */
  readonly details: readonly string[];
  /** Indexes of the devices in the show. */
  readonly devices: readonly number[];
  readonly place: PlaceId;
  readonly stack: boolean;
  readonly isConsole: boolean;
  /** Nothing is known of the device's insides, or it is switched off. */
  readonly dashed: boolean;
  readonly rows: readonly ItemRow[];
  /** What it takes of the user's canvas, in canvas units. */
  readonly at: Rect;
}

/** A cable of the diagram. */
export interface Link {
  /** Index of the cable in the show. */
  readonly cable: number;
  /** `Stage left, Link A`: where each end is, in words. */
  readonly words: readonly [string, string];
  readonly tag: string;
  /** `Cat 5e sh. 75 m` */
  readonly about: string;
  /** Whether signals go to the first end, and to the second. */
  readonly into: readonly [boolean, boolean];
  /** Index of the device that owns all that a jack cable carries; −1: a link, or none or several. */
  readonly owner: number;
  readonly isLink: boolean;
}

/** As short as a label on a line has to be; the legend tells the abbreviation. */
const KINDS: Readonly<Record<Cable["kind"], string>> = {
  cat5e: "Cat 5e",
  "cat5e-shielded": "Cat 5e sh.",
  "coax-75": "75 Ω coax",
  fibre: "fibre",
  "digital-110": "110 Ω digital",
  microphone: "mic cable",
  multicore: "multicore",
  loudspeaker: "speaker cable",
  line: "line cable",
};

/** Up to so many terminals a device without ports is a row of a stack. */
const SMALL = 4;

export function itemsOf(analysis: Analysis, scoped: Scoped, delays: boolean): readonly Item[] {
  const teller = new Teller(analysis, scoped, delays);
  const { devices } = analysis.show;
  const stacks = stacksOf(analysis, scoped);
  const items: Item[] = [];
  for (const index of [...scoped.devices].sort((a, b) => a - b)) {
    const stack = stacks.get(index);
    if (!stack) items.push(teller.device(index));
    else if (stack[0] === index) items.push(teller.stack(stack));
  }
  return devices.length === 0 ? [] : items;
}

/** The stack that each small device belongs to, in the order of the jacks that they hang on. */
function stacksOf({ show, wiring }: Analysis, scoped: Scoped): ReadonlyMap<number, readonly number[]> {
  const plugs = new Map<
    number,
    { readonly far: DeviceId; readonly group: GroupId; readonly first: number }[]
  >();
  for (const index of scoped.cables) {
    const { ends } = show.cables[index]!;
    ends.forEach(({ device }, n) => {
      const near = wiring.indexOf.get(device);
      const far = ends[1 - n]!;
      if (near === undefined) return;
      const list = plugs.get(near) ?? [];
      list.push({ far: far.device, group: far.group, first: far.first });
      plugs.set(near, list);
    });
  }
  const alike = new Map<string, number[]>();
  for (const index of scoped.devices) {
    const wired = wiring.devices[index];
    const here = plugs.get(index) ?? [];
    if (!wired || here.length > 1) continue;
    const { type } = wired.fabric.layout;
    if (type.ports.length > 0 || layoutOf(type).size > SMALL) continue;
    const { place, mode, powered } = wired.device;
    const key = JSON.stringify([type.id, place, mode, powered, here[0]?.far ?? ""]);
    const list = alike.get(key) ?? [];
    list.push(index);
    alike.set(key, list);
  }
  const found = new Map<number, readonly number[]>();
  for (const list of alike.values()) {
    if (list.length < 2) continue;
    const by = (index: number): string => plugs.get(index)?.[0]?.group ?? "";
    const first = (index: number): number => plugs.get(index)?.[0]?.first ?? 0;
    const sorted = [...list].sort(
      (a, b) => (by(a) < by(b) ? -1 : by(a) > by(b) ? 1 : first(a) - first(b)) || a - b,
    );
    // The one that stands first in the show carries the stack.
    const leader = Math.min(...list);
    const stack = [leader, ...sorted];
    for (const index of list) found.set(index, stack);
  }
  return found;
}

function around(rects: readonly Rect[]): Rect {
  const x = Math.min(...rects.map((rect) => rect.x));
  const y = Math.min(...rects.map((rect) => rect.y));
  const right = Math.max(...rects.map((rect) => rect.x + rect.width));
  const bottom = Math.max(...rects.map((rect) => rect.y + rect.height));
  return { x, y, width: right - x, height: bottom - y };
}

class Teller {
  readonly #analysis: Analysis;
  readonly #scoped: Scoped;
  readonly #delays: Assumed | null;
  readonly #plugs = new Map<number, Plug[]>();

  constructor(analysis: Analysis, scoped: Scoped, delays: boolean) {
    this.#analysis = analysis;
    this.#scoped = scoped;
    this.#delays = delays ? new Assumed(analysis.wiring) : null;
    const { cables } = analysis.show;
    for (const cable of [...scoped.cables].sort((a, b) => a - b)) {
      for (const end of [0, 1] as const) {
        const device = analysis.wiring.indexOf.get(cables[cable]!.ends[end].device);
        if (device === undefined) continue;
        const list = this.#plugs.get(device) ?? [];
        list.push({ cable, end });
        this.#plugs.set(device, list);
      }
    }
  }

  device(index: number): Item {
    const device = this.#analysis.show.devices[index]!;
    const wired = this.#analysis.wiring.devices[index];
    const type = wired?.fabric.layout.type;
    return {
      id: device.id,
      name: device.name,
      details: this.#details(device, type),
      devices: [index],
      place: device.place,
      stack: false,
      isConsole: type?.category === "console",
      dashed: !wired || this.#isOff(device),
      rows: wired ? this.#rows(wired) : this.#bareRows(index),
      at: this.#spot(index),
    };
  }

  /** `stack`: its leader, then all of it. */
  stack([leader, ...all]: readonly number[]): Item {
    const { show, wiring } = this.#analysis;
    const first = show.devices[leader!]!;
    const type = wiring.devices[leader!]!.fabric.layout.type;
    const rows = all.map((index): ItemRow => {
      const rowsHere = this.#rows(wiring.devices[index]!);
      const plugged = rowsHere.find(({ plug }) => plug !== null) ?? rowsHere[0];
      return { plug: null, told: [], ...plugged, name: show.devices[index]!.name };
    });
    const [, ...rest] = this.#details(first, type);
    return {
      id: first.id,
      name: `${all.length} × ${type.name}`,
      details: rest,
      devices: all,
      place: first.place,
      stack: true,
      isConsole: false,
      dashed: this.#isOff(first),
      rows,
      at: around(all.map((index) => this.#spot(index))),
    };
  }

  /** In the show, or taken away for a test. */
  #isOff({ id, powered }: Device): boolean {
    return !powered || (this.#analysis.away.devices?.has(id) ?? false);
  }

  #spot(index: number): Rect {
    const { show } = this.#analysis;
    const device = show.devices[index]!;
    return { ...device.at, ...sizeOf(typesOf(show), device) };
  }

  #details(device: Device, type: DeviceType | undefined): string[] {
    const place = placesById(this.#analysis.show).get(device.place)?.name;
    const mode = type?.modes.find(({ id }) => id === device.mode);
    return [
      type?.name ?? "type not in the show",
      // One mode alone is no choice.
      type && type.modes.length > 1 ? `mode: ${mode?.name ?? device.mode}` : "",
      type && type.chain > 1 ? `chain position ${device.position}` : "",
      this.#isOff(device) ? "OFF" : "",
      place ?? "",
    ].filter((part) => part !== "");
  }

  #bareRows(index: number): ItemRow[] {
    const { cables } = this.#analysis.show;
    return (this.#plugs.get(index) ?? []).map((plug) => ({
      plug,
      name: "",
      told: [{ label: cables[plug.cable]!.ends[plug.end].group, parts: [] }],
    }));
  }

  #rows(wired: WiredDevice): ItemRow[] {
    const { spans, type } = wired.fabric.layout;
    const plugs = this.#plugs.get(wired.index) ?? [];
    const endOf = ({ cable, end }: Plug): CableEnd => this.#analysis.show.cables[cable]!.ends[end];
    const rows: ItemRow[] = [];
    for (const port of type.ports) {
      const ways = spans.filter(
        (span) =>
          (span.side === "receive" || span.side === "send") &&
          span.port === port &&
          mostSlots(port[span.side]) > 0,
      );
      const here = plugs.filter((plug) => endOf(plug).group === port.id);
      here.forEach((plug, n) => {
        // A second cable in a port joins nothing; it is drawn, since it is there.
        const told = n === 0 ? this.#toldOf(wired, ways) : [];
        rows.push({ plug, name: "", told: told.length > 0 ? told : [{ label: port.name, parts: [] }] });
      });
    }
    for (const span of spans) {
      if (span.side === "jack")
        rows.push(
          ...this.#bankRows(
            wired,
            span,
            plugs.filter((plug) => endOf(plug).group === span.bank.id),
          ),
        );
      else if (span.side === "bus" && this.#scoped.terminals !== null) {
        const told = this.#toldOf(wired, [span]);
        if (told.length > 0) rows.push({ plug: null, name: "", told });
      }
    }
    const groups = new Set(spans.map(spanGroup));
    for (const plug of plugs) {
      const { group } = endOf(plug);
      if (!groups.has(group)) rows.push({ plug, name: "", told: [{ label: `${group}?`, parts: [] }] });
    }
    if (this.#scoped.terminals === null) {
      const free = type.ports.filter((port) => !plugs.some((plug) => endOf(plug).group === port.id));
      if (free.length > 0 && this.#tellsFree)
        rows.push({
          plug: null,
          name: "",
          told: [{ label: `free: ${free.map(({ name }) => name).join(", ")}`, parts: [] }],
        });
    }
    return rows;
  }

  /** Where some cables are left out, a port without one isn't free. */
  get #tellsFree(): boolean {
    return this.#scoped.terminals === null && this.#scoped.way === null;
  }

  /** A row for each cable in the bank, then one for the jacks that none is plugged in and that carry something. */
  #bankRows(wired: WiredDevice, span: Span & { readonly side: "jack" }, plugs: readonly Plug[]): ItemRow[] {
    const { cables } = this.#analysis.show;
    const { perJack } = span.bank;
    const left = new Set(Array.from({ length: span.count }, (_, n) => n));
    const first = ({ cable, end }: Plug): number => cables[cable]!.ends[end].first;
    const rows = [...plugs]
      .sort((a, b) => first(a) - first(b) || a.cable - b.cable)
      .map((plug): ItemRow => {
        const offsets: number[] = [];
        const from = (first(plug) - 1) * perJack;
        for (
          let n = Math.max(0, from);
          n < Math.min(span.count, from + cables[plug.cable]!.ways * perJack);
          n++
        ) {
          offsets.push(n);
          left.delete(n);
        }
        const told = this.#told(wired, span, offsets, true);
        return { plug, name: "", told: told ? [told] : [{ label: span.bank.name, parts: [] }] };
      });
    const rest = this.#told(wired, span, [...left], false);
    return rest ? [...rows, { plug: null, name: "", told: [rest] }] : rows;
  }

  #toldOf(wired: WiredDevice, spans: readonly Span[]): Told[] {
    return spans.flatMap((span) => {
      const all = Array.from({ length: span.count }, (_, n) => n);
      const told = this.#told(wired, span, all, false);
      if (told) return [told];
      return this.#scoped.terminals === null && span.side !== "bus" && span.side !== "jack"
        ? [{ label: `${sideName(span)}: nothing`, parts: [] }]
        : [];
    });
  }

  /** `unfed`: what gets nothing is told as well. Null where there is nothing to tell. */
  #told(wired: WiredDevice, span: Span, offsets: readonly number[], unfed: boolean): Told | null {
    const { wiring, arrivals } = this.#analysis;
    const { terminals } = this.#scoped;
    const parts = new Map<string, { owners: readonly number[]; arrives: boolean; offsets: number[] }>();
    for (const offset of offsets) {
      const terminal = wired.base + span.start + offset;
      if (terminals !== null && !terminals.has(terminal)) continue;
      const arrives = arrivesAt(wiring, arrivals, terminal);
      if (!arrives && !unfed && terminals === null) continue;
      const owners = arrives ? ownersAt(wiring, arrivals, terminal) : [];
      const key = arrives ? owners.join(" ") : "nothing";
      const known = parts.get(key);
      if (known) known.offsets.push(offset);
      else parts.set(key, { owners, arrives, offsets: [offset] });
    }
    if (parts.size === 0) return null;
    return {
      label: sideName(span),
      parts: [...parts.values()].map((part) => ({
        owners: part.owners,
        arrives: part.arrives,
        numbers: numbersName(
          span,
          part.offsets.map((offset) => offset + 1),
        ),
        ...this.#delay(wired.base + span.start, part),
      })),
    };
  }

  #delay(
    base: number,
    { offsets, arrives }: { readonly offsets: readonly number[]; readonly arrives: boolean },
  ): Pick<Part, "delay" | "assumed"> {
    if (this.#delays === null || !arrives) return { delay: "", assumed: false };
    const { wiring, arrivals } = this.#analysis;
    const terminals = offsets.map((offset) => base + offset);
    // Where a signal starts, and where it leaves its console, there is nothing to say yet.
    const running = terminals.filter(
      (terminal) => wiring.state[terminal] === State.fed && arrivals.delay[terminal]! >= 0.005,
    );
    if (running.length === 0) return { delay: "", assumed: false };
    const times = running.map((terminal) => arrivals.delay[terminal]!);
    const [low, high] = [Math.min(...times).toFixed(2), Math.max(...times).toFixed(2)];
    const assumed = running.filter((terminal) => this.#delays!.reaches(terminal)).length > 0;
    return { delay: low === high ? `${low} ms` : `${low}–${high} ms`, assumed };
  }
}

export function linksOf(analysis: Analysis, scoped: Scoped): readonly Link[] {
  const { show, wiring } = analysis;
  return [...scoped.cables]
    .sort((a, b) => a - b)
    .map((index): Link => {
      const plugged = wiring.plugs.cables[index]!;
      const { cable, join } = plugged;
      const length = cable.length === undefined ? "length ?" : lengthName(cable.length, show.settings.units);
      return {
        cable: index,
        words: [words(cable.ends[0]), words(cable.ends[1])],
        tag: cable.tag,
        about: `${KINDS[cable.kind]}${cable.ways > 1 ? ` × ${cable.ways}` : ""}, ${length}`,
        into: [flowsInto(index, 0), flowsInto(index, 1)],
        owner: join.kind === "jacks" ? looseOwner(analysis, index) : -1,
        isLink: join.kind === "link",
      };
    });

  function words({ device, group, first }: CableEnd): string {
    const index = wiring.indexOf.get(device);
    if (index === undefined) return "a device that isn't in the show";
    const wired = wiring.devices[index];
    const { name } = show.devices[index]!;
    const type = wired?.fabric.layout.type;
    const port = type?.ports.find(({ id }) => id === group);
    const bank = type?.banks.find(({ id }) => id === group);
    if (port) return `${name}, ${port.name}`;
    return bank ? `${name}, ${bank.name} ${first}` : name;
  }

  function flowsInto(index: number, end: 0 | 1): boolean {
    const { join, cable } = wiring.plugs.cables[index]!;
    if (scoped.way !== null) {
      const device = wiring.indexOf.get(cable.ends[end].device);
      return device !== undefined && (enteredOver(wiring, scoped.way).get(index)?.has(device) ?? false);
    }
    if (join.kind === "jacks")
      return cable.ends[end].device === join.to.device.device.id && cable.ends[end].group === join.to.bank.id;
    if (join.kind !== "link") return false;
    const [a, b] = join.ends;
    const [far, near] = end === 1 ? [a, b] : [b, a];
    return mostSlots(far.port.send) > 0 && mostSlots(near.port.receive) > 0;
  }
}

const entered = new WeakMap<ReadonlySet<number>, ReadonlyMap<number, ReadonlySet<number>>>();

/** For each cable the devices that signals of the way enter over it. */
function enteredOver(wiring: Wiring, way: ReadonlySet<number>): ReadonlyMap<number, ReadonlySet<number>> {
  let found = entered.get(way) as Map<number, Set<number>> | undefined;
  if (found) return found;
  found = new Map();
  const note = (cable: number, device: number): void => {
    const devices = found!.get(cable) ?? new Set();
    devices.add(device);
    found!.set(cable, devices);
  };
  for (const terminal of way) {
    if (wiring.edge[terminal] === Edge.cable) note(wiring.setting[terminal]!, wiring.deviceOf[terminal]!);
    if (wiring.edge[terminal] === Edge.stream)
      for (const leg of wiring.ways[wiring.setting[terminal]!]!.legs)
        note(leg.cable.index, leg.to.device.index);
  }
  entered.set(way, found);
  return found;
}

/** The one owner of all that a jack cable carries; −1 where it has none or several. */
function looseOwner({ wiring, arrivals }: Analysis, index: number): number {
  const { cable, join } = wiring.plugs.cables[index]!;
  if (join.kind !== "jacks") return -1;
  const { to } = join;
  const span = to.device.fabric.layout.sources.get(to.bank.id)!;
  const found = new Set<number>();
  for (let n = 0; n < cable.ways * to.bank.perJack; n++) {
    const offset = (to.first - 1) * to.bank.perJack + n;
    if (offset < 0 || offset >= span.count) continue;
    const terminal = to.device.base + span.start + offset;
    if (wiring.edge[terminal] !== Edge.cable) continue;
    for (const owner of ownersAt(wiring, arrivals, terminal)) found.add(owner);
  }
  const [only] = found;
  return found.size === 1 && only !== undefined ? only : -1;
}
