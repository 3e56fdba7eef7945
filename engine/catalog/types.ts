/**
 * The generic device types that Hopline ships. Their sizes and tables are our own and mirror no model; what a real
 * device does stands on its maker's sheet, and the user writes it as a type.
 */
import type { DeviceType, FabricRule, LinkPort, MixEngine, MixSection, Range } from "../model/device-type.ts";
import { id, type GroupId, type TypeId } from "../model/ids.ts";
import {
  assumedMs,
  bank,
  carry,
  coaxLink,
  group,
  mode,
  monitorBus,
  networkPort,
  ONLY_MODE,
  patch,
  range,
  slotLink,
  stageLink,
  TO_ANALOGUE,
  TO_DIGITAL,
  wired,
} from "./parts.ts";

const typeId = (text: string): TypeId => id<TypeId>(text);

interface ConsoleSize {
  readonly channels: number;
  readonly mixes: number;
  readonly matrices: number;
  readonly localIn: number;
  readonly localOut: number;
  readonly links: number;
  readonly stageLink: boolean;
  /** Insert sends and returns on every channel and mix. */
  readonly inserts?: boolean;
}

const insertSection = (
  name: string,
  label: string,
  role: "send" | "return",
  count: number,
  of: GroupId,
): MixSection => ({ id: group(name), name: label, role, count, from: [of], block: 8 });

function consoleMixer(size: ConsoleSize): MixEngine {
  const [channel, mix, main] = [group("ch"), group("mix"), group("main")];
  return {
    sections: [
      {
        id: channel,
        name: "Channel",
        role: "channel",
        count: size.channels,
        from: [],
        block: 8,
        trim: { from: -18, to: 18, provenance: "assumed" },
      },
      { id: mix, name: "Mix", role: "mix", count: size.mixes, from: [channel], block: 8 },
      { id: main, name: "Main", role: "main", count: 3, from: [channel, mix], block: 8 },
      // Matrices take mains and mixes, never a channel directly: common practice.
      { id: group("mtx"), name: "Matrix", role: "matrix", count: size.matrices, from: [main, mix], block: 8 },
      {
        id: group("direct"),
        name: "Direct out",
        role: "direct",
        count: size.channels,
        from: [channel],
        block: 8,
      },
      ...(size.inserts
        ? [
            insertSection("ch-send", "Channel send", "send", size.channels, channel),
            insertSection("ch-return", "Channel return", "return", size.channels, channel),
            insertSection("mix-send", "Mix send", "send", size.mixes, mix),
            insertSection("mix-return", "Mix return", "return", size.mixes, mix),
          ]
        : []),
    ],
    processing: assumedMs(0.6),
  };
}

/** A console: taps, inputs and links go to link outputs in blocks of eight, to local jacks and channels one by one. */
function consoleType(name: string, label: string, size: ConsoleSize): DeviceType {
  const links: LinkPort[] = [];
  for (let n = 1; n <= size.links; n++) links.push(slotLink(`link${n}`, `Link ${n}`));
  const ports = size.stageLink ? [...links, stageLink("stage", "Stage link", {})] : links;
  const received: Range[] = ports.map((port) => range(port.id, 1, port.receive.single));
  const inputs: Range[] = [range("in", 1, size.localIn), ...received];
  const taps: Range[] = [
    range("mix", 1, size.mixes),
    range("main", 1, 3),
    range("mtx", 1, size.matrices),
    range("direct", 1, size.channels),
    ...(size.inserts ? [range("ch-send", 1, size.channels), range("mix-send", 1, size.mixes)] : []),
  ];
  return {
    id: typeId(name),
    name: label,
    category: "console",
    banks: [
      bank("in", "Local in", "in", size.localIn, "XLR", "mic", { convert: TO_DIGITAL }),
      bank("out", "Local out", "out", size.localOut, "XLR", "line", { convert: TO_ANALOGUE }),
    ],
    ports,
    mixer: consoleMixer(size),
    rules: [
      patch(range("ch", 1, size.channels), inputs, 1),
      patch(range("out", 1, size.localOut), [...taps, ...inputs], 1),
      ...ports.map((port) => patch(range(port.id, 1, port.send.single), [...taps, ...inputs], 8)),
      ...(size.inserts
        ? [
            patch(range("ch-return", 1, size.channels), inputs, 1),
            patch(range("mix-return", 1, size.mixes), inputs, 1),
          ]
        : []),
    ],
    modes: ONLY_MODE,
    chain: 1,
    clock: "internal",
  };
}

