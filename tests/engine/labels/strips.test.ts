/** Rules A2, A3, A6 and A9: strips for panels. What stands in a cell is A4 and A5. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { once } from "#engine/model/once.ts";
import { PAPERS, type Paper, type Show } from "#engine/model/show.ts";
import { PANEL, stripParts } from "#engine/paperwork/labels/parts.ts";
import {
  rowSize,
  stripFault,
  stripSheets,
  USUAL_STRIPS,
  type StripChoice,
} from "#engine/paperwork/labels/strips.ts";
import { ownerMarks } from "#engine/paperwork/owner-marks.ts";
import type { PaperJob, Sheet } from "#engine/paperwork/page.ts";
import { demo } from "../demo.ts";
import { R74 } from "../rigs/joins.ts";
import { boxesOf, leaving, overlaps, type Frame } from "./boxes.ts";

const DEMO = demo();
const analysed = once((show: Show) => analyse(show));

const job = (show: Show, paper: Paper = "A4"): PaperJob => ({
  analysis: analysed(show),
  paper,
  date: "2026-11-26",
  author: "",
});

const strips = (show: Show, choice: Partial<StripChoice> = {}, paper: Paper = "A4"): readonly Sheet[] =>
  stripSheets(job(show, paper), { ...USUAL_STRIPS, ...choice });

const textsOf = (svg: string): string[] => boxesOf(svg).map(({ text }) => text);

/** Names that no cell of 28 mm holds. */
const LONG = "Contrabassoon of the second orchestra, close";
function longNames(): Show {
  const show = DEMO;
  return {
    ...show,
    devices: show.devices.map((device) => ({ ...device, name: `${device.name} on the upper landing stage` })),
    sources: show.sources.map((source, n) => ({ ...source, name: `${LONG} ${n + 1}` })),
    wants: show.wants.map((want, n) => ({ ...want, name: `Extraordinarilylongdestination ${n + 1}` })),
    mixes: show.mixes.map((mix, n) => ({ ...mix, name: `Subscription-box loudspeakers ${n + 1}` })),
  };
}

describe("[A2] a strip is as long as its panel", () => {
  test("[A2] the panel is 19 inches wide", () => {
    // IEC 60297: 482.6 mm; an inch is 25.4 mm exactly.
    expect(PANEL.width).toBeCloseTo(19 * 25.4, 9);
  });

  test("[A2] a row has 8, 12 or 16 jacks: the most that share the bank evenly, else the fewest that hold it", () => {
    const sizes = [4, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64].map((count) => rowSize(count, "fit"));
    expect(sizes).toEqual([8, 8, 12, 12, 16, 16, 12, 16, 8, 16, 16]);
    expect(rowSize(48, 12)).toBe(12);
  });

  test("[A2] there is one for each row of every bank of four jacks and more, in the order of the show", () => {
    const [sheet] = strips(DEMO, { by: "rig" });
    const starts = sheet!.pages.flatMap(({ svg }) =>
      textsOf(svg).filter((text, n, all) => / \d+(–\d+)?$/.test(text) && all[n + 1]?.startsWith("part 1 of")),
    );
    // The demo's devices in its order; loudspeakers, receivers and the recorder's tracks have no panel.
    expect(starts).toEqual([
      "Harbour bar Out 1–16",
      "Delay tower Out 1–16",
      "Front of house Local in 1–8",
      "Front of house Local out 1–8",
      "Monitors Local in 1–8",
      "Monitors Local out 1–8",
      "Truck Local in 1–8",
      "Truck Local out 1–8",
      "Split In 1–16",
      "Split Direct 1–16",
      "Split Isolated 1–16",
      "Stage left In 1–16",
      "Stage left In 17–32",
      "Stage left Out 1–16",
      "Loudspeaker processor In 1–8",
      "Loudspeaker processor Out 1–8",
      "Truck box In 1–16",
      "Truck box Out 1–8",
      "Ears rack Out 1–16",
      "Band A In 1–16",
      "Band A Out 1–8",
      "Band B In 1–16",
      "Band B Out 1–8",
    ]);
  });

  test("[A2] one sheet for each place or device, each with the rows of its table", () => {
    const byPlace = strips(DEMO);
    expect(byPlace.map(({ title }) => title)).toContain("Jack strips: Stage left");
    const stageLeft = byPlace.find(({ id }) => id === "jack-strips/stage-left")!;
    // Split 3 × 16, stage box 32 + 16, processor 8 + 8, truck box 16 + 8.
    expect(stageLeft.tables[0]!.rows).toHaveLength(48 + 48 + 16 + 24);
    const byDevice = strips(DEMO, { by: "device" });
    expect(byDevice).toHaveLength(12);
    expect(new Set(byDevice.map(({ id }) => id)).size).toBe(12);
  });

  test("[A2] a width or height that can't be is told in one line", () => {
    expect(stripFault(USUAL_STRIPS)).toBeNull();
    expect(stripFault({ ...USUAL_STRIPS, perRow: 8, field: 200 })).toBeNull();
    expect(stripFault({ ...USUAL_STRIPS, field: 300 })).toBe(
      "A row of 16 jacks stands over 320 to 482.6 mm of a 19-inch panel.",
    );
    expect(stripFault({ ...USUAL_STRIPS, field: 483 })).toMatch(/482.6 mm/);
    expect(stripFault({ ...USUAL_STRIPS, field: Number.NaN })).toMatch(/482.6 mm/);
    expect(stripFault({ ...USUAL_STRIPS, height: 8 })).toBe("A strip is 14 to 60 mm high.");
  });
});

