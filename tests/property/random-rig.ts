/**
 * Rigs that nobody would build, from a seed: random device types beside those of the catalogue, cables that fit and
 * cables that don't, settings that the mode holds and settings that it can't. The same seed gives the same rig, so a
 * failing seed is all that a report needs.
 */
import { CATALOGUE } from "#engine/catalog/types.ts";
import {
  CABLE_KINDS,
  type ClockDefault,
  type Delay,
  type DeviceType,
  type FabricRule,
  type JackBank,
  type LinkPort,
  type MixEngine,
  type Mode,
  type Range,
} from "#engine/model/device-type.ts";
import {
  id,
  type CableId,
  type ChannelId,
  type DeviceId,
  type GroupId,
  type MixId,
  type ModeId,
  type PlaceId,
  type ShowId,
  type SourceId,
  type StreamId,
  type TypeId,
  type WantId,
} from "#engine/model/ids.ts";
import {
  SHOW_FORMAT,
  SHOW_VERSION,
  PACKET_TIMES,
  SOURCE_KINDS,
  type Assignment,
  type Cable,
  type CableEnd,
  type ChannelPlan,
  type Device,
  type Mix,
  type Show,
  type Source,
  type Stream,
  type TerminalRef,
  type Want,
} from "#engine/model/show.ts";
import { metres, SAMPLE_RATES, type SampleRate } from "#engine/model/units.ts";
import type { Away } from "#engine/wiring/wiring.ts";

export interface RandomRig {
  readonly show: Show;
  readonly away: Away;
}

/** A small generator of 32 random bits a step (the multiply-xorshift kind); good enough to vary rigs. */
export class Dice {
  #state: number;
  constructor(seed: number) {
    this.#state = seed >>> 0;
  }
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }
  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }
  chance(share: number): boolean {
    return this.next() < share;
  }
  pick<T>(list: readonly T[]): T {
    const found = list[Math.floor(this.next() * list.length)];
    if (found === undefined) throw new Error("nothing to pick from");
    return found;
  }
  shuffled<T>(list: readonly T[]): T[] {
    const copy = [...list];
    for (let n = copy.length - 1; n > 0; n--) {
      const other = this.whole(0, n);
      [copy[n], copy[other]] = [copy[other]!, copy[n]!];
    }
    return copy;
  }
}

const group = (text: string): GroupId => id<GroupId>(text);
const most = (table: LinkPort["receive"]): number => Math.max(table.single, table.double, table.quad);

function randomDelay(dice: Dice): Delay | undefined {
  if (dice.chance(0.5)) return undefined;
  const provenance = dice.pick(["standard", "maker's sheet", "measured", "assumed"] as const);
  return dice.chance(0.5)
    ? { value: dice.whole(1, 9) / 8, unit: "ms", provenance }
    : { value: dice.whole(1, 64), unit: "samples", provenance };
}

const withDelay = <K extends string>(key: K, delay: Delay | undefined): { readonly [key in K]?: Delay } =>
  (delay ? { [key]: delay } : {}) as { readonly [key in K]?: Delay };

function randomBank(dice: Dice, name: string): JackBank {
  const level = dice.pick(["mic", "line", "line", "AES3", "AES3", "phones", "loudspeaker", "radio"] as const);
  const direction = dice.pick(["in", "out"] as const);
  return {
    id: group(name),
    name: `Bank ${name}`,
    direction,
    count: dice.whole(1, 10),
    perJack: level === "AES3" || level === "phones" ? dice.pick([1, 2, 2] as const) : 1,
    connector: dice.chance(0.1) ? "none" : "XLR",
    level,
    block: dice.whole(1, 8),
    ...withDelay("convert", randomDelay(dice)),
    ...(level === "AES3" && direction === "in" && dice.chance(0.3) ? { convertsRate: true } : {}),
  };
}

