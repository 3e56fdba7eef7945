/** `npm run -s headless -- VERB FILE [options] [--json]`: the engine and the file services with no window. */
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import {
  analyse,
  atReport,
  awayAt,
  err,
  loadShow,
  lookUpAt,
  nearest,
  ok,
  takenAt,
  type Result,
  type Show,
} from "#engine";
import { createServices } from "../services/services.ts";
import { layoutThread } from "./layout-thread.ts";
import { atText, forTerminal } from "./text.ts";
import { needsLayout } from "./export.ts";
import {
  BAD,
  DONE,
  FOUND_ERRORS,
  OPTIONS,
  VERBS,
  type OptionName,
  type Options,
  type Verb,
} from "./verbs.ts";

interface Call {
  readonly verb: Verb;
  readonly file: string;
  readonly jacks: readonly string[];
  readonly options: Options;
}

const verbsText = (): string =>
  Object.values(VERBS)
    .map(({ usage }) => usage)
    .join("; ");

const HELP_WORDS: readonly (string | undefined)[] = ["help", "--help", "-h"];

/** What a person asks for who doesn't know the verbs yet. */
const helpText = (): string =>
  [
    "Hopline without a window: asks a show file, and never changes it.",
    "",
    ...Object.values(VERBS).flatMap(({ about, usage }) => [`  ${usage}`, `      ${about}`]),
    "",
    "  --json   the answer as JSON; its schemas stand in assets/schema",
    "  --at     the show as a revision had it, or with devices off and cables pulled; may stand there several times",
    "",
    `Names are those of the show, such as "Stage left Out 5". Ends with ${DONE} when done, ${FOUND_ERRORS} when findings tell of errors, ${BAD} when`,
    "the call or the file is bad; then one line says why.",
    "",
  ].join("\n");

function parse(words: readonly string[]): Result<Call, string> {
  const [first, second] = words;
  if (first === undefined) return err(`a verb is missing: ${verbsText()}`);
  // Some verbs are two words.
  const name = Object.keys(VERBS).some((each) => each.startsWith(`${first} `))
    ? [first, second].filter((word) => word !== undefined).join(" ")
    : first;
  const rest = words.slice(name === first ? 1 : 2);
  const verb = Object.hasOwn(VERBS, name) ? VERBS[name] : undefined;
  if (!verb) {
    const meant = nearest(name, Object.keys(VERBS))[0];
    return err(`unknown verb "${name}"; ${meant ? `did you mean ${meant}? ` : ""}There are: ${verbsText()}`);
  }
  try {
    const { values, positionals, tokens } = parseArgs({
      args: joinedNumbers(rest),
      allowPositionals: true,
      options: optionsOf(verb),
      tokens: true,
    });
    const twice = repeated(tokens.flatMap((token) => (token.kind === "option" ? [token.name] : [])));
    if (twice !== undefined) return err(`--${twice} stands there twice; the call is: ${verb.usage}`);
    const [file, ...jacks] = positionals;
    const extra = verb.takesJacks ? undefined : jacks[0];
    if (file === undefined) return err(`a file is missing: ${verb.usage}`);
    if (extra !== undefined) return err(`"${extra}" is one word too many: ${verb.usage}`);
    return ok({ verb, file, jacks, options: values });
  } catch (problem) {
    const line = problem instanceof Error ? problem.message.split(/[.\n]/)[0]! : String(problem);
    return err(`${line}; the call is: ${verb.usage}`);
  }
}

/** An option that was given again, though it has one value: the earlier one would count for nothing. */
const repeated = (names: readonly string[]): string | undefined =>
  names.find((name, n) => {
    const option = OPTIONS[name as OptionName];
    return option.type === "string" && !("multiple" in option) && names.indexOf(name) < n;
  });

/** `--celsius -5` as `--celsius=-5`: a number below zero is no option. */
const joinedNumbers = (words: readonly string[]): string[] =>
  words.flatMap((word, n) => {
    const next = words[n + 1];
    if (word.startsWith("--") && next !== undefined && /^-\d/.test(next)) return [`${word}=${next}`];
    return /^-\d/.test(word) && words[n - 1]?.startsWith("--") ? [] : [word];
  });

/** Typed as all of them: what a call may leave out and what the verb doesn't take read the same. */
function optionsOf({ options }: Verb): typeof OPTIONS {
  const names: readonly OptionName[] = ["json", "at", ...options];
  return Object.fromEntries(names.map((name) => [name, OPTIONS[name]])) as typeof OPTIONS;
}

/** Beside `dist/`, in which this program stands. */
const assets = fileURLToPath(new URL("../assets", import.meta.url));
const services = createServices({ assets });

async function read(file: string): Promise<Result<Show, string>> {
  const path = resolve(file);
  const opened = await services.files.open(path);
  if (!opened.ok) return err(opened.error.message);
  const loaded = loadShow(opened.value.text);
  return loaded.ok ? loaded : err(`${file}: ${loaded.error.message}`);
}

async function answer(words: readonly string[]): Promise<Result<{ out: string; code: number }, string>> {
  if (HELP_WORDS.includes(words[0])) return ok({ out: helpText(), code: DONE });
  const call = parse(words);
  if (!call.ok) return call;
  const { verb, file, jacks, options } = call.value;
  // It takes a while to start, as long as the show is read.
  if (verb === VERBS["export"] && needsLayout(options)) void layoutThread();
  const show = await read(file);
  if (!show.ok) return show;
  const looked = lookUpAt(show.value, options.at ?? []);
  if (!looked.ok) return looked;
  const { show: then, at } = looked.value;
  const calledOff = new AbortController();
  const callOff = (): void => calledOff.abort();
  process.once("SIGINT", callOff).once("SIGTERM", callOff);
  const tools = { services, assets, paperTools: { elk: layoutThread }, signal: calledOff.signal };
  const result = await verb.run(analyse(then, awayAt(at)), options, jacks, tools);
  if (!result.ok) return result;
  const { report, text, code } = result.value;
  const taken = options.at ? atReport(at) : null;
  const out = options.json
    ? `${JSON.stringify(taken ? takenAt(report, taken) : report, null, 2)}\n`
    : forTerminal(`${taken ? atText(taken) : ""}${text}`);
  return ok({ out, code });
}

// Who reads only the first lines, such as `head`, closes the pipe; the rest has nowhere to go.
process.stdout.on("error", (problem: NodeJS.ErrnoException) => {
  if (problem.code !== "EPIPE") throw problem;
});

const result = await answer(process.argv.slice(2));
if (result.ok) {
  process.stdout.write(result.value.out);
  process.exitCode = result.value.code;
} else {
  process.stderr.write(`hopline: ${forTerminal(result.error.replaceAll(/\s/g, " "))}\n`);
  process.exitCode = BAD;
}
