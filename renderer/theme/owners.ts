/**
 * How the owner of a signal looks: a colour, a letter and a hatch. The letter and the hatch say the same as the colour,
 * for who can't tell the colours apart, for the dim scheme and for black-and-white paper.
 */
import { HATCHES, OWNER_COLOURS, ownerMarks, type DeviceId, type OwnerMark, type Show } from "#engine";

export interface OwnerLook extends OwnerMark {
  /** CSS colour of a surface. */
  readonly fill: string;
  /** CSS colour of a letter or hatch on `fill`. */
  readonly ink: string;
  /** CSS colour of a line or letter on paper. */
  readonly edge: string;
  /** For SVG `fill`: colour and hatch. Needs `<OwnerPatterns />` somewhere in the page. */
  readonly pattern: string;
}

export type Owners = ReadonlyMap<DeviceId, OwnerLook>;

interface Known {
  readonly key: string;
  readonly owners: Owners;
}
let last: Known | null = null;
/** Every bar and mark asks, and most edits leave devices and types alone. */
const known = new WeakMap<Show["devices"], { readonly types: Show["types"]; readonly owners: Owners }>();

/**
 * The owners of a show: whatever has a mix engine, consoles first, otherwise in the show's order. The same map as
 * before while neither their order nor their names change, so that a moved device redraws nothing.
 */
export function ownersOf(show: Show): Owners {
  const { devices, types } = show;
  const before = known.get(devices);
  if (before?.types === types) return before.owners;
  const owners = ownersByName(show);
  known.set(devices, { types, owners });
  return owners;
}

function ownersByName(show: Show): Owners {
  const marks = ownerMarks(show);
  const key = JSON.stringify(marks.map(({ device, name }) => [device, name]));
  if (last?.key === key) return last.owners;
  const owners = new Map(marks.map((mark) => [mark.device, lookOf(mark)]));
  last = { key, owners };
  return owners;
}

function lookOf(mark: OwnerMark): OwnerLook {
  const colour = (mark.index % OWNER_COLOURS) + 1;
  return {
    ...mark,
    fill: `var(--owner-${colour})`,
    ink: `var(--owner-${colour}-ink)`,
    edge: `var(--owner-${colour}-edge)`,
    pattern: `url(#${patternId(mark.index)})`,
  };
}

/** Colours and hatches together repeat after this many owners; then only the letters tell. */
export const PATTERNS = OWNER_COLOURS * HATCHES.length;

export const patternId = (index: number): string => `owner-pattern-${(index % PATTERNS) + 1}`;