function randomPort(dice: Dice, name: string, network: boolean): LinkPort {
  const slots = (): LinkPort["receive"] => {
    if (dice.chance(0.15)) return { single: 0, double: 0, quad: 0 };
    const single = dice.pick([4, 8, 12, 16]);
    return { single, double: dice.chance(0.8) ? single / 2 : single, quad: dice.pick([0, single / 4]) };
  };
  const both = slots();
  return {
    id: group(name),
    name: `Port ${name}`,
    transport: network ? "AES67" : dice.pick(["even link", "even link", "odd link"]),
    receive: dice.chance(0.8) ? both : slots(),
    send: dice.chance(0.8) ? both : slots(),
    cables: [{ kind: "cat5e-shielded", maxMetres: 100, provenance: "assumed" }],
    block: 8,
    carriesClock: dice.chance(0.9),
    carriesPreamp: dice.chance(0.5),
    convertsRate: dice.chance(0.15),
    ...withDelay("receiveDelay", randomDelay(dice)),
    ...withDelay("sendDelay", randomDelay(dice)),
    // Now and then a port that speaks the network's transport and knows nothing of streams.
    ...(network && dice.chance(0.95)
      ? { network: { speed: 1000, share: 0.75, provenance: "assumed" as const } }
      : {}),
  };
}

function randomMixer(dice: Dice, inserts: Dice | null): MixEngine {
  const section = (
    name: string,
    role: MixEngine["sections"][number]["role"],
    count: number,
    from: readonly string[],
  ): MixEngine["sections"][number] => ({
    id: group(name),
    name: `Section ${name}`,
    role,
    count,
    from: from.map(group),
    block: dice.whole(1, 8),
  });
  const channels = dice.whole(2, 10);
  // Sends without returns and the other way round as well, and of other sizes than what they belong to.
  const ends = (name: string, of: string, count: number): MixEngine["sections"] =>
    inserts === null
      ? []
      : (["send", "return"] as const).flatMap((role) =>
          inserts.chance(0.8)
            ? [section(`${name}-${role}`, role, Math.max(1, count + inserts.whole(-1, 1)), [of])]
            : [],
        );
  return {
    sections: [
      section("ch", "channel", channels, []),
      section("mix", "mix", dice.whole(1, 6), ["ch"]),
      ...(dice.chance(0.7) ? [section("main", "main", 2, ["ch", "mix"])] : []),
      ...(dice.chance(0.7) ? [section("mtx", "matrix", dice.whole(1, 3), ["main", "mix"])] : []),
      ...(dice.chance(0.7)
        ? [section("direct", "direct", dice.chance(0.8) ? channels : channels + 2, ["ch"])]
        : []),
      ...ends("ch", "ch", channels),
      ...ends("mix", "mix", 4),
    ],
    processing: { value: dice.whole(0, 8) / 10, unit: "ms", provenance: "assumed" },
  };
}

interface Sized {
  readonly group: GroupId;
  readonly count: number;
}

/** What a type's rules and settings can name: where signals come from, and where they go to. */
export function endsOf(type: Pick<DeviceType, "banks" | "ports" | "mixer">): {
  readonly sources: readonly Sized[];
  readonly destinations: readonly Sized[];
} {
  const banks = (direction: "in" | "out"): Sized[] =>
    type.banks
      .filter((bank) => bank.direction === direction)
      .map((bank) => ({ group: bank.id, count: bank.count * bank.perJack }));
  const ports = (way: "receive" | "send"): Sized[] =>
    type.ports.map((port) => ({ group: port.id, count: most(port[way]) })).filter(({ count }) => count > 0);
  const sections = (channels: boolean): Sized[] =>
    (type.mixer?.sections ?? [])
      .filter(({ role }) => (role === "channel" || role === "return") === channels)
      .map((section) => ({ group: section.id, count: section.count }));
  return {
    sources: [...banks("in"), ...ports("receive"), ...sections(false)],
    destinations: [...banks("out"), ...ports("send"), ...sections(true)],
  };
}

