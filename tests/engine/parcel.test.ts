/** An analysis on its way between threads: whole on the other side, and no larger than what an edit changes. */
import { describe, expect, test } from "vitest";
import { analyse, reanalyse, type Analysis } from "#engine/analysis.ts";
import { applyEdits } from "#engine/model/edit.ts";
import { pack, unpack } from "#engine/parcel.ts";
import type { Show } from "#engine/model/show.ts";
import { demo } from "./demo.ts";

/** The show with another name for the first of 16 sources that one finding speaks of. */
function renamed({ show }: Analysis, name: string): Show {
  const record = show.sources.find((source) => source.name === "Timpani left")!;
  return applyEdits(show, [{ kind: "put", list: "sources", record: { ...record, name } }]);
}

const told = ({ findings, foundBy, arrivals, wiring }: Analysis): unknown => ({
  findings,
  foundBy,
  root: arrivals.root,
  feeder: wiring.feeder,
});

/** No channel has been planned yet, so that findings point at every source. */
const unplanned = (): Show => ({ ...demo("quayside-faults"), channels: [] });

describe("a parcel", () => {
  test("[E2] after an edit is whole on the other side, where what hasn't changed is the same object", () => {
    const before = analyse(unplanned());
    const after = reanalyse(renamed(before, "Another name"), before);
    const there = unpack(before.show, structuredClone(pack(before, null)), null);
    const sent = structuredClone(pack(after, before));
    const got = unpack(after.show, sent, there);
    expect(told(got)).toEqual(told(analyse(after.show)));
    const same = got.findings.filter((finding) => there.findings.includes(finding));
    const changed = got.findings.filter((finding) => !there.findings.includes(finding));
    expect(same.length).toBeGreaterThan(0);
    expect(changed.length).toBeGreaterThan(0);
    // They say another name, of the same jacks.
    expect(changed.every(({ reason, title }) => `${title} ${reason}`.includes("Another name"))).toBe(true);
    for (const finding of changed)
      expect(there.findings.some(({ terminals }) => terminals === finding.terminals)).toBe(true);
  });

  test("of one new name is small beside one of all that is found", () => {
    const before = analyse(unplanned());
    const after = reanalyse(renamed(before, "Another name"), before);
    const size = (value: unknown): number => JSON.stringify(value).length;
    expect(size(pack(after, before).foundBy) * 5).toBeLessThan(size(pack(after, null).foundBy));
    expect(pack(after, before).arrays).toEqual({});
  });
});
