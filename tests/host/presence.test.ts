/** [H18] Windows of several programs know of each other by the data folder. Time and processes are the test's. */
import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { nodeFileSystem } from "../../electron/services/file-system.ts";
import { OpenShows, SILENCE_MS, thisProcess } from "../../electron/services/presence.ts";
import { SafeWriter } from "../../electron/services/safe-write.ts";
import { tempFolder } from "./support/temp.ts";

let data: string;
let now: number;
let running: Set<number>;
let writes: number;
const clock = { now: () => now, wait: () => Promise.resolve() };

class CountingWriter extends SafeWriter {
  override write(...args: Parameters<SafeWriter["write"]>) {
    writes++;
    return super.write(...args);
  }
}

function program(pid: number, machine = "here"): OpenShows {
  running.add(pid);
  const self = { pid, machine, isRunning: (asked: number) => running.has(asked) };
  return new OpenShows(nodeFileSystem, clock, new CountingWriter(nodeFileSystem, clock), data, self);
}

const SHOW = "/shows/tour.hopline";
const files = () => readdirSync(join(data, "open"));

beforeEach(() => {
  data = tempFolder();
  now = 1_000_000_000;
  running = new Set();
  writes = 0;
});

describe("[H18] windows of two programs", () => {
  it("see each other, and no longer once one goes", async () => {
    const [a, b] = [program(1), program(2)];
    expect(await a.note("a", SHOW)).toBe(0);
    expect(await b.note("b", SHOW)).toBe(1);
    expect(await a.note("a", SHOW)).toBe(1);
    expect(await b.note("b", "/shows/other.hopline")).toBe(0);
    expect(await a.note("a", SHOW)).toBe(0);
    await b.note("b", null);
    expect(files()).toHaveLength(1);
  });

  it("forget a program that was killed, and clear up after it", async () => {
    const [a, b] = [program(1), program(2)];
    await a.note("a", SHOW);
    running.delete(1);
    expect(await b.note("b", SHOW)).toBe(0);
    expect(files()).toHaveLength(1);
  });

  it("don't take a process number of another machine for one of this", async () => {
    const [a, b] = [program(1, "elsewhere"), program(2)];
    await a.note("a", SHOW);
    running.delete(1);
    expect(await b.note("b", SHOW)).toBe(1);
  });

  it("forget a window that fell silent; one that goes on speaking stays known at few writes", async () => {
    const [a, b] = [program(1), program(2)];
    await a.note("a", SHOW);
    await b.note("b", SHOW);
    writes = 0;
    // Five minutes, every four seconds.
    for (let n = 0; n < 75; n++) {
      now += 4_000;
      expect(await b.note("b", SHOW), `after ${4 * (n + 1)} s`).toBe(4 * (n + 1) < 110 ? 1 : 0);
    }
    expect(await a.note("a", SHOW)).toBe(1);
    expect(writes).toBeLessThan(20);
  });

  it("pass over what they can't read", async () => {
    mkdirSync(join(data, "open"));
    for (const [n, damaged] of ["{", "null", '{"pid":1,"machine":"here"}', "[]"].entries())
      writeFileSync(join(data, "open", `${n}.json`), damaged);
    expect(await program(3).note("c", SHOW)).toBe(0);
    expect(files()).toHaveLength(5);
  });

  it("clear away what nobody has spoken for in a day, whatever has its number now", async () => {
    const [a, b] = [program(1), program(2)];
    await a.note("a", SHOW);
    now += 25 * 60 * 60 * 1000;
    expect(await b.note("b", SHOW)).toBe(0);
    expect(files()).toHaveLength(1);
  });
});

it("[H18] windows of one program: a silent one counts for nothing", async () => {
  const one = program(1);
  await one.note("a", SHOW);
  now += SILENCE_MS - 1;
  expect(await one.note("b", SHOW)).toBe(1);
  now += 2;
  expect(await one.note("b", SHOW)).toBe(0);
});

it("[H18] knows running processes from others", () => {
  expect(thisProcess.isRunning(process.pid)).toBe(true);
  // Above the highest number that Linux, macOS and Windows give in practice.
  expect(thisProcess.isRunning(2 ** 30)).toBe(false);
});
