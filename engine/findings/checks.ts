/** Every check, in the order in which its findings are listed within one severity. */
import { cableJoinsNothing, cableLengthUnknown, cableTooLong, cableWrongKind } from "./cable-fit.ts";
import { dangling } from "./dangling.ts";
import { darkFeed } from "./dark-feed.ts";
import { doubleWant } from "./double-want.ts";
import { SEVERITIES, type Analysed, type Check, type Finding } from "./finding.ts";
import { loop } from "./loop.ts";
import { overCapacity } from "./over-capacity.ts";
import { setTwice, settingIdle } from "./settings.ts";
import { sharedBlock } from "./shared-block.ts";
import { usedTwice } from "./used-twice.ts";
import { wrongFeed } from "./wrong-feed.ts";

export const CHECKS: readonly Check[] = [
  darkFeed,
  wrongFeed,
  doubleWant,
  loop,
  usedTwice,
  overCapacity,
  cableJoinsNothing,
  cableTooLong,
  cableWrongKind,
  dangling,
  sharedBlock,
  setTwice,
  settingIdle,
  cableLengthUnknown,
];

/** All findings: errors first, then in the order of the checks. */
export function findAll(rig: Analysed): readonly Finding[] {
  const all = CHECKS.flatMap((check) => check.run(rig));
  return SEVERITIES.flatMap((severity) => all.filter((finding) => finding.severity === severity));
}
