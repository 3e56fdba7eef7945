/** The catalogue of rigs itself: numbered, drawn, used, and with every generic device type in it. */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { CATALOGUE } from "#engine/catalog/types.ts";
import { loadShow } from "#engine/exchange/load.ts";
import { saveShow } from "#engine/exchange/save.ts";
import { traceOf } from "#engine/trace/walk.ts";
import { RIGS } from "./rigs/index.ts";
import { Bench } from "./tell.ts";

const here = new URL("./", import.meta.url);
const read = (folder: string): readonly string[] =>
  readdirSync(new URL(folder, here))
    .filter((name) => name.endsWith(".ts"))
    .map((name) => readFileSync(new URL(`${folder}${name}`, here), "utf8"));

describe("the catalogue of rigs", () => {
  test("its numbers run from R01 without a gap", () => {
    expect([...RIGS.keys()]).toEqual(
      Array.from({ length: RIGS.size }, (_, n) => `R${String(n + 1).padStart(2, "0")}`),
    );
  });

  test("every rig is used by a test", () => {
    const tests = read("./").join("\n");
    expect([...RIGS.keys()].filter((name) => !tests.includes(`rigs.${name}`))).toEqual([]);
  });

  test("every rig is told of in a comment before it", () => {
    const text = read("./rigs/").join("\n");
    const comments = [...text.matchAll(/\/\*\*[\s\S]*?\*\//g)].map(([comment]) => comment).join("\n");
    const named = new Set(comments.match(/R\d\d/g));
    // A comment that tells of a span of rigs names its ends.
    for (const [, from, to] of comments.matchAll(/R(\d\d) to R(\d\d)/g)) {
      for (let n = Number(from); n <= Number(to); n++) named.add(`R${String(n).padStart(2, "0")}`);
    }
    expect([...RIGS.keys()].filter((name) => !named.has(name))).toEqual([]);
  });

  test("every generic device type is passed by a trace that arrives", () => {
    const passed = new Set<string>();
    for (const rig of RIGS.values()) {
      const { wiring, show } = new Bench(rig);
      const typeOf = new Map(show.devices.map(({ id, type }) => [id, type]));
      for (let at = 0; at < wiring.size; at++) {
        const { verdict, hops } = traceOf(wiring, at);
        // A trace inside one device would prove little about its links and jacks.
        if (verdict.kind === "arrives" && hops.length > 1)
          for (const { device } of hops) passed.add(typeOf.get(device)!);
      }
    }
    expect(CATALOGUE.map(({ id }) => id).filter((id) => !passed.has(id))).toEqual([]);
  });

  test("every rig is a show that loads", () => {
    for (const [name, { show }] of RIGS)
      expect(loadShow(saveShow(show)), name).toEqual({ ok: true, value: show });
  });
});
