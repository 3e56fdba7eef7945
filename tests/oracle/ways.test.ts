/**
 * Ways for single signals against shortest paths in a graph library, on random rigs without settings. Outside help: the
 * graph and its walks are `graphology`'s, what stands in it comes from `reference.ts`, which shares no code with the
 * wiring. What is found is set in the show and read back by the same second reading.
 */
import { DirectedGraph } from "graphology";
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { id } from "#engine/model/ids.ts";
import type { Show } from "#engine/model/show.ts";
import { wayFor } from "#engine/routes/ways.ts";
import { findTerminal } from "#engine/trace/terminal.ts";
import { Dice, randomRig } from "../property/random-rig.ts";
import { referenceOf, type Reference, type RefNode } from "./reference.ts";

const RIGS = Number(process.env["HOPLINE_RIGS"] ?? 500) / 5;
const BATCH = 25;

/** Edges run with the signal; `settings` is what the step costs. */
type WayGraph = DirectedGraph<object, { readonly settings: number }>;

/** Every step that there is or that a setting can make. */
function possible(show: Show, { nodes }: Reference): WayGraph {
  const graph: WayGraph = new DirectedGraph();
  for (const key of nodes.keys()) graph.addNode(key);
  const groups = new Map<string, RefNode[]>();
  for (const node of nodes.values()) {
    const group = `${node.device}/${node.group}/${node.side}`;
    groups.set(group, [...(groups.get(group) ?? []), node]);
  }
  for (const node of nodes.values()) {
    if (node.feeder !== null) graph.mergeDirectedEdge(node.feeder, node.key, { settings: 0 });
    if (node.end !== "nothing-assigned") continue;
    const device = show.devices.find((each) => each.id === node.device)!;
    const type = show.types.find((each) => each.id === device.type)!;
    const mode = type.modes.find((each) => each.id === device.mode);
    const isInput =
      node.side === "receive" || type.banks.some((bank) => bank.id === node.group && bank.direction === "in");
    if (!mode || isInput) continue;
    // M4 and W4: it waits for a setting, so the first patch rule that reaches it decides it.
    for (const rule of [...mode.rules, ...type.rules]) {
      if (rule.kind !== "patch" || rule.to.group !== node.group) continue;
      const skip = node.number - rule.to.first;
      if (skip < 0 || skip >= rule.to.count) continue;
      for (const range of rule.from) {
        // A port as a source is what it receives; everything else has one row.
        const row =
          groups.get(`${device.id}/${range.group}/receive`) ??
          groups.get(`${device.id}/${range.group}/jack`) ??
          groups.get(`${device.id}/${range.group}/bus`) ??
          [];
        for (const source of row) {
          const at = source.number - range.first;
          if (at < 0 || at >= range.count || at % rule.run !== skip % rule.run) continue;
          graph.mergeDirectedEdge(source.key, node.key, { settings: 1 });
        }
      }
      break;
    }
  }
  return graph;
}

/** The fewest settings from every terminal that gets to `target`, by relaxing what is cheapest first. */
function fewest(graph: WayGraph, target: string): ReadonlyMap<string, number> {
  const settled = new Map<string, number>();
  let ring = [target];
  for (let cost = 0; ring.length > 0; cost++) {
    const next: string[] = [];
    for (const at of ring) {
      if (settled.has(at)) continue;
      settled.set(at, cost);
      // What costs nothing belongs to the same ring, which grows while it is walked.
      graph.forEachInEdge(at, (_edge, { settings }, source) => (settings === 0 ? ring : next).push(source));
    }
    ring = next;
  }
  return settled;
}

const TAKES = /\/(receive|bus|jack)\//;

describe("ways of single signals against a graph library", () => {
  let ways = 0;
  let none = 0;
  const starts = Array.from({ length: Math.ceil(RIGS / BATCH) }, (_, n) => 1 + n * BATCH);
  test.each(starts)("[N1] [N2] rigs from seed %i on", (start) => {
    const wrong: string[] = [];
    for (let seed = start; seed < start + BATCH; seed++) {
      const made = randomRig(seed).show;
      const show: Show = { ...made, devices: made.devices.map((device) => ({ ...device, routing: [] })) };
      const analysis = analyse(show);
      const reference = referenceOf(show);
      const graph = possible(show, reference);
      const dice = new Dice(seed);
      const keys = [...reference.nodes.keys()];
      const number = (key: string): number | null => {
        const { device, group, side, number: n } = reference.nodes.get(key)!;
        return findTerminal(analysis.wiring, { device: id(device), group: id(group), side, number: n });
      };
      const ends = keys.filter(
        (key) =>
          reference.nodes.get(key)!.feeder !== null || reference.nodes.get(key)!.end === "nothing-assigned",
      );
      for (let turn = 0; turn < 12 && ends.length > 0; turn++) {
        const target = dice.pick(ends);
        const within = fewest(graph, target);
        const origins = [...within.keys()].filter(
          (key) => key !== target && graph.inDegree(key) === 0 && TAKES.test(key),
        );
        // Half of them lead there, as far as any do; the other half anywhere.
        const source = turn % 2 === 0 && origins.length > 0 ? dice.pick(origins) : dice.pick(keys);
        const [from, to] = [number(source), number(target)];
        if (from === null || to === null || from === to || graph.inDegree(source) > 0) continue;
        const way = wayFor(analysis, [from], [to]);
        const cost = within.get(source);
        if (way.kind === "none") {
          none++;
          if (cost !== undefined)
            wrong.push(`seed ${seed}: ${source} → ${target}: none (${way.why.kind}), the graph says ${cost}`);
          continue;
        }
        ways++;
        const settings = way.settings.reduce((sum, each) => sum + each.settings.length, 0);
        if (settings !== cost)
          wrong.push(`seed ${seed}: ${source} → ${target}: ${settings} settings, the graph says ${cost}`);
        const after = referenceOf(applyEdits(show, way.edits)).nodes;
        let at: string | null = target;
        for (let left = after.size; at !== null && at !== source && left > 0; left--)
          at = after.get(at)!.feeder;
        if (at !== source) wrong.push(`seed ${seed}: ${source} → ${target}: set, and it doesn't get there`);
      }
    }
    expect(wrong).toEqual([]);
  });

  test("there were ways, and pairs without one", () => {
    expect(ways).toBeGreaterThan(RIGS / 2);
    expect(none).toBeGreaterThan(RIGS / 2);
  });
});
