/**
 * A second reading of engine/SPEC.md, for comparison only. It shares no code with the wiring: terminals are texts,
 * everything lies in `Map`s, and each terminal asks the rules anew what feeds it. Slow and plain on purpose; where it
 * and the engine differ, one of them or the specification is wrong.
 */
import type {
  CableKind,
  Delay,
  DeviceType,
  FabricRule,
  JackBank,
  LinkPort,
  Mode,
} from "#engine/model/device-type.ts";
import type { Cable, CableEnd, Device, Show } from "#engine/model/show.ts";
import type { SampleRate } from "#engine/model/units.ts";

export type RefSide = "jack" | "receive" | "send" | "bus";

/** Why a terminal has no feeder, in the words of the engine's verdicts; `tap` and `source` are where a trace arrives. */
export type RefEnd =
  | "tap"
  | "source"
  | "nothing-assigned"
  | "not-plugged"
  | "beyond-slots"
  | "not-wired"
  | "mismatch-rate"
  | "mismatch-clock"
  | "off"
  | "unknown";

export interface RefNode {
  readonly key: string;
  readonly device: string;
  readonly group: string;
  readonly side: RefSide;
  readonly number: number;
  /** Key of the terminal that it takes its signal from. */
  readonly feeder: string | null;
  readonly how: "cable" | "stream" | "patched" | "wired" | "carried" | "insert" | null;
  /** Set exactly where `feeder` is null. */
  readonly end: RefEnd | null;
  /** Milliseconds that the step from the feeder takes. */
  readonly delay: number;
  /** A terminal of a passive join. */
  readonly join: boolean;
  /** The cable that brings or withholds the signal. */
  readonly cable: string | null;
}

export interface RefMix {
  readonly from: string;
  readonly to: string;
  readonly delay: number;
}

export interface Reference {
  readonly nodes: ReadonlyMap<string, RefNode>;
  /** What goes into taps, each pair of terminals once. */
  readonly mixes: readonly RefMix[];
}

export interface RefAway {
  readonly devices?: ReadonlySet<string>;
  readonly cables?: ReadonlySet<string>;
}

export const keyOf = (device: string, group: string, side: RefSide, number: number): string =>
  `${device}/${group}/${side}/${number}`;

/**
 * Nanoseconds per metre. Category cable: 538 ns per 100 m at 100 MHz (ANSI/TIA-568-B.2), which the formula
 * 534 + 36/√f gives as 537.6. All others: 5, two thirds of the speed of light, common practice.
 */
const perMetre = (kind: CableKind): number => (kind === "cat5e" || kind === "cat5e-shielded" ? 5.376 : 5);

const ratio = (rate: SampleRate): "single" | "double" | "quad" =>
  rate === 44100 || rate === 48000 ? "single" : rate === 88200 || rate === 96000 ? "double" : "quad";

const toMs = (delay: Delay | undefined, rate: number): number =>
  delay === undefined ? 0 : delay.unit === "ms" ? delay.value : (1000 * delay.value) / rate;

/** Where a stream comes to, over which cables, and the ports by which it enters the switches on its way. */
interface NetworkWay {
  readonly device: Device;
  readonly port: LinkPort;
  readonly cables: readonly Cable[];
  readonly switches: readonly LinkPort[];
  /** The switches themselves: the n-th stands behind the n-th cable. */
  readonly passed: readonly Device[];
}

/** A row of slots is as long as its longest entry: what the rate takes away shows as *beyond the slots*. */
const rowLength = (table: LinkPort["receive"]): number => Math.max(table.single, table.double, table.quad);

type Socket =
  | { readonly kind: "port"; readonly device: Device; readonly type: DeviceType; readonly port: LinkPort }
  | { readonly kind: "bank"; readonly device: Device; readonly type: DeviceType; readonly bank: JackBank };

