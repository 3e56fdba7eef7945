/** Devices and places share the flow library's list of nodes; a prefix tells them apart. */
import type { PlaceId } from "#engine";

const PREFIX = "place:";

export const placeNodeId = (place: PlaceId): string => `${PREFIX}${place}`;

/** Null for the node of a device. */
export const placeOfNode = (node: string): PlaceId | null =>
  node.startsWith(PREFIX) ? (node.slice(PREFIX.length) as PlaceId) : null;
