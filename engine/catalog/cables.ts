/** What is known of each kind of cable, and which kinds each sort of jack takes. */
import type { CableKind, CableRule, Level, Provenance } from "../model/device-type.ts";
import { ms, type Metres, type Ms } from "../model/units.ts";

export interface CableFacts {
  readonly name: string;
  readonly shielded: boolean;
  /** Propagation delay in nanoseconds per metre. */
  readonly nsPerMetre: number;
  readonly provenance: Provenance;
}

/**
 * Propagation delay of a category cable in nanoseconds per metre at `megahertz`: (534 + 36 / √f) / 100.
 * The form is from memory; its values at 1, 10 and 100 MHz are those of the table in ANSI/TIA-568-B.2.
 */
export const categoryDelay = (megahertz: number): number => (534 + 36 / Math.sqrt(megahertz)) / 100;

/** Links signal at about 100 MHz on category cable. Coax, fibre and audio pairs: about two thirds of light's speed. */
const CATEGORY = categoryDelay(100);
const TWO_THIRDS = 5;

export const CABLES: Readonly<Record<CableKind, CableFacts>> = {
  cat5e: { name: "Cat 5e, unshielded", shielded: false, nsPerMetre: CATEGORY, provenance: "standard" },
  "cat5e-shielded": {
    name: "Cat 5e, shielded",
    shielded: true,
    nsPerMetre: CATEGORY,
    provenance: "standard",
  },
  "coax-75": { name: "75 Ω coax", shielded: true, nsPerMetre: TWO_THIRDS, provenance: "assumed" },
  fibre: { name: "fibre", shielded: true, nsPerMetre: TWO_THIRDS, provenance: "assumed" },
  "digital-110": {
    name: "110 Ω digital audio cable",
    shielded: true,
    nsPerMetre: TWO_THIRDS,
    provenance: "assumed",
  },
  microphone: { name: "microphone cable", shielded: true, nsPerMetre: TWO_THIRDS, provenance: "assumed" },
  multicore: { name: "multicore", shielded: true, nsPerMetre: TWO_THIRDS, provenance: "assumed" },
  loudspeaker: { name: "loudspeaker cable", shielded: false, nsPerMetre: TWO_THIRDS, provenance: "assumed" },
  line: { name: "line cable", shielded: true, nsPerMetre: TWO_THIRDS, provenance: "assumed" },
};

/** A shield does no harm where none is asked for. */
const SHIELDED: Readonly<Partial<Record<CableKind, CableKind>>> = { cat5e: "cat5e-shielded" };

/** What an end says of a kind of cable: of a shielded one that it doesn't list, what it says of its unshielded sister. */
export const cableRule = (rules: readonly CableRule[], kind: CableKind): CableRule | undefined =>
  rules.find((rule) => rule.kind === kind) ?? rules.find((rule) => SHIELDED[rule.kind] === kind);

/** The kinds that an end takes: those that it lists, then the shielded sisters of these. */
export const kindsTaken = (rules: readonly CableRule[]): readonly CableKind[] => [
  ...new Set([...rules.map(({ kind }) => kind), ...rules.flatMap(({ kind }) => SHIELDED[kind] ?? [])]),
];

/** The time that a signal spends in `length` of cable. */
export const cableDelay = (kind: CableKind, length: Metres): Ms =>
  ms((CABLES[kind].nsPerMetre * length) / 1e6);

const analogue = (...kinds: CableKind[]): CableRule[] =>
  kinds.map((kind) => ({ kind, maxMetres: 300, provenance: "assumed" }));

/** Cables that each level of jack takes. AES3: 110 Ω, 100 m at frame rates up to 50 kHz (IEC 60958-4-4:2016). */
export const JACK_CABLES: Readonly<Record<Level, readonly CableRule[]>> = {
  mic: analogue("microphone", "multicore", "line"),
  line: analogue("microphone", "multicore", "line"),
  phones: analogue("line"),
  loudspeaker: [{ kind: "loudspeaker", maxMetres: 100, provenance: "assumed" }],
  AES3: [{ kind: "digital-110", maxMetres: 100, provenance: "standard" }],
  radio: [],
};
