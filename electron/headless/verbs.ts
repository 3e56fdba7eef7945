/** The verbs: what each takes, and what it makes of a show. */
import type { ParseArgsConfig } from "node:util";
import {
  allTraces,
  delaysReport,
  err,
  findingsReport,
  groupDelays,
  lookUpGroups,
  lookUpSource,
  lookUpTerminal,
  ok,
  oneTrace,
  ownersReport,
  PAPERS,
  sourceTraces,
  USUAL_TEMPERATURE,
  type Analysis,
  type DelaysReport,
  type NotFound,
  type Result,
} from "#engine";
import { exportFiles, EXPORT_FORMATS, type ExportOptions, type ExportTools } from "./export.ts";
import { delaysText, exportText, findingsText, ownersText, tracesText } from "./text.ts";

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
  group: { type: "string" },
  celsius: { type: "string" },
  to: { type: "string" },
  sheet: { type: "string", multiple: true },
  paper: { type: "string" },
  out: { type: "string" },
  date: { type: "string" },
  author: { type: "string" },
  scale: { type: "string" },
} as const satisfies ParseArgsConfig["options"];
export type OptionName = keyof typeof OPTIONS;

/** What a call gave of them. */
export interface Options extends ExportOptions {
  readonly json?: boolean;
  readonly at?: readonly string[];
  readonly all?: boolean;
  readonly jack?: string;
  readonly source?: string;
  readonly group?: string;
  readonly celsius?: string;
}

export interface Answer {
  readonly report: { readonly format: string };
  readonly text: string;
  readonly code: number;
}

export interface Verb {
  /** What it answers, in a line. */
  readonly about: string;
  readonly usage: string;
  /** Beside `json` and `at`, which every verb takes. */
  readonly options: readonly OptionName[];
  /** The words after the file are names of jacks. */
  readonly takesJacks?: boolean;
  /** What the verb makes of a show, or one line that says what was meant instead. */
  readonly run: (
    analysis: Analysis,
    options: Options,
    jacks: readonly string[],
    tools: ExportTools,
  ) => Result<Answer, string> | Promise<Result<Answer, string>>;
}

const AT = "[--at revision:NAME|off:DEVICE|pulled:CABLE …] [--json]";

export const VERBS: Readonly<Record<string, Verb>> = {
  trace: {
    about: "the way of a signal, hop by hop, and how it ends",
    usage: `trace FILE (--jack NAME | --source NAME | --all) ${AT}`,
    options: ["jack", "source", "all"],
    run: (analysis, options) => {
      const report = tracesWanted(analysis, options);
      if (!report.ok) return report;
      return ok({ report: report.value, text: tracesText(report.value), code: DONE });
    },
  },
  owners: {
    about: "which console owns each block of output jacks",
    usage: `owners FILE ${AT}`,
    options: [],
    run: (analysis) => {
      const report = ownersReport(analysis);
      return ok({ report, text: ownersText(report), code: DONE });
    },
  },
  findings: {
    about: "what is wrong or worth knowing, errors first",
    usage: `findings FILE ${AT}`,
    options: [],
    run: (analysis) => {
      const report = findingsReport(analysis);
      const hasErrors = report.findings.some(({ severity }) => severity === "error");
      return ok({ report, text: findingsText(report), code: hasErrors ? FOUND_ERRORS : DONE });
    },
  },
  "compare delays": {
    about: "when jacks get their signals, how far apart in time and as a distance",
    usage: `compare delays FILE (JACK JACK … | --group NAME) [--celsius N] ${AT}`,
    options: ["group", "celsius"],
    takesJacks: true,
    run: (analysis, options, jacks) => {
      const report = delaysWanted(analysis, options, jacks);
      return report.ok
        ? ok({
            report: report.value,
            text: delaysText(report.value, analysis.show.settings.units),
            code: DONE,
          })
        : report;
    },
  },
  export: {
    about: "sheets, tables, the diagram, the hand-out and the wiring as files",
    usage: `export FILE --to ${EXPORT_FORMATS.join("|")} --out PATH [--sheet NAME …] [--paper ${PAPERS.join("|")}] [--date YYYY-MM-DD] [--author NAME] [--scale N] ${AT}`,
    options: ["to", "sheet", "paper", "out", "date", "author", "scale"],
    run: async (analysis, options, _jacks, tools) => {
      const report = await exportFiles(analysis, options, tools);
      return report.ok ? ok({ report: report.value, text: exportText(report.value), code: DONE }) : report;
    },
  },
};

function delaysWanted(
  analysis: Analysis,
  { group, celsius: told }: Options,
  jacks: readonly string[],
): Result<DelaysReport, string> {
  const { wiring, show } = analysis;
  const celsius = told === undefined ? (show.settings.temperature ?? USUAL_TEMPERATURE) : Number(told);
  if (told?.trim() === "" || !(Math.abs(celsius) <= 60)) {
    return err(`--celsius needs a number of degrees from -60 to 60, not "${told}"`);
  }
  if (group !== undefined) {
    if (jacks.length > 0) return err("compare delays needs jacks or --group NAME, not both");
    const found = lookUpGroups(show, group);
    if (!found.ok) return err(unknown("group", found.error));
    const [one, ...others] = found.value;
    if (others.length === 0) return ok(groupDelays(analysis, one!, celsius));
    const ids = found.value.map(({ id }) => `"${id}"`).join(" or ");
    return err(`${found.value.length} groups are called "${group}"; say ${ids}`);
  }
  if (jacks.length < 2) return err("compare delays needs two jacks or more, or --group NAME");
  const terminals: number[] = [];
  for (const jack of jacks) {
    const found = lookUpTerminal(wiring, jack);
    if (!found.ok) return err(unknown("jack", found.error));
    terminals.push(found.value);
  }
  if (new Set(terminals).size < 2) return err("compare delays needs two jacks or more: all these are one");
  return ok(delaysReport(analysis, terminals, celsius));
}

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