function randomRules(
  dice: Dice,
  parts: Pick<DeviceType, "banks" | "ports" | "mixer">,
  share: number,
): FabricRule[] {
  const { sources, destinations } = endsOf(parts);
  if (sources.length === 0) return [];
  const rules: FabricRule[] = [];
  const part = ({ group: name, count }: Sized): Range => {
    if (dice.chance(0.6)) return { group: name, first: 1, count };
    const first = dice.whole(1, count);
    return { group: name, first, count: dice.whole(1, count - first + 1) };
  };
  for (const to of dice.shuffled(destinations)) {
    if (!dice.chance(share)) continue;
    const kind = dice.pick(["patch", "patch", "wired", "carry"] as const);
    const delay = withDelay("delay", dice.chance(0.2) ? randomDelay(dice) : undefined);
    if (kind === "carry" && parts.ports.length > 0) {
      const ports = parts.ports.map(({ id: name }) => name);
      const target = ports.includes(to.group) ? to.group : dice.pick(ports);
      rules.push({
        kind,
        to: target,
        from: dice.pick(ports),
        shift: dice.pick([0, 0, 0, 4, -4, 2]),
        ...delay,
      });
    } else if (kind === "wired") {
      const from = dice.pick(sources);
      const step = (): { readonly perPosition?: number } =>
        dice.chance(0.3) ? { perPosition: dice.pick([1, 4, -2]) } : {};
      rules.push({
        kind,
        to: { group: to.group, first: dice.chance(0.7) ? 1 : dice.whole(1, to.count), ...step() },
        from: { group: from.group, first: dice.chance(0.7) ? 1 : dice.whole(1, from.count), ...step() },
        // Now and then past the end of either side.
        count: dice.chance(0.8) ? Math.min(to.count, from.count) : dice.whole(1, to.count + 2),
        ...delay,
      });
    } else {
      const from = dice.shuffled(sources).slice(0, dice.whole(1, 4)).map(part);
      // A sheet copied badly: the rule lists more than the group has.
      const listed = dice.chance(0.05) ? from.map((range) => ({ ...range, count: range.count + 4 })) : from;
      rules.push({ kind: "patch", to: part(to), from: listed, run: dice.pick([1, 1, 2, 4]), ...delay });
    }
  }
  return rules;
}

/** Adds a passive join with legs and outputs of its own, now and then over channels and over what a join can't take. */
function withJoin(dice: Dice, type: DeviceType): DeviceType {
  const bank = (name: string, direction: "in" | "out"): JackBank => ({
    ...randomBank(dice, name),
    direction,
    level: "line",
    perJack: 1,
    connector: "XLR",
    count: dice.whole(2, 6),
  });
  const banks = [bank("leg1", "in"), bank("leg2", "in"), bank("joined", "out")];
  const { sources, destinations } = endsOf(type);
  // Now and then a type has neither jacks nor slots of its own.
  const others = [...sources, ...destinations];
  const from = [group("leg1"), group("leg2"), group("ch")].filter(() => dice.chance(0.85));
  if (dice.chance(0.3) && others.length > 0) from.push(dice.pick(others).group);
  const count = dice.whole(2, 7);
  const wired = (to: string, source: string): FabricRule => ({
    kind: "wired",
    to: { group: group(to), first: 1 },
    from: { group: group(source), first: 1 },
    count,
  });
  return {
    ...type,
    banks: [...type.banks, ...banks],
    mixer: {
      processing: { value: 1, unit: "ms", provenance: "assumed" },
      ...type.mixer,
      sections: [
        ...(type.mixer?.sections ?? []),
        { id: group("join"), name: "Join", role: "join", count, from, block: dice.whole(1, 4) },
      ],
    },
    rules: [
      wired("joined", "join"),
      ...type.rules,
      ...type.ports.slice(0, 1).map(({ id: port }) => wired(port, "join")),
    ],
  };
}

const banksOf = (
  devices: readonly Device[],
  types: ReadonlyMap<string, DeviceType>,
  wanted: (bank: JackBank) => boolean,
): readonly CableEnd[] =>
  devices.flatMap(({ id: device, type }) =>
    (types.get(type)?.banks ?? []).filter(wanted).map((bank) => ({ device, group: bank.id, first: 1 })),
  );

const isAnalogue = ({ level }: JackBank): boolean => ["mic", "line", "phones"].includes(level);

/** The legs of all devices that have joins of their own. */
const legsIn = (devices: readonly Device[], types: ReadonlyMap<string, DeviceType>): readonly CableEnd[] =>
  banksOf(devices, types, (bank) => bank.id === "leg1" || bank.id === "leg2");

