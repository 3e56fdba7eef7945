/** Worksheets of random rigs, programmed line by line on blank devices. The seeds stand in the title. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import type { Device, Show } from "#engine/model/show.ts";
import { hasSettings, worksheetOf, type Worksheet } from "#engine/paperwork/worksheet.ts";
import { fullName } from "#engine/trace/terminal.ts";
import { compile } from "#engine/wiring/compile.ts";
import { Edge, type Wiring } from "#engine/wiring/wiring.ts";
import { randomRig } from "./random-rig.ts";

const RIGS = Math.ceil(Number(process.env["HOPLINE_RIGS"] ?? 500) / 2);
const FIRST = 2_000_001;
const SEEDS = Array.from({ length: RIGS }, (_, n) => FIRST + n);

/** A device as it comes out of its case. */
function blank({ id, name, type, place, at, mode }: Device, show: Show): Device {
  const first = show.types.find((each) => each.id === type)?.modes[0]?.id;
  return { id, name, type, place, at, mode: first ?? mode, position: 1, powered: true, routing: [] };
}

function programmed(device: Device, { basics, routes, inserts }: Worksheet): Device {
  let made = device;
  for (const basic of basics) {
    if (basic.kind === "power") made = { ...made, powered: basic.on };
    else if (basic.kind === "mode") made = { ...made, mode: basic.mode };
    else if (basic.kind === "position") made = { ...made, position: basic.position };
    else if (basic.kind === "rate") made = { ...made, sampleRate: basic.rate };
    else if (basic.follows !== "none") made = { ...made, clock: basic.follows };
  }
  return { ...made, routing: routes.flatMap(({ settings }) => settings), inserts };
}

/** What differs between the plan and the rig that was programmed from its worksheets. */
function differences(plan: Wiring, made: Wiring, told: ReadonlySet<number>): string[] {
  const wrong: string[] = [];
  for (let terminal = 0; terminal < plan.size; terminal++) {
    const isRefused = plan.edge[terminal] === Edge.patched && plan.feeder[terminal]! < 0;
    if (isRefused !== told.has(terminal) && isRefused)
      wrong.push(`${fullName(plan, terminal)}: refused, and not told`);
    if (isRefused) continue;
    if (plan.feeder[terminal] !== made.feeder[terminal])
      wrong.push(`${fullName(plan, terminal)}: another feeder`);
    else if (plan.state[terminal] !== made.state[terminal])
      wrong.push(`${fullName(plan, terminal)}: another state`);
    else if (plan.delay[terminal] !== made.delay[terminal])
      wrong.push(`${fullName(plan, terminal)}: another delay`);
  }
  plan.devices.forEach((wired, n) => {
    const other = made.devices[n];
    if (wired?.rate !== other?.rate) wrong.push(`${wired?.device.name}: another rate`);
    if (plan.leaders[n] !== made.leaders[n]) wrong.push(`${wired?.device.name}: another clock`);
    if (wired?.device.position !== other?.device.position)
      wrong.push(`${wired?.device.name}: another position`);
    if (wired?.device.mode !== other?.device.mode) wrong.push(`${wired?.device.name}: another mode`);
  });
  return wrong;
}

describe("worksheets", () => {
  test(`[Q6] programmed on blank devices they make the plan; seeds ${FIRST} to ${FIRST + RIGS - 1}`, () => {
    let lines = 0;
    const wrong = SEEDS.flatMap((seed) => {
      const { show } = randomRig(seed);
      const analysis = analyse(show);
      const { wiring } = analysis;
      const refused = new Set<number>();
      const mixes = new Set<string>();
      const devices = show.devices.map((device) => {
        const wired = wiring.devices[wiring.indexOf.get(device.id)!];
        // Of a device without a type nothing is known, so nothing can be programmed.
        if (!wired || wired.device !== device) return device;
        const worksheet = worksheetOf(analysis, wired);
        for (const { to, count } of worksheet.refused) {
          const span = wired.fabric.layout.destinations.get(to.group)!;
          for (let n = 0; n < count; n++) refused.add(wired.base + span.start + to.first + n - 1);
        }
        for (const { id } of worksheet.mixes) mixes.add(id);
        for (const { settings } of worksheet.routes) lines += settings.length;
        return hasSettings(worksheet) ? programmed(blank(device, show), worksheet) : blank(device, show);
      });
      const missing = show.mixes.filter(
        ({ id, console: desk }) => !mixes.has(id) && wiring.devices[wiring.indexOf.get(desk) ?? -1],
      );
      return [
        ...differences(wiring, compile({ ...show, devices }), refused),
        ...missing.map(({ id }) => `mix ${id} isn’t told`),
      ].map((line) => `seed ${seed}: ${line}`);
    });
    expect(wrong.slice(0, 20)).toEqual([]);
    expect(lines).toBeGreaterThan(RIGS);
  });
});
