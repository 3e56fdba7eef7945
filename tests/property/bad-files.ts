/**
 * Files that nobody should ever be handed, from a seed: good files with something spoiled, and a judge that says what
 * may not happen to any of them. `bad-files.test.ts` runs them; the same seed gives the same file.
 */
import { analyse } from "#engine/analysis.ts";
import { loadShow, type LoadError, type LoadErrorCode } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { reachOf } from "#engine/trace/reach.ts";
import { verdictText } from "#engine/trace/told.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { State } from "#engine/wiring/wiring.ts";
import { demoText } from "../engine/demo.ts";
import { RIGS } from "../engine/rigs/index.ts";
import { randomRig, type Dice } from "./random-rig.ts";

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** The demo and the file with the planted faults: about 240,000 characters each. */
export const LARGE: readonly string[] = [demoText("quayside"), demoText("quayside-faults")];

/** The catalogue of small rigs and as many random ones, a few thousand characters each. */
export const SMALL: readonly string[] = [
  ...[...RIGS.values()].map(({ show }) => saveShow(show)),
  ...Array.from({ length: 60 }, (_, n) => saveShow(randomRig(n + 1).show)),
].filter((text) => text.length < 8500);

// ---- The judge

export interface Judged {
  readonly outcome: "loaded" | LoadErrorCode;
  /** What went wrong, in a line each; empty where nothing did. */
  readonly wrong: readonly string[];
  /** Findings of F14 in what loaded. */
  readonly dangling: number;
}

const CODES: readonly LoadErrorCode[] = ["not-json", "hostile", "not-a-show", "newer", "invalid"];

/** What a program says when it is broken, not when a file is. */
const INTERNALS =
  /undefined|is not (?:a function|iterable|defined)|cannot read|\[object|maximum call stack|invalid (?:array|typed array|string) length|Error\b|NaN|must NOT|must match|schema path/;

/** Line breaks, controls, half a surrogate pair, marks that turn the line round. */
const UNPLAIN = /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u202A-\u202E\u2066-\u2069]/u;

function refusalFaults({ code, path, message }: LoadError): string[] {
  const wrong: string[] = [];
  if (!CODES.includes(code)) wrong.push(`the code is ${String(code)}`);
  if (typeof path !== "string") wrong.push("there is no path");
  else if (!message.startsWith(path)) wrong.push("the line doesn't start with the path");
  if (message.trim() === "") wrong.push("the reason is empty");
  if (UNPLAIN.test(message)) wrong.push(`the reason isn't one plain line: ${JSON.stringify(message)}`);
  if (message.length > 600) wrong.push(`the reason has ${message.length} characters`);
  if (INTERNALS.test(message.slice(path.length))) wrong.push(`the reason tells of internals: ${message}`);
  return wrong;
}

