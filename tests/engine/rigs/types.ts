/** Device types for what no type of the catalogue does. Sizes are made up for the rule that the rig is about. */
import { bank, carry, group, mode, patch, range, wired } from "#engine/catalog/parts.ts";
import type { CarryRule, DeviceType, FabricRule, LinkPort, SlotTable } from "#engine/model/device-type.ts";
import { id, type TypeId } from "#engine/model/ids.ts";

export const port = (name: string, slots: SlotTable, more: Partial<LinkPort> = {}): LinkPort => ({
  id: group(name),
  name: `Port ${name.toUpperCase()}`,
  transport: "test link",
  receive: slots,
  send: slots,
  cables: [{ kind: "cat5e-shielded", maxMetres: 100, provenance: "assumed" }],
  block: 8,
  carriesClock: true,
  carriesPreamp: false,
  convertsRate: false,
  ...more,
});

export const EIGHT: SlotTable = { single: 8, double: 4, quad: 2 };

export const type = (name: string, parts: Partial<DeviceType>): DeviceType => ({
  id: id<TypeId>(name),
  name,
  category: "interface",
  banks: [],
  ports: [],
  rules: [],
  modes: [mode("normal", "Normal", [])],
  chain: 1,
  clock: "internal",
  ...parts,
});

const JACKS = [bank("in", "In", "in", 8, "XLR", "line"), bank("out", "Out", "out", 8, "XLR", "line")];

/** A matrix of eight by eight whose modes put fixed rules before the type's own patch. */
export const EIGHT_BY_EIGHT = type("eight-by-eight", {
  banks: JACKS,
  rules: [patch(range("out", 1, 8), [range("in", 1, 8)], 1)],
  modes: [
    mode("free", "Free", []),
    mode("fixed", "Two fixed", [wired("out", 1, "in", 7, 2)]),
    // Names in 5–12; the bank ends at 8.
    mode("long", "Past the end", [wired("out", 1, "in", 5, 8)]),
    // Two rules for one jack: the first decides.
    mode("both", "Twice", [wired("out", 1, "in", 4, 1), wired("out", 1, "in", 5, 2)]),
  ],
});

const shifted = (shift: number): readonly FabricRule[] => [
  { kind: "carry", to: group("y"), from: group("x"), shift } satisfies CarryRule,
  wired("y", 1, "in", 1, 8),
];

/** Carries port X on to port Y, shifted; what the carry leaves open comes from the jacks. */
export const SHIFTER = type("shifter", {
  banks: JACKS,
  ports: [port("x", EIGHT), port("y", EIGHT)],
  modes: [
    mode("up", "Up", shifted(4)),
    mode("down", "Down", shifted(-4)),
    mode("straight", "Straight", shifted(0)),
  ],
  clock: group("x"),
});

/** Eight jacks in and out over one link; the `-src` one converts the rate of what passes its port. */
const linkBox = (name: string, convertsRate: boolean): DeviceType =>
  type(name, {
    banks: JACKS,
    ports: [port("x", EIGHT, { convertsRate })],
    rules: [wired("out", 1, "x", 1, 8), wired("x", 1, "in", 1, 8)],
  });
export const LINK_BOX = linkBox("link-box", false);
export const LINK_BOX_SRC = linkBox("link-box-src", true);

/** Takes AES3 at the clock that it runs on; no rate converter. */
export const AES3_DECK = type("aes3-deck", {
  banks: [
    bank("in", "In", "in", 2, "XLR", "AES3", { perJack: 2 }),
    bank("out", "Out", "out", 4, "XLR", "line"),
  ],
  rules: [wired("out", 1, "in", 1, 4)],
});

/** An amplifier: line in, loudspeaker level out. */
export const AMPLIFIER = type("amplifier", {
  category: "processor",
  banks: [bank("in", "In", "in", 2, "XLR", "line"), bank("out", "Out", "out", 2, "speaker", "loudspeaker")],
  rules: [wired("out", 1, "in", 1, 2)],
  clock: "none",
});

/** A cabinet that takes loudspeaker level. */
export const CABINET = type("cabinet", {
  category: "loudspeaker",
  banks: [bank("in", "In", "in", 1, "speaker", "loudspeaker")],
  clock: "none",
});

/** A sheet copied badly: the patch lists twelve jacks where the bank has eight, and one run of them twice. */
export const MISCOPIED = type("miscopied", {
  banks: JACKS,
  ports: [port("x", EIGHT)],
  rules: [
    patch(range("out", 1, 4), [range("in", 1, 12)], 1),
    patch(range("out", 5, 4), [range("in", 1, 8), range("in", 3, 4)], 4),
  ],
});

/** A port that tells no clock, and one that does. */
export const CLOCK_SHY = type("clock-shy", {
  ports: [port("x", EIGHT, { carriesClock: false }), port("y", EIGHT)],
  banks: JACKS,
  rules: [wired("out", 1, "x", 1, 8), wired("x", 1, "in", 1, 8), wired("y", 1, "in", 1, 8)],
  clock: group("x"),
});

/** Digital links and no word clock to lead or follow: nothing digital can agree with it. */
export const CLOCKLESS = type("clockless", {
  ports: [port("x", EIGHT), port("y", EIGHT)],
  banks: JACKS,
  rules: [carry("y", "x"), carry("x", "y"), wired("out", 1, "x", 1, 8)],
  clock: "none",
});

/** Runs through a processor: the rule itself takes 24 samples, and its jacks convert in samples as well. */
export const SLOW = type("slow", {
  banks: [
    bank("in", "In", "in", 8, "XLR", "line", {
      convert: { value: 48, unit: "samples", provenance: "maker's sheet" },
    }),
    bank("out", "Out", "out", 8, "XLR", "line", {
      convert: { value: 0.5, unit: "ms", provenance: "measured" },
    }),
  ],
  rules: [
    {
      ...patch(range("out", 1, 8), [range("in", 1, 8)], 1),
      delay: { value: 24, unit: "samples", provenance: "measured" },
    },
  ],
});
