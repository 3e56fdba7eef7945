import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { catalogueType, HATCHES, hatchOf, id, OWNER_COLOURS, type DeviceId } from "#engine";
import { ownersOf, patternId, PATTERNS } from "../../renderer/theme/owners.ts";
import { schemeFor } from "../../renderer/theme/scheme.ts";
import { smallShow } from "./small-show.ts";

const css = readFileSync(new URL("../../renderer/theme/tokens.css", import.meta.url), "utf8");

/** The custom properties of one scheme, those that it doesn't set itself taken from the light one. */
function tokens(scheme: string): ReadonlyMap<string, string> {
  const block = new RegExp(`data-scheme="${scheme}"\\] \\{([^}]*)\\}`).exec(css)![1]!;
  const pairs = [...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})\b/g)];
  return new Map(pairs.map(([, name, value]) => [name!, value!]));
}

type Rgb = readonly [number, number, number];

const rgb = (hex: string): Rgb =>
  [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16)) as unknown as Rgb;

/** sRGB → linear light, IEC 61966-2-1. */
const linear = (value: number): number => {
  const share = value / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
};

/** Relative luminance and contrast as WCAG 2.2 defines them. */
const luminance = (colour: Rgb): number => {
  const [r, g, b] = colour.map(linear) as unknown as Rgb;
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string): number => {
  const [high, low] = [luminance(rgb(a)), luminance(rgb(b))].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
};

const SCHEMES = ["light", "dark", "dim"];
const GROUNDS = ["paper", "panel", "raised"];
const TEXTS = ["ink", "ink-soft", "ink-faint", "accent", "danger", "warn", "ok"];

describe.each(SCHEMES)("the %s scheme", (scheme) => {
  const all = tokens(scheme);
  const of = (name: string): string => {
    const value = all.get(name);
    if (!value) throw new Error(`${scheme} has no --${name}`);
    return value;
  };

  test.each(TEXTS.flatMap((text) => [...GROUNDS, "hover"].map((ground) => [text, ground] as const)))(
    "%s reads on %s: at least 4.5 : 1",
    (text, ground) => expect(contrast(of(text), of(ground))).toBeGreaterThanOrEqual(4.5),
  );

  test.each(["ink", "ink-soft", "danger"])("%s reads on what is selected", (text) =>
    expect(contrast(of(text), of("selected"))).toBeGreaterThanOrEqual(4.5),
  );

  test.each([
    ["danger", "danger-soft"],
    ["warn", "warn-soft"],
    ["ok", "ok-soft"],
    ["ink-soft", "line-soft"],
    ["accent-ink", "accent"],
  ])("%s reads on %s", (text, ground) => expect(contrast(of(text), of(ground))).toBeGreaterThanOrEqual(4.5));

  test.each(["edge", "focus", "lit"].flatMap((mark) => GROUNDS.map((ground) => [mark, ground] as const)))(
    "%s stands out on %s: at least 3 : 1",
    (mark, ground) => expect(contrast(of(mark), of(ground))).toBeGreaterThanOrEqual(3),
  );

  test.each(Array.from({ length: OWNER_COLOURS }, (_, n) => n + 1))(
    "owner %i: letter on its colour 4.5 : 1, line on paper 3 : 1",
    (owner) => {
      expect(contrast(of(`owner-${owner}-ink`), of(`owner-${owner}`))).toBeGreaterThanOrEqual(4.5);
      for (const ground of GROUNDS)
        expect(contrast(of(`owner-${owner}-edge`), of(ground))).toBeGreaterThanOrEqual(3);
    },
  );
});

test("the dim scheme keeps blue and green low, so that it doesn't blind eyes used to the dark", () => {
  for (const [name, value] of tokens("dim")) {
    const [red, green, blue] = rgb(value);
    expect({ name, green: green <= red * 0.75, blue: blue <= red * 0.62 }).toEqual({
      name,
      green: true,
      blue: true,
    });
  }
});

/**
 * Colour seen without one sort of cone, in linear light: the matrices of Viénot, Brettel and Mollon (1999) for
 * protanopia and deuteranopia.
 */
