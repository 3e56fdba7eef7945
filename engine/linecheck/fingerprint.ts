/**
 * What a line check is bound to: a short text that changes when the way to the jack changes, and only then. Names, lengths
 * and delays aren’t part of it, for they change nothing that a line check has heard.
 */
import type { Analysis } from "../analysis.ts";
import { NOWHERE, standing } from "../findings/standing.ts";
import { stepsOf, type Trace, type Verdict } from "../trace/trace.ts";
import type { Terminal } from "../trace/terminal.ts";
import { traceOf } from "../trace/walk.ts";
import { never } from "../model/result.ts";

/**
 * The fingerprint of a jack’s check, 16 hexadecimal digits: of its trace, and at a source’s jack of those of the channels
 * that are planned to carry the source, too.
 */
export function fingerprint({ wiring }: Analysis, terminal: number): string {
  const at = standing(wiring);
  const { sources, channels } = wiring.show;
  const here = new Set(sources.filter((_, n) => at.sources[n] === terminal).map(({ id }) => id));
  const targets = [terminal];
  channels.forEach(({ source }, n) => {
    if (source !== undefined && here.has(source) && at.channels[n] !== NOWHERE) targets.push(at.channels[n]!);
  });
  return digest(targets.map((target) => traceText(traceOf(wiring, target))).join("\n"));
}

const place = ({ device, group, side, number }: Terminal): string =>
  JSON.stringify([device, group, side, number]);

function traceText(trace: Trace): string {
  const steps = stepsOf(trace).map((step) => {
    const by = step.kind === "cable" ? step.cable : step.kind === "mixed" ? step.tap : "";
    return `${step.kind} ${by} ${place(step.from)} ${place(step.to)}`;
  });
  return [place(trace.target), endText(trace.verdict), ...steps].join("|");
}

function endText(verdict: Verdict): string {
  switch (verdict.kind) {
    case "arrives":
      return `${verdict.kind} ${place(verdict.origin.at)} ${verdict.origin.kind === "source" ? verdict.origin.source : ""}`;
    case "loop":
      return `${verdict.kind} ${verdict.cycle.map(place).join(" ")}`;
    case "nothing-assigned":
    case "not-plugged":
    case "beyond-slots":
    case "not-wired":
    case "mismatch":
    case "off":
    case "unknown":
      return `${verdict.kind} ${place(verdict.at)}`;
    default:
      return never(verdict);
  }
}

/** Two multiply-xorshift sums of the text, 32 bits each. It guards against change, not against anybody. */
function digest(text: string): string {
  let [a, b] = [0xdeadbeef, 0x41c6ce57];
  for (let n = 0; n < text.length; n++) {
    const code = text.charCodeAt(n);
    a = Math.imul(a ^ code, 0x9e3779b1);
    b = Math.imul(b ^ code, 0x5f356495);
  }
  a = Math.imul(a ^ (a >>> 16), 0x85ebca6b) ^ Math.imul(b ^ (b >>> 13), 0xc2b2ae35);
  b = Math.imul(b ^ (b >>> 16), 0x85ebca6b) ^ Math.imul(a ^ (a >>> 13), 0xc2b2ae35);
  return [a, b].map((half) => (half >>> 0).toString(16).padStart(8, "0")).join("");
}