/** Loads a file and, where it loads, does all with it that may not fail. `sample` picks the terminals. */
export function judge(text: string, sample: Dice): Judged {
  try {
    const result = loadShow(text);
    if (!result.ok) return { outcome: result.error.code, wrong: refusalFaults(result.error), dangling: 0 };
    const wrong: string[] = [];
    const show = result.value;
    const once = JSON.stringify(show);
    if (once !== JSON.stringify(JSON.parse(text.replace(/^\uFEFF/, ""))))
      wrong.push("what was loaded isn't what the file says");
    const { wiring, findings } = analyse(show);
    for (const { id, title, reason } of findings) {
      if (id === "" || title.trim() === "" || reason.trim() === "") wrong.push(`an empty finding ${id}`);
      const odd = /undefined|\[object|NaN/.exec(title + reason)?.[0];
      // Unless it is what the file itself calls something.
      if (odd && !text.includes(odd)) wrong.push(`finding ${id}: ${title}: ${reason}`);
    }
    if (new Set(findings.map(({ id }) => id)).size !== findings.length) wrong.push("two findings of one id");
    const origins: number[] = [];
    for (let n = 0; n < 12 && wiring.size > 0; n++) {
      const at = sample.whole(0, wiring.size - 1);
      if (verdictText(wiring, traceOf(wiring, at)) === "") wrong.push(`terminal ${at} has no verdict`);
      if (wiring.state[at] === State.tap || wiring.state[at] === State.source) origins.push(at);
    }
    for (const at of origins.slice(0, 3)) reachOf(wiring, at);
    if (wiring.size > 0) reachOf(wiring, sample.whole(0, wiring.size - 1));
    if (JSON.stringify(show) !== once) wrong.push("the analysis changed the show");
    const saved = saveShow(show);
    const again = loadShow(saved);
    if (!again.ok) wrong.push(`what was saved doesn't load: ${again.error.message}`);
    else if (saveShow(again.value) !== saved || JSON.stringify(again.value) !== once)
      wrong.push("saved and loaded again it is another show");
    const dangling = findings.filter(({ check }) => check === "dangling").length;
    return { outcome: "loaded", wrong, dangling };
  } catch (problem) {
    const told = problem instanceof Error ? (problem.stack ?? problem.message) : String(problem);
    return { outcome: "loaded", wrong: [`it threw: ${told.slice(0, 600)}`], dangling: 0 };
  }
}

/** What F14 says of a file, a line each; none where the file doesn't load. */
export function findingsOf(text: string): readonly string[] {
  const result = loadShow(text);
  if (!result.ok) return [];
  return analyse(result.value)
    .findings.filter(({ check }) => check === "dangling")
    .map(({ title, reason }) => `${title}: ${reason}`);
}

/** The own keys of what every object inherits from, to be compared before and after. */
export const prototypes = (): string =>
  JSON.stringify(
    [Object, Array, Function, String, Number, Boolean, Map, Set, Promise].map(({ prototype }) =>
      Reflect.ownKeys(prototype).map(String),
    ),
  );

// ---- Spoiling the text

const BARE = [
  "NaN",
  "Infinity",
  "-Infinity",
  "undefined",
  "None",
  "0x10",
  "01",
  "1.",
  ".5",
  "+1",
  "1e",
  "'a'",
];
const BITS = [
  "\u0000",
  "\n",
  "\u2028",
  "\uFEFF",
  "\uD800",
  "\uDC00",
  "\u202E",
  "\\",
  '"',
  "{",
  "}",
  "[",
  "]",
  ":",
  ",",
];

/** One way of spoiling the text of a file. */
type SpoilText = (text: string, dice: Dice) => string;

const place = (text: string, dice: Dice): number => dice.whole(0, Math.max(0, text.length - 1));

/** A value of the text: a number, a word, or a text in quotes; where it starts and ends. */
function valueAt(text: string, dice: Dice): readonly [number, number] {
  const from = place(text, dice);
  const found = /[:[,]\s*("(?:[^"\\\n]|\\.){0,200}"|-?[\d.]+|true|false|null)/.exec(
    text.slice(from, from + 600),
  );
  if (!found) return [from, from];
  const start = from + found.index + found[0].length - found[1]!.length;
  return [start, start + found[1]!.length];
}

const splice = (text: string, [from, to]: readonly [number, number], by: string): string =>
  text.slice(0, from) + by + text.slice(to);

/** Bits of the UTF-8 bytes turned over; what is no UTF-8 any more becomes replacement characters. */
function flipBytes(text: string, dice: Dice): string {
  const bytes = new TextEncoder().encode(text);
  for (let n = dice.whole(1, 4); n > 0; n--) {
    const at = dice.whole(0, bytes.length - 1);
    bytes[at] = bytes[at]! ^ (1 << dice.whole(0, 7));
  }
  return new TextDecoder().decode(bytes);
}