const BLIND: Readonly<Record<string, readonly Rgb[]>> = {
  protanopia: [
    [0.11238, 0.88762, 0],
    [0.11238, 0.88762, 0],
    [0.00401, -0.00401, 1],
  ],
  deuteranopia: [
    [0.29275, 0.70725, 0],
    [0.29275, 0.70725, 0],
    [-0.02234, 0.02234, 1],
  ],
};

/** Linear sRGB → CIE L*a*b* (D65), in which distances are about as large as they look. */
function lab([r, g, b]: Rgb): Rgb {
  const f = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

describe.each(["light", "dark"])("owner colours in the %s scheme", (scheme) => {
  const all = tokens(scheme);
  test.each(["normal sight", ...Object.keys(BLIND)])("the first six stay apart with %s", (sight) => {
    const matrix = BLIND[sight];
    const seen = Array.from({ length: 6 }, (_, n) => {
      const light = rgb(all.get(`owner-${n + 1}`)!).map(linear) as unknown as Rgb;
      const dot = (row: Rgb): number =>
        Math.max(0, row[0] * light[0] + row[1] * light[1] + row[2] * light[2]);
      return lab(matrix ? (matrix.map(dot) as unknown as Rgb) : light);
    });
    for (let a = 0; a < seen.length; a++) {
      for (let b = 0; b < a; b++) {
        const distance = Math.hypot(...seen[a]!.map((value, n) => value - seen[b]![n]!));
        // About four times what is just told apart side by side.
        expect({ a: a + 1, b: b + 1, apart: distance > 9 }).toEqual({ a: a + 1, b: b + 1, apart: true });
      }
    }
  });
});

describe("owners", () => {
  const withConsoles = (...names: string[]) => {
    const show = smallShow();
    const console = show.devices[0]!;
    return {
      ...show,
      devices: names.map((name, n) => ({ ...console, id: id<DeviceId>(`c${n}`), name })),
    };
  };
  const letters = (...names: string[]) =>
    [...ownersOf(withConsoles(...names)).values()].map(({ letter }) => letter);

  test("whatever has a mix engine owns; a stage box doesn't", () => {
    expect([...ownersOf(smallShow()).keys()]).toEqual(["foh"]);
  });

  test("consoles come first, whatever stands before them in the show", () => {
    const show = smallShow();
    const mixer = { ...show.devices[0]!, id: id<DeviceId>("pm"), type: catalogueType("personal-mixer").id };
    const owners = ownersOf({
      ...show,
      types: [...show.types, catalogueType("personal-mixer")],
      devices: [mixer, ...show.devices],
    });
    expect([...owners.keys()]).toEqual(["foh", "pm"]);
  });

  test("a letter reminds of the name, and no two have the same", () => {
    expect(letters("Front of house", "Monitors", "Truck")).toEqual(["F", "M", "T"]);
    expect(letters("Monitors", "Monitors 2", "Main")).toEqual(["M", "O", "A"]);
    const many = letters(...Array.from({ length: 60 }, (_, n) => `Mixer ${n + 1}`));
    expect(new Set(many).size).toBe(60);
  });

  test("moving things about makes no new looks", () => {
    const show = smallShow();
    const first = ownersOf(show);
    expect(
      ownersOf({ ...show, devices: show.devices.map((device) => ({ ...device, at: { x: 1, y: 1 } })) }),
    ).toBe(first);
  });

  test("colour and hatch together tell 64 owners apart, and the hatch alone the first eight", () => {
    const looks = Array.from({ length: PATTERNS }, (_, n) => `${n % OWNER_COLOURS}:${hatchOf(n)}`);
    expect(new Set(looks).size).toBe(64);
    expect(new Set(Array.from({ length: 8 }, (_, n) => HATCHES[hatchOf(n)])).size).toBe(8);
    expect(patternId(PATTERNS)).toBe(patternId(0));
  });
});

test.each([
  ["system", true, "dark"],
  ["system", false, "light"],
  ["dim", true, "dim"],
  ["light", true, "light"],
] as const)("scheme choice %s, system dark %s → %s", (choice, dark, scheme) => {
  expect(schemeFor(choice, dark)).toBe(scheme);
});
