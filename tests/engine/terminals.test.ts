/** Finding terminals one by one and many in a row. */
import { describe, expect, test } from "vitest";
import { id, type DeviceId, type GroupId } from "#engine/model/ids.ts";
import { findTerminal, terminalFinder, terminalOf } from "#engine/trace/terminal.ts";
import { compile } from "#engine/wiring/compile.ts";
import { demo } from "./demo.ts";

const WIRING = compile(demo());
const NOWHERE = id<DeviceId>("nowhere");

describe("many terminals in a row", () => {
  test("are found where each is found alone, whatever was asked for before", () => {
    const find = terminalFinder(WIRING);
    let step = 7;
    for (let asked = 0; asked < 4000; asked++) {
      // A stride that has nothing in common with the size goes everywhere, near and far.
      step = (step * 31 + 11) % WIRING.size;
      const { device, group, number } = terminalOf(WIRING, step);
      const wrong = asked % 5;
      const ref = {
        device: wrong === 1 ? NOWHERE : device,
        group: wrong === 2 ? id<GroupId>("nothing") : group,
        number: wrong === 3 ? number + 500 : wrong === 4 && asked % 2 === 0 ? 0 : number,
      };
      expect(find(ref.device, ref.group, ref.number)).toBe(findTerminal(WIRING, ref) ?? -1);
    }
  });
});
