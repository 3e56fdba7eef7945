/** The scripts that a user starts, as far as they decide something before they do it. */
import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Ajv } from "ajv";
import { describe, expect, it } from "vitest";
import { electronObstacle, firstReason } from "../../build/lib/electron-binary.mjs";
import { matchesLock, nodeWorks } from "../../build/lib/install.mjs";
import { readArguments } from "../../build/start.mjs";
import { runnerTally, sumLine } from "../../build/test.mjs";
import { hasDisplay } from "../../electron/browser-host/window.ts";
import { dataFolder } from "../../electron/services/data-folder.ts";
import { tempFolder } from "./support/temp.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));

describe("[H50] npm start", () => {
  it.each([
    ["a file that isn't there", ["gone.hopline"], "There is no file “gone.hopline”."],
    ["a folder", ["."], "“.” is not a file."],
    ["an unknown option", ["--fullscreen"], "Unknown option '--fullscreen'"],
    ["two files", ["a", "b"], "Only one file opens at a start."],
    ["a port that is none", ["--port", "http"], "“http” is not a port"],
    ["a port out of range", ["--port=70000"], "“70000” is not a port"],
    ["both hosts", ["--electron", "--browser-host"], "exclude each other"],
  ])("refuses %s with one line and exit code 2", (_name, args, line) => {
    const folder = tempFolder();
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [join(root, "build", "start.mjs"), ...args],
      {
        encoding: "utf8",
        env: { ...process.env, INIT_CWD: folder },
      },
    );
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain(line);
    expect(stderr.trim().split("\n")).toHaveLength(1);
  });

  it("opens the demo unless a file is named, which is meant from where the user is", () => {
    const folder = tempFolder();
    writeFileSync(join(folder, "tour.hopline"), "{}");
    expect(readArguments([], folder)).toMatchObject({
      file: join(root, "assets", "demo", "quayside.hopline"),
      host: "either",
      open: true,
    });
    expect(readArguments(["tour.hopline"], folder)).toMatchObject({ file: join(folder, "tour.hopline") });
    expect(readArguments(["--no-open", "--port", "4000"], folder)).toMatchObject({
      host: "browser",
      open: false,
      port: 4000,
    });
    expect(readArguments(["--help"], folder)).toBe("help");
  });

  it("knows where Electron's window can't open", () => {
    const linux = (env: Record<string, string>, uid = 1000) =>
      electronObstacle({ platform: "linux", env, uid });
    expect(linux({})).toContain("no display");
    expect(linux({ DISPLAY: ":0" }, 0)).toContain("root");
    expect(linux({ WAYLAND_DISPLAY: "wayland-0" })).toBeUndefined();
    expect(electronObstacle({ platform: "darwin", env: {}, uid: 501 })).toBeUndefined();
    expect(hasDisplay("linux", {})).toBe(false);
    expect(hasDisplay("linux", { DISPLAY: ":0" })).toBe(true);
    expect(hasDisplay("win32", {})).toBe(true);
  });
});

it("says in the user's words why Electron could not be fetched", () => {
  expect(firstReason("TypeError: fetch failed\n  cause: ENOTFOUND")).toContain("can't be reached");
  expect(firstReason("HTTPError: Response code 403 (Forbidden)")).toContain("refused");
  expect(firstReason("note\nError: checksum differs\n    at x")).toBe("Error: checksum differs");
  expect(firstReason("")).toBe("no reason given");
});

it("[H51] knows the Node versions that work", () => {
  const working = ["20.19.0", "20.20.2", "22.12.0", "22.13.1", "24.0.0"];
  const failing = ["18.20.0", "20.18.9", "21.7.3", "22.11.0", "4.0.0"];
  expect([...working, ...failing].filter((version) => nodeWorks(version))).toEqual(working);
});

