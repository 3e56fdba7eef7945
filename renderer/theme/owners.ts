/**
 * How the owner of a signal looks: a colour, a letter and a hatch. The letter and the hatch say the same as the colour,
 * for who can't tell the colours apart, for the dim scheme and for black-and-white paper.
 */
import type { DeviceId, Show } from "#engine";

export const OWNER_COLOURS = 8;

/** Line patterns in a tile of 6 × 6, each drawn in the owner's ink over the owner's colour. */
export const HATCHES: readonly string[] = [
  "",
  "M-1 7 7 -1 M-1 1 1 -1 M5 7 7 5",
  "M0 3H6",
  "M-1 -1 7 7 M5 -1 7 1 M-1 5 1 7",
  "M3 0V6",
  "M0 3H6 M3 0V6",
  "M2 3h2",
  "M-1 7 7 -1 M-1 -1 7 7",
];

export interface OwnerLook {
  readonly device: DeviceId;
  readonly name: string;
  /** Place among the owners, from 0. */
  readonly index: number;
  /** One letter; two where all are taken. */
  readonly letter: string;
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

/**
 * The owners of a show: whatever has a mix engine, consoles first, otherwise in the show's order. The same map as
 * before while neither their order nor their names change, so that a moved device redraws nothing.
 */
export function ownersOf(show: Show): Owners {
  const types = new Map(show.types.map((type) => [type.id, type]));
  const mixing = show.devices.filter((device) => types.get(device.type)?.mixer);
  const isConsole = (type: string): boolean => types.get(type as never)?.category === "console";
  const ordered = [
    ...mixing.filter((device) => isConsole(device.type)),
    ...mixing.filter((device) => !isConsole(device.type)),
  ];
  const key = JSON.stringify(ordered.map(({ id, name }) => [id, name]));
  if (last?.key === key) return last.owners;
  const taken = new Set<string>();
  const owners = new Map<DeviceId, OwnerLook>();
  ordered.forEach(({ id, name }, index) => {
    if (!owners.has(id)) owners.set(id, lookOf(id, name, owners.size, letterFor(name, index, taken)));
  });
  last = { key, owners };
  return owners;
}

function lookOf(device: DeviceId, name: string, index: number, letter: string): OwnerLook {
  const colour = (index % OWNER_COLOURS) + 1;
  return {
    device,
    name,
    index,
    letter,
    fill: `var(--owner-${colour})`,
    ink: `var(--owner-${colour}-ink)`,
    edge: `var(--owner-${colour}-edge)`,
    pattern: `url(#${patternId(index)})`,
  };
}

/** After the eighth owner the colours come again, each with another hatch than the time before. */
export const hatchOf = (index: number): number =>
  (index + Math.floor(index / OWNER_COLOURS)) % HATCHES.length;

/** Colours and hatches together repeat after this many owners; then only the letters tell. */
export const PATTERNS = OWNER_COLOURS * HATCHES.length;

export const patternId = (index: number): string => `owner-pattern-${(index % PATTERNS) + 1}`;

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/** A letter that reminds of the name: its first letters, then any free one, then a pair. */
function letterFor(name: string, index: number, taken: Set<string>): string {
  const initials = name
    .toUpperCase()
    .split(/[^A-Z0-9]+/)
    .filter(Boolean);
  const candidates = [
    ...initials.map((word) => word[0]!),
    ...initials.join(""),
    ...ALPHABET,
    ...[...ALPHABET].flatMap((first) => [...ALPHABET].map((second) => first + second)),
  ];
  const letter = candidates.find((candidate) => !taken.has(candidate)) ?? String(index + 1);
  taken.add(letter);
  return letter;
}
