/** A small builder for invented shows: short calls, ids made from names, one place that knows the document's shape. */
import {
  catalogueType,
  id,
  metres,
  ms,
  SHOW_FORMAT,
  SHOW_VERSION,
  type ArrivalGroup,
  type Assignment,
  type Cable,
  type CableEnd,
  type CableKind,
  type ChannelPlan,
  type Device,
  type DeviceId,
  type DeviceType,
  type GroupId,
  type Mix,
  type MixMember,
  type ModeId,
  type Place,
  type PlaceId,
  type ShowId,
  type Show,
  type Source,
  type SourceId,
  type SourceKind,
  type TerminalRef,
  type Want,
} from "#engine";

const slug = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "");

export const at = (device: string, group: string, number: number): TerminalRef => ({
  device: id<DeviceId>(device),
  group: id<GroupId>(group),
  number,
});

type DeviceMore = Partial<Pick<Device, "position" | "clock" | "sampleRate" | "notes">> & {
  readonly mode?: string;
};

export class Rig {
  private readonly places: Place[] = [];
  private readonly types = new Map<string, DeviceType>();
  private readonly devices = new Map<string, Device>();
  private readonly routing = new Map<string, Assignment[]>();
  private readonly cables: Cable[] = [];
  private readonly sources: Source[] = [];
  private readonly channels: ChannelPlan[] = [];
  private readonly mixes: Mix[] = [];
  private readonly wants: Want[] = [];
  private readonly groups: ArrivalGroup[] = [];

  place(name: string, x: number, y: number, width: number, height: number): void {
    this.places.push({ id: id<PlaceId>(slug(name)), name, at: { x, y }, size: { width, height } });
  }

  /** Stands a device of a catalogue type at a point of the canvas. `key` is its id. */
  device(
    key: string,
    name: string,
    type: string,
    place: string,
    x: number,
    y: number,
    more: DeviceMore = {},
  ): void {
    const found = catalogueType(type);
    this.types.set(type, found);
    const { mode, position, ...rest } = more;
    this.devices.set(key, {
      id: id<DeviceId>(key),
      name,
      type: found.id,
      place: id<PlaceId>(slug(place)),
      at: { x, y },
      mode: mode ? id<ModeId>(mode) : found.modes[0]!.id,
      position: position ?? 1,
      powered: true,
      ...rest,
      routing: [],
    });
  }

  /** A cable between two ports, each written `device.port`. */
  link(tag: string, kind: CableKind, length: number, a: string, b: string): void {
    this.cable(tag, kind, length, 1, portEnd(a), portEnd(b));
  }

  /** `ways` neighbouring jacks to as many others, each end's first written `device.bank.number`. */
  loom(tag: string, kind: CableKind, length: number, ways: number, a: string, b: string): void {
    this.cable(tag, kind, length, ways, jackEnd(a), jackEnd(b));
  }

  private cable(tag: string, kind: CableKind, length: number, ways: number, a: CableEnd, b: CableEnd): void {
    this.cables.push({ id: id(slug(tag)), kind, length: metres(length), tag, ways, ends: [a, b] });
  }

  /** On `device`: `count` terminals of `to` from its number on take from those of `from`; each `group first`. */
  set(device: string, to: string, from: string, count: number): void {
    const run = (text: string): Assignment["to"] => {
      const [group, first] = text.split(" ");
      return { group: id<GroupId>(group!), first: Number(first) };
    };
    const settings = this.routing.get(device) ?? [];
    this.routing.set(device, settings);
    settings.push({ to: run(to), from: run(from), count });
  }

  source(name: string, kind: SourceKind, where: TerminalRef, owner: string, phantom = false): SourceId {
    const source: SourceId = id<SourceId>(slug(name));
    this.sources.push({ id: source, name, kind, at: where, phantom, preampOwner: id<DeviceId>(owner) });
    return source;
  }

  /** `follows`: the console trims against the gain that another one sets. */
  channel(desk: string, number: number, source: SourceId, follows = false): void {
    const { name } = this.sources.find((candidate) => candidate.id === source)!;
    this.channels.push({
      id: id(`${desk}-ch-${number}`),
      console: id<DeviceId>(desk),
      group: id<GroupId>("ch"),
      number,
      name,
      source,
      ...(follows ? { follows } : {}),
    });
  }

  mix(
    desk: string,
    group: string,
    first: number,
    width: 1 | 2,
    name: string,
    members: readonly MixMember[],
  ): void {
    this.mixes.push({
      id: id(`${desk}-${group}-${first}`),
      console: id<DeviceId>(desk),
      group: id<GroupId>(group),
      first,
      width,
      name,
      members,
    });
  }

  want(name: string, to: TerminalRef, from: TerminalRef): void {
    this.wants.push({ id: id(`want-${this.wants.length + 1}`), name, to, from });
  }

  /** Outputs that should arrive within `within` milliseconds of each other. */
  group(name: string, within: number, members: readonly TerminalRef[]): void {
    this.groups.push({ id: id(slug(name)), name, members, within: ms(within) });
  }

  show(key: string, title: string, venue: string, notes: string): Show {
    return {
      format: SHOW_FORMAT,
      version: SHOW_VERSION,
      id: id<ShowId>(key),
      title,
      venue,
      notes,
      settings: { sampleRate: 48000, units: "metric", paper: "A3" },
      places: this.places,
      types: [...this.types.values()],
      devices: [...this.devices.values()].map((device) => ({
        ...device,
        routing: this.routing.get(device.id) ?? [],
      })),
      cables: this.cables,
      sources: this.sources,
      channels: this.channels,
      mixes: this.mixes,
      wants: this.wants,
      groups: this.groups,
      lineChecks: [],
      revisions: [{ name: "A", date: "2026-11-20", note: "First plan" }],
    };
  }
}

function portEnd(text: string): CableEnd {
  const [device, group] = text.split(".");
  return { device: id<DeviceId>(device!), group: id<GroupId>(group!), first: 1 };
}

function jackEnd(text: string): CableEnd {
  const [device, group, first] = text.split(".");
  return { device: id<DeviceId>(device!), group: id<GroupId>(group!), first: Number(first) };
}
