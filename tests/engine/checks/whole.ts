/** Findings and fixes with all that they say and do, as lines that can be checked by reading the rig beside them. */
import { analyse } from "#engine/analysis.ts";
import type { Finding } from "#engine/findings/finding.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import type { Edit } from "#engine/model/edit.ts";
import type { Assignment, MixMember, Show } from "#engine/model/show.ts";
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

const setting = ({ to, from, count }: Assignment): string =>
  `${to.group} ${to.first}${count === 1 ? "" : ` x${count}`} < ${from.group} ${from.first}`;

/** A part of a record in few words: settings and mix members as the rigs write them, all else as JSON. */
function partText(key: string, value: unknown): string {
  if (value === undefined) return "none";
  if (key === "routing") return (value as readonly Assignment[]).map(setting).join(", ") || "none";
  if (key === "members") {
    return (
      (value as readonly MixMember[]).map(({ group, number }) => `${group} ${number}`).join(", ") || "none"
    );
  }
  return JSON.stringify(value);
}

/** `devices house routing: …`: what an edit makes of a record, part by part; parts that stay aren't told. */
function editLines(show: Show, edit: Edit): readonly string[] {
  if (edit.kind === "remove") return [`  ${edit.list} ${edit.id} out`];
  if (edit.kind !== "put") return [`  ${JSON.stringify(edit)}`];
  const after = edit.record as unknown as Readonly<Record<string, unknown>>;
  const records = (show[edit.list] ?? []) as unknown as readonly Readonly<Record<string, unknown>>[];
  const before = records.find(({ id }) => id === after["id"]);
  if (!before) return [`  ${edit.list} new ${JSON.stringify(after)}`];
  const name = `  ${edit.list} ${String(after["id"])}`;
  const changed = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (key) => JSON.stringify(before[key]) !== JSON.stringify(after[key]),
  );
  return changed.length === 0
    ? [`${name} as it was`]
    : changed.map((key) => `${name} ${key}: ${partText(key, after[key])}`);
}

/** Each fix that is offered for a finding of a check, the first one where none is named: its label, then its edits. */
export function offered(show: Show, check: string, id?: string): readonly string[] {
  const analysis = analyse(show);
  const finding = analysis.findings.find((each) => each.check === check && (id ?? each.id) === each.id);
  if (!finding) throw new Error(`no such finding of ${check}`);
  return fixesOf(analysis, finding).flatMap(({ label, edits }) => [
    label,
    ...edits.flatMap((edit) => editLines(show, edit)),
  ]);
}
