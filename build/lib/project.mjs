/** Where the project is, and how the scripts run programs and give up. Only `node:` modules: nothing is installed yet. */
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../..", import.meta.url)).replace(/[\\/]$/, "");

/** A reason to stop that the user can act on: one plain line, no stack. */
export class PlainStop extends Error {
  /**
   * @param {string} line
   * @param {number} [exitCode]
   */
  constructor(line, exitCode = 1) {
    super(line);
    this.exitCode = exitCode;
  }
}

/**
 * Runs a script's main function. A `PlainStop` becomes its line and exit code; anything else is a bug and keeps its
 * stack.
 *
 * @param {() => Promise<number | void>} main
 */
export async function runScript(main) {
  try {
    process.exitCode = (await main()) ?? 0;
  } catch (error) {
    if (!(error instanceof PlainStop)) throw error;
    console.error(error.message);
    process.exitCode = error.exitCode;
  }
}

/**
 * @typedef {object} RunOptions
 * @property {"show" | "capture" | "stderr"} [output] `show` hands the terminal on; `capture` keeps what was written;
 *   `stderr` shows it, but on stderr, for programs whose stdout belongs to somebody else.
 * @property {number} [timeoutMs] The program is stopped after this long.
 * @property {boolean} [shell]
 * @property {Record<string, string>} [env] Added to the environment.
 *
 * @typedef {object} RunOutcome
 * @property {number} code Exit code; 127 where the program can't be started, 124 where it took too long.
 * @property {string} text What it wrote, where that was captured.
 */

/**
 * Runs a program in the project folder and waits for it.
 *
 * @param {string} program
 * @param {readonly string[]} args
 * @param {RunOptions} [options]
 * @returns {Promise<RunOutcome>}
 */
export function run(program, args, { output = "show", timeoutMs, shell = false, env } = {}) {
  return new Promise((resolve) => {
    const child = spawn(program, [...args], {
      cwd: ROOT,
      shell,
      env: env ? { ...process.env, ...env } : process.env,
      stdio:
        output === "show"
          ? "inherit"
          : output === "stderr"
            ? ["ignore", 2, "inherit"]
            : ["ignore", "pipe", "pipe"],
    });
    let text = "";
    let timedOut = false;
    const timer =
      timeoutMs === undefined
        ? undefined
        : setTimeout(() => {
            timedOut = true;
            child.kill();
          }, timeoutMs);
    const keep = (/** @type {Buffer} */ chunk) => void (text += chunk.toString());
    child.stdout?.on("data", keep);
    child.stderr?.on("data", keep);
    child.on("error", (error) => {
      clearTimeout(timer);
      resolve({ code: 127, text: text + error.message });
    });
    child.on("close", (code) => {
      clearTimeout(timer);
      resolve({ code: timedOut ? 124 : (code ?? 1), text });
    });
  });
}

/**
 * Runs a Node script in the project folder.
 *
 * @param {string} script
 * @param {readonly string[]} args
 * @param {RunOptions} [options]
 */
export const runNode = (script, args, options) => run(process.execPath, [script, ...args], options);
