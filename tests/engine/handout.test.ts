/** The hand-out for phones: what it tells of each jack beside the traces, how large it is, and hostile texts in it. */
import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { analyse, type Analysis } from "#engine/analysis.ts";
import { handoutHtml } from "#engine/exchange/handout-html.ts";
import { handoutData, type Handout } from "#engine/exchange/handout.ts";
import { find, indexOf } from "../../renderer/handout/find.ts";
import { deviceName, fullName, outcomeOf, traceTo, unpack, type Rig } from "../../renderer/handout/rig.ts";
import { benchRig } from "../bench/rigs.ts";
import { handoutDifferences } from "./handout-differences.ts";
import { demo, STARTERS } from "./demo.ts";
import { MARKUP, withText } from "./payload.ts";

const DATE = "2026-11-26";
const rigOf = (analysis: Analysis): Rig => unpack(handoutData(analysis, DATE));
const dataIn = (html: string): Handout => {
  const [, json] = /<script type="application\/json" id="data">([^<]*)<\/script>/.exec(html)!;
  return JSON.parse(json!) as Handout;
};

const analysis = analyse(demo());
const rig = rigOf(analysis);
const node = (name: string): number => {
  const found = Array.from({ length: rig.count }, (_, n) => n).find((n) => fullName(rig, n) === name);
  if (found === undefined) throw new Error(`the hand-out doesn't know ${name}`);
  return found;
};

describe("what it tells of a jack", () => {
  test("[V6] a jack of the demo, walked by hand: monitors' mix 20 through front of house and the stage-left box", () => {
    const jack = node("Ears rack Out 12");
    const told = outcomeOf(rig, jack);
    expect([told.arrives, fullName(rig, told.origin), deviceName(rig, told.owner)]).toEqual([
      true,
      "Monitors Mix 20",
      "Monitors",
    ]);
    // As in tests/host/headless.test.ts, where cables, settings and modes were looked up one by one.
    expect(traceTo(rig, jack).map((at) => fullName(rig, at))).toEqual([
      "Monitors Mix 20",
      "Monitors Link 2 out 12",
      "Front of house Link 2 in 12",
      "Front of house Link 1 out 44",
      "Stage left Link A in 44",
      "Stage left Monitor bus 12",
      "Ears rack Monitor bus 12",
      "Ears rack Out 12",
    ]);
    const by = (name: string): string => rig.data.texts[rig.by[node(name)]!]!;
    expect(by("Front of house Link 1 out 44")).toBe("Link 1 out 41–48 takes Link 2 in 9–16");
    expect(by("Ears rack Monitor bus 12")).toBe("cable P1, Cat 5e, shielded, 20 m");
  });

  test.each(["quayside", "quayside-faults", ...STARTERS] as const)(
    "[V6] of every jack, channel and tap of %s it tells what the trace tells",
    (name) => {
      const found = analyse(demo(name));
      expect(handoutDifferences(found, rigOf(found))).toEqual([]);
    },
  );

  test("[V6] every jack of the demo stands in it", () => {
    const jacks = analysis.show.devices.reduce((sum, { type }) => {
      const { banks } = analysis.show.types.find(({ id }) => id === type)!;
      return sum + banks.reduce((own, { count, perJack }) => own + count * perJack, 0);
    }, 0);
    const known = rig.data.rows.map(({ kind }, n) =>
      kind === "in" || kind === "out" ? rig.starts[n + 1]! - rig.starts[n]! : 0,
    );
    expect(known.reduce((sum, count) => sum + count, 0)).toBe(jacks);
  });
});

describe("search", () => {
  const index = indexOf(rig);
  const first = (query: string): string => {
    const [hit] = find(index, query).hits;
    if (!hit) return "";
    return hit.kind === "device" ? deviceName(rig, hit.device) : fullName(rig, hit.node);
  };
  test.each([
    ["Stage left Out 9", "Stage left Out 9"],
    ["out 9 stage", "Stage left Out 9"],
    ["violin 1", "Stage left In 23"],
    ["ears rack", "Ears rack"],
    ["WEDGE 1 centre", "Stage left Out 9"],
    ["monitors mix 20", "Monitors Mix 20"],
    ["nothing of the kind", ""],
    ["", ""],
  ])("[V7] “%s” finds %s", (query, name) => expect(first(query)).toBe(name));
});

describe("the page", () => {
  test("[V5] the same show and date give the same bytes, another date others", () => {
    expect(handoutHtml(analyse(demo()), DATE)).toBe(handoutHtml(analysis, DATE));
    expect(handoutHtml(analysis, "2026-11-27")).not.toBe(handoutHtml(analysis, DATE));
  });

  test("[V5] its policy names its one script and its one style by their hashes, and lets nothing be fetched", () => {
    const html = handoutHtml(analysis, DATE);
    const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html)![1]!;
    const hash = (text: string): string => createHash("sha256").update(text).digest("base64");
    const scripts = [...html.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(([, code]) => code!);
    const styles = [...html.matchAll(/<style>([\s\S]*?)<\/style>/g)].map(([, code]) => code!);
    expect([scripts.length, styles.length]).toEqual([1, 1]);
    expect(policy.split("; ").toSorted()).toEqual(
      [
        "default-src 'none'",
        `script-src 'sha256-${hash(scripts[0]!)}'`,
        `style-src 'sha256-${hash(styles[0]!)}'`,
        "img-src data:",
        "base-uri 'none'",
        "form-action 'none'",
      ].toSorted(),
    );
    expect(html).not.toMatch(/\b(?:src|href|action)\s*=\s*["']?(?:https?:|\/\/)/i);
  });

  test("[V7] show, venue, revision and date stand on it, and DESIGN section 8's caution", () => {
    const html = handoutHtml(analysis, DATE);
    for (const text of ["Quayside Winter Concert", "Harbour bandstand", "revision A, 2026-11-20", DATE]) {
      expect(html).toContain(text);
    }
    const said = dataIn(html).cautions.join(" ");
    for (const text of [
      "mute and turn down",
      "in-ears out of ears",
      "bring up slowly",
      "protective earth",
      "competent person",
    ]) {
      expect(said).toContain(text);
    }
  });

  test("[V5] under 2 MB for the festival rig of the benchmarks, and every text of it once", () => {
    const html = handoutHtml(analyse(benchRig("festival")), DATE);
    expect(Buffer.byteLength(html)).toBeLessThan(2_000_000);
    const { texts } = dataIn(html);
    expect(new Set(texts).size).toBe(texts.length);
  });

  test.each(MARKUP)("[V5] %j in every field stays data", (text) => {
    const html = handoutHtml(analyse(withText(demo("starter-club"), text)), text);
    const data = dataIn(html);
    expect(data.title).toBe(text);
    expect(data.texts).toContain(text);
    // Two scripts: the data and the page's own.
    expect(html.match(/<script/gi)).toHaveLength(2);
    expect(html.match(/<!--/g)).toBeNull();
    expect(html.match(/<(?:img|svg|b|i)[\s>]/g)).toBeNull();
  });
});