/** A field of some record written twice, the second time with another value. */
function doubleKey(text: string, dice: Dice): string {
  const from = place(text, dice);
  const found = /[{,]("[A-Za-z]{1,20}":)/.exec(text.slice(from, from + 400));
  if (!found) return `${text}${text}`;
  const at = from + found.index + 1;
  return splice(text, [at, at], `${found[1]!}${dice.pick(["null", "1", '"x"', "[]", "{}"])},`);
}

export const TEXT_SPOILS: readonly SpoilText[] = [
  flipBytes,
  flipBytes,
  (text, dice) => text.slice(0, place(text, dice)),
  (text, dice) => text.slice(place(text, dice)),
  (text, dice) => {
    const at = place(text, dice);
    return splice(text, [at, at + dice.whole(1, 40)], "");
  },
  (text, dice) => {
    const at = place(text, dice);
    const chunk = text.slice(at, at + dice.whole(1, 200));
    const to = place(text, dice);
    return splice(text, [to, to], chunk);
  },
  (text, dice) => {
    const at = place(text, dice);
    return splice(text, [at, at], dice.pick(BITS));
  },
  (text, dice) => {
    const at = place(text, dice);
    return splice(text, [at, at + 1], dice.pick(BITS));
  },
  (text, dice) => splice(text, valueAt(text, dice), dice.pick(BARE)),
  (text, dice) =>
    splice(
      text,
      valueAt(text, dice),
      dice.pick(["1e999", "-1e999", "1e-999", "-0", "1e21", "9".repeat(400)]),
    ),
  (text, dice) =>
    splice(text, valueAt(text, dice), dice.pick(["null", "true", '""', "[]", "{}", "-1", "0.5"])),
  (text, dice) => {
    const depth = dice.pick([10, 63, 64, 65, 66, 500, 20_000]);
    const bomb = dice.chance(0.5)
      ? "[".repeat(depth) + "]".repeat(depth)
      : `${'{"a":'.repeat(depth)}1${"}".repeat(depth)}`;
    return splice(text, valueAt(text, dice), bomb);
  },
  (text, dice) =>
    splice(text, valueAt(text, dice), JSON.stringify("long ".repeat(dice.pick([41, 4001, 30_000])))),
  doubleKey,
  (text, dice) => `${dice.pick(["\uFEFF", "\uFEFF\uFEFF", " ", "\u00A0", "// show\n", "<!--"])}${text}`,
  (text, dice) => `${text}${dice.pick([" ", "\u0000", "}", "[]", text.slice(0, 50), "\uFEFF"])}`,
  (text, dice) => {
    const key = dice.pick(["__proto__", "constructor", "prototype", "toString", "hasOwnProperty"]);
    const at = text.indexOf("{", place(text, dice));
    return at < 0
      ? text
      : splice(text, [at + 1, at + 1], `"${key}":${dice.pick(["{}", "1", '{"polluted":true}'])},`);
  },
];

export function spoiltText(text: string, dice: Dice): string {
  let spoilt = text;
  for (let n = dice.pick([1, 1, 1, 2, 3]); n > 0; n--) spoilt = dice.pick(TEXT_SPOILS)(spoilt, dice);
  return spoilt;
}

// ---- Spoiling the values

interface Spot {
  readonly holder: Json[] | { [key: string]: Json };
  readonly key: string | number;
}

/** Every place of a tree that holds a value. */
function spots(root: Json): Spot[] {
  const found: Spot[] = [];
  const open: Json[] = [root];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    if (typeof at !== "object" || at === null) continue;
    const keys = Array.isArray(at) ? at.keys() : Object.keys(at);
    for (const key of keys) {
      found.push({ holder: at, key });
      const value = (at as Record<string | number, Json>)[key]!;
      if (typeof value === "object" && value !== null) open.push(value);
    }
  }
  return found;
}

const get = ({ holder, key }: Spot): Json => (holder as Record<string | number, Json>)[key]!;

/** Sets a key as JSON would, so that `__proto__` is a key like any other. */
function put({ holder, key }: Spot, value: Json): void {
  Object.defineProperty(holder, key, { value, enumerable: true, configurable: true, writable: true });
}

const nested = (depth: number): Json => {
  let value: Json = 1;
  for (let n = 0; n < depth; n++) value = n % 2 === 0 ? [value] : { a: value };
  return value;
};

/** Values that a careless reader trips over. Made anew each time, since a tree may hold none twice. */
function badValue(dice: Dice): Json {
  const make: readonly (() => Json)[] = [
    () => null,
    () => dice.chance(0.5),
    () => dice.pick([0, -1, -0, 0.5, 1.5, 4096, 4097, 1e6, 1e9, 1e21, 5e-324, 1.7e308]),
    () => dice.pick([2 ** 31, 2 ** 32, 2 ** 53, -(2 ** 31), -(2 ** 53)]),
    () => dice.pick(["", " ", "NaN", "Infinity", "-1", "1e3", "true", "null", "0x10", "internal", "none"]),
    () =>
      dice.pick([
        "\u0000",
        "a\nb",
        "\uD800",
        "\uDC00x",
        "\u202Egnp",
        "\u2028",
        "\uFEFF",
        "👩‍👩‍👧‍👧",
        "ﷺ".repeat(50),
      ]),
    () => dice.pick(["__proto__", "constructor", "prototype", "toString", "hasOwnProperty", "length"]),
    () => "x".repeat(dice.pick([64, 65, 200, 201, 20_001, 100_000])),
    () => [],
    () => ({}),
    () => Array.from({ length: dice.pick([1, 17, 300, 5000]) }, () => dice.pick<Json>([1, "a", null])),
    () => nested(dice.pick([3, 30, 62, 70, 2000])),
    () => ({ __proto: 1, valueOf: 1, then: "x" }),
  ];
  return dice.pick(make)();
}