/** In every mode the inputs stand on all links, and the personal-monitor bus takes slots 33–48 of link A. */
const boxRules = (inputs: number, links: readonly string[]): FabricRule[] => [
  ...links.map((link) => wired(link, 1, "in", 1, inputs)),
  wired("pm", 1, "a", 33, 16),
];

const LARGE_BOX: DeviceType = {
  id: typeId("box-32-16"),
  name: "Stage box 32 in, 16 out",
  category: "stage box",
  banks: [
    bank("in", "In", "in", 32, "XLR", "mic", { convert: TO_DIGITAL }),
    bank("out", "Out", "out", 16, "XLR", "line", { convert: TO_ANALOGUE }),
  ],
  ports: [
    slotLink("a", "Link A"),
    slotLink("b", "Link B"),
    slotLink("c", "Link C"),
    monitorBus("pm", "Monitor bus", { receives: false }),
  ],
  rules: boxRules(32, ["a", "b", "c"]),
  modes: [
    mode("one", "One console", [wired("out", 1, "a", 1, 16)]),
    mode("two", "Two consoles", [wired("out", 1, "a", 1, 8), wired("out", 9, "b", 1, 8)]),
    mode("two-bus-b", "Two consoles, monitor bus from B", [
      wired("out", 1, "a", 1, 8),
      wired("out", 9, "b", 1, 8),
      wired("pm", 1, "b", 33, 16),
    ]),
    mode("three", "Three consoles", [
      wired("out", 1, "a", 1, 8),
      wired("out", 9, "b", 1, 4),
      wired("out", 13, "c", 1, 4),
    ]),
    // Only 24 of the 32 inputs fit twice into 48 slots.
    mode(
      "chain",
      "Chain",
      [
        wired("out", 1, "a", 1, 16, { from: 16 }),
        wired("a", 1, "in", 1, 24, { to: 24 }),
        carry("a", "c"),
        carry("c", "a"),
      ],
      { positions: [1, 2] },
    ),
  ],
  chain: 2,
  clock: group("a"),
};

const SMALL_BOX: DeviceType = {
  id: typeId("box-16-8"),
  name: "Stage box 16 in, 8 out",
  category: "stage box",
  banks: [
    bank("in", "In", "in", 16, "XLR", "mic", { convert: TO_DIGITAL }),
    bank("out", "Out", "out", 8, "XLR", "line", { convert: TO_ANALOGUE }),
  ],
  ports: [
    slotLink("a", "Link A"),
    slotLink("b", "Link B"),
    monitorBus("pm", "Monitor bus", { receives: false }),
  ],
  rules: boxRules(16, ["a", "b"]),
  modes: [
    mode("one", "One console", [wired("out", 1, "a", 1, 8)]),
    mode("two", "Two consoles", [wired("out", 1, "a", 1, 4), wired("out", 5, "b", 1, 4)]),
    mode(
      "chain",
      "Chain",
      [
        wired("out", 1, "a", 1, 8, { from: 8 }),
        wired("a", 1, "in", 1, 16, { to: 16 }),
        carry("a", "b"),
        carry("b", "a"),
      ],
      { positions: [1, 2, 3] },
    ),
  ],
  chain: 3,
  clock: group("a"),
};

const BREAKOUT: DeviceType = {
  id: typeId("breakout-16"),
  name: "Breakout 16 out",
  category: "breakout",
  banks: [bank("out", "Out", "out", 16, "XLR", "line", { convert: TO_ANALOGUE })],
  ports: [
    monitorBus("pm", "Monitor bus", { sends: false }),
    monitorBus("pm-thru", "Monitor bus thru", { receives: false }),
    stageLink("stage", "Stage link", { sends: false }),
    stageLink("stage-thru", "Stage link thru", { receives: false }),
  ],
  rules: [carry("pm-thru", "pm"), carry("stage-thru", "stage")],
  modes: [
    mode("pm", "Monitor bus", [wired("out", 1, "pm", 1, 16)], { clock: group("pm") }),
    mode("stage-first", "Stage link, first", [wired("out", 1, "stage", 1, 16)], {
      positions: [1],
      clock: group("stage"),
    }),
    mode("stage-later", "Stage link, later", [wired("out", 1, "stage", 17, 16)], {
      positions: [2, 3, 4],
      clock: group("stage"),
    }),
  ],
  chain: 4,
  clock: group("pm"),
};

