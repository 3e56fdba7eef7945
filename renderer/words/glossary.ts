/**
 * What the words on the screen mean, each said once: the tips beside them and the page of words read these records. The
 * exact rules are those of the engine's SPEC; here they are said as one tech says them to another.
 */
import { VERDICT_NAMES, type BlockState, type Provenance, type VerdictKind } from "#engine";

interface Word {
  readonly name: string;
  readonly means: string;
}

const verdict = (kind: VerdictKind, means: string): Word => ({ name: VERDICT_NAMES[kind], means });

const VERDICTS = {
  arrives: verdict("arrives", "A signal gets here: the trace goes back to a mix, a direct out or a source."),
  "nothing-assigned": verdict(
    "nothing-assigned",
    "The trace ends where somebody has to choose what goes there, and nobody has.",
  ),
  "not-plugged": verdict(
    "not-plugged",
    "The trace ends at an input jack or a link with no cable in it, or with one that joins nothing.",
  ),
  "beyond-slots": verdict(
    "beyond-slots",
    "The trace ends at a slot that the link doesn’t have. At double the sample rate most links carry half as many.",
  ),
  "not-wired": verdict(
    "not-wired",
    "In the device’s mode nothing leads here, or the setting isn’t one that the mode can hold. Another mode may.",
  ),
  mismatch: verdict(
    "mismatch",
    "The two ends of a digital cable run at different rates, or follow different clocks, and neither converts.",
  ),
  loop: verdict("loop", "The settings feed each other in a circle: there is no signal at its start."),
  off: verdict("off", "The trace ends at a device that is switched off or a cable that is pulled."),
  unknown: verdict(
    "unknown",
    "The trace leads to a device, type or jack that the show doesn’t have, so nobody can say.",
  ),
} as const satisfies Record<VerdictKind, Word>;

const BLOCKS = {
  "one owner": { name: "one owner", means: "All that the block carries comes from one console." },
  shared: {
    name: "shared",
    means:
      "Two or more consoles feed jacks of one block. Blocks are set as a whole, so whoever changes it changes it for all.",
  },
  "partly fed": { name: "partly fed", means: "Some jacks of the block get a signal, the others nothing." },
  "sources only": {
    name: "sources only",
    means: "What arrives comes straight from the stage, through no console’s mix.",
  },
  unfed: { name: "unfed", means: "Nothing arrives at any jack of the block." },
} as const satisfies Record<BlockState, Word>;

const PROVENANCE = {
  standard: { name: "standard", means: "A number that an open standard gives." },
  "maker's sheet": { name: "maker's sheet", means: "A number from the data sheet of the device." },
  measured: { name: "measured", means: "A number that somebody measured." },
  assumed: {
    name: "assumed",
    means:
      "A number that no sheet, standard or measurement stands behind. Put in a better one in the device type; until then ≈ marks what rests on it.",
  },
} as const satisfies Record<Provenance, Word>;

const HOPS = {
  hop: { name: "hop", means: "One device on a signal’s way, with what it does to get the signal on." },
  gatekeeper: {
    name: "gatekeeper",
    means: "A device on the way: a changed setting, mode or switch on it can break the signal.",
  },
  set: { name: "set", means: "Somebody assigned this on the device, and it can be changed there." },
  mode: { name: "mode", means: "The device’s mode decides this. Another mode wires the device otherwise." },
  fixed: { name: "fixed", means: "The device is built so: there is nothing to set." },
  carry: {
    name: "carry",
    means:
      "Handing what comes in by one link on to another, slot by slot or shifted: how a console gets through another’s link to a far box.",
  },
  converter: {
    name: "converter",
    means: "Where analogue becomes digital or back, or one rate becomes another. It takes time.",
  },
  mixed: { name: "mix", means: "Signals added together in a console. What a mix takes is its members." },
  "pre fader": {
    name: "pre fader",
    means: "Taken before the channel’s fader: moving the fader changes nothing there.",
  },
  "post fader": { name: "post fader", means: "Taken after the channel’s fader, and follows it." },
  delay: {
    name: "delay",
    means:
      "How late the signal is, from where it starts: conversions, links, processing and cables together.",
  },
  samples: { name: "samples", means: "The same time counted in samples at the show’s rate." },
} as const satisfies Record<string, Word>;

