/** Saving while the disk misbehaves. After each, the file is whole: the old content, or the new. */
import {
  chmodSync,
  existsSync,
  promises,
  readFileSync,
  readdirSync,
  readlinkSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { nodeFileSystem, systemClock } from "../../electron/services/file-system.ts";
import type { Clock, FileSystem } from "../../electron/services/file-system.ts";
import { SafeWriter, stampOf } from "../../electron/services/safe-write.ts";
import { faultyFileSystem, faultyHandles, quickClock, systemError } from "./support/faulty-fs.ts";
import { tempFolder } from "./support/temp.ts";
import { codeOf, lineOf, valueOf } from "./support/values.ts";

const OLD = "old content";
const NEW = Buffer.from("new content, which is longer");

/** A folder with an old file in it, and a save of the new content on a given disk. */
function setUp(fs: FileSystem = nodeFileSystem, clock: Clock = systemClock) {
  const folder = tempFolder();
  const path = join(folder, "tour.hopline");
  writeFileSync(path, OLD);
  const writer = new SafeWriter(fs, clock);
  return { folder, path, writer, save: () => writer.write(path, NEW, { expect: null }) };
}

const throwing = (code: string) => () => () => Promise.reject(systemError(code));

describe("[H1] a save that fails leaves the old file, and nothing beside it", () => {
  const failures: readonly (readonly [string, FileSystem, string])[] = [
    ["the disk is full at the write", faultyHandles({ writeFile: throwing("ENOSPC") }), "disk-full"],
    ["the quota is used up at the sync", faultyHandles({ sync: throwing("EDQUOT") }), "disk-full"],
    ["the disk is full for so much as a name", faultyFileSystem({ open: throwing("ENOSPC") }), "disk-full"],
    ["the disk is read-only", faultyFileSystem({ open: throwing("EROFS") }), "read-only"],
    ["the folder can't be written", faultyFileSystem({ open: throwing("EACCES") }), "not-writable"],
    ["the disk breaks", faultyHandles({ sync: throwing("EIO") }), "failed"],
    ["the rename crosses disks", faultyFileSystem({ rename: throwing("EXDEV") }), "failed"],
  ];

  it.each(failures)("%s", async (_name, fs, code) => {
    const { folder, path, save } = setUp(fs);
    const refused = await save();
    expect(codeOf(refused)).toBe(code);
    expect(lineOf(refused)).toContain("“tour.hopline” was not saved");
    expect(readFileSync(path, "utf8")).toBe(OLD);
    expect(readdirSync(folder)).toEqual(["tour.hopline"]);
  });

  it("the program dies between write and rename", async () => {
    // A rename that never returns is as far as a dead program gets.
    let reached = () => {};
    const atRename = new Promise<void>((resolve) => (reached = resolve));
    const fs = faultyFileSystem({
      rename: () => () => {
        reached();
        return new Promise<void>(() => {});
      },
    });
    const { folder, path, save } = setUp(fs);
    void save();
    await atRename;
    expect(readFileSync(path, "utf8")).toBe(OLD);
    const leftover = readdirSync(folder).filter((name) => name !== "tour.hopline");
    expect(leftover).toHaveLength(1);
    expect(readFileSync(join(folder, leftover[0] ?? ""), "utf8")).toBe(NEW.toString());
  });

  it("never writes into the file itself", async () => {
    const opened: unknown[] = [];
    const fs = faultyFileSystem({
      open: (real) => (path, flags, mode) => {
        opened.push([path, flags]);
        return real(path, flags, mode);
      },
    });
    const { path, save } = setUp(fs);
    valueOf(await save());
    expect(opened).not.toContainEqual([path, expect.stringMatching(/w|a|\+/)]);
    expect(opened[0]).toEqual([expect.stringMatching(/\.hopline-[0-9a-f]{24}\.tmp$/), "wx"]);
  });

  it("syncs the file before the rename and the folder after it", async () => {
    const steps: string[] = [];
    const fs = faultyFileSystem({
      open: (real) => async (path, flags, mode) => {
        const handle = await real(path, flags, mode);
        const { sync } = handle;
        handle.sync = async () => {
          steps.push(flags === "wx" ? "sync file" : "sync folder");
          await sync.call(handle);
        };
        return handle;
      },
      rename: (real) => async (from, to) => {
        steps.push("rename");
        await real(from, to);
      },
    });
    valueOf(await setUp(fs).save());
    expect(steps).toEqual(["sync file", "rename", "sync folder"]);
  });
});

describe("[H2] tells the truth", () => {
  it("a disk that takes less than it was given, without an error, is a full one", async () => {
    const fs = faultyHandles({
      writeFile: (handle) => (data) => handle.writeFile((data as Buffer).subarray(0, 5)),
    });
    const { path, save } = setUp(fs);
    expect(lineOf(await save())).toContain("was not saved: disk full");
    expect(readFileSync(path, "utf8")).toBe(OLD);
  });

  it("a disk that reads back something else is told as faulty", async () => {
    const fs = faultyFileSystem({ readFile: () => (() => Promise.resolve(Buffer.from("noise"))) as never });
    const refused = await setUp(fs).save();
    expect(codeOf(refused)).toBe("failed");
    expect(lineOf(refused)).toContain("reads back differently");
  });

  it("what is told as saved has the stamp of what was meant", async () => {
    const { path, save } = setUp();
    expect(valueOf(await save())).toBe(stampOf(NEW));
    expect(stampOf(readFileSync(path))).toBe(stampOf(NEW));
  });
});

describe("[H3] a stamp", () => {
  it("tells content, not times", async () => {
    const { path, writer } = setUp();
    const stamp = stampOf(Buffer.from(OLD));
    utimesSync(path, new Date(0), new Date(0));
    valueOf(await writer.write(path, NEW, { expect: stamp }));
    expect(readFileSync(path)).toEqual(NEW);
  });

  it("is not that of a file which is gone", async () => {
    const { path, folder, writer } = setUp();
    const stamp = stampOf(Buffer.from(OLD));
    await promises.unlink(path);
    const refused = await writer.write(path, NEW, { expect: stamp });
    expect(codeOf(refused)).toBe("changed-on-disk");
    expect(lineOf(refused)).toContain("not there any more");
    expect(readdirSync(folder)).toEqual([]);
  });

  it("lets just one of two windows save that opened the same content", async () => {
    const { path, writer } = setUp();
    const stamp = stampOf(Buffer.from(OLD));
    const outcomes = await Promise.all(
      ["one", "two"].map((text) => writer.write(path, Buffer.from(text), { expect: stamp })),
    );
    expect(outcomes.map((outcome) => outcome.ok)).toEqual([true, false]);
    expect(readFileSync(path, "utf8")).toBe("one");
  });
});

describe("[H4] the queue", () => {
  /** A disk that notes opened temporary files and renames, and holds those to the old file until it is released. */
  function setUpGate() {
    const steps: string[] = [];
    let release = () => {};
    const gate = new Promise<void>((resolve) => (release = resolve));
    const fs = faultyFileSystem({
      open: (real) => (path, flags, mode) => {
        if (flags === "wx") steps.push("open");
        return real(path, flags, mode);
      },
      rename: (real) => async (from, to) => {
        steps.push("rename");
        if (String(to).endsWith("tour.hopline")) await gate;
        await real(from, to);
      },
    });
    return { ...setUp(fs), steps, release };
  }

  it("keeps writes to one file apart, by whatever name, and lets another file's pass", async () => {
    const { path, folder, steps, writer, release } = setUpGate();
    const link = join(folder, "link.hopline");
    symlinkSync(path, link);
    const other = join(folder, "other.hopline");
    const write = (to: string, text: string) => writer.write(to, Buffer.from(text), { expect: null });
    const same = [write(path, "first"), write(link, "second")];
    // The first of the two is held at its rename; the other file's write is not.
    await expect.poll(() => steps.filter((step) => step.startsWith("rename"))).toHaveLength(1);
    valueOf(await write(other, "other"));
    expect(steps.filter((step) => step.startsWith("open"))).toHaveLength(2);
    release();
    for (const outcome of await Promise.all(same)) valueOf(outcome);
    expect(steps.filter((step) => step.startsWith("open"))).toHaveLength(3);
  });

  it("keeps the order in which writes by one name came, however long each lookup takes", async () => {
    let lookups = 0;
    let letFirst = () => {};
    const firstLookup = new Promise<void>((resolve) => (letFirst = resolve));
    const fs = faultyFileSystem({
      realpath: (real) =>
        (async (path: string) => {
          if (++lookups === 1) await firstLookup;
          return real(path);
        }) as typeof real,
    });
    const { path, writer } = setUp(fs);
    const writes = ["first", "second", "third"].map((text) =>
      writer.write(path, Buffer.from(text), { expect: null }),
    );
    letFirst();
    for (const outcome of await Promise.all(writes)) valueOf(outcome);
    expect(readFileSync(path, "utf8")).toBe("third");
  });

  it("[H12] removes a file after the write to it that is under way, so that it stays removed", async () => {
    const { path, folder, steps, writer, release } = setUpGate();
    const writing = writer.write(path, NEW, { expect: null });
    await expect.poll(() => steps.some((step) => step.startsWith("rename"))).toBe(true);
    const removing = writer.remove(path);
    release();
    valueOf(await writing);
    valueOf(await removing);
    expect(readdirSync(folder)).toEqual([]);
    valueOf(await writer.remove(path));
  });

  it("is idle only once the last write is done", async () => {
    const { path, steps, writer, release } = setUpGate();
    const writing = writer.write(path, NEW, { expect: null });
    let isIdle = false;
    const idle = writer.idle().then(() => (isIdle = true));
    await expect.poll(() => steps.some((step) => step.startsWith("rename"))).toBe(true);
    expect(isIdle).toBe(false);
    release();
    await idle;
    expect(readFileSync(path)).toEqual(NEW);
    valueOf(await writing);
  });

  it("goes on after a write that failed", async () => {
    let failing = true;
    const fs = faultyFileSystem({
      rename: (real) => (from, to) => {
        if (!failing) return real(from, to);
        failing = false;
        return Promise.reject(systemError("EIO"));
      },
    });
    const { path, save } = setUp(fs);
    const outcomes = await Promise.all([save(), save()]);
    expect(outcomes.map((outcome) => outcome.ok)).toEqual([false, true]);
    expect(readFileSync(path)).toEqual(NEW);
  });
});

describe("[H5] a file that somebody holds", () => {
  it.each(["EPERM", "EACCES", "EBUSY"])("is tried again after %s", async (code) => {
    let refusals = 3;
    const fs = faultyFileSystem({
      rename: (real) => (from, to) => (refusals-- > 0 ? Promise.reject(systemError(code)) : real(from, to)),
    });
    const clock = quickClock();
    const { path, save } = setUp(fs, clock);
    valueOf(await save());
    expect(clock.waits).toHaveLength(3);
    expect(readFileSync(path)).toEqual(NEW);
  });

  it("is given up after about ten seconds, with the reason", async () => {
    const clock = quickClock();
    const { folder, path, save } = setUp(faultyFileSystem({ rename: throwing("EBUSY") }), clock);
    expect(lineOf(await save())).toContain("another program holds it open");
    const waited = clock.waits.reduce((sum, wait) => sum + wait, 0);
    expect(waited).toBeGreaterThanOrEqual(10_000);
    expect(waited).toBeLessThan(11_000);
    expect(readFileSync(path, "utf8")).toBe(OLD);
    expect(readdirSync(folder)).toEqual(["tour.hopline"]);
  });
});

describe("[H6] what a file is, it stays", () => {
  it("a link leads to the new content", async () => {
    const { folder, path, writer } = setUp();
    const link = join(folder, "link.hopline");
    symlinkSync("tour.hopline", link);
    valueOf(await writer.write(link, NEW, { expect: null }));
    expect(readlinkSync(link)).toBe("tour.hopline");
    expect(readFileSync(path)).toEqual(NEW);
  });

  it.each([0o600, 0o640, 0o664])("mode %o stays", async (mode) => {
    const { path, save } = setUp();
    chmodSync(path, mode);
    valueOf(await save());
    expect(statSync(path).mode % 0o1000).toBe(mode);
  });

  it("a write-protected file is refused", async () => {
    // As root every file can be written, so the system's answer is given for it.
    const fs = faultyFileSystem({ access: throwing("EACCES") });
    const { folder, path, save } = setUp(fs);
    expect(codeOf(await save())).toBe("not-writable");
    expect(readFileSync(path, "utf8")).toBe(OLD);
    expect(readdirSync(folder)).toEqual(["tour.hopline"]);
  });

  it("a disk without modes takes the content all the same", async () => {
    const { path, save } = setUp(faultyHandles({ chmod: throwing("EPERM") }));
    valueOf(await save());
    expect(readFileSync(path)).toEqual(NEW);
  });

  it("a folder of that name is not replaced", async () => {
    const { folder, writer } = setUp();
    expect(codeOf(await writer.write(folder, NEW, { expect: null }))).toBe("not-a-file");
  });
});

it("[H7] sweeps old leftovers of its own, and nothing else", async () => {
  const { folder, writer } = setUp(nodeFileSystem, systemClock);
  const leftover = (digit: string) => join(folder, `.hopline-${digit.repeat(24)}.tmp`);
  const lookalikes = [".hopline-notes.tmp", "tour.tmp"].map((name) => join(folder, name));
  for (const path of [leftover("a"), leftover("b"), ...lookalikes]) writeFileSync(path, "x");
  const hours = (count: number) => new Date(Date.now() - count * 3_600_000);
  for (const path of [leftover("a"), ...lookalikes]) utimesSync(path, hours(2), hours(2));
  await writer.sweep(folder);
  expect(existsSync(leftover("a"))).toBe(false);
  expect(existsSync(leftover("b"))).toBe(true);
  expect(lookalikes.every((path) => existsSync(path))).toBe(true);
  await writer.sweep(join(folder, "gone"));
});

describe("[H10] a new file", () => {
  it("leaves what is there alone", async () => {
    const { path, writer } = setUp();
    expect(valueOf(await writer.writeNew(path, NEW))).toBeNull();
    expect(readFileSync(path, "utf8")).toBe(OLD);
  });

  it("is not there at all where it could not be finished", async () => {
    const { folder, writer } = setUp(faultyFileSystem({ rename: throwing("EIO") }));
    expect(codeOf(await writer.writeNew(join(folder, "plan.csv"), NEW))).toBe("failed");
    expect(readdirSync(folder)).toEqual(["tour.hopline"]);
  });
});