/** Analogue outputs of any device, joins among them, into legs, and what is joined on into any device. */
function cablesAtJoins(
  dice: Dice,
  devices: readonly Device[],
  types: ReadonlyMap<string, DeviceType>,
): readonly Cable[] {
  const outs = banksOf(devices, types, (bank) => bank.direction === "out" && isAnalogue(bank));
  const ins = banksOf(devices, types, (bank) => bank.direction === "in" && isAnalogue(bank));
  const joined = banksOf(devices, types, ({ id: bank }) => bank === "joined");
  const ends = [
    ...legsIn(devices, types).flatMap((leg) => (dice.chance(0.7) ? [[dice.pick(outs), leg] as const] : [])),
    ...joined.flatMap((out) => (dice.chance(0.7) ? [[out, dice.pick(ins)] as const] : [])),
  ];
  return ends.map((pair, n) => ({
    id: id<CableId>(`leg${n + 1}`),
    kind: "line",
    length: metres(dice.whole(1, 20)),
    tag: `L${n + 1}`,
    ways: dice.whole(1, 6),
    ends: pair,
  }));
}

const sourcesInLegs = (
  dice: Dice,
  devices: readonly Device[],
  types: ReadonlyMap<string, DeviceType>,
): readonly Source[] =>
  legsIn(devices, types)
    .filter(() => dice.chance(0.4))
    .map(({ device, group: leg }, n) => ({
      id: id<SourceId>(`leg-source${n + 1}`),
      name: `Leg ${n + 1}`,
      kind: "playback",
      at: { device, group: leg, number: dice.whole(1, 2) },
      phantom: false,
    }));

function randomType(dice: Dice, number: number, share: number, inserts: Dice | null): DeviceType {
  const networked = dice.chance(share);
  const parts = {
    banks: Array.from({ length: dice.whole(0, 3) }, (_, n) => randomBank(dice, `bank${n + 1}`)),
    ports: Array.from({ length: dice.whole(1, 4) }, (_, n) =>
      randomPort(dice, `port${n + 1}`, networked && dice.chance(0.8)),
    ),
    ...(dice.chance(0.5) ? { mixer: randomMixer(dice, inserts) } : {}),
  };
  const clock = (): ClockDefault => {
    if (dice.chance(0.5)) return "internal";
    return dice.chance(0.1) ? "none" : dice.pick(parts.ports).id;
  };
  const modes = Array.from({ length: dice.whole(1, 3) }, (_, n): Mode => ({
    id: id<ModeId>(`mode${n + 1}`),
    name: `Mode ${n + 1}`,
    rules: randomRules(dice, parts, 0.5),
    ...(dice.chance(0.15) ? { clock: clock() } : {}),
  }));
  return {
    id: id<TypeId>(`type${number}`),
    name: `Type ${number}`,
    category: "interface",
    ...parts,
    rules: randomRules(dice, parts, 0.9),
    modes,
    chain: 3,
    clock: clock(),
    ...(networked && dice.chance(0.5) ? { forwards: true } : {}),
  };
}

/** Settings that mostly fit a patch rule of the device's mode. */
function randomRouting(dice: Dice, type: DeviceType, mode: string): Assignment[] {
  const routing: Assignment[] = [];
  const rules = [...(type.modes.find((each) => each.id === mode)?.rules ?? []), ...type.rules];
  for (const rule of rules) {
    if (rule.kind !== "patch" || rule.from.length === 0) continue;
    for (let at = 0; at < rule.to.count;) {
      const from = dice.pick(rule.from);
      const runs = Math.max(1, Math.floor(Math.min(dice.whole(1, 12), from.count) / rule.run));
      const start = dice.whole(0, Math.max(0, Math.floor(from.count / rule.run) - runs)) * rule.run;
      const count = Math.min(runs * rule.run, rule.to.count - at, Math.max(1, from.count - start));
      if (dice.chance(0.85)) {
        const off = dice.chance(0.06) ? 1 : 0;
        routing.push({
          to: { group: rule.to.group, first: rule.to.first + at },
          from: { group: from.group, first: from.first + start + off },
          count,
        });
      }
      at += Math.ceil(count / rule.run) * rule.run;
    }
  }
  const { sources, destinations } = endsOf(type);
  for (let n = dice.whole(0, 2); n > 0 && sources.length > 0 && destinations.length > 0; n--) {
    const [to, from] = [dice.pick(destinations), dice.pick(sources)];
    routing.push({
      to: { group: dice.chance(0.05) ? group("nowhere") : to.group, first: dice.whole(1, to.count) },
      from: { group: dice.chance(0.05) ? group("nowhere") : from.group, first: dice.whole(1, from.count) },
      count: dice.whole(1, 4),
    });
  }
  return routing;
}

