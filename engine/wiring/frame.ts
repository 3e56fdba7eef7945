/** Which devices a rig has, and where each stands in the wiring. What an edit doesn't touch stays the same object. */
import type { DeviceId, TypeId } from "../model/ids.ts";
import type { DeviceType } from "../model/device-type.ts";
import type { Show } from "../model/show.ts";
import { fabricOf } from "./fabric.ts";
import { behavesAlike } from "./stale.ts";
import type { Away, Shape, WiredDevice, Wiring } from "./wiring.ts";

export type Frame = Pick<Wiring, "devices" | "shape" | "names" | "conduct">;

export function frameOf(show: Show, away: Away, before: Frame | null): Frame {
  const types = new Map<TypeId, DeviceType>();
  for (const type of show.types) types.set(type.id, type);
  let same = before !== null && before.devices.length === show.devices.length;
  let size = 0;
  const devices = show.devices.map((device, index): WiredDevice | null => {
    const type = types.get(device.type);
    if (!type) return null;
    const base = size;
    const fabric = fabricOf(type, device.mode, device.position);
    size += fabric.layout.size;
    const rate = device.sampleRate ?? show.settings.sampleRate;
    const powered = device.powered && !away.devices?.has(device.id);
    const known = before?.devices[index];
    if (known && known.base === base && known.fabric === fabric && known.rate === rate) {
      const { device: record } = known;
      if (record === device && powered === device.powered) return known;
    }
    return {
      index,
      device: powered === device.powered ? device : { ...device, powered },
      fabric,
      base,
      rate,
    };
  });
  same &&= devices.every((wired, index) => {
    const { shape } = before!;
    return (
      shape.ids[index] === show.devices[index]!.id &&
      shape.layouts[index] === (wired?.fabric.layout ?? null) &&
      shape.bases[index] === (wired?.base ?? size)
    );
  });
  const shape = same ? before!.shape : shapeOf(show, devices, size);
  const sameNames = same && show.devices.every(({ name }, index) => name === before!.names[index]);
  const names = sameNames ? before!.names : show.devices.map(({ name }) => name);
  const sameDevices = same && devices.every((wired, index) => wired === before!.devices[index]);
  const sameConduct =
    same && devices.every((wired, index) => !wired || behavesAlike(before!.devices[index]!, wired));
  return {
    devices: sameDevices ? before!.devices : devices,
    shape,
    names,
    conduct: sameConduct ? before!.conduct : devices,
  };
}

function shapeOf(show: Show, devices: readonly (WiredDevice | null)[], size: number): Shape {
  const indexOf = new Map<DeviceId, number>();
  const deviceOf = new Int32Array(size);
  show.devices.forEach(({ id }, index) => {
    if (!indexOf.has(id)) indexOf.set(id, index);
    const wired = devices[index];
    if (wired) deviceOf.fill(index, wired.base, wired.base + wired.fabric.layout.size);
  });
  return {
    ids: show.devices.map(({ id }) => id),
    layouts: devices.map((wired) => wired?.fabric.layout ?? null),
    bases: devices.map((wired) => wired?.base ?? size),
    indexOf,
    deviceOf,
    size,
  };
}
