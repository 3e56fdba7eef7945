/**
 * The guide's stage box, built by the editor's own functions in the order of its steps. The values to check stand in the
 * guide's tables, which are worked out by hand from the sheet that it quotes; the sheet is invented.
 */
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import {
  checkType,
  feedTable,
  findTerminal,
  namesOf,
  probeType,
  round,
  ruleWords,
  sideName,
  spanGroup,
  terminalName,
  type DeviceType,
  type FabricRule,
  type GroupId,
  type Probe,
  type WiredRule,
} from "#engine";
import { readGuide } from "../../renderer/help/guide.ts";
import { app } from "../../renderer/state/store.ts";
import { beginBlank, editor, editType, followShow, openDraftNow } from "../../renderer/types/editor.ts";
import {
  addBank,
  addMode,
  addPort,
  newRule,
  rulesAt,
  withRules,
  type RulePlace,
} from "../../renderer/types/parts.ts";
import { canUse } from "../../renderer/types/use.ts";
import { choosable } from "../../renderer/types/TypeDrawing.tsx";

const GUIDE = readFileSync(new URL("../../assets/guide/device-types.md", import.meta.url), "utf8");

/** The cells of the guide's table whose first line starts with these captions. */
function tableOf(...captions: readonly string[]): readonly (readonly string[])[] {
  const tables = GUIDE.split(/\n{2,}/)
    .filter((part) => part.startsWith("|"))
    .map((part) =>
      part
        .trim()
        .split("\n")
        .map((line) =>
          line
            .split("|")
            .slice(1, -1)
            .map((cell) => cell.trim()),
        ),
    );
  const found = tables.find(([head]) => captions.every((caption, n) => head![n] === caption));
  if (!found) throw new Error(`the guide has no table of ${captions.join(", ")}`);
  return found.slice(2);
}

/** A wired rule between two groups, at the end of a place's rules, as the form makes one. */
function wire(
  place: RulePlace,
  to: string,
  toFirst: number,
  from: string,
  fromFirst: number,
  count: number,
  step: { readonly to?: number; readonly from?: number } = {},
): void {
  editType((type) => {
    const rule = newRule(type, "wired") as WiredRule;
    const next: WiredRule = {
      ...rule,
      to: { group: groupOf(type, to), first: toFirst, ...(step.to ? { perPosition: step.to } : {}) },
      from: {
        group: groupOf(type, from),
        first: fromFirst,
        ...(step.from ? { perPosition: step.from } : {}),
      },
      count,
    };
    return withRules(type, place, [...rulesAt(type, place), next]);
  }, "adding a rule");
}

function carryOn(place: RulePlace, to: string, from: string): void {
  editType((type) => {
    const rule = newRule(type, "carry") as Extract<FabricRule, { kind: "carry" }>;
    const next = { ...rule, to: groupOf(type, to), from: groupOf(type, from) };
    return withRules(type, place, [...rulesAt(type, place), next]);
  }, "adding a rule");
}

const groupOf = ({ banks, ports }: DeviceType, name: string): GroupId =>
  [...banks, ...ports].find((part) => part.name === name)!.id;

const SHEET = "maker's sheet";

function build(): DeviceType {
  beginBlank();
  editType((type) => ({ ...type, name: "Stage box 16 in, 12 out" }), "renaming");
  editType((type) => addBank(type, "in"), "adding inputs");
  editType((type) => addBank(type, "out"), "adding outputs");
  editType(
    (type) => ({
      ...type,
      banks: [
        { ...type.banks[0]!, count: 16, convert: { value: 0.4, unit: "ms", provenance: SHEET } },
        { ...type.banks[1]!, count: 12, convert: { value: 0.35, unit: "ms", provenance: SHEET } },
      ],
    }),
    "jacks",
  );
  editType(addPort, "adding a port");
  editType((type) => {
    const slots = { single: 48, double: 24, quad: 0 };
    const cables = [{ kind: "cat5e-shielded", maxMetres: 80, provenance: SHEET }] as const;
    return { ...type, ports: [{ ...type.ports[0]!, receive: slots, send: slots, cables }] };
  }, "slots");
  editType(addPort, "adding a port");
  editType((type) => ({ ...type, clock: groupOf(type, "Link A"), chain: 2 }), "clock and chain");
  wire("every", "Link A", 1, "In", 1, 16);
  wire("every", "Link B", 1, "In", 1, 16);
  editType((type) => addMode(addMode(type, null), null), "adding modes");
  const names = ["One console", "Two consoles", "Chain"];
  editType(
    (type) => ({
      ...type,
      modes: type.modes.map((mode, n) => ({
        ...mode,
        name: names[n]!,
        ...(n === 2 ? { positions: [1, 2] } : {}),
      })),
    }),
    "modes",
  );
  wire(0, "Out", 1, "Link A", 1, 12);
  wire(1, "Out", 1, "Link A", 1, 8);
  wire(1, "Out", 9, "Link B", 1, 4);
  wire(2, "Out", 1, "Link A", 1, 12, { from: 12 });
  wire(2, "Link A", 1, "In", 1, 16, { to: 16 });
  carryOn(2, "Link A", "Link B");
  carryOn(2, "Link B", "Link A");
  return openDraftNow()!.type;
}