const SPLIT: DeviceType = {
  id: typeId("split-16"),
  name: "Passive split 16",
  category: "split",
  banks: [
    bank("in", "In", "in", 16, "XLR", "mic"),
    bank("direct", "Direct", "out", 16, "XLR", "mic", { leg: "direct" }),
    bank("isolated", "Isolated", "out", 16, "XLR", "mic", { leg: "isolated" }),
  ],
  ports: [],
  rules: [wired("direct", 1, "in", 1, 16), wired("isolated", 1, "in", 1, 16)],
  modes: ONLY_MODE,
  chain: 1,
  clock: "none",
};

const JOIN: DeviceType = {
  id: typeId("join-8"),
  name: "Passive join, 2 into 1, 8 ways",
  category: "split",
  banks: [
    bank("a", "In A", "in", 8, "XLR", "line"),
    bank("b", "In B", "in", 8, "XLR", "line"),
    bank("out", "Out", "out", 8, "XLR", "line"),
  ],
  ports: [],
  mixer: {
    sections: [
      { id: group("join"), name: "Join", role: "join", count: 8, from: [group("a"), group("b")], block: 8 },
    ],
    processing: { value: 0, unit: "ms", provenance: "standard" },
  },
  rules: [wired("out", 1, "join", 1, 8)],
  modes: ONLY_MODE,
  chain: 1,
  clock: "none",
};

const coaxInterface = (name: string, label: string, convertsRate: boolean): DeviceType => ({
  id: typeId(name),
  name: label,
  category: "interface",
  banks: [],
  ports: [
    slotLink("link", "Link", { convertsRate }),
    coaxLink("coax-in", "Coax in", { sends: false, convertsRate }),
    coaxLink("coax-out", "Coax out", { receives: false }),
  ],
  rules: [carry("coax-out", "link"), carry("link", "coax-in")],
  modes: ONLY_MODE,
  chain: 1,
  clock: group("link"),
});

const AES3_CONVERTER: DeviceType = {
  id: typeId("aes3-converter"),
  name: "AES3 converter, 4 pairs each way",
  category: "interface",
  banks: [
    bank("in", "AES3 in", "in", 4, "XLR", "AES3", { perJack: 2, convertsRate: true }),
    bank("out", "AES3 out", "out", 4, "XLR", "AES3", { perJack: 2 }),
  ],
  ports: [slotLink("link", "Link")],
  rules: [],
  modes: [
    mode("low", "Slots 1–8", [wired("out", 1, "link", 1, 8), wired("link", 1, "in", 1, 8)]),
    mode("high", "Slots 41–48", [wired("out", 1, "link", 41, 8), wired("link", 41, "in", 1, 8)]),
  ],
  chain: 1,
  clock: group("link"),
};

const AES67_ENDPOINT: DeviceType = {
  id: typeId("aes67-endpoint"),
  name: "AES67 endpoint, 48 each way",
  category: "network",
  banks: [],
  ports: [slotLink("link", "Link"), networkPort("net", "Network")],
  rules: [
    patch(range("net", 1, 64), [range("link", 1, 48)], 8),
    patch(range("link", 1, 48), [range("net", 1, 64)], 8),
  ],
  modes: ONLY_MODE,
  chain: 1,
  clock: group("link"),
};

/** It hands each stream on to the ports that lead to its receivers; there is nothing to set. */
const AES67_SWITCH: DeviceType = {
  id: typeId("aes67-switch"),
  name: "AES67 switch, 8 ports",
  category: "network",
  banks: [],
  ports: [1, 2, 3, 4, 5, 6, 7, 8].map((n) => networkPort(`p${n}`, `Port ${n}`)),
  rules: [],
  modes: ONLY_MODE,
  chain: 1,
  forwards: true,
  clock: "none",
};

const PROCESSOR: DeviceType = {
  id: typeId("processor-8"),
  name: "Loudspeaker processor 8 in, 8 out",
  category: "processor",
  banks: [
    bank("in", "In", "in", 8, "XLR", "line", { convert: TO_DIGITAL }),
    bank("out", "Out", "out", 8, "XLR", "line", { convert: TO_ANALOGUE }),
  ],
  ports: [],
  rules: [],
  modes: [
    mode("eight", "Eight ways from eight inputs", [patch(range("out", 1, 8), [range("in", 1, 8)], 1)]),
    mode("four", "Eight ways from inputs 1–4", [patch(range("out", 1, 8), [range("in", 1, 4)], 1)]),
  ],
  chain: 1,
  clock: "none",
};