describe("[A3] a strip is cut into parts", () => {
  test("[A3] between cells, the fewest that fit, as alike as can be", () => {
    // 16.3 mm of ear and 8 cells of 28.125 mm: half the panel.
    const halves = stripParts(16, 450, 257);
    expect(halves.map(({ from, to }) => to - from)).toEqual([
      expect.closeTo(241.3, 9) as number,
      expect.closeTo(241.3, 9) as number,
    ]);
    // Cuts at thirds would be at 160.9 and 321.7; the borders next to them are those after 5 and 11 cells.
    expect(stripParts(16, 450, 200).map(({ from, to }) => to - from)).toEqual([
      expect.closeTo(16.3 + 5 * 28.125, 9) as number,
      expect.closeTo(6 * 28.125, 9) as number,
      expect.closeTo(16.3 + 5 * 28.125, 9) as number,
    ]);
    expect(stripParts(8, 450, 482.6)).toEqual([{ from: 0, to: 482.6 }]);
    // A cell of 56 mm and an ear don't go on 50 mm of paper.
    expect(stripParts(8, 450, 50)).toEqual([]);
  });

  test.each(PAPERS)("[A3] all parts of a strip stand on one page, told which they are: %s", (paper) => {
    for (const perRow of [8, 12, 16] as const) {
      for (const { pages } of strips(DEMO, { perRow }, paper)) {
        for (const { svg } of pages) {
          const texts = textsOf(svg);
          const firsts = texts.filter((text) => text.startsWith("part 1 of 2")).length;
          expect(firsts).toBeGreaterThan(0);
          expect(texts.filter((text) => text.startsWith("part 2 of 2"))).toHaveLength(firsts);
          // The flap says what goes over it, turned by a quarter.
          expect(svg.match(/>part 2 over this</g)).toHaveLength(firsts);
        }
      }
    }
  });
});

