/**
 * What the canvas shows of devices and cables, taken from the analysis once for each edit. A device or cable whose
 * picture stays the same keeps its object, so that an edit redraws only what it changed.
 */
import {
  blocksOf,
  CABLES,
  ownerIndex,
  rateName,
  sideName,
  spanGroup,
  takesRules,
  VERDICT_NAMES,
  type Analysis,
  type BlockState,
  type Cable,
  type CableId,
  type CableKind,
  type Device,
  type DeviceId,
  type DeviceType,
  type Severity,
  type Show,
  type Span,
  type Terminal,
  once,
  type VerdictKind,
  type WiredDevice,
} from "#engine";
import { typesOf } from "#engine/layout/scene.ts";
import { namesIn, originOf, signalName } from "../words/names.ts";
import { cableWays, type PluggedCable } from "./ways.ts";
import { capital, cableFacts, cableName, verdictAt, VERDICT_TONES, type Tone } from "../words/verdicts.ts";

/** What is on one terminal. */
export interface CellLook {
  /** The console that the signal comes from; null where it comes from none. */
  readonly owner: DeviceId | null;
  /** A signal is there, or the tap is in use. */
  readonly fed: boolean;
  readonly verdict: VerdictKind;
  /** A want that nothing reaches, or a verdict that is a fault whatever is wanted. */
  readonly trouble: Tone | null;
  /** What the show calls it. */
  readonly label: string | null;
}

export interface BlockLook {
  /** Numbers within the span. */
  readonly first: number;
  readonly last: number;
  readonly state: BlockState;
  readonly owners: readonly DeviceId[];
  readonly fed: number;
}

export interface SpanLook {
  readonly span: Span;
  readonly name: string;
  readonly cells: readonly CellLook[];
  readonly blocks: readonly BlockLook[];
}

export interface DeviceLook {
  readonly id: DeviceId;
  readonly type: DeviceType;
  readonly name: string;
  /** Null where the type has but one. */
  readonly mode: string | null;
  /** Null where the device runs at the show's rate. */
  readonly rate: string | null;
  /** Null where the type doesn't chain. */
  readonly position: number | null;
  readonly powered: boolean;
  readonly worst: Severity | null;
  readonly findings: number;
  readonly spans: readonly SpanLook[];
}

/** One direction of a cable. */
export interface WayLook {
  /** The end that receives. */
  readonly to: 0 | 1;
  /** Receiving terminals, first slot first. */
  readonly terminals: readonly number[];
  readonly cells: readonly CellLook[];
  readonly block: number;
}

export interface CableLook {
  readonly id: CableId;
  readonly kind: CableKind;
  readonly tag: string;
  readonly name: string;
  readonly facts: string;
  readonly ways: readonly WayLook[];
  /** It joins nothing, or a finding names it. */
  readonly trouble: "misfit" | Severity | null;
}

export interface Looks {
  readonly devices: ReadonlyMap<DeviceId, DeviceLook>;
  readonly cables: ReadonlyMap<CableId, CableLook>;
}

const known = new WeakMap<Analysis, Looks>();
let last: { readonly show: Show; readonly looks: Looks } | null = null;

export function looksOf(analysis: Analysis): Looks {
  let looks = known.get(analysis);
  if (looks) return looks;
  const { show } = analysis;
  looks =
    last && onlyMoved(last.show, show)
      ? last.looks
      : { devices: deviceLooks(analysis), cables: cableLooks(analysis) };
  known.set(analysis, looks);
  last = { show, looks };
  return looks;
}

/** Whether two documents differ in where things stand and in nothing else: then every picture stays. */
function onlyMoved(a: Show, b: Show): boolean {
  if (a === b) return true;
  const rest = (Object.keys(b) as (keyof Show)[]).filter((key) => key !== "devices" && key !== "places");
  return (
    rest.every((key) => a[key] === b[key]) &&
    a.devices.length === b.devices.length &&
    a.devices.every((device, n) => {
      const other = b.devices[n]!;
      if (device === other) return true;
      const keys = Object.keys(other) as (keyof Device)[];
      return (
        keys.length === Object.keys(device).length &&
        keys.every((key) => key === "at" || device[key] === other[key])
      );
    })
  );
}

