/**
 * How the owner of a signal is told apart without words: a colour, a letter and a hatch, the same on the screen and on
 * paper. Letter and hatch say the same as the colour, for who can't tell the colours apart and for black and white.
 */
import type { DeviceId } from "../model/ids.ts";
import { once } from "../model/once.ts";
import type { Show } from "../model/show.ts";

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

export interface OwnerMark {
  readonly device: DeviceId;
  readonly name: string;
  /** Place among the owners, from 0. */
  readonly index: number;
  /** One letter; two where all are taken. */
  readonly letter: string;
}

/** After the eighth owner the colours come again, each with another hatch than the time before. */
export const hatchOf = (index: number): number =>
  (index + Math.floor(index / OWNER_COLOURS)) % HATCHES.length;

/**
 * The owners of a show: whatever has a mix engine, consoles first, otherwise in the show's order. Every sheet asks, so
 * that it is worked out once.
 */
export const ownerMarks: (show: Show) => readonly OwnerMark[] = once(marksOf);

function marksOf(show: Show): readonly OwnerMark[] {
  const types = new Map(show.types.map((type) => [type.id, type]));
  const mixing = show.devices.filter((device) => types.get(device.type)?.mixer);
  const isConsole = (device: (typeof mixing)[number]): boolean =>
    types.get(device.type)?.category === "console";
  const ordered = [...mixing.filter(isConsole), ...mixing.filter((device) => !isConsole(device))];
  const taken = new Set<string>();
  return ordered.map(({ id, name }, index) => ({
    device: id,
    name,
    index,
    letter: letterFor(name, index, taken),
  }));
}

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/**
 * A letter that reminds of the name: its first letters, then any free one, then a pair. Never a figure, which beside slots
 * and jacks would be taken for one of theirs.
 */
function letterFor(name: string, index: number, taken: Set<string>): string {
  const initials = name
    .toUpperCase()
    .split(/[^A-Z]+/)
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
