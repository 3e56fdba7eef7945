/** Rules A7, A8 and A9: tags for cables, on plain paper and on sheets of labels. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { id, type CableId, type DeviceId } from "#engine/model/ids.ts";
import { once } from "#engine/model/once.ts";
import type { Show } from "#engine/model/show.ts";
import {
  gridFault,
  labelRect,
  labelsOn,
  LABEL_GRIDS,
  type LabelGrid,
  type LabelGridId,
} from "#engine/paperwork/labels/grid.ts";
import { stripSheets, USUAL_STRIPS } from "#engine/paperwork/labels/strips.ts";
import { tagFault, tagSheets, tagsOf, USUAL_TAGS, type TagChoice } from "#engine/paperwork/labels/tags.ts";
import { pageSize, type Page, type Sheet } from "#engine/paperwork/page.ts";
import { demo } from "../demo.ts";
import { rig } from "../rigs/build.ts";
import { boxesOf, leaving, overlaps } from "./boxes.ts";

const DEMO = demo();
const analysed = once((show: Show) => analyse(show));

function tagSheet(show: Show, choice: Partial<TagChoice> = {}): Sheet {
  const job = { analysis: analysed(show), paper: "A4", date: "2026-11-26", author: "" } as const;
  const sheets = tagSheets(job, { ...USUAL_TAGS, ...choice });
  expect(sheets).toHaveLength(1);
  return sheets[0]!;
}

const textsOf = ({ svg }: Page): string[] => boxesOf(svg).map(({ text }) => text);

const RIG = rig({
  devices: {
    house: { name: "House", type: "console-24" },
    box: { name: "Box", type: "box-16-8" },
    split: { name: "Split", type: "split-16" },
  },
  cables: [
    "L12: house.link1 - box.a, 50 m",
    "M3: split.direct.5 - box.in.1 x8",
    "Spare: house.link2 - box.b",
  ],
});

describe("[A7] tags tell both ends", () => {
  test("[A7] two for each cable, its own end first", () => {
    const [near, far, multicore, , spare] = tagsOf(RIG, { order: "cable" });
    const [house, box] = [
      { name: "House Link 1", place: "Stage" },
      { name: "Box Link A", place: "Stage" },
    ];
    expect(near).toMatchObject({
      text: "L12",
      digits: "12",
      near: house,
      far: box,
      length: "50 m",
      ways: "1 way",
    });
    expect(far).toMatchObject({ text: "L12", near: box, far: house });
    // Eight ways from jack 5 on are jacks 5–12.
    expect(multicore).toMatchObject({
      digits: "3",
      near: { name: "Split Direct 5–12" },
      far: { name: "Box In 1–8" },
      length: "length unknown",
      ways: "8 ways",
    });
    expect(spare).toMatchObject({ text: "Spare", digits: "" });
  });

  test("[A7] its own end in bold, the other behind “to”, kind, length and ways, the figures' colours", () => {
    const { pages, tables } = tagSheet(RIG);
    const boxes = boxesOf(pages[0]!.svg);
    const from = boxes.findIndex(({ text }) => text === "L12");
    const texts = boxes.slice(from, from + 8);
    expect(texts.map(({ text }) => text)).toEqual([
      "L12",
      "BN",
      "RD",
      "House Link 1",
      "at Stage",
      "to Box Link A",
      "at Stage",
      "Cat 5e, shielded, 50 m",
    ]);
    expect(texts.map(({ bold }) => bold)).toEqual([true, true, true, true, false, false, false, false]);
    expect(boxes.map(({ text }) => text)).toContain("line cable, length unknown, 8 ways");
    expect(tables[0]!.rows[0]!.cells).toEqual([
      "L12",
      "House Link 1",
      "Stage",
      "Box Link A",
      "Stage",
      "Cat 5e, shielded",
      "50 m",
      "1 way",
      "BN RD",
    ]);
  });

  test("[A7] in the order of the cables, or place by place", () => {
    const places = tagsOf(DEMO, { order: "place" }).map(({ near }) => near.place);
    expect(places).toHaveLength(2 * 53);
    expect(places.filter((place, n) => place !== places[n - 1])).toEqual([...new Set(places)]);
    const some = tagsOf(DEMO, { order: "cable", cables: [DEMO.cables[2]!.id] });
    expect(some.map(({ text }) => text)).toEqual(["L3", "L3"]);
  });

  test("[A7] an end that the show doesn't have, a cable without a tag and a tag of many figures are told as they are", () => {
    const [cable] = RIG.cables;
    const show: Show = {
      ...RIG,
      cables: [
        {
          ...cable!,
          id: id<CableId>("x"),
          tag: " ",
          ends: [cable!.ends[0], { ...cable!.ends[1], device: id<DeviceId>("gone") }],
        },
        { ...cable!, tag: "2026112600017" },
      ],
    };
    const [near, far, many] = tagsOf(show, { order: "cable" });
    expect(near).toMatchObject({
      text: "no tag",
      digits: "",
      far: { name: "not in the show: #gone/a/1", place: "" },
    });
    expect(far!.near).toEqual({ name: "not in the show: #gone/a/1", place: "" });
    expect(many!.digits).toBe("");
    expect(textsOf(tagSheet(show).pages[0]!)).toContain("not in the show: #gone/a/1");
  });

  test("[A7] a show without cables has no tags", () => {
    const bare = { ...RIG, cables: [] };
    const job = { analysis: analysed(bare), paper: "A4", date: "", author: "" } as const;
    expect(tagSheets(job, USUAL_TAGS)).toEqual([]);
  });
});

const GRIDS = Object.entries(LABEL_GRIDS) as [LabelGridId, LabelGrid][];

describe("[A8] sheets of labels by size", () => {
  test.each(GRIDS)("[A8] margins, labels and gaps add up to the paper: %s", (name, grid) => {
    const { columns, rows, width, height, left, top, across, down } = grid;
    const page = pageSize(grid.paper, grid.orientation);
    expect(gridFault(grid)).toBeNull();
    // The same margin on both sides, above and below.
    expect(2 * left + (columns - 1) * across + width).toBeCloseTo(page.width, 6);
    expect(2 * top + (rows - 1) * down + height).toBeCloseTo(page.height, 6);
    expect(Math.min(left, top, across - width, down - height)).toBeGreaterThan(-1e-9);
    const told = Number(/(\d+)(?:-gap)?$/.exec(name)![1]);
    expect(columns * rows).toBe(told);
    expect(grid.name.startsWith(`${told} a sheet, `)).toBe(true);
  });

  test("[A8] labels stand row by row", () => {
    // 21 a sheet: 7.25 mm at the left (210 − 3 × 63.5 − 2 × 2.5, halved), 15.15 above (297 − 7 × 38.1, halved).
    const near = (value: number): number => expect.closeTo(value, 6) as number;
    const size = { width: 63.5, height: 38.1 };
    expect(labelRect(LABEL_GRIDS["a4-21"], 0)).toEqual({ x: near(7.25), y: near(15.15), ...size });
    expect(labelRect(LABEL_GRIDS["a4-21"], 4)).toEqual({ x: near(73.25), y: near(53.25), ...size });
    // 30 a sheet: 3/16 in at the left, 1/2 in above, 2 3/4 in from label to label.
    expect(labelRect(LABEL_GRIDS["letter-30"], 29)).toEqual({
      x: near((3 / 16 + 2 * 2.75) * 25.4),
      y: near(9.5 * 25.4),
      width: near(66.675),
      height: near(25.4),
    });
  });

  test.each([1, 5, 21])("[A8] a sheet that is partly used starts at label %i", (startAt) => {
    const { pages } = tagSheet(DEMO, { on: "a4-21", startAt });
    // The check page, then 106 tags on 21 a sheet.
    expect(pages).toHaveLength(1 + Math.ceil((startAt - 1 + 106) / 21));
    const first = boxesOf(pages[1]!.svg).find(({ text }) => text === "L1")!;
    const rect = labelRect(LABEL_GRIDS["a4-21"], startAt - 1);
    expect(first.left).toBeCloseTo(rect.x + 2.5, 2);
    expect(first.top).toBeGreaterThan(rect.y);
    expect(first.bottom).toBeLessThan(rect.y + rect.height);
    const tags = pages.slice(1).flatMap((page) => textsOf(page).filter((text) => text === "L1"));
    expect(tags).toHaveLength(2);
  });

  test("[A8] the check page shows the outline of every label, the measure and what to do", () => {
    const [check] = tagSheet(RIG, { on: "a4-24" }).pages;
    expect(check!.svg.match(/<rect [^>]*width="70" height="37" fill="none"/g)).toHaveLength(24);
    expect(textsOf(check!)).toContain("Measure this: 100 mm. Print at 100 %, not fitted to the page.");
    expect(textsOf(check!)).toContain("Check page: 24 a sheet, 70 × 37 mm, A4");
    expect(textsOf(check!)).toEqual(expect.arrayContaining(["1", "9", "24"]));
  });

  test("[A8] a sheet by its own measures; what can't be is told in one line", () => {
    const own: LabelGrid = {
      name: "flags",
      paper: "A4",
      orientation: "lying",
      columns: 4,
      rows: 5,
      width: 60,
      height: 30,
      left: 10,
      top: 12,
      across: 65,
      down: 35,
    };
    const { pages } = tagSheet(RIG, { on: own, startAt: 20 });
    expect(pages.map(({ width, height }) => [width, height])).toEqual([
      [297, 210],
      [297, 210],
      [297, 210],
    ]);
    const fault = (more: Partial<LabelGrid>): string | null => gridFault({ ...own, ...more });
    expect(fault({})).toBeNull();
    // 10 + 3 × 77 + 60 = 301, 12 + 4 × 42 + 31 = 211.
    expect(fault({ across: 77 })).toBe("The labels are 4.0 mm wider than A4.");
    expect(fault({ down: 42, height: 31 })).toBe("The labels are 1.0 mm higher than A4.");
    expect(fault({ across: 59 })).toBe("The labels lie over each other: the pitch is less than the label.");
    expect(fault({ height: 12 })).toBe("A cable tag needs a label of at least 35 × 19 mm.");
    expect(fault({ rows: 0 })).toMatch(/1 to 100 labels/);
    expect(fault({ rows: 2.5 })).toMatch(/1 to 100 labels/);
    expect(fault({ left: -1 })).toMatch(/lengths in millimetres/);
    expect(fault({ top: Number.NaN })).toMatch(/lengths in millimetres/);
    expect(tagFault({ ...USUAL_TAGS, on: "a4-21", startAt: 22 })).toBe(
      "The sheet has labels 1 to 21: start at one of these.",
    );
    expect(tagFault({ ...USUAL_TAGS, on: "a4-21", startAt: 21 })).toBeNull();
    expect(tagFault({ ...USUAL_TAGS, on: "plain", startAt: 99 })).toBeNull();
  });
});

const LONG: Show = {
  ...DEMO,
  devices: DEMO.devices.map((device) => ({
    ...device,
    name: `${device.name} on the upper landing stage, behind the bar`,
  })),
  places: DEMO.places.map((place) => ({
    ...place,
    name: `${place.name}, Unterhaltungselektronikausstellungshalle`,
  })),
  cables: DEMO.cables.map((cable) => ({ ...cable, tag: `Backup of the main ${cable.tag}` })),
};

test("[Q3] what a field says stands on labels as text and nothing else", () => {
  const hostile = `</text><script>alert(1)</script>" onload='x' \u0007 \ud800`;
  const show: Show = {
    ...DEMO,
    title: hostile,
    devices: DEMO.devices.map((device) => ({ ...device, name: hostile })),
    places: DEMO.places.map((place) => ({ ...place, name: hostile })),
    cables: DEMO.cables.map((cable) => ({ ...cable, tag: hostile })),
    sources: DEMO.sources.map((source) => ({ ...source, name: hostile })),
    mixes: DEMO.mixes.map((mix) => ({ ...mix, name: hostile })),
    wants: DEMO.wants.map((want) => ({ ...want, name: hostile })),
  };
  const job = { analysis: analysed(show), paper: "A4", date: hostile, author: hostile } as const;
  const sheets = [
    ...stripSheets(job, USUAL_STRIPS),
    ...tagSheets(job, USUAL_TAGS),
    ...tagSheets(job, { ...USUAL_TAGS, on: "a4-14" }),
  ];
  const known = new Set(["svg", "title", "rect", "path", "g", "text", "line"]);
  for (const { svg } of sheets.flatMap(({ pages }) => pages)) {
    const elements = [...svg.matchAll(/<([a-z]+)/gi)].map(([, name]) => name!);
    expect(elements.filter((name) => !known.has(name))).toEqual([]);
    for (const sign of [" onload='x", "\u0007", "\ud800"]) expect(svg).not.toContain(sign);
  }
});

describe("[A9] tags are whole", () => {
  test.each(GRIDS)(
    "[A9] no text stands on another, leaves its label or is under 7 points: %s",
    (on, grid) => {
      for (const show of [DEMO, LONG]) {
        const { pages } = tagSheet(show, { on });
        for (const [n, page] of pages.entries()) {
          const boxes = boxesOf(page.svg);
          expect(overlaps(boxes)).toEqual([]);
          for (const { points, text, left, right } of boxes) {
            expect(points, text).toBeGreaterThan(6.99);
            // Printers leave 5 mm white.
            expect(left, text).toBeGreaterThan(4.9);
            expect(right, text).toBeLessThan(page.width - 4.9);
          }
          if (n === 0) continue;
          for (let label = 0; label < labelsOn(grid); label++) {
            expect(leaving(boxes, labelRect(grid, label))).toEqual([]);
          }
        }
      }
    },
  );

  test("[A9] nor on plain paper", () => {
    for (const { svg } of tagSheet(LONG).pages) expect(overlaps(boxesOf(svg))).toEqual([]);
  });

  test("[A9] nothing of the demo's tags is shortened or left out on 21, 24 and 14 a sheet and on plain paper", () => {
    for (const on of ["a4-21", "a4-24", "a4-24-gap", "a4-14", "plain"] as const) {
      const texts = tagSheet(DEMO, { on }).pages.flatMap(textsOf);
      expect(texts.filter((text) => text.includes("…"))).toEqual([]);
      expect(texts.filter((text) => text === "Cat 5e, shielded, 75 m")).toHaveLength(2);
    }
  });

  test("[A9] on the smallest label both ends stand, shortened in the middle", () => {
    const texts = tagSheet(DEMO, { on: "a4-65" }).pages.flatMap(textsOf);
    expect(texts).toContain("Front of house Link 1");
    expect(texts).toContain("to Stage left Link A");
    expect(texts.some((text) => /^Loud.+….+In 1–8$/.test(text))).toBe(true);
  });
});
