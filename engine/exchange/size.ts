/**
 * How large a rig a file asks for. A few kilobytes can name a type with hundreds of banks and thousands of devices of it,
 * so what the wiring would have to hold is added up before it is made. Linear in the file.
 */
import type { DeviceType } from "../model/device-type.ts";
import type { ShowContent } from "../model/show.ts";
import { mostSlots } from "../wiring/layout.ts";

/** Jacks, slots and buses of the whole rig; also what cables, settings, mixes and streams may name in all. */
export const MOST_TERMINALS = 2_000_000;

/** Ports that a network's streams and clocks would be looked for at, in all. */
export const MOST_NETWORK_STEPS = 20_000_000;

/** Null where the rig is of a size that can be worked out; else the list that makes it too large, and one plain line. */
export function tooLarge(show: ShowContent): { readonly path: string; readonly message: string } | null {
  const types = new Map(show.types.map((type) => [type.id, sizeOf(type)]));
  let terminals = 0;
  let set = 0;
  let mixed = 0;
  let networked = 0;
  for (const { type, routing } of show.devices) {
    const size = types.get(type);
    terminals += size?.terminals ?? 0;
    mixed += size?.direct ?? 0;
    networked += size?.network ? 1 : 0;
    for (const { count } of routing) set += count;
  }
  for (const { members, width } of show.mixes) mixed += members.length * width;
  let ways = 0;
  for (const cable of show.cables) ways += cable.ways;
  let streamed = 0;
  let receivers = 0;
  for (const { channels, to } of show.streams ?? []) {
    streamed += channels * to.length;
    receivers += 1 + to.length;
  }
  const of = (path: string, count: number, what: string): ReturnType<typeof tooLarge> =>
    count > MOST_TERMINALS
      ? { path, message: `${what} ${count}; at most ${MOST_TERMINALS} can be worked out` }
      : null;
  return (
    of("devices", terminals, "the jacks, slots and buses of all devices are") ??
    of("devices", set, "the slots that all settings assign are") ??
    of("mixes", mixed, "the members of all mixes, direct outs and joins are") ??
    of("cables", ways, "the jacks that all cables join are") ??
    of("streams", streamed, "the channels of all streams at their receivers are") ??
    networkTooLarge(show, types, receivers + networked)
  );
}

/** Each stream, and each device that takes its clock from a network, is followed over every cable of its network. */
function networkTooLarge(
  show: ShowContent,
  types: ReadonlyMap<string, TypeSize>,
  walks: number,
): ReturnType<typeof tooLarge> {
  const onNetwork = new Set<string>();
  for (const { id, type } of show.devices) if (types.get(type)?.network) onNetwork.add(id);
  const cables = show.cables.filter(({ ends }) => ends.every(({ device }) => onNetwork.has(device))).length;
  if (walks * cables <= MOST_NETWORK_STEPS) return null;
  return {
    path: "streams",
    message: `${walks} ends of streams and devices on a network of ${cables} cables are more than can be worked out`,
  };
}

interface TypeSize {
  readonly terminals: number;
  /** Channels and jacks that its direct outs and joins take. */
  readonly direct: number;
  readonly network: boolean;
}

function sizeOf({ banks, ports, mixer }: DeviceType): TypeSize {
  const sections = mixer?.sections ?? [];
  let terminals = 0;
  for (const { count, perJack } of banks) terminals += count * perJack;
  for (const { receive, send } of ports) terminals += mostSlots(receive) + mostSlots(send);
  for (const { count } of sections) terminals += count;
  const direct = sections
    .filter(({ role }) => role === "direct" || role === "join")
    .reduce((sum, { count, from }) => sum + count * from.length, 0);
  return { terminals, direct, network: ports.some(({ network }) => network !== undefined) };
}