const EAR_TRANSMITTER: DeviceType = {
  id: typeId("ear-transmitter"),
  name: "In-ear transmitter, stereo",
  category: "radio",
  banks: [
    bank("in", "In", "in", 2, "XLR", "line", { block: 2 }),
    bank("radio", "Radio", "out", 1, "antenna", "radio", { perJack: 2, block: 2, convert: assumedMs(0.4) }),
  ],
  ports: [],
  rules: [wired("radio", 1, "in", 1, 2)],
  modes: ONLY_MODE,
  chain: 1,
  clock: "none",
};

const powered = (name: string, label: string): DeviceType => ({
  id: typeId(name),
  name: label,
  category: "loudspeaker",
  banks: [
    bank("in", "In", "in", 1, "XLR", "line", { block: 1 }),
    bank("thru", "Thru", "out", 1, "XLR", "line", { block: 1 }),
  ],
  ports: [],
  rules: [wired("thru", 1, "in", 1, 1)],
  modes: ONLY_MODE,
  chain: 1,
  clock: "none",
});

const PERSONAL_MIXER: DeviceType = {
  id: typeId("personal-mixer"),
  name: "Personal mixer 16",
  category: "personal mixer",
  banks: [
    bank("phones", "Phones", "out", 1, "TRS", "phones", { perJack: 2, block: 2, convert: TO_ANALOGUE }),
  ],
  ports: [
    monitorBus("pm", "Monitor bus", { sends: false }),
    monitorBus("pm-thru", "Monitor bus thru", { receives: false }),
  ],
  mixer: {
    sections: [
      { id: group("ch"), name: "Channel", role: "channel", count: 16, from: [], block: 8 },
      { id: group("main"), name: "Main", role: "main", count: 2, from: [group("ch")], block: 2 },
    ],
    processing: assumedMs(0.3),
  },
  rules: [wired("ch", 1, "pm", 1, 16), wired("phones", 1, "main", 1, 2), carry("pm-thru", "pm")],
  modes: ONLY_MODE,
  chain: 8,
  clock: group("pm"),
};

const RECORDER: DeviceType = {
  id: typeId("recorder-64"),
  name: "Recorder, 64 tracks",
  category: "recorder",
  banks: [
    bank("tracks", "Track", "out", 64, "none", "line"),
    bank("play", "Playback", "in", 64, "none", "line"),
  ],
  ports: [
    coaxLink("coax-in", "Coax in", { sends: false }),
    coaxLink("coax-out", "Coax out", { receives: false }),
  ],
  rules: [wired("tracks", 1, "coax-in", 1, 64), wired("coax-out", 1, "play", 1, 64)],
  modes: ONLY_MODE,
  chain: 1,
  clock: group("coax-in"),
};

/** Every generic type, in the order in which the catalogue lists them. */
export const CATALOGUE: readonly DeviceType[] = [
  consoleType("console-24", "24-channel console, two 48-slot links", {
    channels: 24,
    mixes: 12,
    matrices: 4,
    localIn: 8,
    localOut: 8,
    links: 2,
    stageLink: false,
    inserts: true,
  }),
  consoleType("console-48", "48-channel console, two 48-slot links", {
    channels: 48,
    mixes: 24,
    matrices: 8,
    localIn: 8,
    localOut: 8,
    links: 2,
    stageLink: true,
  }),
  consoleType("console-96", "96-channel console, three 48-slot links", {
    channels: 96,
    mixes: 40,
    matrices: 16,
    localIn: 8,
    localOut: 8,
    links: 3,
    stageLink: true,
  }),
  LARGE_BOX,
  SMALL_BOX,
  BREAKOUT,
  SPLIT,
  JOIN,
  coaxInterface("aes10-interface", "AES10 coax interface", false),
  coaxInterface("aes10-interface-src", "AES10 coax interface with rate converter", true),
  AES3_CONVERTER,
  AES67_ENDPOINT,
  AES67_SWITCH,
  PROCESSOR,
  EAR_TRANSMITTER,
  powered("wedge", "Powered wedge"),
  powered("loudspeaker", "Powered loudspeaker"),
  PERSONAL_MIXER,
  RECORDER,
];

export function catalogueType(name: string): DeviceType {
  const found = CATALOGUE.find((type) => type.id === name);
  if (!found) throw new Error(`the catalogue has no type "${name}"`);
  return found;
}
