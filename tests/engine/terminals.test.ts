/** Finding terminals one by one and many in a row. */
import { describe, expect, test } from "vitest";
import { id, type DeviceId, type GroupId } from "#engine/model/ids.ts";
import { findTerminal, namesOf, terminalFinder, terminalOf } from "#engine/trace/terminal.ts";
import { compile } from "#engine/wiring/compile.ts";
import { demo } from "./demo.ts";
import * as rigs from "./rigs/index.ts";
import { Bench } from "./tell.ts";

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

describe("the names of many terminals", () => {
  test("[M2] jacks of pairs go by their own numbers, and by A and B where the two signals part ways", () => {
    const bench = new Bench(rigs.R17);
    const names = (...jacks: readonly string[]): string =>
      namesOf(
        bench.wiring,
        jacks.map((jack) => bench.at(`Converter A AES3 out ${jack}`)),
      );
    expect(names("1A", "1B", "2A", "2B")).toBe("Converter A AES3 out 1–2");
    expect(names("1A", "1B", "2A", "3B")).toBe("Converter A AES3 out 1, 2A, 3B");
    expect(names("4B")).toBe("Converter A AES3 out 4B");
  });
  test("slots and single jacks go by their numbers", () => {
    const bench = new Bench(rigs.R17);
    const at = ["House Link 1 out 3", "House Link 1 out 4", "House Local out 2"].map((name) =>
      bench.at(name),
    );
    expect(namesOf(bench.wiring, at)).toBe("House Link 1 out 3–4; House Local out 2");
  });
});