let type: DeviceType;

beforeAll(() => {
  editor.setState({ show: null, drafts: new Map(), open: null });
  followShow(app.getState().show);
  type = build();
});

/** A terminal by the name that the editor gives it: `Link A out 21`. */
function probe(mode: string, position: string, name: string): Probe {
  const { id } = type.modes.find((each) => each.name === mode)!;
  const [, group, number] = /^(.*) (\d+)$/.exec(name)!;
  const span = choosable(type).find((each) => sideName(each) === group)!;
  const spot = { group: spanGroup(span), side: span.side, number: Number(number) };
  return probeType(type, { mode: id, position: Number(position), rate: 48000 }, spot)!;
}

const inside = (text: string): string => text.replaceAll("Stage box 16 in, 12 out ", "");

describe("the guide's stage box", () => {
  test("has no problem and can be used", () => {
    expect(checkType(type)).toEqual([]);
    expect(canUse()).toBe(true);
  });

  test("has the rules that the guide lists, in its words", () => {
    const rules = [
      ...type.rules.map((rule) => ["every mode", ruleWords(type, rule)]),
      ...type.modes.flatMap((mode) => mode.rules.map((rule) => [mode.name, ruleWords(type, rule)])),
    ];
    expect(rules).toEqual(tableOf("Where", "Rule"));
  });

  test.each(tableOf("Mode", "Position", "Trace of").map((row) => [...row]))(
    "%s, position %s: %s is fed by %s and takes %s",
    (mode, position, name, from, takes) => {
      const { wiring, trace } = probe(mode!, position!, name!);
      if (trace.verdict.kind !== "not-plugged") throw new Error(`it ends otherwise: ${trace.verdict.kind}`);
      expect(inside(terminalName(wiring, trace.verdict.at))).toBe(from);
      expect(`${round(trace.delay, 3)} ms`).toBe(takes);
    },
  );

  test.each(tableOf("Mode", "Position", "From").map((row) => [...row]))(
    "%s, position %s: %s feeds %s",
    (mode, position, name, feeds) => {
      const { wiring, feeds: below } = probe(mode!, position!, name!);
      const terminals = below.map(({ at }) => findTerminal(wiring, at)!);
      expect(inside(namesOf(wiring, terminals))).toBe(feeds);
    },
  );

  test("does what the sheet's table says of its outputs in every mode and position", () => {
    // By hand from the sheet: mode, position, and the slots that outputs 1–8 and 9–12 come from.
    const sheet = [
      ["One console", 1, "Link A in 1–12"],
      ["Two consoles", 1, "Link A in 1–8, Link B in 1–4"],
      ["Chain", 1, "Link A in 1–12"],
      ["Chain", 2, "Link A in 13–24"],
    ] as const;
    for (const [mode, position, expected] of sheet) {
      const { id } = type.modes.find((each) => each.name === mode)!;
      const outputs = feedTable(type, id, position).filter(({ span }) => span.side === "jack");
      expect(outputs.map(({ from }) => from).join(", ")).toBe(expected);
    }
  });
});

describe("a guide's text as it is shown", () => {
  test("is headings, paragraphs, lists, quotes and tables, with bold and code in their lines", () => {
    expect(
      readGuide(
        "# Title\n\nOne **two**\nthree `four`.\n\n> Said\n> on.\n\n1. First\n   on\n2. Second\n\n| A | B |\n| - | - |\n| 1 | **2** |\n",
      ),
    ).toEqual([
      { kind: "heading", level: 1, line: [{ kind: "text", text: "Title" }] },
      {
        kind: "paragraph",
        line: [
          { kind: "text", text: "One " },
          { kind: "bold", text: "two" },
          { kind: "text", text: " three " },
          { kind: "code", text: "four" },
          { kind: "text", text: "." },
        ],
      },
      { kind: "quote", line: [{ kind: "text", text: "Said on." }] },
      { kind: "list", items: [[{ kind: "text", text: "First on" }], [{ kind: "text", text: "Second" }]] },
      {
        kind: "table",
        head: [[{ kind: "text", text: "A" }], [{ kind: "text", text: "B" }]],
        rows: [[[{ kind: "text", text: "1" }], [{ kind: "bold", text: "2" }]]],
      },
    ]);
  });

  test("brings no markup: what looks like some is text", () => {
    expect(readGuide("<b>x</b>")).toEqual([
      { kind: "paragraph", line: [{ kind: "text", text: "<b>x</b>" }] },
    ]);
  });

  test("every table of the guide is shown with a cell for each caption", () => {
    const tables = readGuide(GUIDE).filter((part) => part.kind === "table");
    expect(tables).toHaveLength(4);
    for (const { head, rows } of tables) expect(rows.every((row) => row.length === head.length)).toBe(true);
  });
});
