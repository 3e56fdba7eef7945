/** F29: outputs that should arrive together and don't. */
import type { ArrivalGroup } from "../model/show.ts";
import { USUAL_TEMPERATURE } from "../model/show.ts";
import { distanceName, ms, rateName, round, temperatureName } from "../model/units.ts";
import { compareDelays, EQUAL_WITHIN, spreadOf } from "../trace/delays.ts";
import { arrivesAt } from "../trace/owners.ts";
import { findTerminal, fullName, namesOf, terminalOf } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { devicesAt } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding, type Fix } from "./finding.ts";
import { allowed } from "./remedies.ts";

export const arriveApart: Check = {
  id: "arrive-apart",
  about: "outputs of one group that don't arrive together",
  reads: ({ wiring, arrivals }) => [arrivals.root, arrivals.delay, wiring.state, wiring.show.groups],
  run: (rig) => (rig.wiring.show.groups ?? []).flatMap((group) => told(rig, group)),
  // No setting of the rig delays an output, so all that an edit can do is to let the group have the time that it takes.
  propose: ({ wiring, arrivals }, finding) =>
    (wiring.show.groups ?? [])
      .filter((group) => idOf(group) === finding.id)
      .flatMap((group): Fix[] => {
        const { spread } = spreadOf(wiring, arrivals, membersIn(wiring, group));
        const within = allowed(spread);
        return within === null
          ? []
          : [
              {
                label: `Allow “${group.name}” ${within} ms`,
                edits: [{ kind: "put", list: "groups", record: { ...group, within } }],
              },
            ];
      }),
};

const idOf = ({ id }: ArrivalGroup): string => `arrive-apart:${id}`;

const membersIn = (wiring: Wiring, { members }: ArrivalGroup): readonly number[] =>
  members.flatMap((member) => findTerminal(wiring, member) ?? []);

function told({ wiring, arrivals }: Analysed, group: ArrivalGroup): Finding[] {
  const { name, within } = group;
  const { settings } = wiring.show;
  const celsius = settings.temperature ?? USUAL_TEMPERATURE;
  const terminals = membersIn(wiring, group);
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
        id: idOf(group),
        check: "arrive-apart",
        severity: "warning",
        title: `The outputs of “${name}” arrive ${time} apart`,
        reason: `First ${end(first)}, last ${end(last)}: ${time}, ${round(samples, 1)} samples at ${rateName(settings.sampleRate)} or ${distanceName(distance, settings.units)} of air at ${temperatureName(celsius, settings.units)}, where at most ${ms(most)} ms are wanted. Heard together, the first null lies at ${Math.round(firstNull)} Hz.${missing}`,
      },
      {
        terminals: terminals.map((terminal) => terminalOf(wiring, terminal)),
        devices: devicesAt(wiring, terminals),
      },
    ),
  ];
}
