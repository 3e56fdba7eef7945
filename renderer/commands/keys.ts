/**
 * Keys as the command records write them: `Mod+Shift+S`, `Alt+Left`, `F8`. `Mod` is the platform's own command key, so
 * that one record serves all; how a chord is shown also follows the platform.
 */
export type Chord = string;

interface KeyPress {
  readonly key: string;
  readonly code: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

export const onMac = (platform: string): boolean => /mac|iphone|ipad/i.test(platform);

export const thisPlatform = (): string => globalThis.navigator?.platform ?? "";

const NAMES: Readonly<Record<string, string>> = {
  Left: "ArrowLeft",
  Right: "ArrowRight",
  Up: "ArrowUp",
  Down: "ArrowDown",
  Esc: "Escape",
  Plus: "+",
};

export function matches(chord: Chord, press: KeyPress, mac: boolean): boolean {
  const parts = chord.split("+");
  const key = parts.at(-1)!;
  const wants = (modifier: string): boolean => parts.slice(0, -1).includes(modifier);
  const command = mac ? press.metaKey : press.ctrlKey;
  const other = mac ? press.ctrlKey : press.metaKey;
  if (other || wants("Mod") !== command || wants("Alt") !== press.altKey) return false;
  if (wants("Shift") !== press.shiftKey) return false;
  const wanted = NAMES[key] ?? key;
  if (press.key.toLowerCase() === wanted.toLowerCase()) return true;
  // With Alt held some layouts make another character of a letter or digit; the key itself is still the one.
  return /^[A-Z]$/.test(key) ? press.code === `Key${key}` : /^\d$/.test(key) && press.code === `Digit${key}`;
}

const MAC_SIGNS: Readonly<Record<string, string>> = { Mod: "⌘", Shift: "⇧", Alt: "⌥" };
const SHOWN: Readonly<Record<string, string>> = { Left: "←", Right: "→", Up: "↑", Down: "↓", Plus: "+" };

/** `Ctrl+Shift+S`, on a Mac `⇧⌘S`. */
export function chordLabel(chord: Chord, mac: boolean): string {
  const parts = chord.split("+");
  const key = SHOWN[parts.at(-1)!] ?? parts.at(-1)!;
  const modifiers = parts.slice(0, -1);
  if (!mac) return [...modifiers.map((part) => (part === "Mod" ? "Ctrl" : part)), key].join("+");
  const order = ["Alt", "Shift", "Mod"];
  return (
    [...modifiers]
      .sort((a, b) => order.indexOf(a) - order.indexOf(b))
      .map((part) => MAC_SIGNS[part])
      .join("") + key
  );
}

/** Keys that a text field needs for itself, so commands leave them alone there. */
export function typing(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable ||
      target instanceof HTMLTextAreaElement ||
      (target instanceof HTMLInputElement && !["checkbox", "radio", "button"].includes(target.type)))
  );
}
