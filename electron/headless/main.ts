/** `npm run -s headless -- VERB FILE [options] [--json]`: the engine and the file services with no window. */
import { resolve } from "node:path";
import { parseArgs } from "node:util";
import {
  allTraces,
  analyse,
  err,
  findingsReport,
  loadShow,
  lookUpSource,
  lookUpTerminal,
  nearest,
  ok,
  oneTrace,
  ownersReport,
  sourceTraces,
  type Analysis,
  type NotFound,
  type Result,
} from "#engine";
import { createServices } from "../services/services.ts";
import { findingsText, ownersText, tracesText } from "./text.ts";

/** Done; errors were found; the call or the file is bad. */
const DONE = 0;
const FOUND_ERRORS = 1;
const BAD = 2;

interface Options {
  readonly json: boolean;
  readonly all: boolean;
  readonly jack?: string | undefined;
  readonly source?: string | undefined;
}

interface Answer {
  readonly report: object;
  readonly text: string;
  readonly code: number;
}

/** What a verb makes of a show, or one line that says what was meant instead. */
type Verb = (analysis: Analysis, options: Options) => Result<Answer, string>;

const VERBS: Readonly<
  Record<string, { readonly usage: string; readonly options: readonly string[]; readonly run: Verb }>
> = {
  trace: {
    usage: "trace FILE (--jack NAME | --source NAME | --all) [--json]",
    options: ["jack", "source", "all"],
    run: (analysis, options) => {
      const report = tracesWanted(analysis, options);
      if (!report.ok) return report;
      return ok({ report: report.value, text: tracesText(report.value), code: DONE });
    },
  },
  owners: {
    usage: "owners FILE [--json]",
    options: [],
    run: (analysis) => {
      const report = ownersReport(analysis);
      return ok({ report, text: ownersText(report), code: DONE });
    },
  },
  findings: {
    usage: "findings FILE [--json]",
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
  { all, jack, source }: Options,
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

const verbsText = (): string =>
  Object.values(VERBS)
    .map(({ usage }) => usage)
    .join("; ");

function parse(words: readonly string[]): Result<{ verb: string; file: string; options: Options }, string> {
  const [verb, ...rest] = words;
  if (verb === undefined) return err(`a verb is missing: ${verbsText()}`);
  const known = Object.hasOwn(VERBS, verb) ? VERBS[verb] : undefined;
  if (!known) {
    const meant = nearest(verb, Object.keys(VERBS))[0];
    return err(`unknown verb "${verb}"; ${meant ? `did you mean ${meant}? ` : ""}There are: ${verbsText()}`);
  }
  try {
    const { values, positionals } = parseArgs({
      args: rest,
      allowPositionals: true,
      options: {
        json: { type: "boolean", default: false },
        ...(known.options.includes("all") ? { all: { type: "boolean", default: false } } : {}),
        ...(known.options.includes("jack") ? { jack: { type: "string" } } : {}),
        ...(known.options.includes("source") ? { source: { type: "string" } } : {}),
      } as const,
    });
    const [file, extra] = positionals;
    if (file === undefined) return err(`a file is missing: ${known.usage}`);
    if (extra !== undefined) return err(`"${extra}" is one word too many: ${known.usage}`);
    const given = values as { json: boolean; all?: boolean; jack?: string; source?: string };
    return ok({ verb, file, options: { all: false, ...given } });
  } catch (problem) {
    const line = problem instanceof Error ? problem.message.split(/[.\n]/)[0]! : String(problem);
    return err(`${line}; the call is: ${known.usage}`);
  }
}

async function read(file: string): Promise<Result<Analysis, string>> {
  const path = resolve(file);
  const opened = await createServices({ assets: "" }).files.open(path);
  if (!opened.ok) return err(opened.error.message);
  const loaded = loadShow(opened.value.text);
  return loaded.ok ? ok(analyse(loaded.value)) : err(`${file}: ${loaded.error.message}`);
}

async function answer(words: readonly string[]): Promise<Result<{ out: string; code: number }, string>> {
  const call = parse(words);
  if (!call.ok) return call;
  const { verb, file, options } = call.value;
  const analysis = await read(file);
  if (!analysis.ok) return analysis;
  const result = VERBS[verb]!.run(analysis.value, options);
  if (!result.ok) return result;
  const { report, text, code } = result.value;
  return ok({ out: options.json ? `${JSON.stringify(report, null, 2)}\n` : text, code });
}

const result = await answer(process.argv.slice(2));
if (result.ok) {
  process.stdout.write(result.value.out);
  process.exitCode = result.value.code;
} else {
  process.stderr.write(`hopline: ${result.error.replaceAll("\n", " ")}\n`);
  process.exitCode = BAD;
}
