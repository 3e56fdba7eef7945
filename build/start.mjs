/**
 * `npm start [-- FILE] [--browser-host] [--electron] [--no-open] [--port N]`: opens Hopline on a machine that has only
 * Node and npm. Installs, builds, and takes Electron where that can be had, else the browser host.
 */
import { spawn } from "node:child_process";
import { statSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
// Not by name: a Node that is too old has no `parseArgs`, and has to get as far as being told so.
import util from "node:util";
import { ensureBuilt } from "./build.mjs";
import { electronObstacle, fetchElectron, findElectron } from "./lib/electron-binary.mjs";
import { checkNode, ensureInstalled } from "./lib/install.mjs";
import { PlainStop, ROOT, runScript } from "./lib/project.mjs";

const USAGE = "Usage: npm start [-- FILE] [--browser-host] [--electron] [--no-open] [--port N]";
const DEMO = join(ROOT, "assets", "demo", "quayside.hopline");

/** An Electron that ends this soon with an error never opened its window. */
const FALSE_START_MS = 5_000;

/**
 * @typedef {object} StartOptions
 * @property {string} file
 * @property {"electron" | "browser" | "either"} host
 * @property {boolean} open
 * @property {number} port
 */

/**
 * @param {readonly string[]} args
 * @param {string} folder The folder that a relative FILE is meant from.
 * @returns {StartOptions | "help"}
 */
export function readArguments(args, folder) {
  let parsed;
  try {
    parsed = util.parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        "browser-host": { type: "boolean", default: false },
        electron: { type: "boolean", default: false },
        "no-open": { type: "boolean", default: false },
        port: { type: "string", default: "0" },
        help: { type: "boolean", short: "h", default: false },
      },
    });
  } catch (error) {
    const reason = error instanceof Error ? error.message.split(/[.\n]/)[0] : "";
    throw new PlainStop(`${reason}. ${USAGE}`, 2);
  }
  const { values, positionals } = parsed;
  if (values.help) return "help";
  if (positionals.length > 1) throw new PlainStop(`Only one file opens at a start. ${USAGE}`, 2);
  if (values["browser-host"] && values.electron) {
    throw new PlainStop(`--browser-host and --electron exclude each other. ${USAGE}`, 2);
  }
  const port = Number(values.port);
  if (!/^\d+$/.test(values.port) || port > 65_535) {
    throw new PlainStop(`“${values.port}” is not a port: a number from 1 to 65535 is.`, 2);
  }
  return {
    file: positionals[0] === undefined ? DEMO : existingFile(resolve(folder, positionals[0]), positionals[0]),
    // Both ask for something that only the browser host has.
    host:
      values["browser-host"] || values["no-open"] || port > 0
        ? "browser"
        : values.electron
          ? "electron"
          : "either",
    open: !values["no-open"],
    port,
  };
}

/**
 * @param {string} path
 * @param {string} asWritten
 */
function existingFile(path, asWritten) {
  const info = statSync(path, { throwIfNoEntry: false });
  if (!info) throw new PlainStop(`There is no file “${asWritten}”.`, 2);
  if (!info.isFile()) throw new PlainStop(`“${asWritten}” is not a file.`, 2);
  return path;
}

/**
 * The program to start, or undefined for the browser host; the reason is told.
 *
 * @param {StartOptions["host"]} host
 */
async function chooseElectron(host) {
  if (host === "browser") return undefined;
  const obstacle = electronObstacle({
    platform: process.platform,
    env: process.env,
    uid: process.getuid?.(),
  });
  if (obstacle !== undefined) {
    console.log(`Electron can't be used here: ${obstacle}.`);
    return undefined;
  }
  return findElectron() ?? (await fetchElectron({ say: console.log, force: host === "electron" }));
}

/**
 * Runs a program until it ends, with the terminal and its signals.
 *
 * @param {string} program
 * @param {readonly string[]} args
 * @returns {Promise<number>}
 */
function runToEnd(program, args) {
  return new Promise((resolve) => {
    const child = spawn(program, [...args], { cwd: ROOT, stdio: "inherit" });
    // A terminal sends Ctrl-C to the whole group: the child ends by itself, and its end is ours. A plain kill reaches
    // only this process and is handed on.
    const stay = () => {};
    const handOn = () => void child.kill("SIGTERM");
    process.on("SIGINT", stay).on("SIGTERM", handOn);
    const end = (/** @type {number} */ code) => {
      process.off("SIGINT", stay).off("SIGTERM", handOn);
      resolve(code);
    };
    child.on("error", () => end(127));
    child.on("close", (code) => end(code ?? 1));
  });
}

async function main() {
  checkNode();
  // npm runs scripts in the project folder and says where the user is.
  const options = readArguments(process.argv.slice(2), process.env["INIT_CWD"] ?? process.cwd());
  if (options === "help") {
    console.log(USAGE);
    return 0;
  }
  await ensureInstalled();
  await ensureBuilt(["renderer", "main", "preload", "browser-host", "client"], { say: console.log });

  const electron = await chooseElectron(options.host);
  if (electron !== undefined) {
    console.log("Hopline runs in Electron.");
    const began = performance.now();
    const code = await runToEnd(electron, [ROOT, options.file]);
    if (code === 0 || performance.now() - began > FALSE_START_MS) return code;
    console.log(`Electron did not start here (it ended with ${code}).`);
  }
  return runToEnd(process.execPath, [
    join(ROOT, "dist", "browser-host", "server.js"),
    options.file,
    `--port=${options.port}`,
    ...(options.open ? [] : ["--no-open"]),
  ]);
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) await runScript(main);
