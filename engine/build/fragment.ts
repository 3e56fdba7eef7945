/**
 * B11–B14: a part of a rig as text. It holds whole records of a show, so that the file's own schema checks it, and
 * nothing that points outside of it.
 */
import { MOST_ITEMS } from "../exchange/load.ts";
import { tooLarge } from "../exchange/size.ts";
import { validate } from "../exchange/validate.ts";
import type { Edit } from "../model/edit.ts";
import { applyEdits } from "../model/edit.ts";
import {
  id,
  type ArrivalGroupId,
  type CableId,
  type ChannelId,
  type DeviceId,
  type MixId,
  type PlaceId,
  type SourceId,
  type StreamId,
  type TypeId,
  type WantId,
} from "../model/ids.ts";
import { err, ok, type Result } from "../model/result.ts";
import { CONTENT_LISTS } from "../model/revisions.ts";
import {
  SHOW_FORMAT,
  SHOW_VERSION,
  type Device,
  type Place,
  type Point,
  type Show,
  type ShowContent,
} from "../model/show.ts";
import type { Rect } from "../layout/geometry.ts";
import { sizeOf, typesOf } from "../layout/scene.ts";
import { LONGEST_NAME, namerOf } from "./names.ts";
import { around, freeSpot, grown, overlap, placeRect, rectsOf } from "./room.ts";
import { typeIn } from "./types.ts";

export const FRAGMENT_FORMAT = "hopline.fragment";
export const FRAGMENT_VERSION = 1;
/** Far above any part of a rig that someone copies; a clipboard can hold anything. */
export const MOST_FRAGMENT_CHARACTERS = 5_000_000;

/** The lists of a show, of which a fragment has some records. */
export type Fragment = Omit<ShowContent, "title" | "venue" | "notes" | "settings">;

/**
 * B11: the devices with their types and places, the cables with both ends in them, their routing, the sources at their
 * jacks, their channels, mixes, wants, streams and groups. What such a record says of a device outside is left out.
 */
export function fragmentOf(show: Show, devices: readonly DeviceId[]): Fragment {
  const chosen = new Set<DeviceId>(devices);
  const at = ({ device }: { readonly device: DeviceId }): boolean => chosen.has(device);
  const kept = show.devices.filter((device) => chosen.has(device.id));
  const types = new Set<TypeId>(kept.map(({ type }) => type));
  const places = new Set<PlaceId>(kept.map(({ place }) => place));
  const sources = show.sources.filter((source) => at(source.at));
  const carried = new Set<SourceId>(sources.map((source) => source.id));
  const streams = (show.streams ?? [])
    .filter((stream) => at(stream.from))
    .map((stream) => ({ ...stream, to: stream.to.filter(at) }))
    .filter(({ to }) => to.length > 0);
  const groups = (show.groups ?? [])
    .map((group) => ({ ...group, members: group.members.filter(at) }))
    .filter(({ members }) => members.length > 0);
  return {
    places: show.places.filter((place) => places.has(place.id)),
    types: show.types.filter((type) => types.has(type.id)),
    devices: kept,
    cables: show.cables.filter(({ ends }) => ends.every(at)),
    sources: sources.map((source) => {
      const { preampOwner, ...rest } = source;
      return preampOwner === undefined || chosen.has(preampOwner) ? source : rest;
    }),
    channels: show.channels
      .filter((channel) => chosen.has(channel.console))
      .map((channel) => {
        const { source, ...rest } = channel;
        return source === undefined || carried.has(source) ? channel : rest;
      }),
    mixes: show.mixes.filter((mix) => chosen.has(mix.console)),
    wants: show.wants
      .filter((want) => at(want.to))
      .map((want) => {
        const { from, ...rest } = want;
        return from === undefined || at(from) ? want : rest;
      }),
    ...(streams.length > 0 ? { streams } : {}),
    ...(groups.length > 0 ? { groups } : {}),
  };
}

