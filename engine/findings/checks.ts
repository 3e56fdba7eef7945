/** Every check, in the order in which its findings are listed within one severity. */
import { arriveApart } from "./arrive-apart.ts";
import { kept } from "./kept.ts";
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
import { followerTrim } from "./follower-trim.ts";
import { heldBlock } from "./held-block.ts";
import { insert } from "./insert.ts";
import { labels } from "./labels.ts";
import { loop } from "./loop.ts";
import { busUse, mixMemberRefused } from "./mixes.ts";
import { networkLoad, packetTooBig } from "./network-load.ts";
import { overCapacity } from "./over-capacity.ts";
import { overLatency } from "./over-latency.ts";
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
  heldBlock,
  clockMismatch,
  clockSource,
  doubleWant,
  loop,
  usedTwice,
  overCapacity,
  networkLoad,
  packetTooBig,
  cableJoinsNothing,
  cableTooLong,
  cableWrongKind,
  chain,
  busUse,
  mixMemberRefused,
  insert,
  preamp,
  dangling,
  followerTrim,
  arrivesTwice,
  arriveApart,
  overLatency,
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

/** What each check found, in the order of `CHECKS`. */
export type FoundBy = readonly (readonly Finding[])[];

export const findEach = (rig: Analysed): FoundBy => CHECKS.map((check) => check.run(rig));

/** What each check finds after an edit. A check that reads nothing new finds nothing new; what stays is the same object. */
export function findAgain(rig: Analysed, before: Analysed, known: FoundBy): FoundBy {
  const { types, settings } = rig.wiring.show;
  // Nearly every check names devices and speaks of their types.
  const renamed =
    rig.wiring.names !== before.wiring.names ||
    types !== before.wiring.show.types ||
    settings !== before.wiring.show.settings;
  return CHECKS.map((check, n) => {
    const then = renamed ? null : check.reads(before);
    return then && check.reads(rig).every((value, r) => value === then[r])
      ? known[n]!
      : kept(check.run(rig), known[n]!);
  });
}

/** Errors first, then in the order of the checks. */
export const listed = (foundBy: FoundBy): readonly Finding[] => {
  const all = foundBy.flat();
  return SEVERITIES.flatMap((severity) => all.filter((finding) => finding.severity === severity));
};

/** All findings of a rig. */
export const findAll = (rig: Analysed): readonly Finding[] => listed(findEach(rig));
