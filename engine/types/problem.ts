/** What is wrong with a device type, or worth a second look. The K rules of SPEC.md. */

/** Which rule of SPEC.md found it. */
export type TypeCheck =
  | "shape"
  | "ids"
  | "groups"
  | "ranges"
  | "blocks"
  | "chain"
  | "covered"
  | "unfed"
  | "mixer"
  | "clock"
  | "ports"
  | "jacks";

export interface TypeProblem {
  readonly check: TypeCheck;
  /** `error`: the type can't be used as it stands. `remark`: it can, but the sheet may say something else. */
  readonly severity: "error" | "remark";
  /** Where in the type: `modes[1].rules[0].from.first`; empty for the type as a whole. */
  readonly path: string;
  /** One plain sentence. */
  readonly text: string;
}

/** Collects problems as they are found. */
export class Problems {
  readonly list: TypeProblem[] = [];

  error(check: TypeCheck, path: string, text: string): void {
    this.list.push({ check, severity: "error", path, text });
  }

  remark(check: TypeCheck, path: string, text: string): void {
    this.list.push({ check, severity: "remark", path, text });
  }
}
