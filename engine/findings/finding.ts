/** A problem or a remark that Hopline finds in a show. */
import type { Edit } from "../model/edit.ts";
import type { CableId, DeviceId, WantId } from "../model/ids.ts";
import type { Arrivals } from "../trace/arrivals.ts";
import type { Terminal } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";

/** `error`: a signal is lost or wrong. `warning`: it may be. `note`: worth knowing. */
export type Severity = "error" | "warning" | "note";
export const SEVERITIES: readonly Severity[] = ["error", "warning", "note"];

export interface Finding {
  /** The same fault has the same id after every edit that doesn't touch it. */
  readonly id: string;
  readonly check: string;
  readonly severity: Severity;
  /** One line in trade words: what is wrong, and where. */
  readonly title: string;
  /** Why, with the numbers in it. */
  readonly reason: string;
  /** The terminals concerned, those that the crew sees first. */
  readonly terminals: readonly Terminal[];
  readonly devices: readonly DeviceId[];
  readonly cables: readonly CableId[];
  readonly wants: readonly WantId[];
}

export interface Analysed {
  readonly wiring: Wiring;
  readonly arrivals: Arrivals;
}

/** A way out of a finding: one undoable change of the show. */
export interface Fix {
  /** What it does, as on a button: `Drop the want “Spare wedge”`. */
  readonly label: string;
  readonly edits: readonly Edit[];
}

/** One check, or a close family of them, in one file. Its findings come in the show's order. */
export interface Check {
  readonly id: string;
  /** What the check looks for, in a few words. */
  readonly about: string;
  readonly run: (rig: Analysed) => readonly Finding[];
  /**
   * What the findings are made from, besides the names and types of devices and the show's settings. Where all of it is
   * the same as before an edit, so are the findings.
   */
  readonly reads: (rig: Analysed) => readonly unknown[];
  /**
   * What might clear one of the check's findings, the likeliest first. Only a proposal: `fixesOf` offers those that do
   * clear it and break nothing.
   */
  readonly propose?: (rig: Analysed, finding: Finding) => readonly Fix[];
}

type Says = Pick<Finding, "id" | "check" | "severity" | "title" | "reason">;
type At = Partial<Pick<Finding, "terminals" | "devices" | "cables" | "wants">>;

/** A finding from what it says and what it points at; what it doesn't point at may be left out. */
export const found = (
  { id, check, severity, title, reason }: Says,
  { terminals = [], devices = [], cables = [], wants = [] }: At = {},
): Finding => ({ id, check, severity, title, reason, terminals, devices, cables, wants });