const clone = (value: Json): Json => JSON.parse(JSON.stringify(value)) as Json;

type SpoilTree = (spot: Spot, all: readonly Spot[], dice: Dice) => void;

const TREE_SPOILS: readonly SpoilTree[] = [
  (spot, _all, dice) => put(spot, badValue(dice)),
  (spot, _all, dice) => put(spot, badValue(dice)),
  // Its number moved a little, or a lot: what still is a number of the kind, but another one.
  (spot, _all, dice) => {
    const value = get(spot);
    if (typeof value === "number")
      put(spot, dice.pick([value + 1, value - 1, value * 2, -value, value / 2, 4096]));
    else if (typeof value === "string")
      put(spot, dice.pick([`${value}x`, value.slice(1), value.toUpperCase(), "nowhere"]));
    else if (Array.isArray(value)) value.reverse();
  },
  // A field or an entry gone.
  (spot) => {
    if (Array.isArray(spot.holder)) spot.holder.splice(Number(spot.key), 1);
    else delete spot.holder[spot.key];
  },
  // An entry twice, with its id; a list that holds itself once over.
  (spot, _all, dice) => {
    if (Array.isArray(spot.holder)) spot.holder.splice(Number(spot.key), 0, clone(get(spot)));
    else put({ holder: spot.holder, key: dice.pick(["extra", "id", "name", "kind"]) }, clone(get(spot)));
  },
  // What stands somewhere else in the file: of the right sort now and then, and then a reference to something else.
  (spot, all, dice) => put(spot, clone(get(dice.pick(all)))),
  (spot, all, dice) => {
    const like = all.filter((other) => other.key === spot.key);
    put(spot, clone(get(dice.pick(like))));
  },
  (spot, all, dice) => {
    const other = dice.pick(all);
    const [a, b] = [clone(get(spot)), clone(get(other))];
    put(spot, b);
    put(other, a);
  },
  // A key that reaches for what every object inherits from.
  (spot, _all, dice) => {
    const value = get(spot);
    const holder = typeof value === "object" && value !== null && !Array.isArray(value) ? value : spot.holder;
    if (!Array.isArray(holder))
      put({ holder, key: dice.pick(["__proto__", "constructor", "prototype"]) }, badValue(dice));
  },
  // A key of another name.
  (spot, _all, dice) => {
    if (Array.isArray(spot.holder)) return;
    const value = get(spot);
    delete spot.holder[spot.key];
    put(
      {
        holder: spot.holder,
        key: dice.pick([`${spot.key}s`, "", "a\nb", "\u202E", "y".repeat(3000), "0", "Id"]),
      },
      value,
    );
  },
];

export function spoiltTree(text: string, dice: Dice): string {
  const root = JSON.parse(text) as Json;
  for (let n = dice.pick([1, 1, 2, 4]); n > 0; n--) {
    const all = spots(root);
    if (all.length > 0) dice.pick(TREE_SPOILS)(dice.pick(all), all, dice);
  }
  return JSON.stringify(root);
}

// ---- Files that follow the schema, and are absurd

/** Within the schema's bounds, mostly at one of them. */
const bound = (dice: Dice, low: number, high: number): number =>
  dice.chance(0.5) ? dice.pick([low, high]) : dice.whole(low, Math.min(high, low + 20));

