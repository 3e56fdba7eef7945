/** What goes into the mixes behind a jack, as a list: channels and mixes in ranges, and what comes on them by name. */
import type { Analysis } from "../../analysis.ts";
import { membersOf } from "../../trace/members.ts";
import { fullName, locate, ranges, shortName, sideName } from "../../trace/terminal.ts";
import { arrivesAt, rootsAt } from "../../trace/owners.ts";
import { signalName } from "../signals.ts";

/** So many channels are told in a line: more names couldn't be counted off against their numbers. */
const BY = 8;

/** One mix with all that it takes. */
export interface Feeds {
  /** `What goes into Monitors Mix 5, Wedge 1` */
  readonly title: string;
  /** `Channel 1–24, post`, and the names of what comes there, in the same order. */
  readonly rows: readonly (readonly [string, string])[];
}

export function feedsOf(analysis: Analysis, taps: readonly number[]): readonly Feeds[] {
  const { wiring } = analysis;
  return taps.map((tap) => {
    const runs = new Map<string, { side: string; how: string; numbers: number[]; names: string[] }>();
    for (const { member, step } of membersOf(wiring, tap)) {
      const { span, number } = locate(wiring, member);
      const how = step.kind === "mixed" ? step.tap : "direct";
      const key = `${span.start} ${how} ${Math.ceil(number / BY)}`;
      const run = runs.get(key) ?? { side: sideName(span), how, numbers: [], names: [] };
      run.numbers.push(number);
      run.names.push(nameAt(analysis, member));
      runs.set(key, run);
    }
    const name = signalName(analysis, tap);
    return {
      title: `What goes into ${fullName(wiring, tap)}${name ? `, ${name}` : ""}`,
      rows: [...runs.values()].map(({ side, how, numbers, names }) => [
        `${side} ${ranges(numbers)}${how === "direct" ? "" : `, ${how}`}`,
        names.join(", "),
      ]),
    };
  });
}

/** What comes on a channel; of a mix its own name. */
function nameAt(analysis: Analysis, member: number): string {
  const { wiring, arrivals } = analysis;
  if (!arrivesAt(wiring, arrivals, member)) return `nothing on ${shortName(wiring, member)}`;
  return rootsAt(arrivals, member)
    .map((root) => signalName(analysis, root) ?? fullName(wiring, root))
    .join(" and ");
}
