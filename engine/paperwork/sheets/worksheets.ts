/** A worksheet per device: what to set on it, step by step, each line to be ticked. */
import type { Analysis } from "../../analysis.ts";
import { deviceName, listOf, namesFrom } from "../../findings/describe.ts";
import { trimRange } from "../../findings/followers.ts";
import { ownPreamps } from "../../findings/preamp.ts";
import { isConsole } from "../../findings/remedies.ts";
import type { DeviceId } from "../../model/ids.ts";
import { never } from "../../model/result.ts";
import { rateName } from "../../model/units.ts";
import { tellMembers } from "../../tables/mixes.ts";
import { cablesById, placesById, wantNames } from "../../trace/records.ts";
import {
  fullName,
  locate,
  namesOf,
  numbersName,
  ranges,
  shortName,
  sideName,
  spanRun,
} from "../../trace/terminal.ts";
import { settingName } from "../../trace/told.ts";
import { followed, runsFree } from "../../wiring/clock.ts";
import { NO_RULE } from "../../wiring/fabric.ts";
import type { Span } from "../../wiring/layout.ts";
import type { WiredDevice, Wiring } from "../../wiring/wiring.ts";
import type { Block, CellLike, PaperCell, PaperColumn, PaperRow, PaperTable } from "../block.ts";
import { flowEntry } from "../flow.ts";
import { endsOf, pluggedIn, signalsCell } from "../signals.ts";
import {
  hasSettings,
  keepOf,
  terminalsIn,
  worksheetOf,
  type Basic,
  type KeepLine,
  type RouteGroup,
  type Worksheet,
} from "../worksheet.ts";
import { cellOf } from "../columns.ts";
import { CAUTIONS } from "./cautions.ts";
import { slugs, type SheetEntry } from "./entry.ts";
import { unbroken } from "./unbroken.ts";

const TICK: PaperColumn = { title: "Done", kind: "tick" };

export function worksheetSheets(analysis: Analysis): SheetEntry[] {
  const worksheets = analysis.wiring.devices.flatMap((wired) => {
    const worksheet = wired && worksheetOf(analysis, wired);
    return worksheet && hasSettings(worksheet) ? [worksheet] : [];
  });
  const ids = slugs(worksheets.map(({ wired }) => wired.device.name));
  return worksheets.map((worksheet, n) => {
    const { device, fabric } = worksheet.wired;
    const place = placesById(analysis.show).get(device.place)?.name;
    return flowEntry("worksheets", {
      id: `worksheet/${ids[n]!}`,
      title: `Worksheet: ${device.name}`,
      note: [fabric.layout.type.name, place].filter(Boolean).join("  ·  "),
      orientation: "upright",
      blocks: () => worksheetBlocks(analysis, worksheet),
    });
  });
}

/** What a worksheet says, in the order in which it is worked through. */
export function worksheetBlocks(analysis: Analysis, worksheet: Worksheet): readonly Block[] {
  const tables = [
    basicsTable(analysis, worksheet),
    preampsTable(analysis, worksheet),
    gainsTable(analysis, worksheet),
    trimsTable(analysis, worksheet),
    streamsTable(analysis, worksheet),
    routesTable(analysis, worksheet),
    inputsTable(analysis, worksheet),
    refusedTable(worksheet),
    mixesTable(worksheet),
    insertsTable(worksheet),
    keepTable(analysis, worksheet),
  ];
  return [
    { kind: "caution", lines: CAUTIONS },
    ...(worksheet.wired.device.notes ? [{ kind: "text" as const, text: worksheet.wired.device.notes }] : []),
    ...tables.filter(({ rows }) => rows.length > 0).map((table): Block => ({ kind: "table", table })),
  ];
}

/** Columns that don’t grow hold names, which stay on one line each. */
function table(
  title: string,
  columns: readonly PaperColumn[],
  lines: readonly (readonly CellLike[] | PaperRow)[],
): PaperTable {
  const rows = lines.map((row): PaperRow => ("cells" in row ? row : { cells: row }));
  const least = (n: number): number =>
    unbroken(rows.filter(({ cells }) => !cellOf(cells[n]).owners).map(({ cells }) => cellOf(cells[n]).text));
  return {
    title,
    columns: columns.map((column, n) =>
      column.grow === 0 && column.least === undefined ? { ...column, least: least(n) } : column,
    ),
    rows,
    empty: "",
  };
}

const owned = (wiring: Wiring, device: DeviceId): PaperCell => ({
  text: deviceName(wiring, device),
  owners: [device],
});

function basicsTable({ wiring }: Analysis, { basics, wired }: Worksheet): PaperTable {
  return table(
    "Power, mode, clock",
    [TICK, { title: "Set", grow: 0 }, { title: "To", grow: 0 }, { title: "", grow: 1 }],
    basics.map((basic) => ["", ...basicCells(wiring, wired, basic)]),
  );
}

