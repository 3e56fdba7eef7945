/** Rules P6 to P13: the signal-flow diagram laid out and drawn, as the pages come out. */
import Elk from "elkjs/lib/elk.bundled.js";
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { nodeSize } from "#engine/layout/geometry.ts";
import { id, type CableId, type DeviceId, type PlaceId, type TypeId } from "#engine/model/ids.ts";
import { PAPERS, type Cable, type CableEnd, type Paper, type Show } from "#engine/model/show.ts";
import { remembering, type ElkRequest } from "#engine/paperwork/signal-flow/elk.ts";
import { PT, SMALLEST, type PaperJob, type Sheet } from "#engine/paperwork/page.ts";
import { diagramSheets, jackDiagram, signalNamed, sourceDiagram } from "#engine/paperwork/sheets/diagram.ts";
import { diagramGraph, diagramSheet } from "#engine/paperwork/signal-flow/draw.ts";
import { layOut, type PlacedGraph } from "#engine/paperwork/signal-flow/pages.ts";
import type { DiagramChoice } from "#engine/paperwork/signal-flow/plan.ts";
import type { DiagramScope } from "#engine/paperwork/signal-flow/scope.ts";
import { paperWidth } from "#engine/paperwork/type.ts";
import { findTerminal, locate, numbersIn, sideName } from "#engine/trace/terminal.ts";
import { ownerOf } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { group } from "#engine/catalog/parts.ts";
import { benchRig } from "../bench/rigs.ts";
import { randomRig } from "../property/random-rig.ts";
import { demo, STARTERS } from "./demo.ts";
import { rig } from "./rigs/build.ts";

const elk = new Elk();
/** The library on a busy machine. */
const SLOW = 120_000;

const jobOf = (show: Show, paper: Paper = "A3"): PaperJob => ({
  analysis: analyse(show),
  paper,
  date: "2026-11-26",
  author: "A. Tech",
});

const RIG: DiagramScope = { kind: "rig" };

const known = new Map<string, ReturnType<typeof make>>();

/** The diagram of a show as its file has it, made once for all tests. */
function made(...asked: Parameters<typeof make>): ReturnType<typeof make> {
  const key = JSON.stringify(asked);
  let diagram = known.get(key);
  if (!diagram) known.set(key, (diagram = make(...asked)));
  return diagram;
}

async function make(
  show: Show,
  scope: DiagramScope = RIG,
  paper: Paper = "A3",
  look: Partial<DiagramChoice> = {},
): Promise<{ readonly sheet: Sheet; readonly placed: PlacedGraph }> {
  const job = jobOf(show, paper);
  const placed = await layOut(
    diagramGraph(job, { scope, arrangement: "tidy", delays: false, ...look }),
    look.arrangement === "canvas" ? null : elk,
  );
  return { placed, sheet: diagramSheet(job, "diagram", placed) };
}

