/** What is plugged where: each cable's two ends found on the rig, and the one cable that counts at each port. */
import type { Cable, CableEnd } from "../model/show.ts";
import type { JackBank, LinkPort } from "../model/device-type.ts";
import { mostSlots } from "./layout.ts";
import type { WiredDevice } from "./wiring.ts";

/** One end of a cable as found on the rig. */
export type Socket =
  | { readonly kind: "port"; readonly device: WiredDevice; readonly port: LinkPort }
  | { readonly kind: "bank"; readonly device: WiredDevice; readonly bank: JackBank; readonly first: number }
  | { readonly kind: "missing"; readonly what: "device" | "type" | "group" };

/** Why a cable joins nothing. */
export type Misfit = "missing" | "unlike" | "same-direction";

export type Join =
  | { readonly kind: "link"; readonly ends: readonly [Port, Port] }
  | { readonly kind: "jacks"; readonly from: Bank; readonly to: Bank }
  | { readonly kind: "misfit"; readonly why: Misfit };

export type Port = Extract<Socket, { kind: "port" }>;
export type Bank = Extract<Socket, { kind: "bank" }>;

export interface PluggedCable {
  readonly index: number;
  readonly cable: Cable;
  readonly sockets: readonly [Socket, Socket];
  readonly join: Join;
  /** False: pulled, for a test of what would go dark. */
  readonly live: boolean;
}

export interface PortPlug {
  readonly cable: PluggedCable;
  /** The port at the far end; null where the cable joins nothing, is pulled, or comes second in the far port. */
  readonly far: Port | null;
  /** The same, pulled or not. */
  readonly pulledOrNot: Port | null;
}

export interface Plugs {
  readonly cables: readonly PluggedCable[];
  /** The first cable in the document's order that is plugged in the port; later ones don't count. */
  ofPort(device: number, port: string): PortPlug | undefined;
}

type FindDevice = (end: CableEnd) => {
  readonly found: WiredDevice | null;
  readonly missing: "device" | "type";
};

export function plugIn(cables: readonly Cable[], find: FindDevice, pulled: (cable: Cable) => boolean): Plugs {
  const first = new Map<number, Map<string, PluggedCable>>();
  const plug = (socket: Socket, cable: PluggedCable): void => {
    if (socket.kind !== "port") return;
    let taken = first.get(socket.device.index);
    if (!taken) first.set(socket.device.index, (taken = new Map()));
    if (!taken.has(socket.port.id)) taken.set(socket.port.id, cable);
  };
  const plugged = cables.map((cable, index): PluggedCable => {
    const sockets = [socketOf(cable.ends[0], find), socketOf(cable.ends[1], find)] as const;
    const entry = { index, cable, sockets, join: joinOf(sockets), live: !pulled(cable) };
    plug(sockets[0], entry);
    plug(sockets[1], entry);
    return entry;
  });
  const counts = ({ device, port }: Port, cable: PluggedCable): boolean =>
    first.get(device.index)?.get(port.id) === cable;
  const farOf = (cable: PluggedCable, device: number, port: string): Port | null => {
    if (cable.join.kind !== "link") return null;
    const [a, b] = cable.join.ends;
    if (!counts(a, cable) || !counts(b, cable)) return null;
    return a.device.index === device && a.port.id === port ? b : a;
  };
  // Asked for far more often than cables are plugged, so each answer is made once.
  const plugs = new Map<number, ReadonlyMap<string, PortPlug>>();
  for (const [device, cables] of first) {
    const ports = new Map<string, PortPlug>();
    for (const [port, cable] of cables) {
      const pulledOrNot = farOf(cable, device, port);
      ports.set(port, { cable, far: cable.live ? pulledOrNot : null, pulledOrNot });
    }
    plugs.set(device, ports);
  }
  return { cables: plugged, ofPort: (device, port) => plugs.get(device)?.get(port) };
}

function socketOf(end: CableEnd, find: FindDevice): Socket {
  const { found: device, missing } = find(end);
  if (!device) return { kind: "missing", what: missing };
  const { type } = device.fabric.layout;
  const port = type.ports.find((candidate) => candidate.id === end.group);
  if (port) return { kind: "port", device, port };
  const bank = type.banks.find((candidate) => candidate.id === end.group);
  if (bank) return { kind: "bank", device, bank, first: end.first };
  return { kind: "missing", what: "group" };
}

function joinOf([a, b]: readonly [Socket, Socket]): Join {
  if (a.kind === "missing" || b.kind === "missing") return { kind: "misfit", why: "missing" };
  if (a.kind === "port" && b.kind === "port") {
    if (a.port.transport !== b.port.transport) return { kind: "misfit", why: "unlike" };
    const passes =
      (mostSlots(a.port.send) > 0 && mostSlots(b.port.receive) > 0) ||
      (mostSlots(b.port.send) > 0 && mostSlots(a.port.receive) > 0);
    return passes ? { kind: "link", ends: [a, b] } : { kind: "misfit", why: "same-direction" };
  }
  if (a.kind === "bank" && b.kind === "bank") {
    if (!likeJacks(a.bank, b.bank)) return { kind: "misfit", why: "unlike" };
    if (a.bank.direction === b.bank.direction) return { kind: "misfit", why: "same-direction" };
    return a.bank.direction === "out" ? { kind: "jacks", from: a, to: b } : { kind: "jacks", from: b, to: a };
  }
  return { kind: "misfit", why: "unlike" };
}

/** Analogue low-level jacks take each other's signals; AES3 and loudspeaker jacks only their own kind. */
function likeJacks(a: JackBank, b: JackBank): boolean {
  const sort = (bank: JackBank): string => {
    if (bank.connector === "none" || bank.level === "radio") return `${bank.id} takes no cable`;
    return bank.level === "AES3" || bank.level === "loudspeaker" ? bank.level : "low-level";
  };
  return sort(a) === sort(b) && a.connector !== "none" && a.level !== "radio";
}
