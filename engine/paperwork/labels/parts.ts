/** A strip as long as the panel, cut into parts that fit the paper. */

/**
 * A panel of the 482.6 mm (19 in) series, IEC 60297-3-100. The opening between the posts of a rack is at least 450 mm wide
 * there: what stands behind the panel, jacks among them, stands within it, and what is left at both sides are the ears,
 * whose screws a strip mustn't cover. (Both from memory of the standard; 482.6 = 19 × 25.4.)
 */
export const PANEL = { width: 482.6, opening: 450 } as const;

/** A part of a strip, in millimetres from the panel's left edge. */
export interface StripPart {
  readonly from: number;
  readonly to: number;
}

/**
 * The fewest parts of at most `room` millimetres each, as alike in length as cuts between cells allow. `cells` jacks stand
 * over `field` millimetres in the middle of the panel. An empty list where one cell alone is too long.
 */
export function stripParts(cells: number, field: number, room: number): readonly StripPart[] {
  const ear = (PANEL.width - field) / 2;
  const borders = Array.from({ length: cells - 1 }, (_, n) => ear + ((n + 1) * field) / cells);
  for (let count = 1; count <= cells; count++) {
    const cuts = Array.from({ length: count - 1 }, (_, n) =>
      nearestOf(borders, ((n + 1) * PANEL.width) / count),
    );
    const edges = [0, ...cuts, PANEL.width];
    const parts = edges.slice(1).map((to, n): StripPart => ({ from: edges[n]!, to }));
    if (parts.every(({ from, to }) => to > from && to - from <= room)) return parts;
  }
  return [];
}

const nearestOf = (places: readonly number[], wanted: number): number =>
  places.reduce((best, place) => (Math.abs(place - wanted) < Math.abs(best - wanted) ? place : best));