interface Words {
  readonly text: string;
  readonly points: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const plain = (text: string): string =>
  text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");

/** The boxes of all texts of a page, with the ascent and descent of the paper typeface (hhea: 0.969 and 0.241 em). */
function wordsOf(svg: string): readonly Words[] {
  return [...svg.matchAll(/<text ([^>]*)>([^<]*)<\/text>/g)].map(([, attributes, inside]) => {
    const value = (name: string): string | undefined =>
      new RegExp(`${name}="([^"]*)"`).exec(attributes!)?.[1];
    const size = Number(value("font-size"));
    const text = plain(inside!);
    const width = paperWidth(text, size / PT, value("font-weight") === "700");
    const anchor = value("text-anchor") ?? "start";
    const x = Number(value("(?<!\\S)x")) - (anchor === "end" ? width : anchor === "middle" ? width / 2 : 0);
    return {
      text,
      points: size / PT,
      x,
      y: Number(value("(?<!\\S)y")) - 0.969 * size,
      width,
      height: 1.21 * size,
    };
  });
}

const textsOf = (sheet: Sheet): readonly string[] =>
  sheet.pages.flatMap(({ svg }) => wordsOf(svg).map(({ text }) => text));

/** Pairs of texts that lie on each other, and texts that leave the page. */
function clashes(sheet: Sheet): readonly string[] {
  // Positions and sizes are written to a hundredth of a millimetre.
  const slack = 0.05;
  return sheet.pages.flatMap(({ svg, width, height }, page) => {
    const words = wordsOf(svg);
    const found: string[] = [];
    words.forEach((a, n) => {
      if (a.x < 5 || a.y < 5 || a.x + a.width > width - 5 || a.y + a.height > height - 5)
        found.push(`page ${page + 1}: "${a.text}" at the edge`);
      for (const b of words.slice(n + 1)) {
        if (
          a.x + slack < b.x + b.width &&
          b.x + slack < a.x + a.width &&
          a.y + slack < b.y + b.height &&
          b.y + slack < a.y + a.height
        )
          found.push(`page ${page + 1}: "${a.text}" on "${b.text}"`);
      }
    });
    return found;
  });
}

/** Stretches of cables that run through a box or what is written beside it, or that are neither level nor upright. */
function strays({ pages }: PlacedGraph): readonly string[] {
  return pages.flatMap(({ shapes, cables }, page) =>
    cables.flatMap(({ link, points }) => {
      const found: string[] = points.length < 2 ? [`cable ${link.tag} has no way`] : [];
      points.slice(1).forEach((to, n) => {
        const from = points[n]!;
        const [left, right] = [Math.min(from.x, to.x), Math.max(from.x, to.x)];
        const [top, bottom] = [Math.min(from.y, to.y), Math.max(from.y, to.y)];
        if (right - left > 0.05 && bottom - top > 0.05) found.push(`page ${page + 1}: ${link.tag} slants`);
        for (const { at, shape } of shapes) {
          const through =
            left < at.x + shape.width - 0.05 &&
            right > at.x + 0.05 &&
            top < at.y + shape.height - 0.05 &&
            bottom > at.y + 0.05;
          if (through) found.push(`page ${page + 1}: ${link.tag} through ${shape.item.name}`);
        }
      });
      return found;
    }),
  );
}

/** Boxes, with what is written beside them, that lie on each other or outside of the room on the page. */
function stacked({ pages, plan: { area } }: PlacedGraph): readonly string[] {
  return pages.flatMap(({ shapes, width, height }, page) => [
    ...(width > area.width + 0.01 || height > area.height + 0.01 ? [`page ${page + 1} is too large`] : []),
    ...shapes.flatMap((a, n) =>
      shapes
        .slice(n + 1)
        .filter(
          (b) =>
            a.at.x + 0.02 < b.at.x + b.shape.width &&
            b.at.x + 0.02 < a.at.x + a.shape.width &&
            a.at.y + 0.02 < b.at.y + b.shape.height &&
            b.at.y + 0.02 < a.at.y + a.shape.height,
        )
        .map((b) => `page ${page + 1}: ${a.shape.item.name} on ${b.shape.item.name}`),
    ),
  ]);
}

/** Cables that are neither drawn from box to box nor end at a box with words that say where they go on. */
function lost(show: Show, placed: PlacedGraph): readonly string[] {
  const drawn = new Set(placed.pages.flatMap(({ cables }) => cables.map(({ link }) => link.cable)));
  const marked = new Set(
    placed.pages.flatMap(({ shapes }) =>
      shapes.flatMap(({ shape }) => shape.stubs.filter((stub) => stub.marked).map(({ plug }) => plug.cable)),
    ),
  );
  return show.cables.filter((_, n) => !drawn.has(n) && !marked.has(n)).map(({ tag }) => tag);
}

const SHOWS: readonly (readonly [string, () => Show])[] = [
  ["the demo", () => demo()],
  ["the faults", () => demo("quayside-faults")],
  ...STARTERS.map((name) => [name, () => demo(name)] as const),
  ["the club rig", () => benchRig("club")],
  ["the festival rig", () => benchRig("festival")],
];

describe.each(SHOWS)("the diagram of %s", (_, show) => {
  test.each(["A4", "A3"] as const)(
    "[P7] on %s no cable crosses a box, no text lies on another, nothing is under 7 points",
    { timeout: SLOW },
    async (paper) => {
      const { sheet, placed } = await made(show(), RIG, paper, paper === "A4" ? { delays: true } : {});
      expect(strays(placed)).toEqual([]);
      expect(stacked(placed)).toEqual([]);
      expect(clashes(sheet)).toEqual([]);
      const words = sheet.pages.flatMap(({ svg }) => wordsOf(svg));
      // A size is written to a hundredth of a millimetre.
      expect(words.filter(({ points }) => points < SMALLEST - 0.01)).toEqual([]);
    },
  );

  test(
    "[P6] every device has a box or a row, every cable is drawn or marked",
    { timeout: SLOW },
    async () => {
      const rig = show();
      const { sheet, placed } = await made(rig, RIG, "A4", { delays: true });
      const shown = placed.pages.flatMap(({ shapes }) => shapes.flatMap(({ shape }) => shape.item.devices));
      expect(new Set(shown)).toEqual(new Set(rig.devices.keys()));
      expect(lost(rig, placed)).toEqual([]);
      const texts = textsOf(sheet).join("\n");
      for (const { name } of rig.devices) expect(texts).toContain(name);
    },
  );

  test("[P12] as arranged on the canvas it holds to the same", { timeout: SLOW }, async () => {
    const rig = show();
    const { sheet, placed } = await made(rig, RIG, "A3", { arrangement: "canvas" });
    expect(strays(placed)).toEqual([]);
    expect(stacked(placed)).toEqual([]);
    expect(clashes(sheet)).toEqual([]);
    expect(lost(rig, placed)).toEqual([]);
  });
});

describe("[P2] a graph that was laid out before", () => {
  test("[P2] isn't asked for again, and one that failed fails again", async () => {
    let asked = 0;
    const graph = (id: string): ElkRequest => ({ id, layoutOptions: {}, children: [], edges: [] });
    const remembered = remembering({
      layout: ({ id }) => {
        asked++;
        return id === "bad" ? Promise.reject(new Error("no way")) : Promise.resolve({ width: asked });
      },
    });
    expect(await remembered.layout(graph("a"))).toEqual({ width: 1 });
    expect(await remembered.layout(graph("b"))).toEqual({ width: 2 });
    expect(await remembered.layout(graph("a"))).toEqual({ width: 1 });
    for (let n = 0; n < 2; n++) await expect(remembered.layout(graph("bad"))).rejects.toThrow("no way");
    expect(asked).toBe(3);
  });
});

describe("rigs that nobody would build", () => {
  test.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])(
    "[P7] random rig %i holds to the same",
    { timeout: SLOW },
    async (seed) => {
      const { show } = randomRig(seed);
      for (const arrangement of ["tidy", "canvas"] as const) {
        const { sheet, placed } = await made(show, RIG, "A4", { arrangement, delays: true });
        expect(strays(placed)).toEqual([]);
        expect(stacked(placed)).toEqual([]);
        expect(clashes(sheet)).toEqual([]);
        expect(lost(show, placed)).toEqual([]);
      }
    },
  );