const SEVERITY_ORDER: readonly Severity[] = ["note", "warning", "error"];
const worse = (a: Severity | null, b: Severity): Severity =>
  a !== null && SEVERITY_ORDER.indexOf(a) >= SEVERITY_ORDER.indexOf(b) ? a : b;

function deviceLooks(analysis: Analysis): ReadonlyMap<DeviceId, DeviceLook> {
  const found = new Map<DeviceId, { worst: Severity | null; count: number }>();
  for (const { devices, severity } of analysis.findings) {
    for (const id of devices) {
      const entry = found.get(id) ?? { worst: null, count: 0 };
      // Remarks stand in the list of findings; on the canvas they would mark every other device.
      if (severity === "note") continue;
      found.set(id, { worst: worse(entry.worst, severity), count: entry.count + 1 });
    }
  }
  const looks = new Map<DeviceId, DeviceLook>();
  for (const wired of analysis.wiring.devices) {
    if (!wired || looks.has(wired.device.id)) continue;
    const look = deviceLook(analysis, wired, found.get(wired.device.id));
    const before = last?.looks.devices.get(look.id);
    looks.set(look.id, before && same(before, look) ? before : look);
  }
  return looks;
}

function deviceLook(
  analysis: Analysis,
  wired: WiredDevice,
  found: { readonly worst: Severity | null; readonly count: number } | undefined,
): DeviceLook {
  const { device, fabric } = wired;
  const { type } = fabric.layout;
  return {
    ...nameplate(device, type, fabric.mode?.name ?? device.mode),
    rate: wired.rate === analysis.show.settings.sampleRate ? null : rateName(wired.rate),
    worst: found?.worst ?? null,
    findings: found?.count ?? 0,
    spans: fabric.layout.spans.map((span) => spanLook(analysis, wired, span)),
  };
}

/** What is shown of a show before it is analysed: its devices, without anything that is on them. */
export const bareLooks = once((show: Show): Looks => {
  const types = typesOf(show);
  const devices = new Map<DeviceId, DeviceLook>();
  for (const device of show.devices) {
    const type = types.get(device.type);
    if (!type || devices.has(device.id)) continue;
    const mode = type.modes.find(({ id }) => id === device.mode)?.name ?? device.mode;
    devices.set(device.id, {
      ...nameplate(device, type, mode),
      rate: null,
      worst: null,
      findings: 0,
      spans: [],
    });
  }
  return { devices, cables: new Map() };
});

const nameplate = (device: Device, type: DeviceType, mode: string) => ({
  id: device.id,
  type,
  name: device.name,
  mode: type.modes.length > 1 ? mode : null,
  position: type.chain > 1 ? device.position : null,
  powered: device.powered,
});

function spanLook(analysis: Analysis, wired: WiredDevice, span: Span): SpanLook {
  const { wiring, arrivals } = analysis;
  const start = wired.base + span.start;
  const cells = Array.from({ length: span.count }, (_, index) => cellLook(analysis, start + index, span));
  const blocks = blocksOf(wiring, arrivals, wired, span).map(({ first, last }) =>
    blockLook(first, last, cells.slice(first - 1, last)),
  );
  return { span, name: sideName(span), cells, blocks };
}

/** As the engine tells blocks, but a tap that nothing takes counts as unfed: the canvas shows what is in use. */
function blockLook(first: number, last: number, cells: readonly CellLook[]): BlockLook {
  const fed = cells.filter((cell) => cell.fed).length;
  const owners = [...new Set(cells.flatMap(({ owner }) => (owner === null ? [] : [owner])))];
  const whole = fed === cells.length;
  const state: BlockState =
    fed === 0
      ? "unfed"
      : owners.length > 1
        ? "shared"
        : !whole
          ? "partly fed"
          : owners.length === 1
            ? "one owner"
            : "sources only";
  return { first, last, state, owners, fed };
}

/**
 * Cells look alike by the thousand. Equal ones share an object, so that comparing pictures is comparing references:
 * by a number made of all but the label, then by the label.
 */
const shared: Map<string | null, CellLook>[] = [];

const VERDICTS = Object.keys(VERDICT_NAMES) as VerdictKind[];
const TROUBLES: readonly CellLook["trouble"][] = [null, "warn", "danger", "ok", "quiet"];

