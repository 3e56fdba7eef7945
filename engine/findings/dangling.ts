/** F14: records that point at something the show doesn't have. They are kept, so that nothing is lost. */
import type { Edit } from "../model/edit.ts";
import type {
  CableId,
  ChannelId,
  DeviceId,
  GroupId,
  MixId,
  SourceId,
  StreamId,
  WantId,
} from "../model/ids.ts";
import type { CableEnd, Mix, MixMember, Place, TerminalRef } from "../model/show.ts";
import { findTerminal, fullName, spanAt, terminalFinder } from "../trace/terminal.ts";
import type { Socket } from "../wiring/plugs.ts";
import { State, type Wiring } from "../wiring/wiring.ts";
import { cableName, counted, lowered } from "./describe.ts";
import { wiredOf } from "../trace/records.ts";
import { found, type Analysed, type Check, type Finding, type Fix, type Severity } from "./finding.ts";
import { deviceFix, modeFixes, without } from "./remedies.ts";
import { NOWHERE, standing } from "./standing.ts";

export const dangling: Check = {
  id: "dangling",
  about: "a record that points at something the show doesn't have",
  reads: ({ wiring }) => [
    wiring.show.devices,
    wiring.show.places,
    wiring.show.cables,
    wiring.show.sources,
    wiring.show.wants,
    wiring.show.channels,
    wiring.show.mixes,
    wiring.show.streams,
    wiring.show.groups,
    wiring.show.lineChecks,
  ],
  run: (rig) => reportsOf(rig).map(({ finding }) => finding),
  propose: (rig, { id }) =>
    reportsOf(rig)
      .find(({ finding }) => finding.id === id)
      ?.fixes() ?? [],
};

interface Report {
  readonly finding: Finding;
  readonly fixes: () => readonly Fix[];
}

