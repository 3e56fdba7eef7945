/**
 * Small rigs from a few lines of text, so that a rig reads like what a tech would note down:
 *
 *     rig({
 *       devices: {
 *         foh: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1"] },
 *         box: { name: "Box", type: "box-16-8", mode: "one" },
 *       },
 *       cables: ["L1: foh.link1 - box.a, 50 m", "X1: box.out.3 - wedge.in.1 x2, line"],
 *       sources: ["Kick: box.in.1"],
 *       mixes: ["Wedge 1: foh.mix.1 < ch 1, ch 2 pre", "Ears: foh.mix.3+4 < ch 1"],
 *     })
 *
 * What doesn't read as one of these throws: a rig with a slip in it must not pass for another rig.
 */
import { catalogueType } from "#engine/catalog/types.ts";
import { CABLE_KINDS, type CableKind, type DeviceType, type Range } from "#engine/model/device-type.ts";
import {
  id,
  type ArrivalGroupId,
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
  type ArrivalGroup,
  type Assignment,
  type Cable,
  type CableEnd,
  type ChannelPlan,
  type Device,
  type Mix,
  type MixMember,
  type Show,
  type Source,
  type Stream,
  type TerminalRef,
  type Want,
} from "#engine/model/show.ts";
import { metres, ms, type SampleRate } from "#engine/model/units.ts";

export interface DeviceText {
  readonly name: string;
  /** A type of the catalogue, or one of the rig's own `types`. */
  readonly type: string;
  /** Left out: the type's first mode. */
  readonly mode?: string;
  readonly position?: number;
  readonly off?: boolean;
  readonly rate?: SampleRate;
  readonly clock?: string;
  /** `link1 1 x8 < mix 1`: link 1 out 1–8 take mix 1–8. Without a count: one. */
  readonly set?: readonly string[];
  /** `ch-return 1 x8`: the inserts that are in. */
  readonly inserts?: readonly string[];
}

export interface RigText {
  readonly rate?: SampleRate;
  readonly types?: readonly DeviceType[];
  readonly devices: Readonly<Record<string, DeviceText>>;
  /** `tag: device.group - device.group, 50 m, fibre`, with `.jack` after a bank and `x4` before the first comma for a multicore. */
  readonly cables?: readonly string[];
  /** `name: device.port.slot x8 > device.port.slot, device.port.slot`, packets of 1 ms. */
  readonly streams?: readonly string[];
  /** `name: device.group.number` */
  readonly sources?: readonly string[];
  /** `name: device.group.bus < section number, section number pre`; `bus+next` for a stereo one. */
  readonly mixes?: readonly string[];
  /** `name: device.group.number`, with `< device.group.number` where it must come from one tap. */
  readonly wants?: readonly string[];
  /** `name: device.group.number`, with `< source name` where it is planned to carry one. */
  readonly channels?: readonly string[];
  /** `name: device.group.number, device.group.number`, with `within 0.5 ms` at the end where that is told. */
  readonly groups?: readonly string[];
}

function match(text: string, form: RegExp, what: string): readonly (string | undefined)[] {
  const found = form.exec(text);
  if (!found) throw new Error(`not a ${what}: "${text}"`);
  return found.slice(1);
}

const WORD = "[\\w-]+";
const group = (text: string): GroupId => id<GroupId>(text);
const device = (text: string): DeviceId => id<DeviceId>(text);
const slug = (text: string): string => text.toLowerCase().replaceAll(/[^a-z0-9]+/g, "-");

function assignment(text: string): Assignment {
  const [to, toFirst, count, from, fromFirst] = match(
    text,
    new RegExp(`^(${WORD}) (\\d+)(?: x(\\d+))? < (${WORD}) (\\d+)$`),
    "setting",
  );
  return {
    to: { group: group(to!), first: Number(toFirst) },
    from: { group: group(from!), first: Number(fromFirst) },
    count: Number(count ?? 1),
  };
}

function inserted(text: string): Range {
  const [name, first, count] = match(text, new RegExp(`^(${WORD}) (\\d+)(?: x(\\d+))?$`), "insert");
  return { group: group(name!), first: Number(first), count: Number(count ?? 1) };
}

function end(text: string): CableEnd {
  const [where, name, first] = match(
    text,
    new RegExp(`^(${WORD})\\.(${WORD})(?:\\.(\\d+))?$`),
    "cable's end",
  );
  return { device: device(where!), group: group(name!), first: Number(first ?? 1) };
}

function stream(text: string): Stream {
  const [name, from, channels, to] = match(text, /^([\w ]+): (\S+) x(\d+) > (.+)$/, "stream");
  return {
    id: id<StreamId>(slug(name!)),
    name: name!,
    from: end(from!),
    channels: Number(channels),
    packetTime: 1,
    to: to!.split(", ").map(end),
  };
}

function terminal(text: string): TerminalRef {
  const [where, name, number] = match(text, new RegExp(`^(${WORD})\\.(${WORD})\\.(\\d+)$`), "terminal");
  return { device: device(where!), group: group(name!), number: Number(number) };
}