  test(
    "[P6] cables from a device to itself, to nothing, and a type that is missing",
    { timeout: SLOW },
    async () => {
      const base = demo("starter-club");
      const [first] = base.cables;
      const [house] = base.devices;
      const end = (device: string, name: string): CableEnd => ({
        device: id<DeviceId>(device),
        group: group(name),
        first: 1,
      });
      const cable = (name: string, ends: readonly [CableEnd, CableEnd]): Cable => ({
        ...first!,
        id: id<CableId>(name),
        tag: name,
        ends,
      });
      const show: Show = {
        ...base,
        devices: [
          ...base.devices,
          { ...house!, id: id<DeviceId>("odd"), name: "Odd one", type: id<TypeId>("none"), routing: [] },
        ],
        cables: [
          ...base.cables,
          cable("SELF", [end(house!.id, "link1"), end(house!.id, "stage")]),
          cable("HALF", [end(house!.id, "gone"), end("gone", "a")]),
          cable("LOOSE", [end("gone", "a"), end("gone too", "b")]),
          cable("ODD", [end("odd", "x"), end(house!.id, "link2")]),
        ],
      };
      const { sheet, placed } = await made(show, RIG, "A3");
      expect(strays(placed)).toEqual([]);
      expect(clashes(sheet)).toEqual([]);
      expect(lost(show, placed)).toEqual(["LOOSE"]);
      const texts = textsOf(sheet);
      for (const words of ["SELF", "HALF", "LOOSE", "ODD", "Odd one", "→ a device that isn't in the show"])
        expect(texts).toContain(words);
      expect(texts.some((text) => text.includes("type not in the show"))).toBe(true);
      expect(texts).toContain("Cables plugged in nothing that the show has");
    },
  );
});