function basicCells(wiring: Wiring, wired: WiredDevice, basic: Basic): readonly CellLike[] {
  const { show } = wiring;
  const { type } = wired.fabric.layout;
  switch (basic.kind) {
    case "power":
      return ["Power", strong(basic.on ? "on" : "off"), basic.on ? "" : "switched off in the plan"];
    case "mode": {
      const mode = type.modes.find(({ id }) => id === basic.mode);
      return ["Mode", strong(mode?.name ?? basic.mode), mode ? "" : "a mode that the device’s type lacks"];
    }
    case "position":
      return ["Place in the chain", strong(String(basic.position)), "counted from the console"];
    case "rate": {
      const shows = show.settings.sampleRate;
      return [
        "Sample rate",
        strong(rateName(basic.rate)),
        basic.rate === shows ? "the show’s rate" : `the show runs at ${rateName(shows)}`,
      ];
    }
    case "clock":
      return ["Clock", ...clockCells(wiring, wired, basic.follows)];
    default:
      return never(basic);
  }
}

const strong = (text: string): PaperCell => ({ text, strong: true });

function clockCells(wiring: Wiring, wired: WiredDevice, follows: string): readonly CellLike[] {
  const { leaders, devices, plugs } = wiring;
  if (follows === "internal") {
    const behind = devices.filter(
      (each) => each !== null && each.index !== wired.index && leaders[each.index] === wired.index,
    );
    const names = namesFrom(behind, (each) => each!.device.name);
    return [strong("its own clock (leader)"), behind.length > 0 ? `${names} run on it` : ""];
  }
  const port = wired.fabric.layout.type.ports.find(({ id }) => id === follows);
  const name = port?.name ?? follows;
  const next = followed(wired, plugs, port?.id ?? "none");
  if (next === null || runsFree(leaders, wired)) return [strong(`follows ${name}`), "no clock arrives there"];
  const leader = devices[leaders[wired.index]!]?.device.name;
  const from = devices[next]!.device.name;
  return [
    strong(`follows ${name}`),
    leader === undefined || leader === from ? `from ${from}` : `from ${from}, led by ${leader}`,
  ];
}

function preampsTable({ wiring }: Analysis, { preamps, wired }: Worksheet): PaperTable {
  return table(
    "Preamps in this device",
    [TICK, { title: "Inputs", grow: 0 }, { title: "Gain set by", grow: 0 }, { title: "48 V on" }],
    preamps.map(({ span, owner, numbers, phantom }) => [
      "",
      strong(`${sideName(span)} ${numbersName(span, numbers)}`),
      owner === null ? notNamed(wiring, wired) : owned(wiring, owner),
      phantom.length === 0 ? "none" : `${sideName(span)} ${numbersName(span, phantom)}`,
    ]),
  );
}

/** Who could set gains that nobody is named for. */
function notNamed(wiring: Wiring, wired: WiredDevice): string {
  const preamp = { jack: 0, device: wired.index, isolated: false };
  const able = wiring.devices.filter(
    (each) => each !== null && isConsole(each) && ownPreamps(wiring, each.index, [preamp]).length > 0,
  );
  return able.length === 0
    ? "no console named"
    : `no console named; in reach: ${namesFrom(able, (each) => each!.device.name)}`;
}

function gainsTable({ wiring }: Analysis, { gains, wired }: Worksheet): PaperTable {
  const jackName = (jack: number): string =>
    wiring.deviceOf[jack] === wired.index ? shortName(wiring, jack) : fullName(wiring, jack);
  return table(
    "Preamps that this console sets",
    [
      TICK,
      { title: "Preamp", grow: 0 },
      { title: "Source", grow: 1 },
      { title: "Gain dB", kind: "blank", grow: 0, least: 17 },
      { title: "48 V", grow: 0, least: 11 },
      { title: "Trim by the opposite of each step", grow: 1, isOptional: true },
    ],
    gains.map(({ source, preamps, followers }) => [
      "",
      preamps.length > 0
        ? strong(preamps.map(({ jack }) => jackName(jack)).join("; "))
        : "out of this console’s reach",
      source.name,
      source.gain === undefined ? "" : decibels(source.gain),
      source.phantom ? strong("on") : "off",
      namesOf(wiring, followers),
    ]),
  );
}

const decibels = (value: number): string =>
  value > 0 ? `+${value}` : value < 0 ? `−${Math.abs(value)}` : "0";