function randomCables(
  dice: Dice,
  devices: readonly Device[],
  types: ReadonlyMap<string, DeviceType>,
): Cable[] {
  const cables: Cable[] = [];
  const ends = (device: Device): CableEnd[] => {
    const type = types.get(device.type);
    if (!type) return [];
    return [
      ...type.ports.map((port) => ({ device: device.id, group: port.id, first: 1 })),
      ...type.banks.map((bank) => ({ device: device.id, group: bank.id, first: dice.whole(1, bank.count) })),
    ];
  };
  const all = devices.flatMap(ends);
  const add = (a: CableEnd, b: CableEnd, ways: number): void => {
    if (a.device === b.device && a.group === b.group) return;
    cables.push({
      id: id<CableId>(`cable${cables.length + 1}`),
      kind: dice.pick(CABLE_KINDS),
      ...(dice.chance(0.8) ? { length: metres(dice.whole(1, 150)) } : {}),
      tag: `C${cables.length + 1}`,
      ways,
      ends: dice.chance(0.5) ? [a, b] : [b, a],
    });
  };
  const portOf = (end: CableEnd): LinkPort | undefined =>
    types
      .get(devices.find((device) => device.id === end.device)!.type)
      ?.ports.find((port) => port.id === end.group);
  const bankOf = (end: CableEnd): JackBank | undefined =>
    types
      .get(devices.find((device) => device.id === end.device)!.type)
      ?.banks.find((bank) => bank.id === end.group);
  const taken = new Set<string>();
  const place = (end: CableEnd): string => `${end.device}/${end.group}`;
  for (const end of dice.shuffled(all)) {
    const port = portOf(end);
    if (port) {
      if (taken.has(place(end)) || !dice.chance(0.9)) continue;
      const fits = all.filter(
        (other) =>
          other.device !== end.device &&
          !taken.has(place(other)) &&
          portOf(other)?.transport === port.transport,
      );
      if (fits.length === 0) continue;
      const other = dice.pick(fits);
      taken.add(place(end)).add(place(other));
      add(end, other, 1);
    } else if (bankOf(end)?.direction === "out" && dice.chance(0.7)) {
      const level = bankOf(end)!.level;
      const fits = all.filter(
        (other) => bankOf(other)?.direction === "in" && (bankOf(other)!.level === level || dice.chance(0.3)),
      );
      if (fits.length > 0) add(end, dice.pick(fits), dice.whole(1, 6));
    }
  }
  // What happens in a hurry: a second cable in a port, a port into a jack, an end that leads nowhere.
  for (let n = dice.whole(0, 3); n > 0 && all.length > 1; n--) {
    const lost: CableEnd = dice.chance(0.5)
      ? { device: id<DeviceId>("gone"), group: group("in"), first: 1 }
      : { ...dice.pick(all), group: group("gone") };
    add(dice.pick(all), dice.chance(0.3) ? lost : dice.pick(all), dice.whole(1, 3));
  }
  return dice.shuffled(cables);
}

function randomRef(
  dice: Dice,
  devices: readonly Device[],
  types: ReadonlyMap<string, DeviceType>,
  side: "in" | "out",
): TerminalRef | null {
  const choices = devices.flatMap((device) =>
    (types.get(device.type)?.banks ?? [])
      .filter((bank) => bank.direction === side)
      .map((bank) => ({ device: device.id, group: bank.id, count: bank.count * bank.perJack })),
  );
  if (choices.length === 0) return null;
  const { device, group: name, count } = dice.pick(choices);
  return { device, group: name, number: dice.chance(0.97) ? dice.whole(1, count) : count + 1 };
}

