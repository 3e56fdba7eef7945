/** Whether two analyses of one show say the same. */
import type { Analysis } from "#engine/analysis.ts";

const ARRAYS = [
  "feeder",
  "state",
  "edge",
  "setting",
  "delay",
  "sourceAt",
  "deviceOf",
  "downStart",
  "downList",
  "mixWhole",
  "leaders",
] as const;

/** Where two analyses of one show differ; empty where they say the same. */
export function differences(again: Analysis, anew: Analysis): string[] {
  const wrong: string[] = [];
  const compare = (what: string, a: ArrayLike<number>, b: ArrayLike<number>): void => {
    if (a.length !== b.length) wrong.push(`${what}: ${a.length} entries for ${b.length}`);
    for (let n = 0; n < a.length; n++) {
      if (a[n] !== b[n]) return void wrong.push(`${what}[${n}] is ${a[n]} and should be ${b[n]}`);
    }
  };
  for (const name of ARRAYS) compare(name, again.wiring[name], anew.wiring[name]);
  for (const part of ["start", "terminal", "mix"] as const)
    compare(`mixInto.${part}`, again.wiring.mixInto[part], anew.wiring.mixInto[part]);
  for (const name of ["root", "steps", "delay"] as const)
    compare(name, again.arrivals[name], anew.arrivals[name]);
  const joins = ({ arrivals }: Analysis): string => JSON.stringify([...(arrivals.joins ?? [])]);
  if (joins(again) !== joins(anew)) wrong.push("what comes to joins differs");
  again.findings.forEach((finding, n) => {
    const told = JSON.stringify(finding);
    const due = JSON.stringify(anew.findings[n]);
    if (told !== due) wrong.push(`finding ${n} is ${told} and should be ${due}`);
  });
  if (again.findings.length !== anew.findings.length)
    wrong.push(`${again.findings.length} findings for ${anew.findings.length}`);
  return wrong;
}