function trimsTable({ wiring }: Analysis, { trims }: Worksheet): PaperTable {
  return table(
    "Channels behind gains that others set",
    [
      TICK,
      { title: "Channels", grow: 0 },
      { title: "Gain set by", grow: 0 },
      { title: "Trim against its steps", grow: 0 },
      { title: "Trim now, dB" },
    ],
    trims.map(({ owner, channels, follows, trim, within }) => {
      const range = trimRange(wiring, channels[0]!);
      const past = within === false && range ? `, past the range ${range.from} to ${range.to}` : "";
      return [
        "",
        strong(channelNames(wiring, channels)),
        owned(wiring, owner),
        follows ? strong("on") : "off",
        {
          text: `${decibels(trim)}${past}`,
          ...(past !== "" && range!.provenance === "assumed" ? { assumed: true } : {}),
        },
      ];
    }),
  );
}

/** Channels of one device without its name: `Channel 1–32`. */
function channelNames(wiring: Wiring, channels: readonly number[]): string {
  const { span } = locate(wiring, channels[0]!);
  return `${sideName(span)} ${ranges(channels.map((channel) => locate(wiring, channel).number))}`;
}

function streamsTable({ wiring }: Analysis, { streams, wired }: Worksheet): PaperTable {
  return table(
    "Network streams",
    [TICK, { title: "Slots", grow: 0 }, { title: "Stream", grow: 0 }, { title: "From or to" }],
    streams.map(({ stream, way, port }) => {
      const { sources, destinations } = wired.fabric.layout;
      const span = (way === "sends" ? destinations : sources).get(port.group);
      const run = runName(port.first, stream.channels);
      const others =
        way === "sends"
          ? `to ${listOf(stream.to.map((end) => deviceName(wiring, end.device)))}`
          : `from ${deviceName(wiring, stream.from.device)}`;
      return [
        "",
        strong(`${span ? sideName(span) : port.group} ${run}`),
        `${way === "sends" ? "sent as" : "takes"} ${stream.name}`,
        `${others}, ${stream.channels} ${stream.channels === 1 ? "channel" : "channels"}, packets of ${packet(stream.packetTime)} ms`,
      ];
    }),
  );
}

const packet = (time: number): string => (time === 1 / 3 ? "1/3" : String(time));

export const runName = (first: number, count: number): string =>
  count === 1 ? String(first) : `${first}–${first + count - 1}`;

const isInput = ({ to }: RouteGroup): boolean => to.side === "bus";

/** Outputs and links: what goes out there, and to whom it matters. */
function routesTable(analysis: Analysis, { routes, wired }: Worksheet): PaperTable {
  const rows = routes
    .filter((group) => !isInput(group))
    .flatMap((group) => routeRows(analysis, wired, group));
  return table(
    "Routing, block by block: outputs and links",
    [
      TICK,
      { title: "Set", grow: 0 },
      { title: "To take", grow: 0 },
      { title: "Carries", grow: 1 },
      { title: "Comes out at", grow: 1, isOptional: true },
    ],
    rows,
  );
}

function routeRows(analysis: Analysis, wired: WiredDevice, { to, settings, empty }: RouteGroup): PaperRow[] {
  const { wiring } = analysis;
  const group = `${sideName(to)}${farEnd(wiring, wired, to)}`;
  return [
    ...settings.map((setting): PaperRow => {
      const terminals = terminalsIn(wired, to, setting.to.first, setting.count);
      return {
        group,
        cells: [
          "",
          strong(spanRun(to, setting.to.first, setting.count)),
          strong(sourceRun(wired, setting.from.group, setting.from.first, setting.count)),
          signalsCell(analysis, terminals, wired.device.id),
          to.side === "jack" ? jackUses(wiring, terminals) : namesOf(wiring, endsOf(wiring, terminals)),
        ],
      };
    }),
    ...emptyRows(to, empty, group),
  ];
}

const emptyRows = (to: Span, empty: readonly number[], group: string): PaperRow[] =>
  empty.length === 0
    ? []
    : [{ group, cells: ["", `${sideName(to)} ${numbersName(to, empty)}`, "nothing", "", ""] }];

const sourceRun = ({ fabric }: WiredDevice, group: string, first: number, count: number): string => {
  const span = [...fabric.layout.sources].find(([id]) => id === group)?.[1];
  return span ? spanRun(span, first, count) : `${group} ${runName(first, count)}`;
};

/** Of a link: ` – cable L1 to Stage left Link A`. */
function farEnd(wiring: Wiring, wired: WiredDevice, to: Span): string {
  if (to.side !== "send") return "";
  const plug = wiring.plugs.ofPort(wired.index, to.port.id);
  if (!plug) return " – nothing plugged in";
  const tag = cablesById(wiring.show).get(plug.cable.cable.id)?.tag;
  const cable = tag ? `cable ${tag}` : "cable without a tag";
  const { pulledOrNot: far } = plug;
  return far
    ? ` – ${cable} to ${far.device.device.name} ${far.port.name}`
    : ` – ${cable}, which joins nothing`;
}