/** Streams between network ports, most of them to ports near by, a few from or to what isn't a network port at all. */
function randomStreams(
  dice: Dice,
  devices: readonly Device[],
  types: ReadonlyMap<string, DeviceType>,
  cables: readonly Cable[],
): Stream[] {
  const ports = devices.flatMap((device) =>
    (types.get(device.type)?.ports ?? [])
      .filter(({ network }) => network || dice.chance(0.05))
      .map((port): CableEnd => ({ device: device.id, group: port.id, first: dice.whole(1, 4) })),
  );
  if (ports.length < 2) return [];
  const farEnd = (end: CableEnd): CableEnd | undefined =>
    cables.flatMap(({ ends: [a, b] }) =>
      a.device === end.device && a.group === end.group
        ? [b]
        : b.device === end.device && b.group === end.group
          ? [a]
          : [],
    )[0];
  const isSwitch = (end: CableEnd): boolean =>
    types.get(devices.find(({ id: each }) => each === end.device)?.type ?? "")?.forwards ?? false;
  const near = (from: CableEnd): readonly CableEnd[] => {
    const first = farEnd(from);
    if (!first) return [];
    const behind = isSwitch(first)
      ? ports.filter(({ device }) => device === first.device).flatMap((port) => farEnd(port) ?? [])
      : [];
    return [first, ...behind];
  };
  return Array.from({ length: dice.whole(1, 8) }, (_, n): Stream => {
    const from = dice.pick(ports);
    const neighbours = near(from).map((end) => ({ ...end, first: dice.whole(1, 4) }));
    return {
      id: id<StreamId>(`stream${n + 1}`),
      name: `Stream ${n + 1}`,
      from,
      channels: dice.whole(1, 8),
      packetTime: dice.pick(PACKET_TIMES),
      to: Array.from({ length: dice.whole(0, 4) }, () =>
        dice.pick(neighbours.length > 0 && dice.chance(0.8) ? neighbours : ports),
      ),
    };
  });
}

/** Inserts of any return section, now and then past its end or of a section that is none. */
function randomInserts(dice: Dice, type: DeviceType): Pick<Device, "inserts"> {
  const sections = type.mixer?.sections ?? [];
  const inserts = sections.flatMap(({ id: name, role, count }): Range[] =>
    (role === "return" ? dice.chance(0.8) : dice.chance(0.03))
      ? [{ group: name, first: dice.whole(1, count), count: dice.whole(1, count + 1) }]
      : [],
  );
  return inserts.length > 0 ? { inserts } : {};
}

