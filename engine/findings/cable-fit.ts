/** F8–F11: whether each cable is of a kind and length that its two ends take, and whether it joins anything. */
import { cableRule, CABLES, JACK_CABLES } from "../catalog/cables.ts";
import { CABLE_KINDS, type CableKind, type CableRule } from "../model/device-type.ts";
import { lengthName, metres } from "../model/units.ts";
import type { PluggedCable, Socket } from "../wiring/plugs.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { cableName, endName, lowered, plugs } from "./describe.ts";
import type { Analysed, Check, Finding, Fix, Severity } from "./finding.ts";

function finding(
  check: string,
  severity: Severity,
  { cable, sockets }: PluggedCable,
  title: string,
  reason: string,
): Finding {
  return {
    id: `${check}:${cable.id}`,
    check,
    severity,
    title,
    reason,
    terminals: [],
    devices: sockets.flatMap((socket) => (socket.kind === "missing" ? [] : [socket.device.device.id])),
    cables: [cable.id],
    wants: [],
  };
}

/** The cables that a socket takes; null where that isn't known. */
function taken(socket: Socket): readonly CableRule[] | null {
  if (socket.kind === "port") return socket.port.cables;
  return socket.kind === "bank" ? JACK_CABLES[socket.bank.level] : null;
}

/** Kinds of cable that both ends take at the cable's length. */
function otherKinds({ wiring }: Analysed, { cables: [id] }: Finding): Fix[] {
  const plugged = wiring.plugs.cables.find(({ cable }) => cable.id === id)!;
  const { cable, sockets } = plugged;
  const fits = (kind: CableKind): boolean =>
    sockets.every((socket) => {
      const rules = taken(socket);
      const rule = cableRule(rules ?? [], kind);
      return rules === null || (rule !== undefined && (cable.length ?? 0) <= rule.maxMetres);
    });
  return CABLE_KINDS.filter((kind) => kind !== cable.kind && fits(kind)).map((kind) => ({
    label: `Make ${lowered(cableName(wiring, cable))} ${CABLES[kind].name}`,
    edits: [{ kind: "put", list: "cables", record: { ...cable, kind } }],
  }));
}

/** What the end says that allows the cable least; null where neither takes its kind. */
function shortestRule({ cable, sockets }: PluggedCable): CableRule | null {
  let shortest: CableRule | null = null;
  for (const socket of sockets) {
    const rule = cableRule(taken(socket) ?? [], cable.kind);
    if (rule && !(shortest && rule.maxMetres >= shortest.maxMetres)) shortest = rule;
  }
  return shortest;
}

export const cableTooLong: Check = {
  id: "cable-too-long",
  about: "a cable longer than its ends allow",
  reads: ({ wiring }) => [wiring.show.cables],
  propose: otherKinds,
  run: ({ wiring }) =>
    wiring.plugs.cables.flatMap((plugged) => {
      const { length } = plugged.cable;
      if (length === undefined) return [];
      const shortest = shortestRule(plugged);
      if (!shortest || length <= shortest.maxMetres) return [];
      const { units } = wiring.show.settings;
      const over = lengthName(metres(length - shortest.maxMetres), units);
      const source =
        shortest.provenance === "assumed" ? "assumed; change it in the device type" : shortest.provenance;
      return [
        finding(
          "cable-too-long",
          "error",
          plugged,
          `${cableName(wiring, plugged.cable)} is ${over} too long`,
          `It is ${lengthName(length, units)}, from ${ends(wiring, plugged)}; ${CABLES[plugged.cable.kind].name} may be ${lengthName(metres(shortest.maxMetres), units)} there (${source}).`,
        ),
      ];
    }),
};

export const cableWrongKind: Check = {
  id: "cable-wrong-kind",
  about: "a kind of cable that an end doesn't take, or one without the shield it needs",
  reads: ({ wiring }) => [wiring.show.cables],
  propose: otherKinds,
  run: ({ wiring }) =>
    wiring.plugs.cables.flatMap((plugged) => {
      const rules = plugged.sockets.map(taken);
      const refusing = rules.findIndex((each) => each && !cableRule(each, plugged.cable.kind));
      if (refusing === -1 || plugged.join.kind === "misfit") return [];
      const facts = CABLES[plugged.cable.kind];
      const kinds = rules[refusing]!.map(({ kind }) => CABLES[kind].name);
      const end = endName(wiring, plugged.cable.ends[refusing]!);
      const shieldOnly = kinds.includes(facts.name.replace("unshielded", "shielded"));
      const title = shieldOnly
        ? `${cableName(wiring, plugged.cable)} is unshielded where a shield is needed`
        : `${cableName(wiring, plugged.cable)} is the wrong kind of cable`;
      const reason = `${end} takes ${kinds.length > 0 ? kinds.join(" or ") : "no cable"}, not ${facts.name}.`;
      return [finding("cable-wrong-kind", "error", plugged, title, reason)];
    }),
};

export const cableLengthUnknown: Check = {
  id: "cable-length-unknown",
  about: "a link's cable without a length",
  reads: ({ wiring }) => [wiring.show.cables],
  run: ({ wiring }) =>
    wiring.plugs.cables.flatMap((plugged) => {
      if (plugged.cable.length !== undefined || plugged.join.kind !== "link") return [];
      const reason = `From ${ends(wiring, plugged)}. Without a length its limit can't be checked, and its delay counts as none.`;
      return [
        finding(
          "cable-length-unknown",
          "note",
          plugged,
          `${cableName(wiring, plugged.cable)} has no length`,
          reason,
        ),
      ];
    }),
};

export const cableJoinsNothing: Check = {
  id: "cable-joins-nothing",
  about: "a cable whose two ends don't fit each other",
  reads: ({ wiring }) => [wiring.show.cables],
  propose: ({ wiring }, { cables: [id] }) => [
    {
      label: `Take ${lowered(plugs(wiring, id!))} out`,
      edits: [{ kind: "remove", list: "cables", id: id! }],
    },
  ],
  run: ({ wiring }) =>
    wiring.plugs.cables.flatMap((plugged) => {
      // An end that isn't in the show is told by check F14.
      if (plugged.join.kind !== "misfit" || plugged.join.why === "missing") return [];
      const reason =
        plugged.join.why === "unlike"
          ? `${ends(wiring, plugged)} don't take each other's signals.`
          : `Neither of ${ends(wiring, plugged)} receives what the other sends.`;
      return [
        finding(
          "cable-joins-nothing",
          "error",
          plugged,
          `${cableName(wiring, plugged.cable)} joins nothing`,
          reason,
        ),
      ];
    }),
};

const ends = (wiring: Wiring, { cable }: PluggedCable): string =>
  `${endName(wiring, cable.ends[0])} and ${endName(wiring, cable.ends[1])}`;