function cellLook(analysis: Analysis, terminal: number, span: Span): CellLook {
  const { wiring, arrivals } = analysis;
  const { wantsAt, channelAt, mixAt } = namesIn(analysis);
  const verdict = verdictAt(analysis, terminal);
  const origin = originOf(analysis, terminal);
  const isTap = span.side === "bus" && !takesRules(span.section);
  const used = !isTap || mixAt.has(terminal) || wiring.downStart[terminal + 1]! > wiring.downStart[terminal]!;
  const fed = verdict === "arrives" && used;
  const want = wantsAt.get(terminal)?.[0];
  const plan = span.side === "bus" && !isTap ? channelAt.get(terminal) : undefined;
  const wanted = want !== undefined || plan?.source !== undefined;
  const tone = VERDICT_TONES[verdict];
  const trouble = verdict === "arrives" ? null : wanted ? "danger" : tone === "quiet" ? null : tone;
  const name = want?.name ?? plan?.name ?? (origin === null ? null : signalName(analysis, origin));
  const label = fed || wanted ? name : null;
  const ownerAt = fed ? ownerIndex(wiring, arrivals, terminal) : -1;
  const owner = ownerAt < 0 ? null : wiring.devices[ownerAt]!.device.id;

  const sort = ((ownerAt + 1) * VERDICTS.length + VERDICTS.indexOf(verdict)) * 2 + Number(fed);
  const code = sort * TROUBLES.length + TROUBLES.indexOf(trouble);
  const alike = (shared[code] ??= new Map());
  const found = alike.get(label);
  // Another show may have another device at the owner's place in the list.
  if (found && found.owner === owner) return found;
  if (alike.size > MOST_SHARED) alike.clear();
  const look: CellLook = { owner, fed, verdict, trouble, label };
  alike.set(label, look);
  return look;
}

const MOST_SHARED = 10_000;

function cableLooks(analysis: Analysis): ReadonlyMap<CableId, CableLook> {
  const found = new Map<CableId, Severity>();
  for (const { cables, severity } of analysis.findings) {
    if (severity === "note") continue;
    for (const id of cables) found.set(id, worse(found.get(id) ?? null, severity));
  }
  const looks = new Map<CableId, CableLook>();
  for (const plugged of analysis.wiring.plugs.cables) {
    const { cable } = plugged;
    if (looks.has(cable.id)) continue;
    const look: CableLook = {
      id: cable.id,
      kind: cable.kind,
      tag: cable.tag,
      name: cableTitle(analysis, cable),
      facts: cableFacts(analysis, cable),
      ways: waysOf(analysis, plugged),
      trouble: plugged.join.kind === "misfit" ? "misfit" : (found.get(cable.id) ?? null),
    };
    const before = last?.looks.cables.get(look.id);
    looks.set(look.id, before && same(before, look) ? before : look);
  }
  return looks;
}

/** `Cable S1 from Stage left to Monitors`. */
function cableTitle(analysis: Analysis, cable: Cable): string {
  const { devices } = namesIn(analysis);
  const [a, b] = cable.ends.map(({ device }) => devices.get(device)?.name ?? device);
  return cable.tag
    ? `${capital(cableName(analysis, cable.id))}, ${a} to ${b}`
    : `${CABLES[cable.kind].name}, ${a} to ${b}`;
}

const waysOf = (analysis: Analysis, plugged: PluggedCable): readonly WayLook[] =>
  cableWays(plugged).map(({ to, span, terminals, block }) => ({
    to,
    terminals,
    block,
    cells: terminals.map((terminal) => cellLook(analysis, terminal, span)),
  }));

/** Deep equality of pictures: plain data, and cells and types that are shared objects. */
function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a)) {
    return Array.isArray(b) && a.length === b.length && a.every((value, index) => same(value, b[index]));
  }
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => same((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]))
  );
}

export const terminalAt = (device: DeviceId, span: Span, number: number): Terminal => ({
  device,
  group: spanGroup(span),
  side: span.side,
  number,
});

/** `1–8`, or `3` where there is but one. */
export const rangeName = (first: number, last: number): string =>
  first === last ? String(first) : `${first}–${last}`;
