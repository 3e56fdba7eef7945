/** Every check, in the order in which its findings are listed within one severity. */
import { arrivesTwice } from "./arrives-twice.ts";
import { assumedPath } from "./assumed-path.ts";
import { cableJoinsNothing, cableLengthUnknown, cableTooLong, cableWrongKind } from "./cable-fit.ts";
import { chain } from "./chain.ts";
import { clockMismatch } from "./clock-mismatch.ts";
import { clockSource } from "./clock-source.ts";
import { commonLoss } from "./common-loss.ts";
import { dangling } from "./dangling.ts";
import { darkFeed } from "./dark-feed.ts";
import { doubleWant } from "./double-want.ts";
import { SEVERITIES, type Analysed, type Check, type Finding } from "./finding.ts";
import { labels } from "./labels.ts";
import { loop } from "./loop.ts";
import { busUse, mixMemberRefused } from "./mixes.ts";
import { overCapacity } from "./over-capacity.ts";
import { planGap } from "./plan-gap.ts";
import { preamp } from "./preamp.ts";
import { setTwice, settingIdle } from "./settings.ts";
import { sharedBlock } from "./shared-block.ts";
import { stranded } from "./stranded.ts";
import { usedTwice } from "./used-twice.ts";
import { wrongFeed } from "./wrong-feed.ts";

export const CHECKS: readonly Check[] = [
  darkFeed,
  wrongFeed,
  clockMismatch,
  clockSource,
  doubleWant,
  loop,
  usedTwice,
  overCapacity,
  cableJoinsNothing,
  cableTooLong,
  cableWrongKind,
  chain,
  busUse,
  mixMemberRefused,
  preamp,
  dangling,
  arrivesTwice,
  sharedBlock,
  setTwice,
  settingIdle,
  labels,
  planGap,
  stranded,
  cableLengthUnknown,
  commonLoss,
  assumedPath,
];

/** All findings: errors first, then in the order of the checks. */
export function findAll(rig: Analysed): readonly Finding[] {
  const all = CHECKS.flatMap((check) => check.run(rig));
  return SEVERITIES.flatMap((severity) => all.filter((finding) => finding.severity === severity));
}
