/** B5, B6: things taken out with all that hangs on them, so that no record is left that points at nothing. */
import type { Edit } from "../model/edit.ts";
import type { CableId, DeviceId, PlaceId } from "../model/ids.ts";
import type { Show } from "../model/show.ts";
import { movedToPlace } from "./devices.ts";

export const withoutCables = (show: Show, cables: readonly CableId[]): readonly Edit[] => {
  const gone = new Set(cables);
  return show.cables
    .filter(({ id }) => gone.has(id))
    .map(({ id }): Edit => ({ kind: "remove", list: "cables", id }));
};

/**
 * B5: the devices, the cables in them, the sources at their jacks, their channels and mixes, the wants at their jacks,
 * the streams that they send, and what was checked there. Records of other devices that name one of them stay, and name
 * it no more: a want comes from anywhere, a preamp has no owner, a channel no source, a stream or group has an end less
 * and goes with its last.
 */
export function withoutDevices(show: Show, devices: readonly DeviceId[]): readonly Edit[] {
  const gone = new Set<DeviceId>(devices.filter((id) => show.devices.some((device) => device.id === id)));
  if (gone.size === 0) return [];
  const at = ({ device }: { readonly device: DeviceId }): boolean => gone.has(device);
  const edits: Edit[] = [];
  const lost = new Set<string>();

  for (const { id, ends } of show.cables)
    if (ends.some(at)) edits.push({ kind: "remove", list: "cables", id });
  for (const source of show.sources) {
    const { preampOwner, ...rest } = source;
    if (at(source.at)) {
      lost.add(source.id);
      edits.push({ kind: "remove", list: "sources", id: source.id });
    } else if (preampOwner !== undefined && gone.has(preampOwner)) {
      edits.push({ kind: "put", list: "sources", record: rest });
    }
  }
  for (const channel of show.channels) {
    const { source, ...rest } = channel;
    if (gone.has(channel.console)) edits.push({ kind: "remove", list: "channels", id: channel.id });
    else if (source !== undefined && lost.has(source)) {
      edits.push({ kind: "put", list: "channels", record: rest });
    }
  }
  for (const { id, console } of show.mixes) {
    if (gone.has(console)) edits.push({ kind: "remove", list: "mixes", id });
  }
  for (const want of show.wants) {
    const { from, ...rest } = want;
    if (at(want.to)) edits.push({ kind: "remove", list: "wants", id: want.id });
    else if (from && at(from)) edits.push({ kind: "put", list: "wants", record: rest });
  }
  for (const stream of show.streams ?? []) {
    const to = stream.to.filter((end) => !at(end));
    if (at(stream.from) || (to.length === 0 && stream.to.length > 0)) {
      edits.push({ kind: "remove", list: "streams", id: stream.id });
    } else if (to.length < stream.to.length) {
      edits.push({ kind: "put", list: "streams", record: { ...stream, to } });
    }
  }
  for (const group of show.groups ?? []) {
    const members = group.members.filter((member) => !at(member));
    if (members.length === group.members.length) continue;
    edits.push(
      members.length === 0
        ? { kind: "remove", list: "groups", id: group.id }
        : { kind: "put", list: "groups", record: { ...group, members } },
    );
  }
  const lineChecks = show.lineChecks.filter((check) => !at(check.at));
  if (lineChecks.length < show.lineChecks.length) edits.push({ kind: "line-checks", lineChecks });
  for (const { id } of show.devices) if (gone.has(id)) edits.push({ kind: "remove", list: "devices", id });
  return edits;
}

/** B6: a place, and its devices with it or moved to another place. */
export function withoutPlace(
  show: Show,
  place: PlaceId,
  devices: { readonly kind: "with" } | { readonly kind: "to"; readonly place: PlaceId },
): readonly Edit[] {
  if (!show.places.some(({ id }) => id === place)) return [];
  const inside = show.devices.filter((device) => device.place === place).map(({ id }) => id);
  if (
    devices.kind === "to" &&
    (devices.place === place || !show.places.some(({ id }) => id === devices.place))
  ) {
    return [];
  }
  const before =
    devices.kind === "with" ? withoutDevices(show, inside) : movedToPlace(show, inside, devices.place);
  return [...before, { kind: "remove", list: "places", id: place }];
}
