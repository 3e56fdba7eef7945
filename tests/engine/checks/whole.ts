/** Findings with all that they say and point at, as lines that can be checked by reading the rig beside them. */
import { analyse } from "#engine/analysis.ts";
import type { Finding } from "#engine/findings/finding.ts";
import type { Show } from "#engine/model/show.ts";
import type { Terminal } from "#engine/trace/terminal.ts";
import { nameOf } from "../tell.ts";

/** `House Link 1 out 41–44, Ears rack Out 9`: in the order given; numbers that go up by one as a range. */
function placesOf(show: Show, terminals: readonly Terminal[]): string {
  const runs: { readonly name: string; readonly first: string; last: string; end: number }[] = [];
  terminals.forEach((terminal) => {
    const full = nameOf(show, terminal);
    const cut = full.lastIndexOf(" ");
    const [name, number] = [full.slice(0, cut), full.slice(cut + 1)];
    const run = runs.at(-1);
    if (run && run.name === name && run.end + 1 === terminal.number) {
      run.last = number;
      run.end = terminal.number;
    } else runs.push({ name, first: number, last: number, end: terminal.number });
  });
  return runs
    .map(({ name, first, last }) => `${name} ${first === last ? first : `${first}–${last}`}`)
    .join(", ");
}

function pointsAt(show: Show, { terminals, devices, cables, wants }: Finding): string {
  const parts = [
    ["at", placesOf(show, terminals)],
    ["devices", devices.join(", ")],
    ["cables", cables.join(", ")],
    ["wants", wants.join(", ")],
  ];
  return parts
    .filter(([, what]) => what !== "")
    .map(([word, what]) => `${word} ${what}`)
    .join("; ");
}

/** Three lines for each finding of some checks: `severity id: title`, the reason, and what it points at. */
export const whole = (show: Show, ...checks: readonly string[]): readonly string[] =>
  analyse(show)
    .findings.filter(({ check }) => checks.includes(check))
    .flatMap((finding) => [
      `${finding.severity} ${finding.id}: ${finding.title}`,
      finding.reason,
      pointsAt(show, finding),
    ]);