export const fragmentText = (fragment: Fragment): string =>
  `${JSON.stringify({ format: FRAGMENT_FORMAT, version: FRAGMENT_VERSION, ...fragment })}\n`;

/** B12: text → fragment, or one plain line that says why it is none. */
export function readFragment(text: string): Result<Fragment, string> {
  if (text.length > MOST_FRAGMENT_CHARACTERS) {
    return err("The clipboard holds more than 5 million characters, more than a part of a rig has.");
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return err("The clipboard holds no part of a rig.");
  }
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    return err("The clipboard holds no part of a rig.");
  }
  const { format, version, ...lists } = value as Readonly<Record<string, unknown>>;
  if (format !== FRAGMENT_FORMAT) return err("The clipboard holds no part of a rig.");
  if (typeof version === "number" && Number.isInteger(version) && version > FRAGMENT_VERSION) {
    return err("The part of a rig in the clipboard was copied from a newer Hopline.");
  }
  if (version !== FRAGMENT_VERSION) return bad("version", `must be ${FRAGMENT_VERSION}`);
  const odd = Object.keys(lists).find((key) => !(CONTENT_LISTS as readonly string[]).includes(key));
  if (odd !== undefined) return bad(odd.slice(0, 80), "is not a field that Hopline knows");
  const file = { ...SHELL, ...lists };
  const fault = validate(file);
  if (fault) return bad(fault.path.slice(0, 200), fault.message);
  const show = file as unknown as Show;
  if (itemsOf(show) > MOST_ITEMS)
    return err(`The part of a rig in the clipboard has more than ${MOST_ITEMS} entries.`);
  const large = tooLarge(show);
  if (large) return bad(large.path, large.message);
  const fragment = Object.fromEntries(
    CONTENT_LISTS.flatMap((name) => (show[name] === undefined ? [] : [[name, show[name]]])),
  ) as unknown as Fragment;
  return fragment.devices.length === 0
    ? err("The part of a rig in the clipboard has no device.")
    : ok(fragment);
}

/** What a file has besides its lists; it is checked as one. */
const SHELL = {
  format: SHOW_FORMAT,
  version: SHOW_VERSION,
  id: "fragment",
  title: "Fragment",
  venue: "",
  notes: "",
  settings: { sampleRate: 48000, units: "metric", paper: "A4" },
  lineChecks: [],
  revisions: [],
};

const bad = (path: string, message: string): Result<never, string> =>
  err(
    `The part of a rig in the clipboard can’t be read: ${`${path} ${message}`.trim().replaceAll(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, " ")}.`,
  );

const itemsOf = (show: Show): number => {
  let items = 0;
  for (const name of CONTENT_LISTS) items += show[name]?.length ?? 0;
  for (const { routing } of show.devices) items += routing.length;
  for (const { members } of show.mixes) items += members.length;
  return items;
};

export interface Pasted {
  readonly edits: readonly Edit[];
  readonly devices: readonly DeviceId[];
}

/**
 * B13: a fragment put in a show. Every record gets an id of its own, devices, cables and sources a name that is free.
 * A type that the show has already is used; one that only shares an id with another gets a new one. Devices come into
 * the show's places of the same names, which grow to hold them, and places that the show doesn't have come along.
 * `middle`: where the middle of what is pasted should come to stand. Left out: where it stood, or as near as is free.
 */
