/**
 * Building from dice: devices added, cabled, copied, pasted, moved and taken out again. Nothing is ever left that points
 * at nothing, a cable that fits joins, the show loads, and undo gives back the show before, step by step.
 */
import { describe, expect, test } from "vitest";
import {
  addDevice,
  addPlace,
  aligned,
  ALIGNMENTS,
  analyse,
  cablesThatFit,
  chainedBox,
  distributed,
  duplicated,
  firstFree,
  fragmentOf,
  fragmentText,
  loadShow,
  movedToPlace,
  pasted,
  plugCable,
  readFragment,
  saveShow,
  tidied,
  typesToAdd,
  withoutCables,
  withoutDevices,
  withoutPlace,
  type DeviceId,
  type Edit,
  type Fragment,
  type Show,
} from "#engine";
import { createAppStore } from "../../renderer/state/store.ts";
import { Dice, randomRig } from "../property/random-rig.ts";

const STEPS = 40;
const RUNS = Math.ceil(Number(process.env["HOPLINE_RIGS"] ?? 500) / 20);
const FIRST = 7_000_001;
/** Seeds that failed once. */
const FAILED_ONCE: readonly number[] = [];
const seeds = [...FAILED_ONCE, ...Array.from({ length: RUNS }, (_, n) => FIRST + n)];
const SEEDS = `seeds ${[...FAILED_ONCE, ""].join(", ")}${FIRST} to ${FIRST + RUNS - 1}`;

const blank = (show: Show): Show => ({
  ...show,
  places: [],
  types: [],
  devices: [],
  cables: [],
  sources: [],
  channels: [],
  mixes: [],
  wants: [],
  streams: [],
});

const danglingIn = (show: Show): readonly string[] =>
  analyse(show)
    .findings.filter(({ check }) => check === "dangling")
    .map(({ title }) => title);

/** Any of the show's devices; more of them seldom. */
function some(dice: Dice, show: Show): readonly DeviceId[] {
  const share = dice.pick([0.1, 0.3, 1]);
  return show.devices.filter(() => dice.chance(share)).map(({ id }) => id);
}

const MOST_DEVICES = 24;

function step(dice: Dice, show: Show, clipboard: { text: string }): readonly Edit[] {
  const spot = { x: dice.whole(-2000, 4000), y: dice.whole(-2000, 4000) };
  const roll = dice.next();
  if (show.devices.length === 0 || roll < 0.25) {
    if (show.devices.length >= MOST_DEVICES) return withoutDevices(show, some(dice, show));
    return addDevice(show, dice.pick(typesToAdd(show)), spot).edits;
  }
  const device = dice.pick(show.devices);
  if (roll < 0.3) return addPlace(show, spot).edits;
  if (roll < 0.5) {
    const type = show.types.find(({ id }) => id === device.type);
    const groups = [...(type?.ports ?? []), ...(type?.banks ?? [])];
    if (groups.length === 0) return [];
    const from = firstFree(show, { device: device.id, group: dice.pick(groups).id, first: 1 });
    const fits = cablesThatFit(show, from).filter(({ fit }) => fit.kind === "fits");
    if (fits.length === 0) return [];
    const made = plugCable(show, from, dice.pick(fits).end);
    expect(made.kind).toBe("plugged");
    return made.kind === "plugged" ? made.edits : [];
  }
  if (roll < 0.55) return withoutDevices(show, some(dice, show));
  if (roll < 0.6) {
    clipboard.text = fragmentText(fragmentOf(show, [device.id, ...some(dice, show)]));
    return [];
  }
  if (roll < 0.7 && clipboard.text !== "" && show.devices.length < MOST_DEVICES) {
    const read = readFragment(clipboard.text);
    expect(read.ok).toBe(true);
    const paste = read.ok ? pasted(show, read.value as Fragment, dice.chance(0.5) ? spot : null) : read;
    return paste.ok ? paste.value.edits : [];
  }
  if (roll < 0.75 && show.devices.length < MOST_DEVICES) {
    const twice = duplicated(show, [device.id]);
    return twice.ok ? twice.value.edits : [];
  }
  if (roll < 0.8) {
    const chained = chainedBox(show, device.id);
    return chained.ok ? chained.value.edits : [];
  }
  if (roll < 0.84 && show.cables.length > 0) return withoutCables(show, [dice.pick(show.cables).id]);
  if (roll < 0.88) return movedToPlace(show, some(dice, show), dice.pick(show.places).id);
  if (roll < 0.91) return aligned(show, some(dice, show), dice.pick(ALIGNMENTS));
  if (roll < 0.94) return distributed(show, some(dice, show), dice.pick(["across", "down"]));
  if (roll < 0.97) {
    return tidied(show, [], new Map(show.devices.map(({ id }, n) => [id, { x: n * 700, y: 0 }])));
  }
  const to = dice.pick(show.places).id;
  return withoutPlace(
    show,
    dice.pick(show.places).id,
    dice.chance(0.5) ? { kind: "with" } : { kind: "to", place: to },
  );
}

describe("building", () => {
  test(`[B5] [B9] [B13] ${STEPS} steps leave nothing dangling, and undo gives back each show before; ${SEEDS}`, () => {
    let grown = 0;
    for (const seed of seeds) {
      const dice = new Dice(seed);
      const rig = randomRig(seed).show;
      // Half the runs begin with a rig of the dice, where all its records are whole, the others with nothing.
      const start = dice.chance(0.5) && danglingIn(rig).length === 0 ? rig : blank(rig);
      const store = createAppStore(start);
      const clipboard = { text: "" };
      const states: Show[] = [start];
      for (let n = 0; n < STEPS; n++) {
        const { show, change } = store.getState();
        const edits = step(dice, show, clipboard);
        change({ kind: "edits", edits }, "step");
        const after = store.getState().show;
        if (after !== show) states.push(after);
        expect(danglingIn(after), `seed ${seed}, step ${n}`).toEqual([]);
      }
      const last = states.at(-1)!;
      grown += last.devices.length + last.cables.length;
      const { streams: _streams, ...rest } = last;
      const file = last.streams?.length === 0 ? rest : last;
      expect(loadShow(saveShow(file)).ok, `seed ${seed}`).toBe(true);
      for (const before of states.slice(0, -1).reverse()) {
        store.getState().undo();
        expect(store.getState().show, `seed ${seed}`).toEqual(before);
      }
    }
    // Rigs that stayed empty would prove little.
    expect(grown / seeds.length).toBeGreaterThan(8);
  }, 120_000);
});