function reportsOf(rig: Analysed): readonly Report[] {
  const { wiring } = rig;
  const { show } = wiring;
  const places = new Set<string>(show.places.map(({ id }) => id));
  const reports: Report[] = [];
  const report = (
    key: string,
    what: string,
    missing: string,
    fixes: Report["fixes"],
    at: Parameters<typeof found>[1] = {},
    severity: Severity = "error",
  ): void => {
    const says = { id: `dangling:${key}`, check: "dangling", severity } as const;
    const title = `${what} points at nothing`;
    reports.push({
      finding: found({ ...says, title, reason: `${missing}. The record is kept as it is.` }, at),
      fixes,
    });
  };

  show.devices.forEach((device, index) => {
    const wired = wiring.devices[index];
    const at = { devices: [device.id] };
    if (!wired) {
      report(`${device.id}:type`, device.name, `The show has no device type “${device.type}”`, none, at);
    } else if (!wired.fabric.mode) {
      const missing = `Its type has no mode “${device.mode}”`;
      report(`${device.id}:mode`, device.name, missing, () => modeFixes(wired), at);
    }
    if (!places.has(device.place)) {
      const missing = `The show has no place “${device.place}”`;
      const move = ({ id, name }: Place): Fix =>
        deviceFix(`Put ${device.name} in ${name}`, { ...device, place: id });
      report(`${device.id}:place`, device.name, missing, () => show.places.map(move), at);
    }
  });
  for (const { cable, sockets } of wiring.plugs.cables) {
    cable.ends.forEach((end, side) => {
      const missing = missingSocket(rig, end, sockets[side]!);
      if (missing === null) return;
      const name = cableName(wiring, cable);
      report(`${cable.id}:${side}`, name, missing, takeOut("cables", cable.id, lowered(name)), {
        cables: [cable.id],
      });
    });
  }
  const at = standing(wiring);
  // Nothing is put together for the many records that are right.
  const lacks = (terminal: number, ref: TerminalRef, wrong?: Wrong): string | null =>
    terminal === NOWHERE ? missingPart(rig, ref) : (wrong?.(wiring, terminal) ?? null);
  show.sources.forEach((source, n) => {
    const { id, name, preampOwner } = source;
    const jack = lacks(at.sources[n]!, source.at, noInput);
    if (jack !== null) {
      report(id, `Source “${name}”`, jack, takeOut("sources", id, `the source “${name}”`));
    }
    if (preampOwner === undefined || wiring.indexOf.has(preampOwner)) return;
    report(`${id}:owner`, `The preamp owner of “${name}”`, noDevice(preampOwner), () => [
      {
        label: `Leave open who sets the gain of ${name}`,
        edits: [{ kind: "put", list: "sources", record: without(source, "preampOwner") }],
      },
    ]);
  });
  show.wants.forEach((want, n) => {
    const { id, name, to, from } = want;
    const jack = lacks(at.wants[n]!, to, noJack);
    if (jack !== null) {
      report(`${id}:to`, `Want “${name}”`, jack, takeOut("wants", id, `the want “${name}”`), { wants: [id] });
    }
    const origin = from ? lacks(at.origins[n]!, from) : null;
    if (origin === null) return;
    const anything: Fix = {
      label: `Let anything do for ${name}`,
      edits: [{ kind: "put", list: "wants", record: without(want, "from") }],
    };
    report(`${id}:from`, `The origin of want “${name}”`, origin, () => [anything], { wants: [id] });
  });
  show.channels.forEach((channel, n) => {
    const { id, console: device, group, number, name, source } = channel;
    const there = at.channels[n]!;
    const terminal = there === NOWHERE ? missingPart(rig, { device, group, number }) : noBus(wiring, there);
    if (terminal !== null) {
      const out = takeOut("channels", id, `channel ${number} “${name}”`);
      report(id, `Channel ${number} “${name}”`, terminal, out);
    }
    if (source === undefined || at.planned[n] !== NOWHERE) return;
    report(`${id}:source`, `Channel ${number} “${name}”`, `The show has no source “${source}”`, () => [
      {
        label: `Leave channel ${number} without a source`,
        edits: [{ kind: "put", list: "channels", record: without(channel, "source") }],
      },
    ]);
  });
  const find = terminalFinder(wiring);
  const lacksBus = (device: DeviceId, group: GroupId, number: number): string | null => {
    const bus = find(device, group, number);
    return bus === NOWHERE ? missingPart(rig, { device, group, number }) : noBus(wiring, bus);
  };
  const reportLost = (mix: Mix): void => {
    const lost = lostMembers(wiring, mix);
    if (lost.length === 0) return;
    const missing = `${lost[0]!.group} ${lost[0]!.number} doesn't exist there`;
    const fix = (): readonly Fix[] => [takeMembersOut(mix, lost)];
    report(`${mix.id}:members`, `A member of mix “${mix.name}”`, missing, fix, { devices: [mix.console] });
  };
  show.mixes.forEach((mix, n) => {
    const { id, console: device, group, first, width, name } = mix;
    const bus = lacksBus(device, group, first + width - 1);
    if (bus !== null) report(id, `Mix “${name}”`, bus, takeOut("mixes", id, `the mix “${name}”`));
    if (wiring.mixWhole[n] !== 1 && lacksBus(device, group, first) === null) reportLost(mix);
  });
  for (const stream of show.streams ?? []) {
    const { id, name } = stream;
    const what = `Stream “${name}”`;
    const out = takeOut("streams", id, `the stream “${name}”`);
    const sender = missingPort(rig, stream.from);
    if (sender !== null) report(`stream:${id}:from`, what, sender, out);
    const lost = stream.to.filter((end) => missingPort(rig, end) !== null);
    if (lost.length === 0) continue;
    const record = { ...stream, to: stream.to.filter((end) => !lost.includes(end)) };
    const without: Fix = {
      label: `Take ${counted(lost.length, "lost receiver")} out of “${name}”`,
      edits: [{ kind: "put", list: "streams", record }],
    };
    report(`stream:${id}:to`, what, missingPort(rig, lost[0]!)!, () =>
      record.to.length > 0 ? [without] : out(),
    );
  }
  const lacksJack = (member: TerminalRef): string | null =>
    lacks(find(member.device, member.group, member.number), member, noJack);
  for (const group of show.groups ?? []) {
    const { id, name, members } = group;
    const lost = members.filter((member) => lacksJack(member) !== null);
    if (lost.length === 0) continue;
    const record = { ...group, members: members.filter((member) => !lost.includes(member)) };
    report(`group:${id}`, `A member of group “${name}”`, lacksJack(lost[0]!)!, () => [
      {
        label: `Take ${counted(lost.length, "lost member")} out of “${name}”`,
        edits: [{ kind: "put", list: "groups", record }],
      },
    ]);
  }
  const stale = show.lineChecks.filter((check) => {
    const { device, group, number } = check.at;
    return find(device, group, number) === NOWHERE && missingPart(rig, check.at) !== null;
  });
  if (stale.length > 0) {
    const lineChecks = show.lineChecks.filter((check) => !stale.includes(check));
    report(
      "line-checks",
      "A line-check result",
      missingPart(rig, stale[0]!.at)!,
      () => [
        {
          label: `Take ${counted(stale.length, "line-check result")} out`,
          edits: [{ kind: "line-checks", lineChecks }],
        },
      ],
      {},
      // No signal is wrong for it.
      "warning",
    );
  }
  return reports;
}

const none = (): readonly Fix[] => [];

