/** Settings as lists: cut out of runs, and runs put together again. */
import type { Assignment } from "./show.ts";

/** `count` terminals of a setting from its `skip`th on; the setting itself where that is all of it. */
export function partOf(setting: Assignment, skip: number, count: number): Assignment {
  if (count === setting.count) return setting;
  const { to, from } = setting;
  return { to: { ...to, first: to.first + skip }, from: { ...from, first: from.first + skip }, count };
}

/** The settings without those of their terminals that go; what is left of a run stays in place. */
export function cleared(
  routing: readonly Assignment[],
  goes: (setting: Assignment, n: number) => boolean,
): readonly Assignment[] {
  return routing.flatMap((setting): Assignment[] => {
    const kept: Assignment[] = [];
    let start = 0;
    for (let n = 0; n <= setting.count; n++) {
      if (n < setting.count && !goes(setting, n)) continue;
      if (n > start) kept.push(partOf(setting, start, n - start));
      start = n + 1;
    }
    return kept;
  });
}

/** The settings in the order of their destinations, those that go on in step at both ends made one. */
export function joined(settings: readonly Assignment[]): readonly Assignment[] {
  const ordered = [...settings].sort(
    (a, b) => a.to.group.localeCompare(b.to.group) || a.to.first - b.to.first,
  );
  const runs: Assignment[] = [];
  for (const setting of ordered) {
    const last = runs.at(-1);
    const inStep =
      last &&
      last.to.group === setting.to.group &&
      last.from.group === setting.from.group &&
      last.to.first + last.count === setting.to.first &&
      last.from.first + last.count === setting.from.first;
    if (inStep) runs[runs.length - 1] = { ...last, count: last.count + setting.count };
    else runs.push(setting);
  }
  return runs;
}

/**
 * The routing with `to … to + count - 1` taking from `from`, or from nothing where that is null. `clear`: so many
 * destinations lose what they took before, where that is more than `count`. What stood there is cut out, so that every
 * destination keeps one setting, and neighbouring runs that go on in step become one.
 */
export function assigned(
  routing: readonly Assignment[],
  {
    to,
    count,
    clear = count,
    from,
  }: {
    readonly to: Assignment["to"];
    readonly from: Assignment["from"] | null;
    readonly count: number;
    readonly clear?: number;
  },
): readonly Assignment[] {
  const isHere = (entry: Assignment): boolean => entry.to.group === to.group;
  const end = to.first + Math.max(count, clear);
  const kept = cleared(routing, (entry, n) => {
    const number = entry.to.first + n;
    return isHere(entry) && number >= to.first && number < end;
  });
  const runs = from ? joined([...kept.filter(isHere), { to, from, count }]) : kept.filter(isHere);
  // The group's runs stay where the first of them stood, so that an edit moves no other lines in the file.
  const others = kept.filter((entry) => !isHere(entry));
  const place = routing.findIndex(isHere);
  const before = place < 0 ? others.length : routing.slice(0, place).filter((entry) => !isHere(entry)).length;
  return [...others.slice(0, before), ...runs, ...others.slice(before)];
}
