/** F15: a cable at which signals stop because its ends differ in sample rate or word clock. */
import { rateName } from "../model/units.ts";
import { terminalOf } from "../trace/terminal.ts";
import { CLOCK_LOOP } from "../wiring/clock.ts";
import type { PluggedCable } from "../wiring/plugs.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { cableName, clockOf, counted } from "./describe.ts";
import { darkFeeds, feedNames, stoppedAt, wantsOf } from "./feeds.ts";
import { found, type Analysed, type Check, type Finding } from "./finding.ts";

export const clockMismatch: Check = {
  id: "clock-mismatch",
  about: "a cable at which signals stop because its ends differ in rate or clock",
  run: (rig) =>
    [...stoppedAt(rig)].flatMap(([index, terminals]) => {
      const plugged = rig.wiring.plugs.cables[index]!;
      // The loop itself is one finding, of check F16; each of its cables would only repeat it.
      return inClockLoop(rig.wiring, plugged) ? [] : [told(rig, plugged, terminals)];
    }),
};

/** The devices at the two ends of a cable that joins something. */
export function endDevices({ join }: PluggedCable): readonly [WiredDevice, WiredDevice] | null {
  if (join.kind === "misfit") return null;
  return join.kind === "link"
    ? [join.ends[0].device, join.ends[1].device]
    : [join.from.device, join.to.device];
}

/** Whether the ends of a cable agree on the rate, and have no common leader because of a clock loop. */
export function inClockLoop({ leaders }: Wiring, plugged: PluggedCable): boolean {
  const ends = endDevices(plugged);
  return (
    ends !== null && ends[0].rate === ends[1].rate && ends.some(({ index }) => leaders[index] === CLOCK_LOOP)
  );
}

function told(rig: Analysed, plugged: PluggedCable, terminals: readonly number[]): Finding {
  const { wiring } = rig;
  const [a, b] = endDevices(plugged)!;
  const name = cableName(wiring, plugged.cable);
  const dark = terminals.flatMap((terminal) => darkFeeds(rig).get(terminal) ?? []);
  const why =
    a.rate === b.rate
      ? `${sentence(clockOf(wiring, a.index))}, ${clockOf(wiring, b.index)}`
      : `${a.device.name} runs at ${rateName(a.rate)}, ${b.device.name} at ${rateName(b.rate)}`;
  const what = a.rate === b.rate ? "that don't share a clock" : "of two sample rates";
  const lost =
    dark.length === 0
      ? ""
      : ` ${dark.length === 1 ? "1 feed is" : `${counted(dark.length, "feed")} are`} dark: ${feedNames(wiring, dark)}.`;
  return found(
    {
      id: `clock-mismatch:${plugged.cable.id}`,
      check: "clock-mismatch",
      severity: "error",
      title: `${name} joins devices ${what}: ${a.device.name} and ${b.device.name}`,
      reason: `${why}, and neither end converts: no signal passes.${lost}`,
    },
    {
      terminals: [...new Set([...dark.map(({ terminal }) => terminal), ...terminals])].map((terminal) =>
        terminalOf(wiring, terminal),
      ),
      devices: [a.device.id, b.device.id],
      cables: [plugged.cable.id],
      wants: wantsOf(dark),
    },
  );
}

/** Names keep their case; `the clock that …` at the start of a sentence doesn't. */
const sentence = (text: string): string => (text.startsWith("the ") ? `T${text.slice(1)}` : text);
