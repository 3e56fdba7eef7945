/**
 * Which devices an edit makes stale: those that have to be laid and joined again. Rather too many than too few; what
 * comes out as it was costs a little time and nothing else.
 */
import type { Cable, Source } from "../model/show.ts";
import type { PluggedCable, Port } from "./plugs.ts";
import type { WiredDevice, Wiring } from "./wiring.ts";

type Rig = Pick<Wiring, "show" | "shape" | "devices" | "plugs" | "leaders" | "ways">;

/** 1 for each stale device by its index; null where the whole rig is to be laid anew. Both have the same shape. */
export function staleAfter(before: Rig, after: Rig): Uint8Array | null {
  const stale = new Uint8Array(after.devices.length);
  // The tables name cables, sources and streams by their places in the show, so these must still be the same.
  if (!alike(before.show.cables, after.show.cables) || !alike(before.show.sources, after.show.sources))
    return null;

  const touched = new Uint8Array(after.devices.length);
  after.devices.forEach((wired, index) => {
    const known = before.devices[index];
    if (wired && known && !behavesAlike(known, wired)) touched[index] = 1;
    if (before.leaders[index] !== after.leaders[index]) touched[index] = 1;
  });
  touchByCables(touched, before, after);
  // What is plugged in a port counts at the far end too, and so do the clock and the rate of either end.
  stale.set(touched);
  for (const { plugs } of [before, after]) {
    for (const { sockets } of plugs.cables) {
      const [a, b] = sockets;
      if (a.kind === "missing" || b.kind === "missing") continue;
      if (touched[a.device.index] === 1) stale[b.device.index] = 1;
      if (touched[b.device.index] === 1) stale[a.device.index] = 1;
    }
  }
  if (before.ways !== after.ways) {
    const receivers: readonly Port[] = [...before.ways, ...after.ways].map(({ to }) => to);
    for (const { device } of receivers) stale[device.index] = 1;
  }
  markSources(stale, before, after);
  return stale;
}

/** Whether the first records of both lists are, one by one, of the same ids. */
function alike(
  before: readonly { readonly id: string }[],
  after: readonly { readonly id: string }[],
): boolean {
  if (before === after) return true;
  const common = Math.min(before.length, after.length);
  for (let n = 0; n < common; n++) {
    if (before[n] !== after[n] && before[n]!.id !== after[n]!.id) return false;
  }
  return true;
}

/** Whether two states of a device are the same to the signal: name, place and notes don't matter. */
export const behavesAlike = (a: WiredDevice, b: WiredDevice): boolean =>
  a === b ||
  (a.fabric === b.fabric &&
    a.rate === b.rate &&
    a.device.powered === b.device.powered &&
    a.device.clock === b.device.clock &&
    a.device.routing === b.device.routing &&
    a.device.inserts === b.device.inserts);

const joinsAlike = (a: Cable, b: Cable): boolean =>
  a === b || (a.kind === b.kind && a.length === b.length && a.ways === b.ways && a.ends === b.ends);

function touchByCables(touched: Uint8Array, { plugs: before }: Rig, { plugs: after }: Rig): void {
  if (before === after) return;
  const touch = (cable: PluggedCable | undefined): void => {
    for (const socket of cable?.sockets ?? []) {
      if (socket.kind !== "missing") touched[socket.device.index] = 1;
    }
  };
  for (let n = 0; n < Math.max(before.cables.length, after.cables.length); n++) {
    const [a, b] = [before.cables[n], after.cables[n]];
    if (a && b && a.live === b.live && joinsAlike(a.cable, b.cable)) continue;
    touch(a);
    touch(b);
  }
}

function markSources(stale: Uint8Array, { show: before, shape }: Rig, { show: after }: Rig): void {
  if (before.sources === after.sources) return;
  const mark = (source: Source | undefined): void => {
    const index = source && shape.indexOf.get(source.at.device);
    if (index !== undefined) stale[index] = 1;
  };
  for (let n = 0; n < Math.max(before.sources.length, after.sources.length); n++) {
    if (before.sources[n] === after.sources[n]) continue;
    mark(before.sources[n]);
    mark(after.sources[n]);
  }
}
