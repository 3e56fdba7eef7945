/** F8 to F11: which other kinds of cable are offered, and what becomes of the cables. */
import { describe, expect, test } from "vitest";
import type { CableRule } from "#engine/model/device-type.ts";
import type { CableEnd, Show } from "#engine/model/show.ts";
import { fitOf } from "#engine/build/fit.ts";
import { rig } from "../rigs/build.ts";
import { EIGHT, port, type } from "../rigs/types.ts";
import { told } from "./told.ts";
import { offered } from "./whole.ts";

const taking = (
  name: string,
  kinds: Readonly<Partial<Record<CableRule["kind"], number>>>,
): ReturnType<typeof type> =>
  type(name, {
    ports: [
      port("x", EIGHT, {
        cables: Object.entries(kinds).map(([kind, maxMetres]) => ({
          kind: kind as CableRule["kind"],
          maxMetres,
          provenance: "standard",
        })),
      }),
    ],
  });

/** `A` and `B` with ports that take what is listed, and one cable between them. */
const joined = (
  a: Parameters<typeof taking>[1],
  b: Parameters<typeof taking>[1],
  cable: string,
  far = "b.x",
): Show =>
  rig({
    types: [taking("a", a), taking("b", b)],
    devices: { a: { name: "A", type: "a" }, b: { name: "B", type: "b" } },
    cables: [`L1: a.x - ${far}, ${cable}`],
  });

describe("[F8] [F9] other kinds of cable", () => {
  test("a shielded cable goes where an unshielded one does, and as far; not the other way round", () => {
    const plain = { cat5e: 80 };
    const shielded = { "cat5e-shielded": 90 };
    expect(told(joined(plain, plain, "80 m, cat5e-shielded"), "cable-wrong-kind", "cable-too-long")).toEqual(
      [],
    );
    expect(
      told(joined(plain, shielded, "80 m, cat5e-shielded"), "cable-wrong-kind", "cable-too-long"),
    ).toEqual([]);
    expect(told(joined(plain, plain, "81 m, cat5e-shielded"), "cable-too-long")).toHaveLength(1);
    expect(told(joined(plain, shielded, "80 m, cat5e"), "cable-wrong-kind")).toHaveLength(1);
    // A limit of its own comes first.
    const both = { cat5e: 80, "cat5e-shielded": 90 };
    expect(told(joined(both, both, "90 m, cat5e-shielded"), "cable-too-long")).toEqual([]);
    expect(offered(joined(plain, shielded, "80 m, cat5e"), "cable-wrong-kind")[0]).toBe(
      "Make cable L1 Cat 5e, shielded",
    );
  });

  test("[B7] a port that takes unshielded cables and one that needs a shield take a shielded one", () => {
    const show = { ...joined({ cat5e: 80 }, { "cat5e-shielded": 90 }, "5 m"), cables: [] };
    const end = (device: string): CableEnd => ({ device, group: "x", first: 1 }) as unknown as CableEnd;
    expect(fitOf(show, end("a"), end("b"))).toMatchObject({ kind: "fits", cable: "cat5e-shielded" });
  });

  test("[F27] each that both ends take, up to its very limit, in the catalogue's order", () => {
    const show = joined(
      { "coax-75": 100, fibre: 80, "digital-110": 80 },
      { "coax-75": 60, fibre: 500, "digital-110": 79 },
      "80 m, coax-75",
    );
    expect(offered(show, "cable-too-long")).toEqual(["Make cable L1 fibre", '  cables L1 kind: "fibre"']);
  });

  test("[F27] none that clears one end's fault and leaves the other's", () => {
    // B takes the fibre for 40 m only, A doesn't take it at all; A's coax is too short, too.
    const show = joined({ "coax-75": 50 }, { fibre: 40, "coax-75": 100 }, "80 m, fibre");
    expect(told(show, "cable-too-long", "cable-wrong-kind")).toEqual([
      "error cable-too-long:L1: Cable L1 is 40 m too long",
      "error cable-wrong-kind:L1: Cable L1 is the wrong kind of cable",
    ]);
    expect(offered(show, "cable-too-long")).toEqual([]);
    expect(offered(show, "cable-wrong-kind")).toEqual([]);
  });

  test("[F27] without a length it is the kind alone that counts", () => {
    const show = joined({ fibre: 500 }, { fibre: 500 }, "coax-75").cables[0]!;
    expect(show.length).toBeUndefined();
    expect(offered(joined({ fibre: 500 }, { fibre: 500 }, "coax-75"), "cable-wrong-kind")).toEqual([
      "Make cable L1 fibre",
      '  cables L1 kind: "fibre"',
    ]);
  });

  test("[F27] where an end is lost the other one decides", () => {
    const show = joined({ "coax-75": 50, fibre: 500 }, {}, "80 m, coax-75", "gone.x");
    expect(offered(show, "cable-too-long")).toEqual(["Make cable L1 fibre", '  cables L1 kind: "fibre"']);
  });

  test("[F8] a limit in parts of a metre", () => {
    expect(told(joined({ fibre: 60.25 }, { fibre: 100 }, "60.5 m, fibre"), "cable-too-long")).toEqual([
      "error cable-too-long:L1: Cable L1 is 0.3 m too long",
    ]);
  });
});

test("[F11] [F27] a cable that joins nothing is taken out", () => {
  const show = rig({
    devices: {
      house: { name: "House", type: "console-24" },
      box: { name: "Box", type: "box-16-8", mode: "one" },
    },
    cables: ["X1: house.link1 - box.in.1, 5 m", "L1: house.link2 - box.a, 5 m"],
  });
  expect(offered(show, "cable-joins-nothing")).toEqual(["Take cable X1 out", "  cables X1 out"]);
});
