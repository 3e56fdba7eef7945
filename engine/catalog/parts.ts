/** Small builders that the catalogue's types are put together from. */
import type {
  CableRule,
  CarryRule,
  Delay,
  FabricRule,
  JackBank,
  LinkPort,
  Mode,
  PatchRule,
  Range,
  SlotTable,
  WiredRule,
} from "../model/device-type.ts";
import { id, type GroupId, type ModeId } from "../model/ids.ts";

export const group = (text: string): GroupId => id<GroupId>(text);

export const assumedSamples = (value: number): Delay => ({ value, unit: "samples", provenance: "assumed" });
export const assumedMs = (value: number): Delay => ({ value, unit: "ms", provenance: "assumed" });

/** Converters of the generic types: about half a millisecond there and back. */
export const TO_DIGITAL = assumedMs(0.3);
export const TO_ANALOGUE = assumedMs(0.25);

export const range = (name: string, first: number, count: number): Range => ({
  group: group(name),
  first,
  count,
});

export const patch = (to: Range, from: readonly Range[], run: number): PatchRule => ({
  kind: "patch",
  to,
  from,
  run,
});

/** `toStep` and `fromStep` move the ends for each place further down the chain. */
export function wired(
  to: string,
  toFirst: number,
  from: string,
  fromFirst: number,
  count: number,
  step: { readonly to?: number; readonly from?: number } = {},
): WiredRule {
  return {
    kind: "wired",
    to: { group: group(to), first: toFirst, ...(step.to ? { perPosition: step.to } : {}) },
    from: { group: group(from), first: fromFirst, ...(step.from ? { perPosition: step.from } : {}) },
    count,
  };
}

export const carry = (to: string, from: string, shift = 0): CarryRule => ({
  kind: "carry",
  to: group(to),
  from: group(from),
  shift,
});

export const mode = (
  name: string,
  label: string,
  rules: readonly FabricRule[],
  more: Pick<Mode, "positions" | "clock"> = {},
): Mode => ({ id: id<ModeId>(name), name: label, rules, ...more });

export const ONLY_MODE: readonly Mode[] = [mode("normal", "Normal", [])];

type BankMore = Partial<Pick<JackBank, "perJack" | "convert" | "convertsRate" | "block" | "leg">>;

export const bank = (
  name: string,
  label: string,
  direction: "in" | "out",
  count: number,
  connector: JackBank["connector"],
  level: JackBank["level"],
  more: BankMore = {},
): JackBank => ({
  id: group(name),
  name: label,
  direction,
  count,
  perJack: 1,
  connector,
  level,
  block: 8,
  ...more,
});

const NONE: SlotTable = { single: 0, double: 0, quad: 0 };

interface PortMore {
  readonly receives?: boolean;
  readonly sends?: boolean;
  readonly convertsRate?: boolean;
}

function port(
  name: string,
  label: string,
  transport: string,
  slots: SlotTable,
  cables: readonly CableRule[],
  carries: { readonly clock: boolean; readonly preamp: boolean },
  more: PortMore,
): LinkPort {
  return {
    id: group(name),
    name: label,
    transport,
    receive: more.receives === false ? NONE : slots,
    send: more.sends === false ? NONE : slots,
    cables,
    block: 8,
    carriesClock: carries.clock,
    carriesPreamp: carries.preamp,
    convertsRate: more.convertsRate ?? false,
    // Three samples for a link, as is usually quoted for AES50: 62.5 µs at 48 kHz.
    sendDelay: assumedSamples(1),
    receiveDelay: assumedSamples(2),
  };
}

/** A 48-slot link on category cable; halves with each doubling of the rate as AES50 does. */
export const slotLink = (name: string, label: string, more: PortMore = {}): LinkPort =>
  port(
    name,
    label,
    "48-slot Cat 5 link",
    { single: 48, double: 24, quad: 12 },
    [{ kind: "cat5e-shielded", maxMetres: 100, provenance: "standard" }],
    { clock: true, preamp: true },
    more,
  );

/** 16 channels to personal mixers and breakouts; at most 75 m of shielded cable is common practice. */
export const monitorBus = (name: string, label: string, more: PortMore): LinkPort =>
  port(
    name,
    label,
    "16-channel personal-monitor bus",
    { single: 16, double: 16, quad: 0 },
    [{ kind: "cat5e-shielded", maxMetres: 75, provenance: "assumed" }],
    { clock: true, preamp: false },
    more,
  );

/** 32 channels on one XLR; microphone cable for short runs, digital audio cable for long ones (common practice). */
export const stageLink = (name: string, label: string, more: PortMore): LinkPort =>
  port(
    name,
    label,
    "32-channel XLR stage link",
    { single: 32, double: 16, quad: 0 },
    [
      { kind: "digital-110", maxMetres: 100, provenance: "assumed" },
      { kind: "microphone", maxMetres: 20, provenance: "assumed" },
    ],
    { clock: true, preamp: false },
    more,
  );

/** AES10 on coax: 64 channels up to 48 kHz, 50 m of 75 Ω cable, one way for each cable. */
export const coaxLink = (name: string, label: string, more: PortMore): LinkPort =>
  port(
    name,
    label,
    "AES10",
    { single: 64, double: 32, quad: 16 },
    [{ kind: "coax-75", maxMetres: 50, provenance: "standard" }],
    { clock: true, preamp: false },
    more,
  );

/**
 * An AES67 network port with room for 64 channels each way at 48 kHz, on gigabit Ethernet. Three quarters of a link are
 * what IEEE 802.1Q lets audio reserve by default.
 */
export const networkPort = (name: string, label: string, more: PortMore = {}): LinkPort => ({
  ...port(
    name,
    label,
    "AES67",
    { single: 64, double: 32, quad: 0 },
    [
      { kind: "cat5e", maxMetres: 100, provenance: "standard" },
      { kind: "cat5e-shielded", maxMetres: 100, provenance: "standard" },
    ],
    { clock: true, preamp: false },
    more,
  ),
  network: { speed: 1000, share: 0.75, provenance: "standard" },
});
