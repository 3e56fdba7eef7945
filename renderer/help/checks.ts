/**
 * What each check means, read from the engine's own pages: the table of `FINDINGS.md` (when, and what to do) and the F
 * rules of `SPEC.md` (the exact condition). The texts stand there and nowhere else.
 */
import FINDINGS from "#engine/findings/FINDINGS.md?raw";
import SPEC from "#engine/SPEC.md?raw";
import { pieces, readGuide, type Line } from "./guide.ts";

export interface CheckPage {
  readonly check: string;
  /** `F1`. */
  readonly rule: string;
  readonly severity: string;
  readonly when: Line;
  readonly todo: Line;
  /** The rule as SPEC states it, with the numbers of other rules in it. */
  readonly exactly: Line;
}

/** Each rule of SPEC by its number. A rule goes on until the next one, an empty line or a heading. */
export const RULES: ReadonlyMap<string, Line> = new Map(
  SPEC.split(/\n(?=- \*\*[A-Z]\d+\*\* )/)
    .slice(1)
    .map((part): readonly [string, Line] => {
      const [, rule, text] = /^- \*\*([A-Z]\d+)\*\* ((?:.+\n?)+)/.exec(part) ?? [];
      return [rule ?? "", pieces((text ?? "").trim().replaceAll(/\s*\n\s*/g, " "))];
    }),
);

const plain = (line: Line): string => line.map(({ text }) => text).join("");

export const CHECK_PAGES: readonly CheckPage[] = readGuide(FINDINGS).flatMap((part) =>
  part.kind !== "table"
    ? []
    : part.rows.map(([rule, check, severity, when, todo]): CheckPage => ({
        check: plain(check!),
        rule: plain(rule!),
        severity: plain(severity!),
        when: when!,
        todo: todo!,
        exactly: RULES.get(plain(rule!)) ?? [],
      })),
);

export const pageOf = (check: string): CheckPage | undefined =>
  CHECK_PAGES.find((page) => page.check === check);

/** A text as what stands between the numbers of rules, and those numbers, alternating. */
export function ruleParts(text: string): readonly { readonly text: string; readonly rule: Line | null }[] {
  return text
    .split(/\b([A-Z]\d{1,2})\b/)
    .filter((part) => part !== "")
    .map((part) => ({ text: part, rule: RULES.get(part) ?? null }));
}
