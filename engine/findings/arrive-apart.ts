/** F29: outputs that should arrive together and don't. */
import type { ArrivalGroup } from "../model/show.ts";
import { USUAL_TEMPERATURE } from "../model/show.ts";
import { distanceName, ms, rateName, round } from "../model/units.ts";
import { compareDelays, EQUAL_WITHIN, spreadOf } from "../trace/delays.ts";
import { arrivesAt } from "../trace/owners.ts";
import { findTerminal, fullName, namesOf, terminalOf } from "../trace/terminal.ts";
import { devicesAt } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";

export const arriveApart: Check = {
  id: "arrive-apart",
  about: "outputs of one group that don't arrive together",
  reads: ({ wiring, arrivals }) => [arrivals.root, arrivals.delay, wiring.state, wiring.show.groups],
  run: (rig) => (rig.wiring.show.groups ?? []).flatMap((group) => told(rig, group)),
};

function told({ wiring, arrivals }: Analysed, { id, name, members, within }: ArrivalGroup): Finding[] {
  const { settings } = wiring.show;
  const celsius = settings.temperature ?? USUAL_TEMPERATURE;
  const terminals = members.flatMap((member) => findTerminal(wiring, member) ?? []);
  const { arrivals: arriving, spread } = spreadOf(wiring, arrivals, terminals);
  const most = within ?? EQUAL_WITHIN;
  // Rounded, for sums of the same delays in another order differ in their last digits.
  if (round(spread, 9) <= most) return [];
  const [first, last] = [arriving[0]!, arriving.at(-1)!];
  const { samples, distance, firstNull } = compareDelays(
    first.delay,
    last.delay,
    settings.sampleRate,
    celsius,
  );
  const time = `${round(spread, 3)} ms`;
  const dark = terminals.filter((terminal) => !arrivesAt(wiring, arrivals, terminal));
  const missing = dark.length > 0 ? ` Not arriving: ${namesOf(wiring, dark)}.` : "";
  const end = ({ terminal, delay }: typeof first): string =>
    `${fullName(wiring, terminal)} after ${round(delay, 3)} ms`;
  return [
    found(
      {
        id: `arrive-apart:${id}`,
        check: "arrive-apart",
        severity: "warning",
        title: `The outputs of “${name}” arrive ${time} apart`,
        reason: `First ${end(first)}, last ${end(last)}: ${time}, ${round(samples, 1)} samples at ${rateName(settings.sampleRate)} or ${distanceName(distance, settings.units)} of air at ${celsius} °C, where at most ${ms(most)} ms are wanted. Heard together, the first null lies at ${Math.round(firstNull)} Hz.${missing}`,
      },
      {
        terminals: terminals.map((terminal) => terminalOf(wiring, terminal)),
        devices: devicesAt(wiring, terminals),
      },
    ),
  ];
}
