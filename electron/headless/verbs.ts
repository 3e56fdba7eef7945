/** The verbs: what each takes, and what it makes of a show. */
import type { ParseArgsConfig } from "node:util";
import {
  allTraces,
  err,
  findingsReport,
  lookUpSource,
  lookUpTerminal,
  ok,
  oneTrace,
  ownersReport,
  sourceTraces,
  type Analysis,
  type NotFound,
  type Result,
} from "#engine";
import { findingsText, ownersText, tracesText } from "./text.ts";

/** Done; errors were found; the call or the file is bad. */
export const DONE = 0;
export const FOUND_ERRORS = 1;
export const BAD = 2;

/** Every option of every verb. */
export const OPTIONS = {
  json: { type: "boolean" },
  at: { type: "string", multiple: true },
  all: { type: "boolean" },
  jack: { type: "string" },
  source: { type: "string" },
} as const satisfies ParseArgsConfig["options"];
export type OptionName = keyof typeof OPTIONS;

/** What a call gave of them. */
export interface Options {
  readonly json?: boolean;
  readonly at?: readonly string[];
  readonly all?: boolean;
  readonly jack?: string;
  readonly source?: string;
}

export interface Answer {
  readonly report: { readonly format: string };
  readonly text: string;
  readonly code: number;
}

export interface Verb {
  readonly usage: string;
  /** Beside `json` and `at`, which every verb takes. */
  readonly options: readonly OptionName[];
  /** What the verb makes of a show, or one line that says what was meant instead. */
  readonly run: (analysis: Analysis, options: Options) => Result<Answer, string>;
}

const AT = "[--at revision:NAME|off:DEVICE|pulled:CABLE …] [--json]";

export const VERBS: Readonly<Record<string, Verb>> = {
  trace: {
    usage: `trace FILE (--jack NAME | --source NAME | --all) ${AT}`,
    options: ["jack", "source", "all"],
    run: (analysis, options) => {
      const report = tracesWanted(analysis, options);
      if (!report.ok) return report;
      return ok({ report: report.value, text: tracesText(report.value), code: DONE });
    },
  },
  owners: {
    usage: `owners FILE ${AT}`,
    options: [],
    run: (analysis) => {
      const report = ownersReport(analysis);
      return ok({ report, text: ownersText(report), code: DONE });
    },
  },
  findings: {
    usage: `findings FILE ${AT}`,
    options: [],
    run: (analysis) => {
      const report = findingsReport(analysis);
      const hasErrors = report.findings.some(({ severity }) => severity === "error");
      return ok({ report, text: findingsText(report), code: hasErrors ? FOUND_ERRORS : DONE });
    },
  },
};

function tracesWanted(
  analysis: Analysis,
  { all = false, jack, source }: Options,
): Result<ReturnType<typeof allTraces>, string> {
  if (Number(all) + Number(jack !== undefined) + Number(source !== undefined) !== 1) {
    return err(`trace needs one of --jack NAME, --source NAME and --all`);
  }
  if (jack !== undefined) {
    const found = lookUpTerminal(analysis.wiring, jack);
    return found.ok ? ok(oneTrace(analysis, found.value)) : err(unknown("jack", found.error));
  }
  if (source !== undefined) {
    const found = lookUpSource(analysis.wiring, source);
    return found.ok ? ok(sourceTraces(analysis, found.value)) : err(unknown("source", found.error));
  }
  return ok(allTraces(analysis));
}

function unknown(what: string, { wanted, nearest: names }: NotFound): string {
  const meant = names.length > 0 ? `; nearest: ${names.map((name) => `"${name}"`).join(", ")}` : "";
  return `the show has no ${what} "${wanted}"${meant}`;
}
