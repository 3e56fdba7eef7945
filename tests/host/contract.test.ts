/** What both hosts must do alike, each through its own wire. */
import {
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  symlinkSync,
  truncateSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { PDFDocument } from "@cantoo/pdf-lib";
import { describe, expect, it, vi } from "vitest";
import type { HostApi, PrintRequest } from "#engine";
import { MAX_SHOW_BYTES } from "../../electron/contract/calls.ts";
import { ENDLESS, HOSTS, PDF } from "./support/hosts.ts";
import { codeOf, lineOf, valueOf } from "./support/values.ts";

vi.mock("electron", () => import("./support/stand-in-electron.ts"));

const TEXT = '{"title":"Grüße – 舞台"}\n';

describe.each(HOSTS)("$name", ({ name, start }) => {
  it("[H1] saves a show and opens it again, letter for letter", async () => {
    const { host, documents } = await start();
    const path = join(documents, "tour.hopline");
    const saved = valueOf(await host.save({ path, text: TEXT, expect: null }));
    expect(saved).toMatchObject({ path, savedAt: expect.any(Number) });
    expect(valueOf(await host.open(path))).toEqual({ path, text: TEXT, stamp: saved.stamp });
    expect(readdirSync(documents)).toEqual(["tour.hopline"]);
  });

  it("[H3] refuses to save over a file that has changed since, and leaves it", async () => {
    const { host, documents } = await start();
    const path = join(documents, "tour.hopline");
    const { stamp } = valueOf(await host.save({ path, text: "mine", expect: null }));
    writeFileSync(path, "theirs");
    const refused = await host.save({ path, text: "mine again", expect: stamp });
    expect(codeOf(refused)).toBe("changed-on-disk");
    expect(lineOf(refused)).toContain("“tour.hopline” was not saved");
    expect(readFileSync(path, "utf8")).toBe("theirs");
    valueOf(await host.save({ path, text: "mine again", expect: null }));
    expect(readFileSync(path, "utf8")).toBe("mine again");
  });

  it("[H4] saves that come at once leave one whole text, and each is answered", async () => {
    const { host, documents } = await start();
    const path = join(documents, "tour.hopline");
    const texts = Array.from({ length: 12 }, (_, index) => `version ${index}`);
    const saves = await Promise.all(texts.map((text) => host.save({ path, text, expect: null })));
    expect(saves.every((save) => save.ok)).toBe(true);
    expect(texts).toContain(readFileSync(path, "utf8"));
    expect(readdirSync(documents)).toEqual(["tour.hopline"]);
  });

  describe("[H18] [H19] a window is told what others do to its file", () => {
    it("another window has it open, under whatever name, until it goes", async () => {
      const { host, documents } = await start();
      const path = join(documents, "tour.hopline");
      const { stamp } = valueOf(await host.save({ path, text: "a", expect: null }));
      symlinkSync(path, join(documents, "link.hopline"));
      const others = async (window: string, name: string | null) => {
        const asked = { window, path: name === null ? null : join(documents, name), stamp };
        return valueOf(await host.watchFile(asked)).others;
      };
      expect(await others("one", "tour.hopline")).toBe(0);
      expect(await others("one", "tour.hopline")).toBe(0);
      expect(await others("two", "link.hopline")).toBe(1);
      expect(await others("three", "other.hopline")).toBe(0);
      expect(await others("one", "tour.hopline")).toBe(1);
      expect(await others("two", null)).toBe(0);
      expect(await others("one", "tour.hopline")).toBe(0);
    });

    it("another program wrote it, only touched it, or took it away", async () => {
      const { host, documents } = await start();
      const path = join(documents, "tour.hopline");
      const { stamp } = valueOf(await host.save({ path, text: "mine", expect: null }));
      const onDisk = async (known: string | null = stamp) =>
        valueOf(await host.watchFile({ window: "one", path, stamp: known })).onDisk;
      expect(await onDisk()).toEqual({ kind: "same" });
      utimesSync(path, 1000, 1000);
      expect(await onDisk()).toEqual({ kind: "same" });
      writeFileSync(path, "them");
      utimesSync(path, 2000, 2000);
      expect(await onDisk()).toEqual({ kind: "changed", at: 2_000_000 });
      // A window that doesn't know what was there has nothing to compare.
      expect(await onDisk(null)).toEqual({ kind: "same" });
      writeFileSync(path, "mine");
      expect(await onDisk()).toEqual({ kind: "same" });
      unlinkSync(path);
      expect(await onDisk()).toEqual({ kind: "gone" });
    });
  });

  describe("[H8] opens nothing but a text of bearable size", () => {
    it("says that a file is not there", async () => {
      const { host, documents } = await start();
      const missing = await host.open(join(documents, "gone.hopline"));
      expect(codeOf(missing)).toBe("not-found");
      expect(lineOf(missing)).toContain("gone.hopline");
    });

    it("refuses a folder, a relative path and bytes that are not text", async () => {
      const { host, documents } = await start();
      mkdirSync(join(documents, "folder.hopline"));
      writeFileSync(join(documents, "noise.hopline"), Buffer.from([0xff, 0xfe, 0x41]));
      writeFileSync(join(documents, "zero.hopline"), "a\0b");
      expect(codeOf(await host.open(join(documents, "folder.hopline")))).toBe("not-a-file");
      expect(codeOf(await host.open("tour.hopline"))).toBe("not-found");
      expect(codeOf(await host.open(join(documents, "noise.hopline")))).toBe("not-text");
      expect(codeOf(await host.open(join(documents, "zero.hopline")))).toBe("not-text");
    });

    it("opens 50 MB and refuses one byte more", async () => {
      const { host, documents } = await start();
      const path = join(documents, "large.hopline");
      writeFileSync(path, Buffer.alloc(MAX_SHOW_BYTES, " "));
      expect(valueOf(await host.open(path)).text.length).toBe(MAX_SHOW_BYTES);
      truncateSync(path, MAX_SHOW_BYTES + 1);
      expect(codeOf(await host.open(path))).toBe("too-large");
    });

    it("saves nothing that it could not open: letters may take more than a byte", async () => {
      const { host, documents } = await start();
      const path = join(documents, "large.hopline");
      const text = "ü".repeat(MAX_SHOW_BYTES / 2 + 1);
      expect(codeOf(await host.save({ path, text, expect: null }))).toBe("too-large");
      expect(existsSync(path)).toBe(false);
    });

    it("drops a byte order mark, which would not be JSON", async () => {
      const { host, documents } = await start();
      const path = join(documents, "marked.hopline");
      writeFileSync(path, "\uFEFF{}");
      expect(valueOf(await host.open(path)).text).toBe("{}");
    });
  });

  it("[H9] saves shows under their own ending only, and none among the demos", async () => {
    const { host, documents, assets } = await start();
    const program = await host.save({ path: join(documents, "start.sh"), text: "x", expect: null });
    expect(codeOf(program)).toBe("not-writable");
    const demo = join(assets, "demo", "harbour.hopline");
    const overDemo = await host.save({ path: demo, text: "x", expect: null });
    expect(codeOf(overDemo)).toBe("read-only");
    expect(lineOf(overDemo)).toContain("Save as");
    expect(readFileSync(demo, "utf8")).toBe("{}");
    expect(readdirSync(documents)).toEqual([]);
  });

  it("[H13] lists folders, then shows, as people count, and nothing else", async () => {
    const { host, documents } = await start();
    for (const made of ["Day 10", "Day 2", ".hidden"]) mkdirSync(join(documents, made));
    for (const made of ["b.hopline", "A.hopline", "notes.txt", ".secret.hopline"])
      writeFileSync(join(documents, made), "");
    symlinkSync(join(documents, "A.hopline"), join(documents, "link.hopline"));
    symlinkSync(join(documents, "nowhere"), join(documents, "lost.hopline"));
    const listing = valueOf(await host.listFolder(null));
    expect(listing.path).toBe(documents);
    expect(listing.parent).toBe(join(documents, ".."));
    expect(listing.entries.map((entry) => `${entry.kind} ${entry.name}`)).toEqual([
      "folder Day 2",
      "folder Day 10",
      "show A.hopline",
      "show b.hopline",
      "show link.hopline",
    ]);
    expect(valueOf(await host.listFolder("/")).parent).toBeNull();
    expect(codeOf(await host.listFolder(join(documents, "gone")))).toBe("not-found");
  });

  it("starts with the file that it was given, and offers the demos", async () => {
    const { host, documents, assets } = await start();
    expect(valueOf(await host.startFile())).toBe(join(documents, "start.hopline"));
    expect(valueOf(await host.demos())).toEqual([
      { name: "harbour.hopline", path: join(assets, "demo", "harbour.hopline"), kind: "show" },
    ]);
  });

  it("[H11] remembers the last shows, newest first and each once", async () => {
    const { host, documents } = await start();
    for (let day = 1; day <= 25; day++)
      valueOf(await host.noteRecent(join(documents, `${day}.hopline`), `Day ${day}`));
    valueOf(await host.noteRecent(join(documents, "20.hopline"), "Day 20, again"));
    const titles = valueOf(await host.recent()).map((recent) => recent.title);
    expect(titles.slice(0, 3)).toEqual(["Day 20, again", "Day 25", "Day 24"]);
    expect(titles).toHaveLength(20);
    expect(new Set(titles).size).toBe(20);
  });

  it("[H11] a recent list that can't be read is an empty one, and the next note mends it", async () => {
    const { host, data } = await start();
    mkdirSync(data, { recursive: true });
    for (const damaged of ["{", '{"a":1}', '[{"path":1,"title":"x","openedAt":0}]', "null"]) {
      writeFileSync(join(data, "recent.json"), damaged);
      expect(valueOf(await host.recent()), damaged).toEqual([]);
    }
    valueOf(await host.noteRecent("/a.hopline", "A"));
    expect(valueOf(await host.recent())).toMatchObject([{ path: "/a.hopline", title: "A" }]);
  });

  it("[H12] keeps one recovery copy for each show, whatever its id is", async () => {
    const { host, data } = await start();
    const ids = ["../../escape", "a/b", "CON", "__proto__"];
    for (const showId of ids) {
      valueOf(await host.writeRecovery({ showId, title: showId, path: null, text: "old", unfinished: null }));
      valueOf(
        await host.writeRecovery({
          showId,
          title: showId,
          path: "/x.hopline",
          text: "new",
          unfinished: "begun",
        }),
      );
    }
    const copies = valueOf(await host.recoveries());
    expect(new Set(copies.map((copy) => copy.showId))).toEqual(new Set(ids));
    expect(
      copies.every(
        ({ text, path, unfinished }) => text === "new" && path === "/x.hopline" && unfinished === "begun",
      ),
    ).toBe(true);
    const files = readdirSync(join(data, "recovery"));
    expect(files).toHaveLength(ids.length);
    expect(files.every((file) => /^[0-9a-f]{64}\.json$/.test(file))).toBe(true);

    valueOf(await host.dropRecovery("a/b"));
    valueOf(await host.dropRecovery("never written"));
    expect(valueOf(await host.recoveries()).map((copy) => copy.showId)).not.toContain("a/b");
  });

  it("[H12] a damaged copy hides no other, and is kept", async () => {
    const { host, data } = await start();
    valueOf(
      await host.writeRecovery({ showId: "whole", title: "W", path: null, text: "t", unfinished: null }),
    );
    const damaged = join(data, "recovery", `${"0".repeat(64)}.json`);
    writeFileSync(damaged, '{"showId":');
    expect(valueOf(await host.recoveries()).map((copy) => copy.showId)).toEqual(["whole"]);
    expect(existsSync(damaged)).toBe(true);
  });

  it("[H12] a copy of a version that knew nothing of what is unfinished is read", async () => {
    const { host, data } = await start();
    const copy = { showId: "old", title: "Old", path: null, text: "t", writtenAt: 5 };
    mkdirSync(join(data, "recovery"), { recursive: true });
    writeFileSync(join(data, "recovery", `${"0".repeat(64)}.json`), JSON.stringify(copy));
    expect(valueOf(await host.recoveries())).toEqual([{ ...copy, unfinished: null }]);
  });

  describe("[H10] exports", () => {
    const bytes = Uint8Array.from({ length: 70_000 }, (_, index) => index % 256);

    it("arrive byte for byte, and take a free name rather than another file's", async () => {
      const { host, documents } = await start();
      const path = join(documents, "plan.csv");
      const write = () => host.exportBytes({ suggestedName: "plan.csv", bytes, path });
      expect(valueOf(await write())).toBe(path);
      expect(valueOf(await write())).toBe(join(documents, "plan (2).csv"));
      expect(valueOf(await write())).toBe(join(documents, "plan (3).csv"));
      expect(readFileSync(path).equals(bytes)).toBe(true);
      expect(readdirSync(documents).sort()).toEqual(["plan (2).csv", "plan (3).csv", "plan.csv"]);
    });

    it("go to names of the closed list only", async () => {
      const { host, documents } = await start();
      for (const bad of ["run.sh", "autostart.desktop", "tour.hopline", "plan", ".bashrc", "page.js"]) {
        const refused = await host.exportBytes({ suggestedName: bad, bytes, path: join(documents, bad) });
        expect(codeOf(refused), bad).toBe("not-writable");
      }
      expect(readdirSync(documents)).toEqual([]);
    });

    it("say where a folder is not there", async () => {
      const { host, documents } = await start();
      const path = join(documents, "gone", "plan.csv");
      expect(codeOf(await host.exportBytes({ suggestedName: "plan.csv", bytes, path }))).toBe("not-found");
    });
  });

  /** A page of 100 × 50 mm. */
  const page = (words: string): PrintRequest["pages"][number] => ({
    width: 100,
    height: 50,
    svg: `<svg viewBox="0 0 100 50"><text x="10" y="10" font-size="5">${words}</text></svg>`,
  });
  const request: Omit<PrintRequest, "path"> = {
    job: "job 1",
    suggestedName: "plan.pdf",
    pages: [page("Plan")],
    facts: {
      title: "Tour – 舞台",
      author: "",
      date: "2026-11-26",
      outline: [{ title: "Plan", page: 0, below: [] }],
    },
  };

  it("[H14] [H16] [H45] makes the PDF of the paper that was asked for", async () => {
    const { host, documents, printed } = await start();
    const path = join(documents, "plan.pdf");
    expect(valueOf(await host.printPdf({ ...request, path }))).toBe(path);
    const pdf = await PDFDocument.load(readFileSync(path), { updateMetadata: false });
    expect(pdf.getTitle()).toBe("Tour – 舞台");
    expect(pdf.getCreationDate()?.toJSON()).toBe("2026-11-26T00:00:00.000Z");
    // 100 × 50 mm in points of 1/72 inch.
    expect(pdf.getPages().map((each) => Math.round(each.getWidth()))).toEqual([283]);
    // Without a browser, as far as letters go.
    expect(printed).toEqual([]);
    valueOf(await host.printPdf({ ...request, pages: [page("舞台")], path }));
    expect(printed).toEqual([expect.stringContaining("舞台")]);
    const elsewhere = await host.printPdf({ ...request, path: join(documents, "plan.exe") });
    expect(codeOf(elsewhere)).toBe("not-writable");
    expect(readdirSync(documents)).toEqual(["plan (2).pdf", "plan.pdf"]);
  });

  it("[H45] refuses a page that papers don't use, and leaves nothing behind", async () => {
    const { host, documents, printed } = await start();
    const svg = page("x").svg.replace("</svg>", "<script>1</script></svg>");
    const pages = [{ ...page("x"), svg }];
    const refused = await host.printPdf({ ...request, pages, path: join(documents, "plan.pdf") });
    expect([codeOf(refused), lineOf(refused)]).toEqual([
      "cannot-print",
      "The PDF was not made: a page has the element <script>, which papers don't use.",
    ]);
    expect([printed, readdirSync(documents)]).toEqual([[], []]);
  });

  it("[H17] calls off a print: one line, and nothing left behind", async () => {
    const { host, documents, printed } = await start();
    const printing = host.printPdf({
      ...request,
      pages: [page(ENDLESS)],
      path: join(documents, "plan.pdf"),
    });
    await expect.poll(() => printed.length).toBe(1);
    valueOf(await host.cancelPrint("another job"));
    valueOf(await host.cancelPrint("job 1"));
    const answer = await printing;
    expect([codeOf(answer), lineOf(answer)]).toEqual([
      "cancelled",
      "The PDF was not made: printing was cancelled.",
    ]);
    expect(readdirSync(documents)).toEqual([]);
    // One that has ended can't be called off any more, and does no harm to the next of its name.
    valueOf(await host.cancelPrint("job 1"));
    valueOf(await host.printPdf({ ...request, path: join(documents, "plan.pdf") }));
    expect(readdirSync(documents)).toEqual(["plan.pdf"]);
  });

  it("says which dialogs it has", async () => {
    const { host } = await start();
    if (name === "Electron") {
      expect(host).toMatchObject({ kind: "electron", dialogs: "native" });
      expect(valueOf(await host.pickOpen())).toBeNull();
      expect(valueOf(await host.exportBytes({ suggestedName: "a.csv", bytes: PDF, path: null }))).toBeNull();
    } else {
      expect(host).toMatchObject({ kind: "browser", dialogs: "in-app" });
      expect(lineOf(await host.pickOpen())).toContain("chooser");
      expect(codeOf(await host.exportBytes({ suggestedName: "a.csv", bytes: PDF, path: null }))).toBe(
        "failed",
      );
    }
  });

  it("[H24] [H35] does nothing for arguments that don't fit", async () => {
    const { host, documents } = await start();
    const path = join(documents, "tour.hopline");
    const loose = host as unknown as Record<keyof HostApi, (...args: unknown[]) => Promise<unknown>>;
    const below = (depth: number): unknown[] =>
      depth === 0 ? [] : [{ title: "x", page: 0, below: below(depth - 1) }];
    const deep = below(4);
    const bad: readonly (readonly [keyof HostApi, ...unknown[]])[] = [
      ["open"],
      ["open", 3],
      ["open", path, "more"],
      ["open", `${path}\0.txt`],
      ["save", { path, text: "x" }],
      ["save", { path, text: "x", expect: null, also: 1 }],
      ["save", { path, text: 3, expect: null }],
      ["save", [path, "x", null]],
      ["exportBytes", { suggestedName: "a.csv", bytes: "text", path: null }],
      ["printPdf", { ...request, path: null, pages: "<p>x</p>" }],
      ["printPdf", { ...request, path: null, pages: [{ svg: "x" }] }],
      ["printPdf", { ...request, path: null, pages: [{ width: 0, height: 1, svg: "x" }] }],
      ["printPdf", { ...request, path: null, pages: [{ width: "1", height: 1, svg: "x" }] }],
      ["printPdf", { ...request, path: null, facts: { ...request.facts, date: "2026-02-30" } }],
      ["printPdf", { ...request, path: null, facts: { ...request.facts, outline: [{ title: "x" }] } }],
      ["printPdf", { ...request, path: null, facts: { ...request.facts, outline: deep } }],
      ["cancelPrint"],
      ["watchFile", { window: "one", path: 3, stamp: null }],
      ["watchFile", { window: "one", path }],
      ["listFolder", { path }],
    ];
    for (const [method, ...args] of bad) {
      const outcome = await loose[method](...args).catch((error: unknown) => error);
      const refused = outcome instanceof Error || (outcome as { ok: boolean }).ok === false;
      expect(refused, `${method} ${JSON.stringify(args)}`).toBe(true);
    }
    expect(readdirSync(documents)).toEqual([]);
  });
});
