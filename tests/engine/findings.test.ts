/** What is wrong with a rig, told in one line each: `severity id: title`. */
import { CHECKS } from "#engine/findings/checks.ts";
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { SEVERITIES, type Finding } from "#engine/findings/finding.ts";
import * as rigs from "./rigs/index.ts";
import { nameOf, type Rig } from "./tell.ts";

/** The findings of one check, or of some. */
function found({ show }: Rig, ...checks: readonly string[]): readonly string[] {
  return findingsOf({ show }, ...checks).map(({ severity, id, title }) => `${severity} ${id}: ${title}`);
}

const findingsOf = ({ show }: Rig, ...checks: readonly string[]): readonly Finding[] =>
  analyse(show).findings.filter(({ check }) => checks.includes(check));

describe("findings", () => {
  test("[F1] planned feeds and channels that don't arrive, those of one cause together", () => {
    expect(found(rigs.R57, "dark-feed")).toEqual([
      "error dark-feed:error:nothing-assigned:house:link1:send:41: 4 feeds are dark: nothing assigned at House Link 1 out 41–44",
      "error dark-feed:error:nothing-assigned:house:ch:bus:4: Hat is dark: nothing assigned at House Channel 4",
      // Nobody wants anything there, but a cable hangs in it.
      "warning dark-feed:warning:nothing-assigned:house:out:jack:8: House Local out 8 is dark: nothing assigned at House Local out 8",
    ]);
    const [first] = findingsOf(rigs.R57, "dark-feed");
    expect(first!.wants).toEqual(["ears-9", "ears-10", "ears-11", "ears-12"]);
  });

  test("[F2] a want's jack from another tap than it names, a channel from another source than planned", () => {
    expect(found(rigs.R57, "wrong-feed")).toEqual([
      "error wrong-feed:wedge: Wedge gets the wrong signal at Box Out 3",
      "error wrong-feed:house-snare: House Channel 2 carries the wrong source",
    ]);
    const [jack, channel] = findingsOf(rigs.R57, "wrong-feed");
    expect(jack!.reason).toBe("House Mix 3 arrives there; House Mix 4 is wanted.");
    expect(channel!.reason).toBe("Hat arrives there; Snare is planned.");
  });

  test("[F3] two wants on one jack", () => {
    expect(found(rigs.R57, "double-want")).toEqual([
      "error double-want:box:out:5: 2 feeds are wanted on Box Out 5",
    ]);
    expect(findingsOf(rigs.R57, "double-want")[0]!.wants).toEqual(["fill", "fill-again"]);
  });

  test("[F4] each loop once, whether or not a jack hangs on it", () => {
    expect(found(rigs.R40, "loop")).toEqual([
      "error loop:house:in>house:out: A loop: House Local in 1 comes back to itself",
    ]);
    // Eight slots go round together; no jack hangs on those of R45.
    expect(found(rigs.R45, "loop")).toEqual([
      "error loop:house:link1>house:link2>monitors:link2>monitors:link1: A loop: House Link 1 in 1 comes back to itself",
    ]);
    expect(findingsOf(rigs.R44, "loop").map(({ reason }) => reason)).toEqual([
      "House Link 1 in 1 → House Link 2 out 1 → Monitors Link 1 in 1 → Monitors Link 2 out 1 → Truck Link 1 in 1 → Truck Link 2 out 1 → House Link 1 in 1. So do 7 more beside it.",
    ]);
  });

  test("[F5] an output block or a link's block that two consoles feed", () => {
    expect(found(rigs.R13, "shared-block")).toEqual([
      "warning shared-block:house:out:jack:1: House Local out 1–8 is shared by House and Monitors",
    ]);
    expect(found(rigs.R58, "shared-block")).toEqual([
      "warning shared-block:second:y:send:1: Second Port Y out 1–8 is shared by House and Monitors",
      "warning shared-block:end:out:jack:1: End Out 1–8 is shared by House and Monitors",
    ]);
  });

  test("[F6] two plugs in one port or jack, a source's counted", () => {
    expect([...found(rigs.R36, "used-twice")].sort()).toEqual([
      "error used-twice:house:link1: House Link 1 is used twice",
      "error used-twice:house:out:3: House Local out 3 is used twice",
      "error used-twice:wedge1:in:1: Wedge 1 In 1 is used twice",
    ]);
    expect(findingsOf(rigs.R39, "used-twice").map(({ reason }) => reason)).toEqual([
      "Talk and Late and Cable X1 are both plugged there; Talk counts.",
    ]);
    // A multicore and a single cable in one of its jacks; the tails that carry nothing are plugged in all the same.
    expect(found(rigs.R37, "used-twice")).toEqual([
      "error used-twice:processor:in:5: Processor In 5 is used twice",
    ]);
  });

  test("[F6] of two plugs in an output both carry the signal, so neither is said to count", () => {
    const output = findingsOf(rigs.R36, "used-twice").find(({ id }) => id === "used-twice:house:out:3");
    expect(output?.reason).toContain("X3");
    expect(output?.reason).not.toContain("counts");
  });

  test("[F7] settings to and from slots that the link doesn't have at the show's rate", () => {
    expect(
      findingsOf(rigs.R59, "over-capacity").map(({ severity, reason }) => `${severity}: ${reason}`),
    ).toEqual([
      expect.stringMatching(/^error: It carries 24 slots at 96 kHz; slots? 25–32 /),
      expect.stringMatching(/^error: It carries 24 slots at 96 kHz; slot 30 /),
    ]);
    expect(found(rigs.R08, "over-capacity")).toEqual([]);
  });

  test("[F8] cables longer than the port or jack allows, and none that are just as long", () => {
    expect(found(rigs.R60, "cable-too-long")).toEqual([
      "error cable-too-long:L1: Cable L1 is 1 m too long",
      "error cable-too-long:P1: Cable P1 is 5 m too long",
    ]);
  });

  test("[F9] kinds of cable that an end doesn't take; a missing shield is called that", () => {
    expect(found(rigs.R60, "cable-wrong-kind")).toEqual([
      "error cable-wrong-kind:L3: Cable L3 is unshielded where a shield is needed",
      "error cable-wrong-kind:L4: Cable L4 is the wrong kind of cable",
      "error cable-wrong-kind:X1: Cable X1 is the wrong kind of cable",
      "error cable-wrong-kind:X2: Cable X2 is the wrong kind of cable",
    ]);
  });

  test("[F10] a link's cable without a length; a jack's may do without", () => {
    expect(found(rigs.R60, "cable-length-unknown")).toEqual([
      "note cable-length-unknown:L2: Cable L2 has no length",
    ]);
  });

  test("[F11] cables that join nothing", () => {
    expect(found(rigs.R35, "cable-joins-nothing")).toEqual(
      ["X1", "L2", "X3", "X4", "X5", "X6", "L7", "X8", "X9"].map(
        (tag) => `error cable-joins-nothing:${tag}: Cable ${tag} joins nothing`,
      ),
    );
    // A lost end is told as that (F14), not as a cable that doesn't fit.
    expect(found(rigs.R46, "cable-joins-nothing")).toEqual([]);
  });

  test("[F12] two settings on one destination", () => {
    expect(found(rigs.R48, "set-twice")).toEqual([
      "warning set-twice:house:out: House Local out 3–4 is set twice",
    ]);
    expect(found(rigs.R47, "set-twice")).toEqual([]);
  });

  test("[F13] settings that the mode can't hold or that a fixed rule overrules", () => {
    expect(findingsOf(rigs.R48, "setting-idle").map(({ title }) => title)).toEqual([
      "House can't hold the setting of Local out 4",
      "The setting of Box Out 1–8 does nothing",
    ]);
    expect(findingsOf(rigs.R47, "setting-idle").map(({ title }) => title)).toEqual([
      "House can't hold the setting of Link 1 out 5–12, 17–28",
      "House can't hold the setting of Link 2 out 1–8, 25–32",
    ]);
  });

  test("[F14] records that point at nothing are told one by one, and their device's lost type once", () => {
    expect(
      findingsOf(rigs.R61, "dangling").map(({ id, reason }) => `${id}: ${reason.split(". ")[0]}`),
    ).toEqual([
      "dangling:house:place: The show has no place “attic”",
      "dangling:box:mode: Its type has no mode “retired”",
      "dangling:mystery:type: The show has no device type “gone”",
      "dangling:L1:1: The show has no device “nobody”",
      "dangling:X1:1: Box has no bank, port or section “aux”",
      "dangling:far: Box has 16 of “in”; number 17 doesn't exist",
      "dangling:lost: The show has no device “nobody”",
      "dangling:ninth:to: Box has 8 of “out”; number 9 doesn't exist",
      "dangling:from:from: House has 12 of “mix”; number 99 doesn't exist",
      "dangling:house-high: House has 24 of “ch”; number 25 doesn't exist",
      "dangling:house-ghost:source: The show has no source “nobody”",
      "dangling:thirteen: House has 12 of “mix”; number 13 doesn't exist",
      "dangling:members:members: ch 99 doesn't exist there",
    ]);
  });

  test("errors stand first, then warnings, then notes, and every finding has an id of its own", () => {
    for (const [name, rig] of rigs.RIGS) {
      const { findings } = analyse(rig.show);
      const order = findings.map(({ severity }) => SEVERITIES.indexOf(severity));
      expect(order, name).toEqual([...order].sort((a, b) => a - b));
      expect(new Set(findings.map(({ id }) => id)).size, name).toBe(findings.length);
    }
  });

  test("what a finding points at is there", () => {
    for (const [name, { show }] of rigs.RIGS) {
      for (const finding of analyse(show).findings) {
        for (const terminal of finding.terminals) expect(nameOf(show, terminal), name).not.toBe("");
        const devices = new Set<string>(show.devices.map(({ id }) => id));
        const cables = new Set<string>(show.cables.map(({ id }) => id));
        const wants = new Set<string>(show.wants.map(({ id }) => id));
        expect(
          finding.devices.filter((id) => !devices.has(id)),
          `${name} ${finding.id}`,
        ).toEqual([]);
        expect(
          finding.cables.filter((id) => !cables.has(id)),
          `${name} ${finding.id}`,
        ).toEqual([]);
        expect(
          finding.wants.filter((id) => !wants.has(id)),
          `${name} ${finding.id}`,
        ).toEqual([]);
      }
    }
  });
});

describe("the checks", () => {
  test("each has an id of its own, and says in a few words what it looks for", () => {
    const ids = CHECKS.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { id, about } of CHECKS) expect(about.split(" ").length, id).toBeGreaterThan(3);
  });
});