/** Numbers of a valid file pushed to their limits, and ends of cables, settings and streams plugged anywhere. */
export function absurd(text: string, dice: Dice): string {
  const root = JSON.parse(text) as { [key: string]: Json };
  const ends: Json[] = [];
  const ids = { device: new Set<string>(), group: new Set<string>() };
  for (const spot of spots(root)) {
    if (typeof spot.key !== "string") continue;
    const value = get(spot);
    if (spot.key === "device" || spot.key === "group") ids[spot.key].add(String(value));
    if (spot.key === "ends" || spot.key === "from" || spot.key === "to") ends.push(value);
    if (typeof value !== "number" || !dice.chance(0.06)) continue;
    const limit = LIMITS[spot.key];
    if (limit) put(spot, bound(dice, ...limit));
  }
  for (const end of ends.flat()) {
    if (typeof end !== "object" || end === null || Array.isArray(end)) continue;
    if (typeof end["device"] === "string" && dice.chance(0.3)) end["device"] = dice.pick([...ids.device]);
    if (typeof end["group"] === "string" && dice.chance(0.2)) end["group"] = dice.pick([...ids.group]);
  }
  for (const type of (root["types"] as { [key: string]: Json }[]) ?? []) absurdRules(type, dice);
  absurdDevices(root, dice);
  return JSON.stringify(root);
}

const LIMITS: Readonly<Record<string, readonly [number, number]>> = {
  count: [1, 1024],
  first: [1, 4096],
  number: [1, 4096],
  perPosition: [-4096, 4096],
  shift: [-4096, 4096],
  run: [1, 1024],
  block: [1, 1024],
  single: [0, 4096],
  double: [0, 4096],
  quad: [0, 4096],
  ways: [1, 1024],
  position: [1, 64],
  chain: [1, 64],
  channels: [1, 1024],
  length: [0, 100_000],
  value: [0, 10_000],
  maxMetres: [0, 100_000],
  width: [1, 2],
};

function absurdRules(type: { [key: string]: Json }, dice: Dice): void {
  for (const rules of [
    type["rules"],
    ...(type["modes"] as { [key: string]: Json }[]).map(({ rules: own }) => own),
  ]) {
    for (const rule of rules as { [key: string]: Json }[]) {
      if (!dice.chance(0.3)) continue;
      if (rule["kind"] === "wired") {
        const side = dice.pick(["to", "from"]);
        (rule[side] as { [key: string]: Json })["perPosition"] = bound(dice, -4096, 4096);
        if (dice.chance(0.5)) rule["count"] = 4096;
      } else if (rule["kind"] === "carry") rule["shift"] = bound(dice, -4096, 4096);
      else if (rule["kind"] === "patch" && dice.chance(0.3)) rule["from"] = [];
    }
  }
  if (dice.chance(0.1)) type["forwards"] = true;
}

/** Every device follows any port; positions and rates anywhere; one stream that comes back to its sender. */
function absurdDevices(root: { [key: string]: Json }, dice: Dice): void {
  const types = new Map(
    ((root["types"] as { [key: string]: Json }[]) ?? []).map((type) => [type["id"], type]),
  );
  const devices = root["devices"] as { [key: string]: Json }[];
  for (const device of devices) {
    const ports = (types.get(device["type"]!)?.["ports"] ?? []) as { [key: string]: Json }[];
    if (dice.chance(0.4) && ports.length > 0) device["clock"] = dice.pick(ports)["id"]!;
    if (dice.chance(0.2)) device["position"] = bound(dice, 1, 64);
    if (dice.chance(0.2)) device["sampleRate"] = dice.pick([44100, 96000, 192000]);
    if (!dice.chance(0.3) || ports.length === 0) continue;
    const [from, to] = [dice.pick(ports), dice.pick(ports)];
    const end = (port: { [key: string]: Json }): Json => ({
      device: device["id"]!,
      group: port["id"]!,
      first: 1,
    });
    // A cable from a device to itself, often from a port to that very port.
    (root["cables"] as Json[]).push({
      id: `self.${dice.whole(0, 1_000_000)}`,
      kind: "cat5e",
      tag: "",
      ways: 1,
      ends: [end(from), end(to)],
    });
    const streams = (root["streams"] ??= []) as Json[];
    streams.push({
      id: `self.${dice.whole(0, 1_000_000)}`,
      name: "",
      from: end(from),
      channels: bound(dice, 1, 1024),
      packetTime: 1,
      to: [end(from), end(to), end(from)],
    });
  }
}