export function referenceOf(show: Show, away: RefAway = {}): Reference {
  const deviceNamed = new Map(show.devices.map((device) => [device.id as string, device]));
  const typeNamed = new Map(show.types.map((type) => [type.id as string, type]));
  const typeOf = (device: Device): DeviceType | undefined => typeNamed.get(device.type);
  const rateOf = (device: Device): SampleRate => device.sampleRate ?? show.settings.sampleRate;
  const isOn = (device: Device): boolean => device.powered && !away.devices?.has(device.id);
  const isPulled = (cable: Cable): boolean => away.cables?.has(cable.id) ?? false;
  const modeOf = (device: Device): Mode | undefined =>
    typeOf(device)?.modes.find((mode) => mode.id === device.mode);

  const socketOf = (end: CableEnd): Socket | null => {
    const device = deviceNamed.get(end.device);
    const type = device && typeOf(device);
    if (!device || !type) return null;
    const port = type.ports.find(({ id }) => id === end.group);
    if (port) return { kind: "port", device, type, port };
    const bank = type.banks.find(({ id }) => id === end.group);
    return bank ? { kind: "bank", device, type, bank } : null;
  };

  /** W12: whether the ends of a cable belong together, were it the only one. */
  const joins = (cable: Cable): "joins" | "missing" | "unlike" => {
    const [a, b] = cable.ends.map(socketOf);
    if (!a || !b) return "missing";
    if (a.kind === "port" && b.kind === "port") {
      const flows = (from: LinkPort, to: LinkPort): boolean =>
        rowLength(from.send) > 0 && rowLength(to.receive) > 0;
      const fits = a.port.transport === b.port.transport && (flows(a.port, b.port) || flows(b.port, a.port));
      return fits ? "joins" : "unlike";
    }
    if (a.kind === "bank" && b.kind === "bank") {
      const apart = [a, b].some(({ bank }) => ["AES3", "loudspeaker", "radio"].includes(bank.level));
      const fits =
        a.bank.connector !== "none" &&
        b.bank.connector !== "none" &&
        a.bank.direction !== b.bank.direction &&
        // An aerial's jack takes no cable of the rig, and AES3 and loudspeaker lines only their own kind.
        (!apart || (a.bank.level === b.bank.level && a.bank.level !== "radio"));
      return fits ? "joins" : "unlike";
    }
    return "unlike";
  };

  const portCables = (device: string, group: string): readonly Cable[] =>
    show.cables.filter((cable) => cable.ends.some((end) => end.device === device && end.group === group));

  /** The cable in a port that counts (W13), with the port at its far end where it joins the two. */
  const linkAt = (
    device: string,
    group: string,
  ): { readonly cable: Cable; readonly far: Extract<Socket, { kind: "port" }> | null } | null => {
    const cable = portCables(device, group)[0];
    if (!cable) return null;
    const farEnd =
      cable.ends[0].device === device && cable.ends[0].group === group ? cable.ends[1] : cable.ends[0];
    const far = socketOf(farEnd);
    const counts = portCables(farEnd.device, farEnd.group)[0] === cable;
    return { cable, far: joins(cable) === "joins" && counts && far?.kind === "port" ? far : null };
  };

  /** C1 and C2: the id of the device that leads the clock of this one: itself where none comes to it; or why there is none. */
  const leaderOf = (device: Device, passed: readonly string[] = []): string => {
    if (passed.includes(device.id)) return "?loop";
    const type = typeOf(device);
    if (!type) return "?none";
    const follows = device.clock ?? modeOf(device)?.clock ?? type.clock;
    if (follows === "none") return "?none";
    if (follows === "internal") return device.id;
    const port = type.ports.find(({ id }) => id === follows);
    const link = linkAt(device.id, follows);
    if (!port?.carriesClock || !link?.far || isPulled(link.cable)) return device.id;
    if (!isOn(link.far.device) || !link.far.port.carriesClock) return device.id;
    const next = port.network ? networkLeader(device, port) : link.far.device;
    // Elected by its network it leads; cabled to itself it follows itself, and that is a loop.
    if (!next || (port.network && next.id === device.id)) return device.id;
    const leader = leaderOf(next, [...passed, device.id]);
    return leader === "?none" ? device.id : leader;
  };

  /** Ports that a stream from one port comes to, each with the cables on its way: nearest first. */
  const spread = (device: Device, port: LinkPort, anyway = false): readonly NetworkWay[] => {
    const found: NetworkWay[] = [];
    const handedOn = new Set<string>();
    let leaving: { readonly device: Device; readonly port: LinkPort; readonly way: NetworkWay | null }[] = [
      { device, port, way: null },
    ];
    while (leaving.length > 0) {
      const further: typeof leaving = [];
      for (const { device: from, port: out, way } of leaving) {
        const link = linkAt(from.id, out.id);
        const entered = link?.far;
        if (!entered || (isPulled(link.cable) && !anyway)) continue;
        if (found.some((each) => each.device.id === entered.device.id && each.port.id === entered.port.id))
          continue;
        const here: NetworkWay = {
          device: entered.device,
          port: entered.port,
          cables: [...(way?.cables ?? []), link.cable],
          switches: way ? [...way.switches, way.port] : [],
          passed: way ? [...way.passed, way.device] : [],
        };
        found.push(here);
        if (!entered.type.forwards || handedOn.has(entered.device.id)) continue;
        if (!isOn(entered.device) && !anyway) continue;
        handedOn.add(entered.device.id);
        for (const each of entered.type.ports) {
          if (each.network && each.id !== entered.port.id) {
            further.push({ device: entered.device, port: each, way: here });
          }
        }
      }
      leaving = further;
    }
    return found;
  };

  /**
   * A network has one clock: of the devices on it that don't take theirs from it, the first in the show's order; of all of
   * them, where none does.
   */
  const networkLeader = (device: Device, port: LinkPort): Device | null => {
    const followsOf = (each: Device): string => each.clock ?? modeOf(each)?.clock ?? typeOf(each)!.clock;
    const there = [{ device, port }, ...spread(device, port)].filter(
      ({ device: each }) => !typeOf(each)!.forwards && isOn(each) && followsOf(each) !== "none",
    );
    const own = there.filter(({ device: each, port: by }) => followsOf(each) !== by.id);
    const able = new Set((own.length > 0 ? own : there).map(({ device: each }) => each.id));
    return show.devices.find(({ id }) => able.has(id)) ?? null;
  };
  const leaders = new Map(show.devices.map((device) => [device.id as string, leaderOf(device)]));

  /** C3; null where the signal passes. */
  const clash = (from: Device, to: Device, converts: boolean): RefEnd | null => {
    if (converts) return null;
    if (rateOf(from) !== rateOf(to)) return "mismatch-rate";
    const [a, b] = [leaders.get(from.id)!, leaders.get(to.id)!];
    return a === b && !a.startsWith("?") ? null : "mismatch-clock";
  };

  const nodes = new Map<string, RefNode>();
  for (const device of show.devices) {
    const type = typeOf(device);
    if (!type) continue;
    for (const bank of type.banks) {
      for (let n = 1; n <= bank.count * bank.perJack; n++) {
        add(
          device,
          bank.id,
          "jack",
          n,
          bank.direction === "in" ? intoJack(device, bank, n) : inside(device, bank.id, n),
        );
      }
    }
    for (const port of type.ports) {
      for (let n = 1; n <= rowLength(port.receive); n++)
        add(device, port.id, "receive", n, intoPort(device, port, n));
      for (let n = 1; n <= rowLength(port.send); n++)
        add(device, port.id, "send", n, inside(device, port.id, n));
    }
    for (const section of type.mixer?.sections ?? []) {
      for (let n = 1; n <= section.count; n++) {
        add(
          device,
          section.id,
          "bus",
          n,
          section.role === "channel" || section.role === "return"
            ? inside(device, section.id, n)
            : section.role === "join"
              ? joining(device, section.id, n)
              : behindInsert(device, section.id, n),
        );
      }
    }
  }
  return { nodes, mixes: mixEdges() };

  type Answer = Pick<RefNode, "feeder" | "how" | "end" | "delay" | "cable">;

  function stop(end: RefEnd, cable: Cable | null = null): Answer {
    return { feeder: null, how: null, end, delay: 0, cable: cable?.id ?? null };
  }

  /** W15 stands above all else: nothing of a device that is off has a feeder. */
  function add(device: Device, group: string, side: RefSide, number: number, answer: Answer): void {
    const key = keyOf(device.id, group, side, number);
    const told = isOn(device) ? answer : stop("off");
    const join =
      typeOf(device)!.mixer?.sections.some(({ id, role }) => id === group && role === "join") ?? false;
    nodes.set(key, { key, device: device.id, group, side, number, join, ...told });
  }

  /** The terminal that a rule or setting names as a source, with the conversion that leaving it takes. */
  function sourceOf(
    device: Device,
    group: string,
    number: number,
  ): { readonly key: string; readonly convert: number } | null {
    const type = typeOf(device)!;
    const bank = type.banks.find(({ id, direction }) => id === group && direction === "in");
    if (bank) {
      if (number < 1 || number > bank.count * bank.perJack) return null;
      return { key: keyOf(device.id, group, "jack", number), convert: toMs(bank.convert, rateOf(device)) };
    }
    const port = type.ports.find(({ id }) => id === group);
    if (port) {
      if (number < 1 || number > rowLength(port.receive)) return null;
      return { key: keyOf(device.id, group, "receive", number), convert: 0 };
    }
    const section = type.mixer?.sections.find(
      ({ id, role }) => id === group && role !== "channel" && role !== "return",
    );
    if (!section || number < 1 || number > section.count) return null;
    return { key: keyOf(device.id, group, "bus", number), convert: 0 };
  }

  function hasSource(type: DeviceType, group: string): boolean {
    return (
      type.banks.some(({ id, direction }) => id === group && direction === "in") ||
      type.ports.some(({ id }) => id === group) ||
      (type.mixer?.sections.some(({ id, role }) => id === group && role !== "channel" && role !== "return") ??
        false)
    );
  }

  /** M4, M5, W1 to W8: what feeds an output jack, a send slot or a channel. */
  function inside(device: Device, group: string, number: number): Answer {
    const type = typeOf(device)!;
    const mode = modeOf(device);
    const rules: readonly FabricRule[] = mode ? [...mode.rules, ...type.rules] : [];
    const moved = (start: { readonly first: number; readonly perPosition?: number }): number =>
      start.first + (device.position - 1) * (start.perPosition ?? 0);
    const setting = device.routing.findLast(
      ({ to, count }) => to.group === group && number >= to.first && number < to.first + count,
    );
    const outBank = type.banks.find(({ id, direction }) => id === group && direction === "out");
    const feed = (
      how: RefNode["how"],
      from: NonNullable<ReturnType<typeof sourceOf>>,
      rule: FabricRule,
    ): Answer => ({
      feeder: from.key,
      how,
      end: null,
      cable: null,
      delay: from.convert + toMs(rule.delay, rateOf(device)) + toMs(outBank?.convert, rateOf(device)),
    });
    for (const rule of rules) {
      if (rule.kind === "carry") {
        const from = rule.to === group ? sourceOf(device, rule.from, number + rule.shift) : null;
        if (from) return feed("carried", from, rule);
      } else if (rule.kind === "wired") {
        const n = number - moved(rule.to);
        if (rule.to.group !== group || n < 0 || n >= rule.count) continue;
        // A rule whose source isn't a group of the type that gives signals reaches nothing.
        if (!hasSource(type, rule.from.group)) continue;
        const from = sourceOf(device, rule.from.group, moved(rule.from) + n);
        return from ? feed("wired", from, rule) : stop("beyond-slots");
      } else {
        const { to } = rule;
        if (to.group !== group || number < to.first || number >= to.first + to.count) continue;
        if (!setting) return stop("nothing-assigned");
        // W5 goes run by run from the setting's start on; only this destination's own run matters to it.
        const skipped = Math.floor((number - setting.to.first) / rule.run) * rule.run;
        const run = {
          to: setting.to.first + skipped,
          from: setting.from.first + skipped,
          count: Math.min(rule.run, setting.count - skipped),
        };
        const inLine = (value: number): boolean => value % rule.run === 0;
        const holds =
          run.to >= to.first &&
          run.to + run.count <= to.first + to.count &&
          inLine(run.to - to.first) &&
          rule.from.some(
            ({ group: listed, first, count }) =>
              listed === setting.from.group &&
              run.from >= first &&
              run.from + run.count <= first + count &&
              inLine(run.from - first) &&
              (run.count === rule.run ||
                run.from + run.count === first + count ||
                run.to + run.count === to.first + to.count),
          );
        const from = holds ? sourceOf(device, setting.from.group, run.from + number - run.to) : null;
        return from ? feed("patched", from, rule) : stop("not-wired");
      }
    }
    return stop("not-wired");
  }

  /** W9, W10, W12 to W15, C3, C4. */
  function intoPort(device: Device, port: LinkPort, slot: number): Answer {
    const link = linkAt(device.id, port.id);
    // A network port takes streams; only a cable that joins nothing is told before them.
    if (port.network && (!link || joins(link.cable) === "joins")) return byStream(device, port, slot);
    if (!link) return stop("not-plugged");
    const { cable, far } = link;
    if (joins(cable) === "missing") return stop("unknown", cable);
    if (!far) return stop("not-plugged", cable);
    // What crosses to a network port crosses in streams.
    if (far.port.network) return stop("not-plugged");
    if (isPulled(cable)) return stop("off", cable);
    const [ours, theirs] = [rateOf(device), rateOf(far.device)];
    const slotsAt = (sender: SampleRate, receiver: SampleRate): number =>
      Math.min(far.port.send[ratio(sender)], port.receive[ratio(receiver)]);
    const slots =
      port.convertsRate === far.port.convertsRate
        ? slotsAt(theirs, port.convertsRate ? theirs : ours)
        : port.convertsRate
          ? slotsAt(theirs, theirs)
          : slotsAt(ours, ours);
    if (slot > slots) return stop("beyond-slots", cable);
    const clashes = clash(far.device, device, port.convertsRate || far.port.convertsRate);
    if (clashes && isOn(far.device)) return stop(clashes, cable);
    return {
      feeder: keyOf(far.device.id, far.port.id, "send", slot),
      how: "cable",
      end: null,
      cable: cable.id,
      delay:
        toMs(far.port.sendDelay, theirs) +
        ((cable.length ?? 0) * perMetre(cable.kind)) / 1e6 +
        toMs(port.receiveDelay, ours),
    };
  }

  /** W19: what stops a way that would lead there; the first from the sender on. */
  function stopped(way: NetworkWay | undefined): Answer {
    for (const [n, cable] of (way?.cables ?? []).entries()) {
      if (isPulled(cable)) return stop("off", cable);
      if (way!.passed[n] && !isOn(way!.passed[n])) return stop("off");
    }
    return stop("not-plugged");
  }

  /** The first stream that is handed to the slot. */
  function byStream(device: Device, port: LinkPort, slot: number): Answer {
    for (const { from, to, channels, packetTime } of show.streams ?? []) {
      const sender = socketOf(from);
      if (sender?.kind !== "port" || !sender.port.network) continue;
      for (const end of to) {
        const channel = slot - end.first;
        if (end.device !== device.id || end.group !== port.id || channel < 0 || channel >= channels) continue;
        const isHere = (each: NetworkWay): boolean =>
          each.device.id === device.id && each.port.id === port.id;
        const way = spread(sender.device, sender.port).find(isHere);
        if (!way) return stopped(spread(sender.device, sender.port, true).find(isHere));
        const [ours, theirs] = [rateOf(device), rateOf(sender.device)];
        const sent = from.first + channel;
        const room = [sender.port.send, ...way.switches.map(({ receive }) => receive)].map(
          (table) => table[ratio(theirs)],
        );
        const beyond =
          sent > Math.min(rowLength(sender.port.send), ...room) || slot > port.receive[ratio(ours)];
        if (beyond) return stop("beyond-slots", way.cables.at(-1));
        const clashes = clash(sender.device, device, port.convertsRate || sender.port.convertsRate);
        if (clashes && isOn(sender.device)) return stop(clashes, way.cables.at(-1));
        return {
          feeder: keyOf(sender.device.id, sender.port.id, "send", sent),
          how: "stream",
          end: null,
          cable: way.cables.at(-1)!.id,
          delay:
            packetTime +
            toMs(sender.port.sendDelay, theirs) +
            way.cables.reduce((sum, cable) => sum + ((cable.length ?? 0) * perMetre(cable.kind)) / 1e6, 0) +
            toMs(port.receiveDelay, ours),
        };
      }
    }
    return stop("nothing-assigned");
  }

  /** W11 to W15, C3, C4. */
  function intoJack(device: Device, bank: JackBank, number: number): Answer {
    const source = show.sources.find(
      ({ at }) => at.device === device.id && at.group === bank.id && at.number === number,
    );
    if (source) return stop("source");
    if (bank.connector === "none") return stop("nothing-assigned");
    const jack = Math.ceil(number / bank.perJack);
    const leg = (number - 1) % bank.perJack;
    for (const cable of show.cables) {
      const side = cable.ends.findIndex(
        (end) =>
          end.device === device.id &&
          end.group === bank.id &&
          jack >= end.first &&
          jack < end.first + cable.ways,
      );
      if (side < 0) continue;
      const near = cable.ends[side]!;
      const farEnd = cable.ends[1 - side]!;
      const far = socketOf(farEnd);
      if (joins(cable) === "missing") return stop("unknown", cable);
      if (joins(cable) === "unlike" || far?.kind !== "bank") return stop("not-plugged", cable);
      const farJack = farEnd.first + jack - near.first;
      if (farJack > far.bank.count || leg >= far.bank.perJack) return stop("not-plugged", cable);
      if (isPulled(cable)) return stop("off", cable);
      const clashes = bank.level === "AES3" ? clash(far.device, device, bank.convertsRate ?? false) : null;
      if (clashes && isOn(far.device)) return stop(clashes, cable);
      return {
        feeder: keyOf(far.device.id, far.bank.id, "jack", (farJack - 1) * far.bank.perJack + leg + 1),
        how: "cable",
        end: null,
        cable: cable.id,
        delay: ((cable.length ?? 0) * perMetre(cable.kind)) / 1e6,
      };
    }
    return stop("not-plugged");
  }

  /** W22: the return of a channel or bus whose insert is in; null where it isn't. */
  function returnOf(device: Device, group: string, number: number): string | null {
    const sections = typeOf(device)?.mixer?.sections ?? [];
    const place = sections.find(({ id }) => id === group);
    if (!place || !["channel", "mix", "main", "matrix"].includes(place.role) || number > place.count)
      return null;
    for (const { group: named, first, count } of device.inserts ?? []) {
      const back = sections.find(({ id, role }) => id === named && role === "return");
      if (back?.from[0] === group && number >= first && number < first + count && number <= back.count)
        return keyOf(device.id, named, "bus", number);
    }
    return null;
  }

  /** J1: what a terminal of a join takes, in the order in which the join names it. */
  function legs(device: Device, group: string, number: number): readonly string[] {
    const { banks, mixer } = typeOf(device)!;
    const named = mixer!.sections.find(({ id }) => id === group)!.from as readonly string[];
    return [...new Set(named)].flatMap((each) => {
      const jacks = banks.find(({ id, direction }) => id === each && direction === "in");
      if (jacks) return number <= jacks.count * jacks.perJack ? [keyOf(device.id, each, "jack", number)] : [];
      const channels = mixer!.sections.find(({ id, role }) => id === each && role === "channel");
      return channels && number <= channels.count ? [keyOf(device.id, each, "bus", number)] : [];
    });
  }

  function joining(device: Device, group: string, number: number): Answer {
    return stop(legs(device, group, number).length > 0 ? "tap" : "not-wired");
  }

  /** W24. */
  function behindInsert(device: Device, group: string, number: number): Answer {
    const back = returnOf(device, group, number);
    return back === null ? stop("tap") : { feeder: back, how: "insert", end: null, delay: 0, cable: null };
  }

  /** W16, W23 to W25 and D1: processing where a channel enters the mixer, nothing from one tap to the next. */
  function mixEdges(): readonly RefMix[] {
    const edges = new Map<string, RefMix>();
    const edge = (each: RefMix): void => void edges.set(`${each.from} ${each.to}`, each);
    const put = (device: Device, from: readonly [string, number], to: readonly [string, number]): void => {
      const sections = typeOf(device)?.mixer?.sections ?? [];
      const [member, tap] = [
        sections.find(({ id }) => id === from[0]),
        sections.find(({ id }) => id === to[0]),
      ];
      if (
        !member ||
        !tap ||
        ["channel", "return", "send", "join"].includes(tap.role) ||
        !tap.from.includes(member.id)
      )
        return;
      if (from[1] < 1 || from[1] > member.count || to[1] < 1 || to[1] > tap.count) return;
      const processing = toMs(typeOf(device)!.mixer!.processing, rateOf(device));
      const back = returnOf(device, member.id, from[1]);
      const isChannel = member.role === "channel";
      // What goes into a bus whose insert is in goes into the insert's send.
      const send = sections.find(({ role, from: [of] }) => role === "send" && of === tap.id);
      const cut = returnOf(device, tap.id, to[1]) !== null;
      if (cut && (!send || to[1] > send.count)) return;
      edge({
        from: isChannel && back !== null ? back : keyOf(device.id, member.id, "bus", from[1]),
        to: keyOf(device.id, cut ? send!.id : tap.id, "bus", to[1]),
        delay: isChannel ? processing : 0,
      });
    };
    for (const device of show.devices) {
      for (const section of typeOf(device)?.mixer?.sections ?? []) {
        const place = typeOf(device)!.mixer!.sections.find(({ id }) => id === section.from[0]);
        if (section.role === "send" && place) {
          for (let n = 1; n <= Math.min(section.count, place.count); n++) {
            const isChannel = place.role === "channel";
            if (!isChannel && !["mix", "main", "matrix"].includes(place.role)) break;
            if (!isChannel && returnOf(device, place.id, n) !== null) continue;
            edge({
              from: keyOf(device.id, place.id, "bus", n),
              to: keyOf(device.id, section.id, "bus", n),
              delay: 0,
            });
          }
        }
        for (let n = 1; section.role === "join" && n <= section.count; n++) {
          for (const from of legs(device, section.id, n))
            edge({ from, to: keyOf(device.id, section.id, "bus", n), delay: 0 });
        }
        if (section.role !== "direct") continue;
        for (const from of section.from) {
          if (typeOf(device)!.mixer!.sections.find(({ id }) => id === from)?.role !== "channel") continue;
          for (let n = 1; n <= section.count; n++) put(device, [from, n], [section.id, n]);
        }
      }
    }
    for (const mix of show.mixes) {
      const device = deviceNamed.get(mix.console);
      const section = device && typeOf(device)?.mixer?.sections.find(({ id }) => id === mix.group);
      // A direct out is fixed to its channel; no mix of the show adds to it.
      if (!device || !section || section.role === "direct" || section.role === "send") continue;
      for (let bus = mix.first; bus < mix.first + mix.width; bus++) {
        for (const { group, number } of mix.members) put(device, [group, number], [mix.group, bus]);
      }
    }
    return [...edges.values()];
  }
}