describe("[H52] installed is what the lock file names", () => {
  const locked = {
    "": {},
    "node_modules/a": { version: "1.0.0" },
    "node_modules/b": { version: "2.0.0", optional: true },
  };

  it("with or without the optional ones, and with more besides", () => {
    expect(matchesLock(locked, { "node_modules/a": { version: "1.0.0" } })).toBe(true);
    expect(
      matchesLock(locked, { "node_modules/a": { version: "1.0.0" }, "node_modules/c": { version: "1.0.0" } }),
    ).toBe(true);
  });

  it("unless one is missing or differs", () => {
    expect(matchesLock(locked, {})).toBe(false);
    expect(matchesLock(locked, { "node_modules/a": { version: "1.0.1" } })).toBe(false);
    expect(
      matchesLock(locked, { "node_modules/a": { version: "1.0.0" }, "node_modules/b": { version: "1.0.0" } }),
    ).toBe(false);
  });
});

describe("[H54] the sum", () => {
  it("is one line", () => {
    expect(sumLine({ passed: 3, failed: 0, skipped: 0 })).toBe("3 passed, 0 failed");
    expect(sumLine({ passed: 3, failed: 1, skipped: 2 })).toBe("3 passed, 1 failed, 2 skipped");
  });

  it("counts a runner that broke off, ran nothing or failed outside its tests as a failure", () => {
    expect(runnerTally(0, { passed: 5, failed: 0, skipped: 1 })).toEqual({
      passed: 5,
      failed: 0,
      skipped: 1,
    });
    expect(runnerTally(1, undefined).failed).toBe(1);
    expect(runnerTally(0, { passed: 0, failed: 0, skipped: 0 }).failed).toBe(1);
    expect(runnerTally(1, { passed: 5, failed: 0, skipped: 0 }).failed).toBe(1);
    expect(runnerTally(1, { passed: 5, failed: 2, skipped: 0 }).failed).toBe(2);
  });
});

it("keeps its own data where each system keeps such things", () => {
  const at = (platform: NodeJS.Platform, env: Record<string, string> = {}) =>
    dataFolder({ platform, env, home: "/home/tech" });
  expect(at("linux")).toBe("/home/tech/.config/Hopline");
  expect(at("linux", { XDG_CONFIG_HOME: "/x" })).toBe("/x/Hopline");
  expect(at("darwin")).toBe("/home/tech/Library/Application Support/Hopline");
  expect(at("win32", { APPDATA: "/roaming" })).toBe(join("/roaming", "Hopline"));
  expect(at("linux", { HOPLINE_DATA: "/stick" })).toBe("/stick");
});

describe("packaging", () => {
  const read = (path: string): unknown => JSON.parse(readFileSync(join(root, path), "utf8"));
  const config = read("build/electron-builder.json") as { electronFuses: unknown; fileAssociations: unknown };

  it("follows the packager's own schema", () => {
    const schema = read("node_modules/app-builder-lib/scheme.json") as object;
    const validate = new Ajv({ strict: false, validateFormats: false }).compile(schema);
    validate(config);
    expect(validate.errors).toBeNull();
  });

  it("closes the ways around the app's code", () => {
    expect(config.electronFuses).toMatchObject({
      runAsNode: false,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
    });
    expect(config.fileAssociations).toMatchObject([{ ext: "hopline" }]);
  });
});

describe("[H53] lint by types", () => {
  it("finds promises that nobody waits for, and a case that nobody handles", () => {
    const folder = tempFolder();
    writeFileSync(
      join(folder, "tsconfig.json"),
      '{ "compilerOptions": { "strict": true, "target": "ES2023", "types": [] } }',
    );
    writeFileSync(
      join(folder, "faulty.ts"),
      `declare const save: () => Promise<void>;
export async function faulty(way: "in" | "out"): Promise<number> {
  save();
  await 3;
  [1].forEach(async () => save());
  switch (way) {
    case "in":
      return 1;
  }
  return 2;
}
`,
    );
    const { status, stdout } = spawnSync(
      process.execPath,
      [
        join(root, "node_modules", "oxlint", "bin", "oxlint"),
        `--config=${join(root, "build", "oxlint.json")}`,
        "--type-aware",
        "--format=json",
        folder,
      ],
      { encoding: "utf8" },
    );
    const { diagnostics } = JSON.parse(stdout) as { readonly diagnostics: readonly { code: string }[] };
    expect(status).toBe(1);
    expect(diagnostics.map(({ code }) => code).sort()).toEqual([
      "typescript(await-thenable)",
      "typescript(no-floating-promises)",
      "typescript(no-misused-promises)",
      "typescript(switch-exhaustiveness-check)",
    ]);
  });
});