function cable(text: string): Cable {
  const [tag, a, b, ways, length, kind] = match(
    text,
    /^([\w-]+): (\S+) - ([^\s,]+)(?: x(\d+))?(?:, ([\d.]+) m)?(?:, ([\w-]+))?$/,
    "cable",
  );
  const ends = [end(a!), end(b!)] as const;
  const known = CABLE_KINDS.find((each) => each === kind);
  if (kind !== undefined && !known) throw new Error(`no kind of cable: "${kind}"`);
  const jacks = a!.split(".").length > 2 || b!.split(".").length > 2;
  return {
    id: id<CableId>(tag!),
    kind: known ?? ((jacks ? "line" : "cat5e-shielded") satisfies CableKind),
    ...(length === undefined ? {} : { length: metres(Number(length)) }),
    tag: tag!,
    ways: Number(ways ?? 1),
    ends,
  };
}

/** `name: rest`, at the first colon. */
const named = (text: string, what: string): readonly [string, string] => {
  const [name, rest] = match(text, /^([^:]+): (.+)$/, what);
  return [name!, rest!];
};

function source(text: string): Source {
  const [name, at] = named(text, "source");
  return { id: id<SourceId>(slug(name)), name, kind: "microphone", at: terminal(at), phantom: false };
}

function mix(text: string): Mix {
  const [name, rest] = named(text, "mix");
  const [console, section, bus, next, members] = match(
    rest,
    new RegExp(`^(${WORD})\\.(${WORD})\\.(\\d+)(?:\\+(\\d+))? < (.+)$`),
    "mix",
  );
  if (next !== undefined && Number(next) !== Number(bus) + 1) throw new Error(`no pair of buses: "${text}"`);
  return {
    id: id<MixId>(slug(name)),
    console: device(console!),
    group: group(section!),
    first: Number(bus),
    width: next === undefined ? 1 : 2,
    name,
    members: members!.split(", ").map((member): MixMember => {
      const [from, number, tap] = match(
        member,
        new RegExp(`^(${WORD}) (\\d+)(?: (pre|post))?$`),
        "mix member",
      );
      return { group: group(from!), number: Number(number), tap: tap === "pre" ? "pre" : "post" };
    }),
  };
}

function want(text: string): Want {
  const [name, rest] = named(text, "want");
  const [to, from] = rest.split(" < ");
  return {
    id: id<WantId>(slug(name)),
    name,
    to: terminal(to!),
    ...(from === undefined ? {} : { from: terminal(from) }),
  };
}

function channel(text: string): ChannelPlan {
  const [name, rest] = named(text, "channel");
  const [at, carries] = rest.split(" < ");
  const { device: console, group: section, number } = terminal(at!);
  return {
    id: id<ChannelId>(slug(`${console} ${name}`)),
    console,
    group: section,
    number,
    name,
    ...(carries === undefined ? {} : { source: id<SourceId>(slug(carries)) }),
  };
}

function arrivalGroup(text: string): ArrivalGroup {
  const [name, rest] = named(text, "group");
  const [members, within] = match(rest, /^(.+?)(?: within ([\d.]+) ms)?$/, "group's members");
  return {
    id: id<ArrivalGroupId>(slug(name)),
    name,
    members: members!.split(", ").map(terminal),
    ...(within === undefined ? {} : { within: ms(Number(within)) }),
  };
}

const PLACE = id<PlaceId>("stage");

/** The show that a rig's text tells of. */
export function rig(text: RigText): Show {
  const types = new Map<string, DeviceType>((text.types ?? []).map((type) => [type.id, type]));
  const devices = Object.entries(text.devices).map(([key, told], n): Device => {
    let type = types.get(told.type);
    // A type that is nowhere is what some rigs are about; those say so with a question mark.
    if (!type && !told.type.endsWith("?")) types.set(told.type, (type = catalogueType(told.type)));
    const mode = told.mode ?? type?.modes[0]?.id ?? "none";
    return {
      id: device(key),
      name: told.name,
      type: id<TypeId>(told.type.replace("?", "")),
      place: PLACE,
      at: { x: 200 * n, y: 0 },
      mode: id<ModeId>(mode),
      position: told.position ?? 1,
      powered: !told.off,
      ...(told.rate === undefined ? {} : { sampleRate: told.rate }),
      ...(told.clock === undefined
        ? {}
        : { clock: told.clock === "internal" ? "internal" : group(told.clock) }),
      routing: (told.set ?? []).map(assignment),
      ...(told.inserts ? { inserts: told.inserts.map(inserted) } : {}),
    };
  });
  return {
    format: SHOW_FORMAT,
    version: SHOW_VERSION,
    id: id<ShowId>("rig"),
    title: "Rig",
    venue: "",
    notes: "",
    settings: { sampleRate: text.rate ?? 48000, units: "metric", paper: "A4" },
    places: [{ id: PLACE, name: "Stage", at: { x: 0, y: 0 }, size: { width: 2000, height: 1000 } }],
    types: [...types.values()],
    devices,
    cables: (text.cables ?? []).map(cable),
    sources: (text.sources ?? []).map(source),
    channels: (text.channels ?? []).map(channel),
    mixes: (text.mixes ?? []).map(mix),
    wants: (text.wants ?? []).map(want),
    ...(text.streams ? { streams: text.streams.map(stream) } : {}),
    ...(text.groups ? { groups: text.groups.map(arrivalGroup) } : {}),
    lineChecks: [],
    revisions: [],
  };
}