/** What hangs in each of the jacks, or what is wanted there; told jack by jack where some have nothing. */
function jackUses(wiring: Wiring, jacks: readonly number[]): string {
  const uses = jacks.flatMap((jack) => {
    const use = pluggedIn(wiring, jack) || wantNames(wiring, jack).join(", ");
    return use === "" ? [] : [{ jack, use }];
  });
  const isAll = uses.length === jacks.length;
  return uses.map(({ jack, use }) => (isAll ? use : `${shortName(wiring, jack)}: ${use}`)).join("; ");
}

/** Channels and returns: which sources come in. */
function inputsTable(analysis: Analysis, { routes, wired }: Worksheet): PaperTable {
  const rows = routes.filter(isInput).flatMap(({ to, settings, empty }): PaperRow[] => [
    ...settings.map((setting): PaperRow => {
      const terminals = terminalsIn(wired, to, setting.to.first, setting.count);
      return {
        group: sideName(to),
        cells: [
          "",
          strong(spanRun(to, setting.to.first, setting.count)),
          strong(sourceRun(wired, setting.from.group, setting.from.first, setting.count)),
          signalsCell(analysis, terminals, wired.device.id),
        ],
      };
    }),
    ...emptyRows(to, empty, sideName(to)),
  ]);
  return table(
    "Channel sources",
    [TICK, { title: "Set", grow: 0 }, { title: "To take", grow: 0 }, { title: "Brings", grow: 1 }],
    rows,
  );
}

function refusedTable({ refused, wired }: Worksheet): PaperTable {
  const { fabric } = wired;
  return table(
    "In the plan, and not possible on this device as it is set: ask before going on",
    [{ title: "Setting", grow: 0 }, { title: "Why" }],
    refused.map((setting) => {
      const span = fabric.layout.destinations.get(setting.to.group)!;
      const rule = fabric.rule[span.start + setting.to.first - 1] ?? NO_RULE;
      const told = rule === NO_RULE ? null : fabric.rules[rule]!;
      return [
        settingName(wired, setting),
        told?.kind === "patch" && told.run > 1
          ? `blocks of ${told.run}, each from a source that the mode lists, starting where a block starts`
          : "no rule of the mode takes this",
      ];
    }),
  );
}

function mixesTable({ mixes, wired }: Worksheet): PaperTable {
  const { spans, sources, destinations } = wired.fabric.layout;
  return table(
    "Mixes and matrices",
    [TICK, { title: "Bus", grow: 0 }, { title: "Name", grow: 0 }, { title: "Takes", grow: 1 }],
    mixes.map(({ group, first, width, name, members }) => {
      const span = sources.get(group) ?? destinations.get(group);
      const bus = `${span ? sideName(span) : group} ${runName(first, width)}`;
      return [
        "",
        strong(width === 2 ? `${bus}, stereo` : bus),
        name,
        members.length === 0 ? "nothing" : tellMembers(spans, members),
      ];
    }),
  );
}

function insertsTable({ inserts, wired }: Worksheet): PaperTable {
  const { destinations } = wired.fabric.layout;
  return table(
    "Inserts that are in",
    [TICK, { title: "Returns", grow: 1 }],
    inserts.map(({ group, first, count }) => {
      const span = destinations.get(group);
      return ["", strong(`${span ? sideName(span) : group} ${runName(first, count)}`)];
    }),
  );
}

function keepTable(analysis: Analysis, { wired }: Worksheet): PaperTable {
  const { wiring } = analysis;
  return table(
    "Leave alone: other devices’ feeds pass here, and go dark if it is changed",
    [
      { title: "Block", grow: 0 },
      { title: "Feeds of", grow: 0 },
      { title: "Goes dark", grow: 1, isOptional: true },
    ],
    keepOf(analysis, wired).map(({ span, whose, numbers, ends }: KeepLine) => [
      strong(`${sideName(span)} ${numbersName(span, numbers)}`),
      owned(wiring, whose),
      span.side === "jack" ? feedsAt(analysis, wired, span, numbers, whose) : namesOf(wiring, ends),
    ]),
  );
}

/** What people call the feeds at jacks, else what hangs there. */
function feedsAt(
  analysis: Analysis,
  { base }: WiredDevice,
  { start }: Span,
  numbers: readonly number[],
  whose: DeviceId,
): string {
  const { downStart, downList } = analysis.wiring;
  const jacks = numbers.map((number) => base + start + number - 1);
  const behind = jacks.flatMap((jack) => [...downList.subarray(downStart[jack], downStart[jack + 1])]);
  return signalsCell(analysis, jacks, whose).text || namesOf(analysis.wiring, behind);
}
