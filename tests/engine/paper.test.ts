/** Rules P1 to P5: the signal-flow diagram as SVG. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { nodeSize } from "#engine/layout/geometry.ts";
import { PAPERS, type Show } from "#engine/model/show.ts";
import { hatchPath } from "#engine/paperwork/hatch.ts";
import { HATCHES } from "#engine/paperwork/owner-marks.ts";
import { diagramHtml, diagramSvg } from "#engine/paperwork/diagram.ts";
import { rig } from "./rigs/build.ts";
import { demo } from "./demo.ts";

const DATE = "2026-11-25";

const HOSTILE = `</text><script>alert(1)</script>" onload='x' & \u0007 \ud800`;

/** Throws unless every element is closed in turn and no text holds a bare sign: what an XML parser insists on. */
function elementsOf(svg: string): readonly string[] {
  const open: string[] = [];
  const seen: string[] = [];
  let at = 0;
  const tag = /<(\/?)([a-zA-Z]+)((?:\s+[a-zA-Z][\w:-]*="[^"<]*")*)(\/?)>/y;
  while (at < svg.length) {
    if (svg[at] !== "<") {
      const end = svg.indexOf("<", at) === -1 ? svg.length : svg.indexOf("<", at);
      const words = svg.slice(at, end);
      if (/>|&(?!(?:amp|lt|gt|quot|#39);)/.test(words)) throw new Error(`a bare sign in "${words}"`);
      at = end;
      continue;
    }
    tag.lastIndex = at;
    const found = tag.exec(svg);
    if (!found) throw new Error(`not an element: ${svg.slice(at, at + 60)}`);
    const [all, closing, name, , alone] = found;
    if (closing) {
      if (open.pop() !== name) throw new Error(`</${name}> closes nothing`);
    } else {
      seen.push(name!);
      if (!alone) open.push(name!);
    }
    at += all.length;
  }
  if (open.length > 0) throw new Error(`left open: ${open.join(", ")}`);
  return seen;
}

const textsOf = (svg: string): readonly string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, words]) => words!);

describe("the signal-flow diagram", () => {
  const show = demo();
  const svg = diagramSvg(analyse(show), DATE);

  test("[P1] every place, device and cable of the demo stands on the sheet", () => {
    elementsOf(svg);
    const texts = textsOf(svg);
    for (const { name } of [...show.places, ...show.devices]) {
      expect(texts, name).toContain(name.replaceAll("'", "&#39;"));
    }
    const ways = [...svg.matchAll(/<path d="M[^"]+" fill="none" stroke="#[0-9a-f]{6}" stroke-width/g)];
    // Printers' engines unfold patterns into an object for each tile; the hatches are lines.
    expect(svg).not.toContain("<pattern");
    expect(ways).toHaveLength(show.cables.length);
  });

  test("[P1] the sheet has the paper's size: A4 and A3 by ISO 216, Letter 8.5 × 11 in, Tabloid 11 × 17 in", () => {
    const sizes = PAPERS.map((paper) => {
      const page = diagramSvg(analyse({ ...show, settings: { ...show.settings, paper } }), DATE);
      return /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(page)!.slice(1, 3).map(Number);
    });
    const inch = 25.4;
    expect(sizes[0]).toEqual([297, 210]);
    expect(sizes[1]).toEqual([420, 297]);
    expect(sizes[2]![0]).toBeCloseTo(11 * inch, 6);
    expect(sizes[2]![1]).toBeCloseTo(8.5 * inch, 6);
    expect(sizes[3]![0]).toBeCloseTo(17 * inch, 6);
    expect(sizes[3]![1]).toBeCloseTo(11 * inch, 6);
  });

  test("[P1] a blank show has a sheet too", () => {
    const blank = { ...rig({ devices: {} }), places: [] };
    expect(textsOf(diagramSvg(analyse(blank), DATE))).toContain("Rig: signal flow");
  });

  test("[P2] the same show and date give the same bytes, another date others", () => {
    expect(diagramSvg(analyse(demo()), DATE)).toBe(svg);
    expect(diagramSvg(analyse(demo()), "2026-11-26")).not.toBe(svg);
  });

  test("[P3] a hostile text in any field stays text", () => {
    const hostile: Show = {
      ...show,
      title: HOSTILE,
      venue: HOSTILE,
      places: show.places.map((place) => ({ ...place, name: HOSTILE })),
      devices: show.devices.map((device) => ({ ...device, name: HOSTILE })),
      cables: show.cables.map((cable) => ({ ...cable, tag: HOSTILE.slice(0, 20) })),
      types: show.types.map((type) => ({
        ...type,
        modes: type.modes.map((mode) => ({ ...mode, name: HOSTILE })),
        banks: type.banks.map((bank) => ({ ...bank, name: HOSTILE })),
      })),
      revisions: [{ name: HOSTILE, date: HOSTILE, note: "" }],
    };
    const analysis = analyse(hostile);
    const page = diagramSvg(analysis, HOSTILE);
    const known = new Set(["svg", "title", "rect", "path", "g", "text", "line"]);
    expect(elementsOf(page).filter((name) => !known.has(name))).toEqual([]);
    // The bell and the half of a surrogate pair of the hostile text: XML has no way to write either.
    expect(page).not.toContain("\u0007");
    expect(page).not.toContain("\ud800");
    expect(diagramHtml(analysis, HOSTILE)).not.toContain("<script");
  });

  test("[P4] owners have their letters, and the title block says what the sheet is of and what it isn't", () => {
    const texts = textsOf(svg);
    for (const letter of ["F", "M", "T", "D"]) expect(texts).toContain(letter);
    expect(texts).toContain("Quayside Winter Concert: signal flow");
    expect(texts).toContain(
      "Harbour bandstand  ·  revision A, 2026-11-20  ·  48 kHz  ·  printed 2026-11-25  ·  page 1 of 1",
    );
    // 8 local outs, 8 of the stage-left box, 8 + 16 + 16 on band B and the breakouts, 8 processor outs, 8 + 4 thru jacks.
    expect(texts).toContain("Front of house, 76 jacks");
    expect(texts.some((words) => words.startsWith("Before re-patching a live rig: mute"))).toBe(true);
  });

  test("[P4] a hatch stays within its rectangle, and each is another one", () => {
    const rect = { x: 10, y: 20, width: 37, height: 11 };
    const paths = HATCHES.map((_, hatch) => hatchPath(hatch, rect, 3));
    expect(new Set(paths).size).toBe(HATCHES.length);
    for (const path of paths.slice(1)) {
      const numbers = path.match(/-?[\d.]+/g)!.map(Number);
      const xs = numbers.filter((_, n) => n % 2 === 0);
      const ys = numbers.filter((_, n) => n % 2 === 1);
      expect(Math.min(...xs)).toBeGreaterThanOrEqual(10);
      expect(Math.max(...xs)).toBeLessThanOrEqual(47.01);
      expect(Math.min(...ys)).toBeGreaterThanOrEqual(20);
      expect(Math.max(...ys)).toBeLessThanOrEqual(31.01);
    }
  });

  test("[P5] no tag stands on a device or on another tag", () => {
    const tags = [
      ...svg.matchAll(
        /<rect x="([-\d.]+)" y="([-\d.]+)" width="([\d.]+)" height="([\d.]+)" rx="3" fill="#fff" fill-opacity="0.92"\/>/g,
      ),
    ].map(([, x, y, width, height]) => ({
      x: Number(x),
      y: Number(y),
      width: Number(width),
      height: Number(height),
    }));
    expect(tags.length).toBeGreaterThan(show.cables.length * 0.8);
    const types = new Map(show.types.map((type) => [type.id, type]));
    const boxes = show.devices.map(({ at, type }) => ({ ...at, ...nodeSize(types.get(type)!) }));
    // Positions are written to a hundredth.
    const slack = 0.02;
    const touching = tags.flatMap((tag, n) =>
      [...boxes, ...tags.slice(n + 1)].filter(
        (other) =>
          tag.x + slack < other.x + other.width &&
          other.x + slack < tag.x + tag.width &&
          tag.y + slack < other.y + other.height &&
          other.y + slack < tag.y + tag.height,
      ),
    );
    expect(touching).toEqual([]);
  });
});
