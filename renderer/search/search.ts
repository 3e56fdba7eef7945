/** Finds anything in the show by name: a small ranked search over what the analysis knows. */
import { CABLES, findTerminal, fullName, shortName, terminalOf, type Analysis, type CableId } from "#engine";
import type { Focus } from "../state/contract.ts";
import { deviceName, namesIn, originOf, signalName } from "../words/names.ts";

export type EntryKind = "device" | "source" | "mix" | "channel" | "want" | "jack" | "cable";

export interface Entry {
  readonly kind: EntryKind;
  readonly key: string;
  readonly label: string;
  readonly detail: string;
  readonly focus: Focus;
  /** Label and detail in plain small letters, to search in. */
  readonly text: string;
  readonly plainLabel: string;
}

/** Of two that fit equally well, the sort of thing that people ask for by name comes first. */
const KIND_ORDER: readonly EntryKind[] = ["device", "source", "mix", "want", "cable", "channel", "jack"];

/** `Ängström ‘A’` → `angstrom 'a'`: what is typed in a hurry finds what was written with care. */
export const plain = (text: string): string =>
  text
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toLowerCase();

/** What begins as was typed, then what has all of it in its name, then what is known by it otherwise. */
export function bestFirst<Named extends { readonly label: string }>(
  found: readonly Named[],
  typed: string,
): readonly Named[] {
  const wanted = plain(typed).trim();
  const words = wanted.split(/\s+/);
  const rank = ({ label }: Named): number => {
    const name = plain(label);
    return name.startsWith(wanted) ? 0 : words.every((word) => name.includes(word)) ? 1 : 2;
  };
  return [...found].sort((a, b) => rank(a) - rank(b));
}

const indexes = new WeakMap<Analysis, readonly Entry[]>();

export function searchIndex(analysis: Analysis): readonly Entry[] {
  let index = indexes.get(analysis);
  if (!index) indexes.set(analysis, (index = build(analysis)));
  return index;
}

function build(analysis: Analysis): readonly Entry[] {
  const { show, wiring } = analysis;
  const { types, wantsAt } = namesIn(analysis);
  const entries: Entry[] = [];
  const add = (kind: EntryKind, key: string, label: string, detail: string, focus: Focus): void => {
    const plainLabel = plain(label);
    entries.push({
      kind,
      key: `${kind}:${key}`,
      label,
      detail,
      focus,
      plainLabel,
      text: `${plainLabel} ${plain(detail)}`,
    });
  };
  for (const { id, name, place } of show.devices) {
    const at = show.places.find((candidate) => candidate.id === place)?.name ?? "";
    const type = types.get(id)?.name ?? "type not in the show";
    add("device", id, name, [at, type].filter(Boolean).join(", "), { kind: "device", device: id });
  }
  for (const { id, name, kind, at } of show.sources) {
    const jack = findTerminal(wiring, at);
    add("source", id, name, `${kind} on ${jack === null ? "no jack" : fullName(wiring, jack)}`, {
      kind: "source",
      source: id,
    });
  }
  for (const { id, name, console, group, first } of show.mixes) {
    const tap = findTerminal(wiring, { device: console, group, number: first });
    add("mix", id, name, tap === null ? deviceName(analysis, console) : fullName(wiring, tap), {
      kind: "mix",
      mix: id,
    });
  }
  for (const { id, console, group, number, name } of show.channels) {
    const at = findTerminal(wiring, { device: console, group, number });
    if (at !== null)
      add("channel", id, name, fullName(wiring, at), { kind: "terminal", terminal: terminalOf(wiring, at) });
  }
  for (const { id, name, to } of show.wants) {
    const at = findTerminal(wiring, to);
    if (at !== null)
      add("want", id, name, `wanted at ${fullName(wiring, at)}`, {
        kind: "terminal",
        terminal: terminalOf(wiring, at),
      });
  }
  const cableKeys = new Set<CableId>();
  for (const { id, tag, kind, ends } of show.cables) {
    if (cableKeys.has(id)) continue;
    cableKeys.add(id);
    const [a, b] = ends;
    const way = `${deviceName(analysis, a.device)} – ${deviceName(analysis, b.device)}`;
    add("cable", id, tag || way, [CABLES[kind].name, tag ? way : ""].filter(Boolean).join(", "), {
      kind: "cable",
      cable: id,
    });
  }
  for (const wired of wiring.devices) {
    if (!wired) continue;
    for (const span of wired.fabric.layout.spans) {
      if (span.side !== "jack") continue;
      for (let n = 0; n < span.count; n++) {
        const at = wired.base + span.start + n;
        const origin = originOf(analysis, at);
        const signal = origin === null ? null : signalName(analysis, origin);
        const wants = (wantsAt.get(at) ?? []).map(({ name }) => name);
        const detail = [...(signal ? [signal] : []), ...wants.filter((want) => want !== signal)].join(", ");
        add("jack", String(at), `${wired.device.name} ${shortName(wiring, at)}`, detail, {
          kind: "terminal",
          terminal: terminalOf(wiring, at),
        });
      }
    }
  }
  return entries;
}

export const MOST_RESULTS = 60;

/** The best entries for what was typed; every word of it must fit, in any order. */
export function search(entries: readonly Entry[], typed: string): readonly Entry[] {
  const whole = plain(typed).trim();
  const words = whole.split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const found: { readonly entry: Entry; readonly score: number }[] = [];
  for (const entry of entries) {
    const score = scoreOf(entry, whole, words);
    if (score > 0) found.push({ entry, score });
  }
  const order = (entry: Entry): number => KIND_ORDER.indexOf(entry.kind);
  return found
    .sort(
      (a, b) =>
        b.score - a.score ||
        order(a.entry) - order(b.entry) ||
        a.entry.label.length - b.entry.label.length ||
        COLLATOR.compare(a.entry.label, b.entry.label),
    )
    .slice(0, MOST_RESULTS)
    .map(({ entry }) => entry);
}

const COLLATOR = new Intl.Collator("en", { numeric: true });

/**
 * The name as typed beats a name that starts so, which beats words that start so, which beats words within. A number
 * must be met whole: who types `out 1` doesn't mean `Out 12`, though that still shows further down.
 */
function scoreOf({ plainLabel, text }: Entry, whole: string, words: readonly string[]): number {
  if (plainLabel === whole) return 1000;
  let score = plainLabel.startsWith(whole) ? 60 : 0;
  for (const word of words) {
    const inLabel = place(plainLabel, word);
    const best = inLabel > 0 ? inLabel + 2 : place(text, word);
    if (best === 0) return 0;
    score += best * 10;
  }
  return score;
}

/** 3: a whole word; 2: the start of one; 1: somewhere within; 0: not there. */
function place(text: string, word: string): 0 | 1 | 2 | 3 {
  let best: 0 | 1 | 2 = 0;
  for (let at = text.indexOf(word); at >= 0; at = text.indexOf(word, at + 1)) {
    const starts = at === 0 || !isWord(text[at - 1]!);
    const after = text[at + word.length];
    if (starts && (after === undefined || !isWord(after))) return 3;
    best = starts ? 2 : best === 0 ? 1 : best;
  }
  return best;
}

const isWord = (character: string): boolean => /[\p{L}\p{N}]/u.test(character);
