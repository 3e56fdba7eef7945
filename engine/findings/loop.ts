/** F4: settings that feed each other in a circle. */
import { LOOP } from "../trace/arrivals.ts";
import { findTerminal, fullName, terminalOf } from "../trace/terminal.ts";
import type { WantId } from "../model/ids.ts";
import { counted } from "./describe.ts";
import type { Analysed, Check, Finding } from "./finding.ts";
import { gather } from "../model/once.ts";
import { clearFix } from "./remedies.ts";
import { NOWHERE, standing } from "./standing.ts";
import { cycleAt } from "../trace/walk.ts";
import { Edge } from "../wiring/wiring.ts";

export const loop: Check = {
  id: "loop",
  about: "settings that feed each other in a circle",
  reads: ({ wiring, arrivals }) => [arrivals.root, wiring.show.wants],
  run: (rig) => {
    const { wiring } = rig;
    // Neighbouring slots that go round the same way are one fault: a block that was sent back.
    const bands = new Map<string, number[][]>();
    for (const cycle of cycles(rig)) {
      const key = cycle
        .map((t) => `${terminalOf(wiring, t).device}:${terminalOf(wiring, t).group}`)
        .join(">");
      gather(bands, key, cycle);
    }
    const hanging = wantsOnLoops(rig);
    return [...bands].map(([key, band]): Finding => {
      const [first] = band;
      const wants = band.flatMap((cycle) => cycle.flatMap((t) => hanging.get(t) ?? []));
      const names = first!.slice(0, MOST_NAMED).map((terminal) => fullName(wiring, terminal));
      const rest = first!.length - names.length;
      const way = rest > 0 ? [...names, `${rest} more`] : names;
      const beside = band.length - 1;
      const more = beside > 0 ? ` So ${beside === 1 ? "does" : "do"} ${beside} more beside it.` : "";
      const hang = wants.length === 1 ? "hangs on it and is" : "hang on it and are";
      const dark = wants.length > 0 ? ` ${counted(wants.length, "wanted feed")} ${hang} dark.` : "";
      return {
        id: `loop:${key}`,
        check: "loop",
        severity: "error",
        title: `A loop: ${names[0]} comes back to itself`,
        reason: `${[...way, names[0]].join(" → ")}.${more}${dark}`,
        terminals: band.flat().map((terminal) => terminalOf(wiring, terminal)),
        devices: [...new Set(first!.map((terminal) => terminalOf(wiring, terminal).device))],
        cables: [],
        wants,
      };
    });
  },
  propose: ({ wiring }, { terminals }) => {
    const byDevice = new Map<number, number[]>();
    for (const terminal of terminals) {
      const at = findTerminal(wiring, terminal);
      if (at !== null && wiring.edge[at] === Edge.patched) gather(byDevice, wiring.deviceOf[at]!, at);
    }
    return [...byDevice].map(([index, set]) => clearFix(wiring.devices[index]!, set));
  },
};

/** A loop can run through every slot of a port; its reason names no more than these. */
const MOST_NAMED = 24;

/** Each cycle of feeders once, in the direction of the signal, its lowest terminal first. */
function cycles({ wiring, arrivals }: Analysed): number[][] {
  const { feeder, size } = wiring;
  const found: number[][] = [];
  if (!arrivals.root.includes(LOOP)) return found;
  const done = new Uint8Array(size);
  for (let start = 0; start < size; start++) {
    if (arrivals.root[start] !== LOOP || done[start]) continue;
    const path = new Set<number>();
    let at = start;
    while (!done[at]) {
      done[at] = 1;
      path.add(at);
      at = feeder[at]!;
    }
    // A walk that ends on an earlier one's path leads to a loop that is found already.
    if (path.has(at)) found.push(cycleAt(wiring, at));
  }
  return found;
}

/** For each terminal of a cycle the wants whose traces run into it there. */
function wantsOnLoops({ wiring, arrivals }: Analysed): ReadonlyMap<number, readonly WantId[]> {
  const hanging = new Map<number, WantId[]>();
  wiring.show.wants.forEach((want, n) => {
    const jack = standing(wiring).wants[n]!;
    if (jack === NOWHERE || arrivals.root[jack] !== LOOP) return;
    const seen = new Set<number>();
    let at = jack;
    while (!seen.has(at)) {
      seen.add(at);
      at = wiring.feeder[at]!;
    }
    gather(hanging, at, want.id);
  });
  return hanging;
}
