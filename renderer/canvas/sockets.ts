/** The groups of a node that a cable goes in: ports, and banks of jacks that a plug can reach. */
import type { NodeGeometry } from "#engine/layout/geometry.ts";

export const socketsOf = (geometry: NodeGeometry): NodeGeometry["groups"] =>
  geometry.groups.filter(({ kind, spans }) => {
    const [at] = spans;
    if (kind === "port") return true;
    return at?.span.side === "jack" && at.span.bank.connector !== "none" && at.span.bank.level !== "radio";
  });
