/** The two demo shows: one that is right, and one with eight faults planted, each found once. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import { fixesOf } from "#engine/findings/fixes.ts";
import { deviceName } from "#engine/findings/describe.ts";
import type { Finding } from "#engine/findings/finding.ts";
import { id, type DeviceId, type GroupId } from "#engine/model/ids.ts";
import { findTerminal } from "#engine/trace/terminal.ts";
import { gatekeepers } from "#engine/trace/trace.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { demo, STARTERS } from "../demo.ts";

const lines = (findings: readonly Finding[]): readonly string[] =>
  findings.map(({ severity, id }) => `${severity} ${id}`);

describe("the demo shows", () => {
  test("the one that is right has notes only, of what is true of any such rig", () => {
    expect(lines(analyse(demo("quayside")).findings)).toEqual(["note common-loss", "note assumed-path"]);
  });

  test("each planted fault is one error, and where there is a way out it is offered", () => {
    const analysis = analyse(demo("quayside-faults"));
    const errors = analysis.findings.filter(({ severity }) => severity === "error");
    const fixes = errors.map((finding) => [finding.id, fixesOf(analysis, finding).map(({ label }) => label)]);
    expect(fixes).toEqual([
      [
        "dark-feed:error:not-wired:proc:out:jack:5",
        ["Switch Loudspeaker processor to mode “Eight ways from eight inputs”"],
      ],
      [
        "dark-feed:error:nothing-assigned:foh:link1:send:41",
        ["Front of house: Link 1 out 41–48 takes Link 2 in 9–16"],
      ],
      // A cable has to be found and run; nothing in the show says where.
      ["dark-feed:error:not-plugged:if-stage:coax-in:receive", []],
      [
        "dark-feed:error:beyond-slots:rec:coax-in:receive",
        ["Run Recorder and Recording interface at the show's rate"],
      ],
      ["clock-mismatch:l9", ["Run Truck box at the show's rate"]],
      ["double-want:sl:out:9", ["Drop the want “Wedge 1 Centre left”", "Drop the want “Spare wedge”"]],
      [
        expect.stringMatching(/^loop:/),
        [
          "Clear the settings of Front of house Link 2 out 41–48",
          "Clear the settings of Monitors Link 2 out 41–48",
        ],
      ],
      ["cable-too-long:p1", []],
    ]);
    expect(analysis.findings.filter(({ severity }) => severity === "warning")).toEqual([]);
  });
});

describe("the rigs to start from", () => {
  test.each(STARTERS)("%s is wired and routed, with notes only and nobody's input list", (name) => {
    const show = demo(name);
    const { findings, wiring, arrivals } = analyse(show);
    expect(findings.filter(({ severity }) => severity !== "note")).toEqual([]);
    expect(show.sources).toEqual([]);
    expect(show.wants.length).toBeGreaterThan(10);
    // Every output that the rig names has the bus that it names, at its jack.
    for (const { to, from } of show.wants) {
      expect(arrivals.root[findTerminal(wiring, to)!]).toBe(findTerminal(wiring, from!));
    }
  });

  test("the club and the festival have the sixteen outputs more: monitors' mixes through the house to a breakout", () => {
    for (const name of ["starter-club", "starter-festival"] as const) {
      const { wiring } = analyse(demo(name));
      const ears = id<DeviceId>("ears");
      const trace = traceOf(
        wiring,
        findTerminal(wiring, { device: ears, group: id<GroupId>("out"), number: 1 })!,
      );
      expect(
        gatekeepers(trace)
          .map((device) => deviceName(wiring, device))
          .slice(0, 2),
      ).toEqual(["Monitors", "House"]);
    }
  });
});