describe("what stands on the diagram", () => {
  test(
    "[P8] a page's mark names the page that has the same mark and the other end",
    { timeout: SLOW },
    async () => {
      const show = demo();
      const { sheet, placed } = await made(show, RIG, "A4");
      const devices = new Map(show.devices.map((device, n) => [device.id, n]));
      let marks = 0;
      placed.pages.forEach((page, n) => {
        for (const { shape } of page.shapes) {
          for (const { plug, marked } of shape.stubs) {
            if (!marked) continue;
            const far = show.cables[plug.cable]!.ends[plug.end === 0 ? 1 : 0];
            const there = placed.pages.findIndex(({ shapes }) =>
              shapes.some((other) => other.shape.item.devices.includes(devices.get(far.device)!)),
            );
            const name = show.devices[devices.get(far.device)!]!.name;
            const words = wordsOf(sheet.pages[n]!.svg).map(({ text }) => text);
            const told = words.find((text) => text.startsWith(`→ page ${there + 1}: ${name}`));
            expect(told, `${show.cables[plug.cable]!.tag} on page ${n + 1}`).toBeDefined();
            marks++;
          }
        }
      });
      // Each mark stands twice, at both ends of its cable.
      expect(marks).toBeGreaterThan(2);
      const names = sheet.pages.flatMap(({ svg }) =>
        wordsOf(svg)
          .map(({ text }) => text)
          .filter((text) => /^K\d+$/.test(text)),
      );
      for (const name of new Set(names)) expect(names.filter((each) => each === name)).toHaveLength(2);
    },
  );

  test(
    "[P9] the demo's stage box tells whose slots and jacks are whose, as ranges",
    { timeout: SLOW },
    async () => {
      const show = demo();
      const { sheet } = await made(show, {
        kind: "place",
        place: show.places.find(({ name }) => name === "Stage left")!.id,
      });
      const page = wordsOf(sheet.pages[0]!.svg);
      // By its routing: front of house sends 1–8 and hands monitors' 33–48 on; jacks 9–12 are the wedges of monitors.
      const head = page.find(({ text }) => text === "Link A in")!;
      const line = page.filter(
        ({ y, x, text }) =>
          Math.abs(y - head.y) < 0.1 && x >= head.x && text !== "Link A in" && x < head.x + 60,
      );
      expect(line.map(({ text }) => text)).toEqual(["F", "1–8", "M", "33–48"]);
      const texts = page.map(({ text }) => text);
      for (const words of ["Stage left", "Stage box 32 in, 16 out", "Split", "Loudspeaker processor"])
        expect(texts).toContain(words);
      expect(texts.some((words) => words.includes("mode: Three consoles"))).toBe(true);
    },
  );

  test(
    "[P9] what a row says of each wanted jack is what the jack's trace says",
    { timeout: SLOW },
    async () => {
      const show = demo();
      const analysis = analyse(show);
      const { placed } = await made(show, RIG, "A3");
      const rows = placed.pages.flatMap(({ shapes }) =>
        shapes.flatMap(({ shape: { item } }) =>
          item.stack ? [] : item.rows.map((row) => ({ device: show.devices[item.devices[0]!]!.id, row })),
        ),
      );
      let looked = 0;
      for (const { to } of show.wants) {
        const terminal = findTerminal(analysis.wiring, to)!;
        const { span, number } = locate(analysis.wiring, terminal);
        const told = rows
          .filter(({ device }) => device === to.device)
          .flatMap(({ row }) => row.told.filter(({ label }) => label === sideName(span)))
          .flatMap(({ parts }) => parts.filter(({ numbers }) => numbersIn(numbers, 1000)?.includes(number)));
        if (span.side !== "jack" || span.bank.perJack > 1 || told.length === 0) continue;
        looked++;
        expect(told).toHaveLength(1);
        const owner = ownerOf(traceOf(analysis.wiring, terminal));
        expect(told[0]!.owners.map((index) => show.devices[index]!.id)).toEqual(
          owner === null ? [] : [owner],
        );
      }
      // Twelve are what a reader of the paper would look up; here it is all that stand in a box of their own.
      expect(looked).toBeGreaterThan(12);
    },
  );

  test("[P9] a cable's tag stands with kind and length, in the show's units", { timeout: SLOW }, async () => {
    const show = demo();
    const metric = textsOf((await made(show, RIG, "A3")).sheet);
    expect(metric).toContain("L1");
    expect(metric).toContain("Cat 5e sh., 75 m");
    // 75 m are 246.06 ft: 1 ft is 0.3048 m exactly (international foot, 1959).
    const imperial: Show = { ...show, settings: { ...show.settings, units: "imperial" } };
    expect(textsOf((await made(imperial, RIG, "A3")).sheet)).toContain("Cat 5e sh., 246 ft");
  });

  test(
    "[P10] the demo's twelve wedges are two boxes, each row with its wedge",
    { timeout: SLOW },
    async () => {
      const texts = textsOf((await made(demo(), RIG)).sheet);
      expect(texts).toContain("4 × Powered wedge");
      expect(texts).toContain("8 × Powered wedge");
      for (let n = 1; n <= 12; n++) expect(texts).toContain(`Wedge ${n}`);
    },
  );

  test(
    "[P13] delays stand at jacks where they are asked for, assumed ones marked and counted",
    { timeout: SLOW },
    async () => {
      const show = demo();
      const without = textsOf((await made(show, RIG)).sheet);
      expect(without.filter((text) => / ms\*?$/.test(text))).toEqual([]);
      const { sheet } = await made(show, RIG, "A3", { delays: true });
      for (const { svg } of sheet.pages) {
        const words = wordsOf(svg).map(({ text }) => text);
        const marked = words.filter((text) => /^[\d.–]+ ms\*$/.test(text)).length;
        const told = words.find((text) => text.includes("on this page, to be confirmed"));
        expect(told ? Number(/^\* (\d+)/.exec(told)![1]) : 0).toBe(marked);
      }
    },
  );

  test("[P6] shortened names stand in full on the last page", { timeout: SLOW }, async () => {
    const name =
      "Stage left upper riser split box of the second percussion section with the very long name, spare";
    const base = demo("starter-club");
    const show: Show = {
      ...base,
      devices: base.devices.map((device, n) => (n === 2 ? { ...device, name } : device)),
    };
    const { sheet, placed } = await made(show, RIG, "A4");
    expect(clashes(sheet)).toEqual([]);
    expect(sheet.pages).toHaveLength(placed.pages.length + 1);
    const last = wordsOf(sheet.pages.at(-1)!.svg).map(({ text }) => text);
    expect(last.join(" ")).toContain(name);
    expect(sheet.tables[0]!.rows.map(({ cells }) => cells[1])).toContain(name);
  });
});

