/** Every check, in the order in which its findings are listed within one severity. */
import { SEVERITIES, type Analysed, type Check, type Finding } from "./finding.ts";

export const CHECKS: readonly Check[] = [];

/** All findings: errors first, then in the order of the checks. */
export function findAll(rig: Analysed): readonly Finding[] {
  const all = CHECKS.flatMap((check) => check.run(rig));
  return SEVERITIES.flatMap((severity) => all.filter((finding) => finding.severity === severity));
}
