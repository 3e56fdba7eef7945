/** What the checks say of a rig, as lines, and small changes of a rig's records. */
import { analyse, type Analysis } from "#engine/analysis.ts";
import type { Finding } from "#engine/findings/finding.ts";
import type { Device, Mix, Show, Source } from "#engine/model/show.ts";

/** The findings of some checks, errors first. */
export const findingsOf = (show: Show, ...checks: readonly string[]): readonly Finding[] =>
  analyse(show).findings.filter(({ check }) => checks.includes(check));

/** `error clock-mismatch:L1: Cable L1 joins …` */
export const told = (show: Show, ...checks: readonly string[]): readonly string[] =>
  findingsOf(show, ...checks).map(({ severity, id, title }) => `${severity} ${id}: ${title}`);

/** The one finding of a check. */
export function only(analysis: Analysis, check: string): Finding {
  const found = analysis.findings.filter((finding) => finding.check === check);
  if (found.length !== 1) throw new Error(`${found.length} findings of ${check}, not one`);
  return found[0]!;
}

export const reasons = (show: Show, ...checks: readonly string[]): readonly string[] =>
  findingsOf(show, ...checks).map(({ reason }) => reason);

function changed<Named extends { readonly id: string }>(
  records: readonly Named[],
  key: string,
  change: Partial<Named>,
): readonly Named[] {
  if (!records.some(({ id }) => id === key)) throw new Error(`the rig has no "${key}"`);
  return records.map((record) => (record.id === key ? { ...record, ...change } : record));
}

export const withSource = (show: Show, key: string, change: Partial<Source>): Show => ({
  ...show,
  sources: changed(show.sources, key, change),
});

export const withDevice = (show: Show, key: string, change: Partial<Device>): Show => ({
  ...show,
  devices: changed(show.devices, key, change),
});

export const withMix = (show: Show, key: string, change: Partial<Mix>): Show => ({
  ...show,
  mixes: changed(show.mixes, key, change),
});