describe("what the diagram is of", () => {
  const show = demo();
  const device = (name: string): DeviceId => show.devices.find((each) => each.name === name)!.id;
  const namesIn = (placed: PlacedGraph): readonly string[] =>
    placed.plan.items.flatMap(({ devices }) => devices.map((index) => show.devices[index]!.name)).sort();
  const tagsIn = (placed: PlacedGraph): readonly string[] => placed.plan.links.map(({ tag }) => tag).sort();

  test(
    "[P11] a console's view has the jacks that it owns and every device on the way",
    { timeout: SLOW },
    async () => {
      const { placed, sheet } = await made(show, { kind: "console", device: device("Truck") });
      expect(lost({ ...show, cables: [] }, placed)).toEqual([]);
      // The truck's mixes go by its interface and the stage interface to the box's outs 13–16 with the presenter's ears,
      // and by link 2 to its own box.
      expect(namesIn(placed)).toEqual(
        ["Presenter ears", "Stage interface", "Stage left", "Truck", "Truck box", "Truck interface"].sort(),
      );
      expect(tagsIn(placed)).toEqual(["C2", "E9", "L7", "L8", "L9"]);
      expect(textsOf(sheet)).toContain("Signal flow of Truck");
    },
  );

  test(
    "[P11] a place's view has its devices, and words for each cable that leaves it",
    { timeout: SLOW },
    async () => {
      const place = show.places.find(({ name }) => name === "In-ear rack")!;
      const { placed, sheet } = await made(show, { kind: "place", place: place.id });
      expect(namesIn(placed)).toEqual(
        show.devices
          .filter((each) => each.place === place.id)
          .map(({ name }) => name)
          .sort(),
      );
      expect(tagsIn(placed)).toEqual(["E1", "E2", "E3", "E4", "E5", "E6", "E7", "E8", "P1"]);
      expect(textsOf(sheet)).toContain("→ Stage left, Monitor bus");
    },
  );

  test(
    "[P11] one signal from a jack: its console with what it mixes, the way there, and no other device",
    { timeout: SLOW },
    async () => {
      const analysis = analyse(show);
      const entry = jackDiagram(analysis, { device: device("Stage left"), group: group("out"), number: 9 });
      const sheet = await entry.make(jobOf(show), { elk: () => Promise.resolve(elk) });
      const texts = textsOf(sheet);
      // Monitors' link 1 to link B of the box, patched to out 9, wedge 1.
      for (const name of ["Monitors", "Stage left", "Wedge 1", "L5", "W1"]) expect(texts).toContain(name);
      // Its mix takes vocals, keys and speech: piano and accordion come from Band B over Band A and front of house.
      for (const name of ["Split", "Band B", "Band A", "L4", "L3", "L2"]) expect(texts).toContain(name);
      for (const name of ["Truck box", "L1", "W2"]) expect(texts).not.toContain(name);
    },
  );

  test(
    "[P11] one signal from a jack: the mixes behind its tap are opened back to their sources",
    { timeout: SLOW },
    async () => {
      /*
       *   Kick, Snare, Flute, Vocal → in 1, 2, 4, 9 Box a ──L1── link1 House link2 ──L2── a Side box
       *   Wedge ──X1── out 3 Box ← link1 3 ← mix 3 < ch 1, 2 (pre), 9          House out 1 ← mtx 1 < mix 3
       */
      const small = rig({
        devices: {
          house: {
            name: "House",
            type: "console-24",
            set: ["link1 1 x8 < mix 1", "ch 1 x16 < link1 1", "out 1 < mtx 1"],
          },
          box: { name: "Box", type: "box-16-8", mode: "one" },
          side: { name: "Side box", type: "box-16-8", mode: "one" },
          wedge: { name: "Wedge", type: "wedge" },
        },
        cables: [
          "L1: house.link1 - box.a, 50 m",
          "L2: house.link2 - side.a, 50 m",
          "X1: box.out.3 - wedge.in.1, 10 m",
        ],
        sources: ["Kick: box.in.1", "Snare: box.in.2", "Flute: box.in.4", "Vocal: box.in.9"],
        mixes: ["Band: house.mix.3 < ch 1 pre, ch 2 pre, ch 9", "Zone: house.mtx.1 < mix 3"],
      });
      const analysis = analyse(small);
      const tools = { elk: () => Promise.resolve(elk) };
      const wedge = signalNamed(analysis, "Box Out 3");
      if (!wedge.ok) throw new Error(wedge.error.wanted);
      const sheet = await wedge.value.make(jobOf(small), tools);
      const texts = textsOf(sheet);
      for (const name of ["House", "Box", "Wedge", "L1", "X1"]) expect(texts).toContain(name);
      for (const name of ["Side box", "L2"]) expect(texts).not.toContain(name);
      // Flute, in 4, is on a channel and in no mix.
      // Ranges part at their commas. They stand at the box's jacks and link, the console's link and its channels.
      for (const part of ["1–2,", "9"]) expect(texts.filter((text) => text === part)).toHaveLength(4);
      expect(texts.some((text) => text.startsWith("Channel, Mix: what a console mixes"))).toBe(true);
      expect(sheet.tables.slice(1).map(({ title, rows }) => [title, rows.map(({ cells }) => cells)])).toEqual(
        [
          [
            "What goes into House Mix 3, Band",
            [
              ["Channel 1–2, pre", "Kick, Snare"],
              ["Channel 9, post", "Vocal"],
            ],
          ],
        ],
      );
      // The matrix takes the mix, which is opened too; the wedge hangs on the mix, not on the matrix.
      const zone = signalNamed(analysis, "House Local out 1");
      if (!zone.ok) throw new Error(zone.error.wanted);
      const other = await zone.value.make(jobOf(small), tools);
      expect(textsOf(other)).not.toContain("Wedge");
      expect(other.tables.slice(1).map(({ title, rows }) => [title, rows[0]?.cells])).toEqual([
        ["What goes into House Matrix 1, Zone", ["Mix 3, post", "Band"]],
        ["What goes into House Mix 3, Band", ["Channel 1–2, pre", "Kick, Snare"]],
      ]);
      const none = signalNamed(analysis, "Box Out 33");
      expect(none.ok ? null : none.error.nearest).toContain("Box Out 3");
    },
  );

  test("[P11] one signal from a source: all its branches", { timeout: SLOW }, async () => {
    const source = show.sources.find(({ name }) => name === "Lead vocal")!;
    const { placed } = await made(show, { kind: "source", source: source.id });
    const names = namesIn(placed);
    // The vocal stands on the split, which two boxes of two consoles take; the box's front-end feeds three consoles.
    for (const name of [
      "Split",
      "Stage left",
      "Truck box",
      "Front of house",
      "Monitors",
      "Truck",
      "Recorder",
    ])
      expect(names).toContain(name);
    expect(sourceDiagram(analyse(show), source.id).title).toBe("Signal flow of Lead vocal");
  });

  test("[P11] what isn't in the show is said, on a page", async () => {
    for (const scope of [
      { kind: "console", device: id<DeviceId>("none") },
      { kind: "place", place: id<PlaceId>("none") },
      { kind: "jack", at: { device: device("Truck"), group: group("none"), number: 1 } },
    ] as const) {
      const { sheet } = await made(show, scope);
      expect(sheet.pages).toHaveLength(1);
      expect(textsOf(sheet).some((text) => text.endsWith("isn't in the show."))).toBe(true);
    }
    const blank = demo("starter-club");
    const { sheet } = await made({
      ...blank,
      devices: [],
      cables: [],
      sources: [],
      channels: [],
      mixes: [],
      wants: [],
    });
    expect(textsOf(sheet)).toContain("There is nothing to show here.");
  });

  test("[P11] a show offers the whole rig, each console and each place that has devices", () => {
    const entries = diagramSheets(analyse(show));
    expect(entries.map(({ id: each }) => each).slice(0, 4)).toEqual([
      "diagram",
      "diagram/of-front-of-house",
      "diagram/of-monitors",
      "diagram/of-truck",
    ]);
    expect(new Set(entries.map(({ id: each }) => each)).size).toBe(entries.length);
    // Three consoles and nine places.
    expect(entries).toHaveLength(13);
  });
});