const takeOut =
  (
    ...[list, id, name]:
      | ["cables", CableId, string]
      | ["sources", SourceId, string]
      | ["wants", WantId, string]
      | ["channels", ChannelId, string]
      | ["mixes", MixId, string]
      | ["streams", StreamId, string]
  ): Report["fixes"] =>
  () => [{ label: `Take ${name} out`, edits: [{ kind: "remove", list, id } as Edit] }];

const takeMembersOut = (mix: Mix, lost: readonly MixMember[]): Fix => ({
  label: `Take ${counted(lost.length, "lost member")} out of “${mix.name}”`,
  edits: [
    {
      kind: "put",
      list: "mixes",
      record: { ...mix, members: mix.members.filter((member) => !lost.includes(member)) },
    },
  ],
});

/** The members of a mix that its console doesn't have. What a console of an unknown type has isn't known. */
function lostMembers(wiring: Wiring, { console: device, members }: Mix): readonly MixMember[] {
  const wired = wiredOf(wiring, device);
  if (!wired) return [];
  const { destinations, sources } = wired.fabric.layout;
  let last: GroupId | null = null;
  let count = 0;
  return members.filter(({ group, number }) => {
    // Members stand section by section, so each section is looked up about once.
    if (group !== last) {
      const span = destinations.get(group) ?? sources.get(group);
      count = span?.side === "bus" ? span.count : 0;
      last = group;
    }
    return number < 1 || number > count;
  });
}

const noDevice = (id: string): string => `The show has no device “${id}”`;

const noGroup = ({ wiring }: Analysed, device: DeviceId, group: GroupId): string =>
  `${wiring.show.devices[wiring.indexOf.get(device)!]!.name} has no bank, port or section “${group}”`;

/** Null where the terminal exists, or where its device has no type, which is told once for the device. */
function missingPart(rig: Analysed, ref: TerminalRef): string | null {
  const index = rig.wiring.indexOf.get(ref.device);
  if (index === undefined) return noDevice(ref.device);
  const wired = rig.wiring.devices[index];
  if (!wired || findTerminal(rig.wiring, ref) !== null) return null;
  const { destinations, sources } = wired.fabric.layout;
  const span = destinations.get(ref.group) ?? sources.get(ref.group);
  return span
    ? noNumber(wired.device.name, ref.group, span.count, ref.number)
    : noGroup(rig, ref.device, ref.group);
}

const noNumber = (device: string, group: GroupId, count: number, number: number): string =>
  `${device} has ${count} of “${group}”; number ${number} doesn't exist`;

/** Null where a cable's end is in a port or jack, or in a device that has no type. A port is one socket. */
function missingSocket(rig: Analysed, { device, group, first }: CableEnd, socket: Socket): string | null {
  if (socket.kind === "missing") {
    if (socket.what === "type") return null;
    return socket.what === "device" ? noDevice(device) : noGroup(rig, device, group);
  }
  const count = socket.kind === "bank" ? socket.bank.count : 1;
  return first > count ? noNumber(socket.device.device.name, group, count, first) : null;
}

/** What a terminal is instead of what a record takes it for; null where it is that. */
type Wrong = (wiring: Wiring, terminal: number) => string | null;

/** Where a source can't be plugged in. Nearly always the wiring has it there already. */
const noInput: Wrong = (wiring, terminal) => {
  if (wiring.state[terminal] === State.source) return null;
  const span = spanAt(wiring, terminal);
  const isInput = span.side === "jack" && span.bank.direction === "in";
  return isInput ? null : `${fullName(wiring, terminal)} is no input jack`;
};

/** At a tap, where everything comes from and nothing has to arrive. */
const noJack: Wrong = (wiring, terminal) => {
  const span = spanAt(wiring, terminal);
  const isTap = span.side === "bus" && span.section.role !== "channel" && span.section.role !== "return";
  return isTap ? `${fullName(wiring, terminal)} is no jack` : null;
};

/** Outside the mixer. */
const noBus: Wrong = (wiring, terminal) =>
  spanAt(wiring, terminal).side === "bus" ? null : `${fullName(wiring, terminal)} is no part of a mixer`;

/** Null where a stream's end is a network port of the rig, or its device has no type. */
function missingPort(rig: Analysed, { device, group }: CableEnd): string | null {
  const index = rig.wiring.indexOf.get(device);
  if (index === undefined) return noDevice(device);
  const wired = rig.wiring.devices[index];
  if (!wired) return null;
  const port = wired.fabric.layout.type.ports.find(({ id }) => id === group);
  if (!port) return `${wired.device.name} has no port “${group}”`;
  return port.network ? null : `${wired.device.name} ${port.name} is no network port`;
}