export function randomRig(seed: number): RandomRig {
  const dice = new Dice(seed);
  // Every third rig has inserts; from dice of their own, so that the others stay what they were.
  const inserts = seed % 3 === 0 ? new Dice(seed ^ 0x5eed) : null;
  // Every fourth has passive joins, likewise.
  const joins = seed % 4 === 0 ? new Dice(seed ^ 0x10_19) : null;
  // Every fourth rig is mostly network, or streams would hardly ever find a way.
  const network = dice.chance(0.25);
  const own = Array.from({ length: dice.whole(network ? 2 : 1, 4) }, (_, n) =>
    randomType(dice, n + 1, network ? 0.9 : 0.15, inserts),
  ).map((type) => (joins?.chance(0.7) ? withJoin(joins, type) : type));
  const shipped = dice.chance(0.5) ? dice.shuffled(CATALOGUE).slice(0, dice.whole(1, 3)) : [];
  const typeList = [...own, ...shipped];
  const types = new Map<string, DeviceType>(typeList.map((type) => [type.id, type]));
  const rate = dice.pick([48000, 48000, 48000, 96000, 44100, 192000] as const);
  const place = id<PlaceId>("place");
  const devices = Array.from({ length: dice.whole(2, 7) }, (_, n): Device => {
    const type = dice.pick(typeList);
    const mode = dice.chance(0.97) ? dice.pick(type.modes).id : id<ModeId>("gone");
    const clocks: ("internal" | GroupId)[] = ["internal", ...type.ports.map((port) => port.id)];
    return {
      id: id<DeviceId>(`device${n + 1}`),
      name: `Device ${n + 1}`,
      type: dice.chance(0.98) ? type.id : id<TypeId>("gone"),
      place,
      at: { x: 100 * n, y: 0 },
      mode,
      position: dice.chance(0.6) ? 1 : dice.whole(1, 3),
      powered: dice.chance(0.95),
      ...(dice.chance(network ? 0.03 : 0.1) ? { sampleRate: dice.pick<SampleRate>(SAMPLE_RATES) } : {}),
      ...(dice.chance(0.2) ? { clock: dice.pick(clocks) } : {}),
      routing: randomRouting(dice, type, mode),
      ...(inserts ? randomInserts(inserts, type) : {}),
    };
  });
  // Half the rigs have their clocks in order, so that signals travel far: the first device leads wherever it can.
  const tidy = dice.chance(network ? 0.8 : 0.6);
  const drawn = randomCables(dice, devices, types);
  const cables = joins ? [...cablesAtJoins(joins, devices, types), ...drawn] : drawn;
  const clocked = tidy
    ? devices.map((device) => ({ ...device, clock: followTowards(device, devices, cables) }))
    : devices;
  const sources: Source[] = [];
  for (let n = dice.whole(0, 12); n > 0; n--) {
    const at = randomRef(dice, devices, types, "in");
    if (!at) break;
    sources.push({
      id: id<SourceId>(`source${n}`),
      name: `Source ${n}`,
      kind: dice.pick(SOURCE_KINDS),
      at,
      phantom: dice.chance(0.3),
    });
  }
  if (joins) sources.push(...sourcesInLegs(joins, devices, types));
  const mixes: Mix[] = [];
  const channels: ChannelPlan[] = [];
  for (const device of devices) {
    const sections = types.get(device.type)?.mixer?.sections ?? [];
    for (const section of sections) {
      if (section.role === "channel") {
        for (let n = 1; n <= section.count; n += 2) {
          channels.push({
            id: id<ChannelId>(`channel${channels.length + 1}`),
            console: device.id,
            group: section.id,
            number: n,
            name: `Channel ${n}`,
            ...(sources.length > 0 && dice.chance(0.5) ? { source: dice.pick(sources).id } : {}),
          });
        }
        continue;
      }
      if (section.role === "direct" || section.role === "send" || section.role === "return") continue;
      for (let bus = 1; bus <= section.count; bus++) {
        if (dice.chance(0.5)) continue;
        mixes.push({
          id: id<MixId>(`mix${mixes.length + 1}`),
          console: device.id,
          group: section.id,
          first: bus,
          width: dice.pick([1, 1, 2] as const),
          name: `Mix ${mixes.length + 1}`,
          members: Array.from({ length: dice.whole(0, 4) }, () => {
            // Mostly what the section may take; sometimes a channel into a matrix, which no mix engine here does.
            const from =
              dice.chance(0.9) && section.from.length > 0 ? dice.pick(section.from) : dice.pick(sections).id;
            const count = sections.find((each) => each.id === from)?.count ?? 1;
            return {
              group: from,
              number: dice.whole(1, dice.chance(0.95) ? count : count + 3),
              tap: dice.pick(["pre", "post"] as const),
            };
          }),
        });
      }
    }
  }
  const streams = randomStreams(dice, devices, types, cables);
  const wants: Want[] = [];
  for (let n = dice.whole(0, 5); n > 0; n--) {
    const to = randomRef(dice, devices, types, "out");
    if (to) wants.push({ id: id<WantId>(`want${n}`), name: `Want ${n}`, to });
  }
  const show: Show = {
    format: SHOW_FORMAT,
    version: SHOW_VERSION,
    id: id<ShowId>(`random-${seed}`),
    title: `Random rig ${seed}`,
    venue: "",
    notes: "",
    settings: { sampleRate: rate, units: "metric", paper: "A4" },
    places: [{ id: place, name: "Place", at: { x: 0, y: 0 }, size: { width: 1000, height: 1000 } }],
    types: typeList,
    devices: clocked,
    cables,
    sources,
    channels,
    mixes,
    wants,
    ...(streams.length > 0 ? { streams } : {}),
    lineChecks: [],
    revisions: [],
  };
  const away: Away = dice.chance(0.3)
    ? {
        devices: new Set(dice.chance(0.5) ? [dice.pick(devices).id as string] : []),
        cables: new Set(
          cables.length > 0 ? [dice.pick(cables).id as string, dice.pick(cables).id as string] : [],
        ),
      }
    : {};
  return { show, away };
}

/** A clock setting that follows the first cable on a way back to the first device of the rig. */
function followTowards(
  device: Device,
  devices: readonly Device[],
  cables: readonly Cable[],
): "internal" | GroupId {
  const leader = devices[0]!;
  if (device === leader) return "internal";
  const follows = new Map<string, GroupId>();
  const reached = new Set<string>([leader.id]);
  for (let grown = true; grown;) {
    grown = false;
    for (const {
      ends: [a, b],
    } of cables) {
      for (const [near, far] of [
        [a, b],
        [b, a],
      ] as const) {
        if (!reached.has(far.device) || reached.has(near.device)) continue;
        reached.add(near.device);
        follows.set(near.device, near.group);
        grown = true;
      }
    }
  }
  return follows.get(device.id) ?? "internal";
}