const RIG = {
  owner: {
    name: "owner",
    means: "Of an output jack: the console, or other mixer, whose tap its trace ends at.",
  },
  tap: {
    name: "tap",
    means:
      "Where a signal leaves a console’s mixer: a mix, a main, a matrix, a direct out or the send of an insert.",
  },
  block: {
    name: "block",
    means: "Neighbouring jacks or slots that the device sets together, often eight at a time.",
  },
  slot: { name: "slot", means: "One channel’s place in a link. Both ends count them alike, from 1." },
  link: {
    name: "link",
    means: "A cable that carries many channels between two devices, a fixed number of slots each way.",
  },
  want: { name: "want", means: "A feed that has to reach a jack: what the jack is for, and where from." },
  chain: {
    name: "chain position",
    means: "Which box of a chain this is, counted from the console. Which slots it takes depends on it.",
  },
  insert: {
    name: "insert",
    means: "A channel or mix sent out to a device and back. While it is in, what comes back counts.",
  },
  verdict: { name: "verdict", means: "How a trace ends: the signal arrives, or why it doesn’t." },
  trace: { name: "trace", means: "A signal’s way, followed from a jack back to where it starts." },
  finding: {
    name: "finding",
    means: "What a check has to say of the show: an error, a warning, or a note.",
  },
} as const satisfies Record<string, Word>;

const CLOCK = {
  "word clock": {
    name: "word clock",
    means: "The beat that all digital devices of a rig take their samples by. One leads, the others follow.",
  },
  leader: { name: "clock leader", means: "The device whose own clock this one runs by in the end." },
  phantom: {
    name: "phantom",
    means:
      "48 V on a microphone’s wires, for those that need power. It comes from one preamp, and not through an isolated leg.",
  },
  "preamp owner": {
    name: "preamp owner",
    means: "The console that sets the analogue gain of a shared preamp. All others hear each of its steps.",
  },
  follows: {
    name: "follows",
    means: "Takes each step of the owner’s gain back by its digital trim, so that its level stays.",
  },
  trim: { name: "trim", means: "Gain added after the converter, by numbers: it changes no preamp." },
} as const satisfies Record<string, Word>;

const SEVERITY = {
  error: { name: "error", means: "A signal is lost or wrong." },
  warning: { name: "warning", means: "A signal may be lost or wrong." },
  note: { name: "note", means: "Nothing is wrong; it is worth knowing." },
} as const satisfies Record<string, Word>;

const ALL = { ...VERDICTS, ...BLOCKS, ...PROVENANCE, ...HOPS, ...RIG, ...CLOCK, ...SEVERITY };

export type WordId = keyof typeof ALL;
export const GLOSSARY: Readonly<Record<WordId, Word>> = ALL;

/** The page of words, part by part. */
export const GLOSSARY_PARTS: readonly { readonly title: string; readonly words: readonly WordId[] }[] = [
  { title: "The rig", words: Object.keys(RIG) as WordId[] },
  { title: "How a trace ends", words: Object.keys(VERDICTS) as WordId[] },
  { title: "Hop by hop", words: Object.keys(HOPS) as WordId[] },
  { title: "Blocks", words: Object.keys(BLOCKS) as WordId[] },
  { title: "Clock, gain and phantom", words: Object.keys(CLOCK) as WordId[] },
  { title: "Where numbers come from", words: Object.keys(PROVENANCE) as WordId[] },
  { title: "Findings", words: Object.keys(SEVERITY) as WordId[] },
];
