/** B10: another box behind one that chains. */
import type { DeviceType, LinkPort, Mode } from "../model/device-type.ts";
import type { Edit } from "../model/edit.ts";
import { id, type DeviceId } from "../model/ids.ts";
import { err, ok, type Result } from "../model/result.ts";
import type { Device, Show } from "../model/show.ts";
import { applyEdits } from "../model/edit.ts";
import { nodeSize } from "../layout/geometry.ts";
import { isPlugged, plugCable } from "./fit.ts";
import { namerOf } from "./names.ts";
import { freeSpot, GAP, grown, growsClear, rectsOf } from "./room.ts";

const upOf = (type: DeviceType, mode: Mode | undefined): LinkPort | undefined =>
  type.ports.find(({ id: port }) => port === (mode?.clock ?? type.clock));

/** A mode for a chain position that leads up by the same port; the present one where it fits. */
function modeFor(type: DeviceType, present: Mode | undefined, position: number): Mode | undefined {
  if (present?.positions?.includes(position)) return present;
  const up = present?.clock ?? type.clock;
  return type.modes.find((mode) => mode.positions?.includes(position) && (mode.clock ?? type.clock) === up);
}

/** The port that a mode hands the chain on by: the one that its port up is carried to. */
function downOf(type: DeviceType, mode: Mode, up: LinkPort): LinkPort | undefined {
  const rule = [...mode.rules, ...type.rules].find((each) => each.kind === "carry" && each.from === up.id);
  const to = rule?.kind === "carry" ? rule.to : null;
  return type.ports.find((port) => port.id === to && port.transport === up.transport);
}

/**
 * One more device of the same type behind the given one: in the next chain position, in the mode for it, cabled from the
 * port that hands the chain on. The given one takes a mode that chains, where its own doesn't. An error says, in one
 * line, what stands in the way.
 */
export function chainedBox(
  show: Show,
  device: DeviceId,
): Result<{ readonly edits: readonly Edit[]; readonly device: Device }, string> {
  const head = show.devices.find((each) => each.id === device);
  const type = head && show.types.find((each) => each.id === head.type);
  const place = head && show.places.find((each) => each.id === head.place);
  if (!head || !type || !place) return err("That device, its type or its place is not in the show.");
  if (type.chain < 2) return err(`${head.name} is of a type that doesn’t chain.`);
  const position = head.position + 1;
  if (position > type.chain) {
    return err(`${head.name} is in position ${head.position}, and a chain of these ends at ${type.chain}.`);
  }
  const present = type.modes.find(({ id: mode }) => mode === head.mode);
  const chains = type.modes.some(({ positions }) => positions !== undefined);
  const headMode = chains ? modeFor(type, present, head.position) : present;
  const mode = chains ? modeFor(type, headMode ?? present, position) : present;
  const up = headMode && upOf(type, headMode);
  const down = headMode && up && downOf(type, headMode, up);
  if (!headMode || !mode || !up || !down) {
    return err(`No mode of ${head.name} hands a chain on to position ${position}.`);
  }
  if (isPlugged(show, head, down.id)) return err(`${head.name} ${down.name} is in use already.`);

  const namer = namerOf(show);
  const rects = rectsOf(show);
  const size = nodeSize(type);
  const own = rects.get(head.id)!;
  const under = { x: own.x, y: own.y + own.height + 60 };
  const at = freeSpot(size, under, [...rects.values()], GAP, growsClear(show, place));
  const name = namer.name("devices", head.name);
  const next: Device = {
    id: id<DeviceId>(namer.id("devices", name)),
    name,
    type: type.id,
    place: place.id,
    at,
    mode: mode.id,
    position,
    powered: true,
    ...(head.sampleRate === undefined ? {} : { sampleRate: head.sampleRate }),
    routing: [],
  };
  const area = grown(place, [{ ...at, ...size }]);
  const devices: Edit[] = [
    ...(area === place ? [] : [{ kind: "put", list: "places", record: area } as const]),
    ...(headMode.id === head.mode
      ? []
      : [{ kind: "put", list: "devices", record: { ...head, mode: headMode.id } } as const]),
    { kind: "put", list: "devices", record: next },
  ];
  const after = applyEdits(show, devices);
  const ends = [
    { device: head.id, group: down.id, first: 1 },
    { device: next.id, group: up.id, first: 1 },
  ] as const;
  const cable = plugCable(after, ...ends);
  if (cable.kind === "refused") return err(cable.reason);
  return ok({ edits: [...devices, ...cable.edits], device: next });
}