describe("[A6] a cell shows whose jack it is without colour", () => {
  test("[A6] by the letter, in the order of the owners, and the number as colours where asked", () => {
    const [stageLeft] = strips(DEMO, { digits: true }).filter(({ id }) => id.endsWith("stage-left"));
    const texts = textsOf(stageLeft!.pages[1]!.svg);
    // Stage left Out 13 is the truck’s mix 1: figure, owner, brown and orange, what it is.
    const at = texts.indexOf("13", texts.indexOf("Stage left Out 1–16"));
    expect(texts.slice(at, at + 4)).toEqual(["13", "T", "BN", "OG"]);
    const plain = strips(DEMO).find(({ id }) => id.endsWith("stage-left"))!;
    expect(textsOf(plain.pages[1]!.svg)).not.toContain("BN");
  });

  test("[A6] a letter is never a figure, and each is another's only", () => {
    const show = demo();
    const [first, second, third] = show.devices.filter(({ id }) => ["foh", "mon", "trk"].includes(id));
    const named = new Map([
      [first!.id, "1"],
      [second!.id, "2 Stage 1"],
      [third!.id, "48 Stage 2"],
    ]);
    const devices = show.devices.map((device) => ({ ...device, name: named.get(device.id) ?? device.name }));
    const letters = ownerMarks({ ...show, devices }).map(({ name, letter }) => [name, letter]);
    // The name's first letter that is free, else the first of the alphabet.
    expect(letters.slice(0, 3)).toEqual([
      ["1", "A"],
      ["2 Stage 1", "S"],
      ["48 Stage 2", "T"],
    ]);
  });

  test("[A6] each of two owners has its mark", () => {
    const [sheet] = strips(R74.show, { perRow: 16, digits: true }).filter(({ tables }) =>
      tables[0]!.rows.some(({ cells }) => cells[1] === "In A"),
    );
    const texts = sheet!.pages.flatMap(({ svg }) => textsOf(svg));
    const at = texts.findIndex((text, n) => text === "1" && texts[n + 1] === "M" && texts[n + 2] === "H");
    expect(at).toBeGreaterThan(0);
  });

  test("[A6] channels are told by their consoles' letters", () => {
    const sheet = strips(DEMO).find(({ id }) => id.endsWith("stage-left"))!;
    const texts = sheet.pages.flatMap(({ svg }) => textsOf(svg));
    expect(texts).toContain("Ch F 1 · M 1 · T 1");
    expect(texts).toContain("Ch T 16");
  });
});

describe("[A9] labels are whole and can be measured", () => {
  const choices: readonly (readonly [string, Show, Partial<StripChoice>, Paper])[] = [
    ["the demo", DEMO, { digits: true }, "A4"],
    ["the demo, 8 in a row", DEMO, { perRow: 8 }, "Letter"],
    ["long names", longNames(), { digits: true }, "A4"],
    ["long names on low strips", longNames(), { height: 14, perRow: 16 }, "A3"],
    ["long names, narrow cells", longNames(), { field: 330, perRow: 16, digits: true }, "Tabloid"],
    ["a starter", demo("starter-festival"), { perRow: 12 }, "Letter"],
  ];

  test.each(choices)(
    "[A9] no text stands on another, leaves its cell or is under 7 points: %s",
    (_, show, choice, paper) => {
      for (const { pages } of strips(show, choice, paper)) {
        for (const { svg, width, height } of pages) {
          const boxes = boxesOf(svg);
          expect(overlaps(boxes)).toEqual([]);
          for (const { left, right, points, text } of boxes) {
            expect(points, text).toBeGreaterThan(6.99);
            expect(left, text).toBeGreaterThan(9.9);
            expect(right, text).toBeLessThan(width - 9.9);
          }
          const frames = [
            ...svg.matchAll(
              /<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)" fill="#fff" stroke/g,
            ),
          ].map(([, ...parts]): Frame => {
            const [x, y, wide, high] = parts.map(Number);
            return { x: x!, y: y!, width: wide!, height: high! };
          });
          expect(frames.length).toBeGreaterThan(3);
          for (const frame of frames) {
            expect(frame.y + frame.height).toBeLessThan(height - 17);
            expect(leaving(boxes, frame)).toEqual([]);
          }
        }
      }
    },
  );

  test("[A9] a long name is shortened in its middle; the table has all of it", () => {
    const sheet = strips(longNames()).find(({ id }) => id.endsWith("stage-left"))!;
    const cells = sheet.tables[0]!.rows.map((row) => row.cells[3]);
    expect(cells).toContain(`${LONG} 1`);
    const shortened = sheet.pages.flatMap(({ svg }) => textsOf(svg)).filter((text) => text.includes("…"));
    expect(shortened.length).toBeGreaterThan(0);
  });

  test("[A9] every page has a measure of 100 mm", () => {
    for (const { pages } of strips(DEMO)) {
      for (const { svg } of pages) {
        expect(textsOf(svg)).toContain("Measure this: 100 mm. Print at 100 %, not fitted to the page.");
        const lines = [...svg.matchAll(/<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"/g)];
        const level = lines.filter(([, , y1, , y2]) => y1 === y2);
        const lengths = level.map(([, x1, , x2]) => Number(x2) - Number(x1));
        expect(lengths.filter((length) => Math.abs(length - 100) < 0.005)).toHaveLength(1);
      }
    }
  });

  test("[A9] the same show and date give the same bytes", () => {
    expect(JSON.stringify(strips(demo()))).toBe(JSON.stringify(strips(DEMO)));
  });
});