export function pasted(show: Show, fragment: Fragment, middle: Point | null = null): Result<Pasted, string> {
  const namer = namerOf(show);
  const edits: Edit[] = [];

  const types = new Map<TypeId, TypeId>();
  let typed = show;
  for (const type of fragment.types) {
    const merged = typeIn(typed, type, namer);
    types.set(type.id, merged.type.id);
    typed = applyEdits(typed, merged.edits);
    edits.push(...merged.edits);
  }

  const places = placesFor(show, fragment, namer);
  const standing = spotsFor(show, fragment, places, middle);
  edits.push(...standing.edits);

  const ids = new Map<string, DeviceId>();
  const names = new Map<string, string>();
  for (const { id: old, name } of fragment.devices) {
    const fresh = namer.name("devices", name.slice(0, LONGEST_NAME));
    names.set(old, fresh);
    ids.set(old, id<DeviceId>(namer.id("devices", fresh)));
  }
  const device = (old: DeviceId): DeviceId => ids.get(old) ?? old;
  const at = <Ref extends { readonly device: DeviceId }>(ref: Ref): Ref => ({
    ...ref,
    device: device(ref.device),
  });
  const put = (edit: Edit): void => void edits.push(edit);

  for (const old of fragment.devices) {
    const record: Device = {
      ...old,
      id: device(old.id),
      name: names.get(old.id)!,
      type: types.get(old.type) ?? old.type,
      place: places.get(old.place)?.id ?? old.place,
      at: standing.at.get(old.id) ?? old.at,
    };
    put({ kind: "put", list: "devices", record });
  }
  for (const old of fragment.cables) {
    const tag = old.tag === "" ? "" : namer.name("tags", old.tag);
    const record = {
      ...old,
      id: id<CableId>(namer.id("cables", old.id)),
      tag,
      ends: [at(old.ends[0]), at(old.ends[1])] as const,
    };
    put({ kind: "put", list: "cables", record });
  }
  const sources = new Map<SourceId, SourceId>();
  for (const old of fragment.sources) {
    const fresh = id<SourceId>(namer.id("sources", old.id));
    sources.set(old.id, fresh);
    const owner = old.preampOwner === undefined ? {} : { preampOwner: device(old.preampOwner) };
    const record = { ...old, id: fresh, name: namer.name("sources", old.name), at: at(old.at), ...owner };
    put({ kind: "put", list: "sources", record });
  }
  for (const old of fragment.channels) {
    const source = old.source === undefined ? {} : { source: sources.get(old.source) ?? old.source };
    const record = {
      ...old,
      id: id<ChannelId>(namer.id("channels", old.id)),
      console: device(old.console),
      ...source,
    };
    put({ kind: "put", list: "channels", record });
  }
  for (const old of fragment.mixes) {
    const record = { ...old, id: id<MixId>(namer.id("mixes", old.id)), console: device(old.console) };
    put({ kind: "put", list: "mixes", record });
  }
  for (const old of fragment.wants) {
    const from = old.from === undefined ? {} : { from: at(old.from) };
    const record = { ...old, id: id<WantId>(namer.id("wants", old.id)), to: at(old.to), ...from };
    put({ kind: "put", list: "wants", record });
  }
  for (const old of fragment.streams ?? []) {
    const record = {
      ...old,
      id: id<StreamId>(namer.id("streams", old.id)),
      from: at(old.from),
      to: old.to.map(at),
    };
    put({ kind: "put", list: "streams", record });
  }
  for (const old of fragment.groups ?? []) {
    const record = {
      ...old,
      id: id<ArrivalGroupId>(namer.id("groups", old.id)),
      members: old.members.map(at),
    };
    put({ kind: "put", list: "groups", record });
  }

  const after = applyEdits(show, edits);
  const full = FULL.find(([list, most]) => (after[list]?.length ?? 0) > most);
  if (full) return err(`With this the show would have more than ${full[1]} ${full[0]}.`);
  const large = tooLarge(after);
  if (large) return err(`The show would be too large: ${large.message}.`);
  return ok({ edits, devices: fragment.devices.map(({ id: old }) => device(old)) });
}

/** The schema's limits, which a file has to keep so that it can be opened again. */
const FULL = [
  ["places", 5000],
  ["types", 2000],
  ["devices", 5000],
  ["cables", 50_000],
  ["sources", 50_000],
  ["channels", 50_000],
  ["mixes", 20_000],
  ["wants", 50_000],
  ["streams", 5000],
  ["groups", 5000],
] as const satisfies readonly (readonly [(typeof CONTENT_LISTS)[number], number])[];