describe("the arrangement", () => {
  test(
    "[P12] on the canvas's arrangement what stands left of another stays left of it",
    { timeout: SLOW },
    async () => {
      const show = demo("starter-festival");
      const { placed } = await made(show, RIG, "A3", { arrangement: "canvas" });
      const types = new Map(show.types.map((type) => [type.id, type]));
      const pairs = placed.pages.flatMap(({ shapes }) =>
        shapes.flatMap((a, n) => shapes.slice(n + 1).map((b) => [a, b] as const)),
      );
      let held = 0;
      for (const [a, b] of pairs) {
        const [first, second] = [a, b].map(({ shape }) => show.devices[shape.item.devices[0]!]!);
        const size = nodeSize(types.get(first!.type)!);
        // Wholly left of the other, and at the same height: what a reader would call "left of it".
        const beside =
          first!.at.x + size.width <= second!.at.x && Math.abs(first!.at.y - second!.at.y) < size.height / 2;
        if (!beside) continue;
        held++;
        expect(a.at.x + a.shape.width, `${first!.name} and ${second!.name}`).toBeLessThanOrEqual(b.at.x);
      }
      expect(held).toBeGreaterThan(0);
    },
  );

  test("[P2] the same show and date give the same bytes", { timeout: SLOW }, async () => {
    const first = (await make(demo(), RIG, "A4")).sheet;
    const second = (await make(demo(), RIG, "A4")).sheet;
    expect(second.pages.map(({ svg }) => svg)).toEqual(first.pages.map(({ svg }) => svg));
  });

  test("[P6] every paper has its own room", { timeout: SLOW }, async () => {
    for (const paper of PAPERS) {
      const { sheet, placed } = await made(demo("starter-theatre"), RIG, paper);
      expect(stacked(placed)).toEqual([]);
      expect(clashes(sheet)).toEqual([]);
    }
  });

  test("[P3] names that would be markup are text", { timeout: SLOW }, async () => {
    const base = demo("starter-club");
    const evil = `"><script>x</script>&`;
    const show: Show = {
      ...base,
      title: evil,
      devices: base.devices.map((each) => ({ ...each, name: evil })),
      cables: base.cables.map((each) => ({ ...each, tag: evil })),
      places: base.places.map((each) => ({ ...each, name: evil })),
    };
    const { sheet } = await made(show, RIG, "A4");
    for (const { svg } of sheet.pages) {
      expect(svg).not.toContain("<script");
      expect(svg.replaceAll(/&(amp|lt|gt|quot|#39);/g, "")).not.toContain("&");
    }
  });
});