/** The show's place for each of the fragment's: the one of the same name, else a new one. */
function placesFor(
  show: Show,
  fragment: Fragment,
  namer: ReturnType<typeof namerOf>,
): ReadonlyMap<PlaceId, Place> {
  const byName = new Map(show.places.map((place) => [place.name.trim().toLowerCase(), place]));
  return new Map(
    fragment.places.map((place): [PlaceId, Place] => {
      const there = byName.get(place.name.trim().toLowerCase());
      return [place.id, there ?? { ...place, id: id<PlaceId>(namer.id("places", place.name)) }];
    }),
  );
}

/** Where the devices come to stand, and the places that are new or grow for it. */
function spotsFor(
  show: Show,
  fragment: Fragment,
  places: ReadonlyMap<PlaceId, Place>,
  middle: Point | null,
): { readonly at: ReadonlyMap<DeviceId, Point>; readonly edits: readonly Edit[] } {
  const types = typesOf({ ...show, types: fragment.types });
  const known = new Set<PlaceId>(show.places.map((place) => place.id));
  const isNew = (place: PlaceId): boolean => !known.has(places.get(place)?.id ?? place);
  const rects = fragment.devices.map((device) => {
    const from = fragment.places.find((place) => place.id === device.place);
    const to = places.get(device.place);
    // In another show the place of that name stands elsewhere, and its devices go with it.
    const moved =
      from && to && middle === null
        ? { x: device.at.x + to.at.x - from.at.x, y: device.at.y + to.at.y - from.at.y }
        : device.at;
    return { device, rect: { ...moved, ...sizeOf(types, device) } };
  });
  // What comes with its own place stands clear of other places too.
  const own = fragment.places.filter((place) => isNew(place.id)).map(placeRect);
  const box = around([...rects.map(({ rect }) => rect), ...own])!;
  const wished = middle ? { x: middle.x - box.width / 2, y: middle.y - box.height / 2 } : box;
  const taken = [...rectsOf(show).values(), ...(own.length > 0 ? show.places.map(placeRect) : [])];
  const to = clearOf(
    box,
    wished,
    rects.map(({ rect }) => rect),
    own,
    taken,
  );
  const by = { x: to.x - box.x, y: to.y - box.y };
  const shift = <At extends Point>(rect: At): At => ({ ...rect, x: rect.x + by.x, y: rect.y + by.y });

  const at = new Map(rects.map(({ device, rect }) => [device.id, { x: shift(rect).x, y: shift(rect).y }]));
  const edits: Edit[] = [];
  for (const [old, place] of places) {
    const inside = rects.filter(({ device }) => device.place === old).map(({ rect }) => shift(rect));
    const there = isNew(old) ? { ...place, at: shift(place.at) } : place;
    const after = grown(there, inside);
    if (isNew(old) || after !== place) edits.push({ kind: "put", list: "places", record: after });
  }
  // A device of a fragment whose place didn't come along is as lost as it was.
  return { at, edits };
}

/** The wished corner where nothing of the fragment would lie on what is taken, else the nearest where all of it is clear. */
function clearOf(
  box: Rect,
  wished: Point,
  devices: readonly Rect[],
  places: readonly Rect[],
  taken: readonly Rect[],
): Point {
  const near = { x: Math.round(wished.x / 10) * 10, y: Math.round(wished.y / 10) * 10 };
  const by = { x: near.x - box.x, y: near.y - box.y };
  const isFree = [...devices, ...places].every(
    (rect) => !taken.some((other) => overlap({ ...rect, x: rect.x + by.x, y: rect.y + by.y }, other)),
  );
  return isFree ? near : freeSpot(box, near, taken);
}

/** B14: the devices once more, beside themselves, with all that is copied of them. */
export const duplicated = (show: Show, devices: readonly DeviceId[]): Result<Pasted, string> =>
  pasted(show, fragmentOf(show, devices));
