import { beforeEach, describe, expect, test } from "vitest";
import { err, ok, type HostApi, type Recovery, type Show } from "#engine";
import { saveShow } from "#engine/exchange/save.ts";
import { createSession, fileNameFor, type Session, type Talk } from "../../renderer/files/session.ts";
import { createAppStore, type AppStore } from "../../renderer/state/store.ts";
import { BOX, smallShow } from "./small-show.ts";

/** A host whose disk is a map. */
class MemoryHost {
  readonly files = new Map<string, { text: string; stamp: number }>();
  readonly copies = new Map<string, Recovery>();
  readonly recents: string[] = [];
  demoPaths: string[] = [];
  startPath: string | null = null;
  full = false;

  put(path: string, text: string): void {
    this.files.set(path, { text, stamp: (this.files.get(path)?.stamp ?? 0) + 1 });
  }

  readonly api = {
    kind: "browser",
    dialogs: "in-app",
    startFile: () => Promise.resolve(ok(this.startPath)),
    demos: () => Promise.resolve(ok(this.demoPaths.map((path) => ({ path, name: path, kind: "show" })))),
    recent: () => Promise.resolve(ok(this.recents.map((path) => ({ path, title: path, openedAt: 1 })))),
    noteRecent: (path: string) => {
      this.recents.push(path);
      return Promise.resolve(ok(null));
    },
    open: (path: string) => {
      const file = this.files.get(path);
      return Promise.resolve(
        file
          ? ok({ path, text: file.text, stamp: String(file.stamp) })
          : err({ code: "not-found", message: `“${path}” is not there.` }),
      );
    },
    save: ({ path, text, expect: stamp }: { path: string; text: string; expect: string | null }) => {
      if (this.full) return Promise.resolve(err({ code: "disk-full", message: "not saved: disk full." }));
      const there = this.files.get(path);
      if (stamp !== null && String(there?.stamp) !== stamp)
        return Promise.resolve(err({ code: "changed-on-disk", message: "changed" }));
      this.put(path, text);
      return Promise.resolve(ok({ path, stamp: String(this.files.get(path)!.stamp), savedAt: 1000 }));
    },
    recoveries: () => Promise.resolve(ok([...this.copies.values()])),
    dropRecovery: (showId: string) => {
      this.copies.delete(showId);
      return Promise.resolve(ok(null));
    },
  } as unknown as HostApi;
}

/** Has the host's answers to these calls wait until they are let go. */
function hold(name: "open" | "save" | "startFile"): () => void {
  let letGo: () => void = () => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  const api = host.api as unknown as Record<string, (...args: unknown[]) => Promise<unknown>>;
  const answer = api[name]!;
  api[name] = async (...args) => {
    const found = await answer(...args);
    await held;
    return found;
  };
  return () => {
    api[name] = answer;
    letGo();
  };
}

/** Answers that a test has ready, and what was said. */
class ScriptedTalk implements Talk {
  answers: Partial<{
    unsaved: Awaited<ReturnType<Talk["unsaved"]>>;
    conflict: Awaited<ReturnType<Talk["conflict"]>>;
    openPath: string | null;
    savePath: string | null;
    restore: boolean;
  }> = {};
  readonly asked: string[] = [];
  readonly problems: string[] = [];

  #answer<Key extends keyof ScriptedTalk["answers"]>(
    key: Key,
  ): Promise<NonNullable<ScriptedTalk["answers"][Key]>> {
    this.asked.push(key);
    const answer = this.answers[key];
    if (answer === undefined) throw new Error(`the test has no answer to "${key}"`);
    return Promise.resolve(answer as NonNullable<ScriptedTalk["answers"][Key]>);
  }
  unsaved = () => this.#answer("unsaved");
  conflict: Talk["conflict"] = () => this.#answer("conflict");
  openPath = () => this.#answer("openPath");
  savePath = () => this.#answer("savePath");
  recovery = async (copies: readonly Recovery[]) =>
    (await this.#answer("restore"))
      ? ({ kind: "restore", copy: copies[0]! } as const)
      : ({ kind: "later" } as const);
  problem = (line: string) => void this.problems.push(line);
  remark = () => {};
}

let host: MemoryHost;
let talk: ScriptedTalk;
let app: AppStore;
let session: Session;

const PATH = "/shows/small.hopline";
const OTHER = "/shows/other.hopline";
const other = (): Show => ({ ...smallShow(), id: "other" as Show["id"], title: "Other show" });
const title = () => app.getState().show.title;
const edit = () =>
  app
    .getState()
    .change({ kind: "rename-device", device: BOX, name: `Box ${app.getState().revision}` }, "renaming");
const onDisk = (path: string) => host.files.get(path)?.text;

beforeEach(async () => {
  host = new MemoryHost();
  talk = new ScriptedTalk();
  app = createAppStore();
  session = createSession(host.api, app, talk);
  host.put(PATH, saveShow(smallShow()));
  host.put(OTHER, saveShow(other()));
  await session.openFile(PATH);
});

describe("opening", () => {
  test("a file that can't be read leaves the present show and says why in one line", async () => {
    await session.openFile("/shows/gone.hopline");
    expect(title()).toBe("Small show");
    expect(talk.problems).toEqual(["“/shows/gone.hopline” is not there."]);
  });

  test("a file that is no show is refused with place and reason, and the present show stays", async () => {
    host.put(OTHER, saveShow(other()).replace('"sampleRate":48000', '"sampleRate":47000'));
    await session.openFile(OTHER);
    expect(title()).toBe("Small show");
    expect(talk.problems).toHaveLength(1);
    expect(talk.problems[0]).toMatch(/^“other.hopline” can't be opened. Settings.sampleRate: .+\.$/);
    expect(talk.problems[0]).not.toContain("\n");
  });

  test("with unsaved changes: cancel stays, and nothing is lost", async () => {
    edit();
    const { show } = app.getState();
    talk.answers.unsaved = "cancel";
    await session.openFile(OTHER);
    expect(app.getState().show).toBe(show);
    expect(app.getState().undoLabel).toBe("renaming");
  });

  test("with unsaved changes: save writes them first", async () => {
    edit();
    const { show } = app.getState();
    talk.answers.unsaved = "save";
    await session.openFile(OTHER);
    expect(title()).toBe("Other show");
    expect(onDisk(PATH)).toBe(saveShow(show));
  });

  test("with unsaved changes that can't be saved, the other show isn't opened", async () => {
    edit();
    host.full = true;
    talk.answers.unsaved = "save";
    await session.openFile(OTHER);
    expect(title()).toBe("Small show");
    expect(app.getState()).toMatchObject({ modified: true, file: { trouble: "not saved: disk full" } });
  });

  test("without changes nobody is asked", async () => {
    await session.openFile(OTHER);
    expect(talk.asked).toEqual([]);
    expect(title()).toBe("Other show");
  });

  test("a demo opens as a show of its own, never saved, so that it can't be written over", async () => {
    await session.openDemo(OTHER);
    expect(app.getState().file.path).toBeNull();
    expect(app.getState().show.id).not.toBe(other().id);
    expect(app.getState().modified).toBe(false);
  });

  test("a file that is dropped opens as a copy, since nobody knows where it lies", async () => {
    await session.openDropped("other.hopline", saveShow(other()));
    expect(title()).toBe("Other show");
    expect(app.getState()).toMatchObject({ modified: false, file: { path: null } });
  });

  test("a dropped file that is no show leaves the present one alone", async () => {
    await session.openDropped("list.hopline", "Kick;1");
    expect(title()).toBe("Small show");
    expect(talk.problems.join()).toContain("“list.hopline” can't be opened.");
  });

  test("and so does one that is dropped onto unsaved work that is to stay", async () => {
    edit();
    talk.answers.unsaved = "cancel";
    await session.openDropped("other.hopline", saveShow(other()));
    expect(title()).toBe("Small show");
    expect(app.getState().modified).toBe(true);
  });
});

describe("saving", () => {
  test("writes the file and clears the modified mark", async () => {
    edit();
    expect(await session.save()).toBe(true);
    expect(onDisk(PATH)).toBe(saveShow(app.getState().show));
    expect(app.getState()).toMatchObject({ modified: false, file: { savedAt: 1000, trouble: null } });
  });

  test("two saves in a row don't stumble over each other", async () => {
    edit();
    const first = session.save();
    edit();
    expect(await Promise.all([first, session.save()])).toEqual([true, true]);
    expect(talk.asked).toEqual([]);
    expect(onDisk(PATH)).toBe(saveShow(app.getState().show));
  });

  test("an edit made while the file is written stays modified", async () => {
    edit();
    const saving = session.save();
    await Promise.resolve();
    await Promise.resolve();
    edit();
    await saving;
    const written = onDisk(PATH);
    expect(app.getState().modified).toBe(written !== saveShow(app.getState().show));
    expect(app.getState().modified).toBe(true);
  });

  test("a full disk is told, stays told, and goes once a save has worked", async () => {
    edit();
    host.full = true;
    expect(await session.save()).toBe(false);
    expect(app.getState().file.trouble).toBe("not saved: disk full");
    expect(talk.problems).toEqual(["not saved: disk full."]);
    host.full = false;
    await session.save();
    expect(app.getState().file.trouble).toBeNull();
  });

  test("a show that was never saved asks where, and cancel writes nothing", async () => {
    await session.newShow();
    talk.answers.savePath = null;
    expect(await session.save()).toBe(false);
    expect(host.files.size).toBe(2);
  });

  describe("when the file has become another one", () => {
    beforeEach(() => {
      edit();
      host.put(PATH, saveShow({ ...smallShow(), title: "Theirs" }));
    });

    test("overwrite writes mine", async () => {
      talk.answers.conflict = "overwrite";
      expect(await session.save()).toBe(true);
      expect(onDisk(PATH)).toBe(saveShow(app.getState().show));
    });

    test("save as keeps both", async () => {
      talk.answers.conflict = "save-as";
      talk.answers.savePath = "/shows/mine.hopline";
      expect(await session.save()).toBe(true);
      expect(onDisk(PATH)).toContain("Theirs");
      expect(onDisk("/shows/mine.hopline")).toBe(saveShow(app.getState().show));
      expect(app.getState().file.path).toBe("/shows/mine.hopline");
    });

    test("reload takes theirs", async () => {
      talk.answers.conflict = "reload";
      expect(await session.save()).toBe(false);
      expect(title()).toBe("Theirs");
      expect(app.getState().modified).toBe(false);
    });

    test("cancel leaves both as they are, and says that mine isn't saved", async () => {
      talk.answers.conflict = "cancel";
      expect(await session.save()).toBe(false);
      expect(onDisk(PATH)).toContain("Theirs");
      expect(app.getState()).toMatchObject({
        modified: true,
        file: { trouble: "not saved: changed on disk", saving: false },
      });
    });
  });
});

describe("whoever doesn't wait for the host", () => {
  test("a new show doesn't take over the file of one whose save was still under way", async () => {
    edit();
    const { show } = app.getState();
    const letGo = hold("save");
    const saving = session.save();
    const leaving = session.newShow();
    letGo();
    await Promise.all([saving, leaving]);
    // It was being saved, so there was nothing to ask.
    expect(talk.asked).toEqual([]);
    expect(title()).toBe("Untitled show");
    expect(app.getState()).toMatchObject({ modified: false, file: { path: null, savedAt: null } });
    expect(onDisk(PATH)).toBe(saveShow(show));
  });

  test("of two files that are asked for in a row the later one is opened, whichever comes first", async () => {
    await session.newShow();
    const letGo = hold("open");
    const first = session.openFile(PATH);
    letGo();
    const second = session.openFile(OTHER);
    await Promise.all([first, second]);
    expect(title()).toBe("Other show");
    await session.newShow();
    const letGoAgain = hold("open");
    const opening = session.openFile(PATH);
    await session.newShow();
    letGoAgain();
    await opening;
    expect(title()).toBe("Untitled show");
  });

  test.each(["cancel", "save", "discard"] as const)(
    "an edit that is made while a file is on its way is asked about: %s",
    async (answer) => {
      const letGo = hold("open");
      const opening = session.openFile(OTHER);
      await Promise.resolve();
      await Promise.resolve();
      await Promise.resolve();
      edit();
      const { show } = app.getState();
      talk.answers.unsaved = answer;
      letGo();
      await opening;
      expect(talk.asked).toEqual(["unsaved"]);
      expect(title()).toBe(answer === "cancel" ? "Small show" : "Other show");
      if (answer === "cancel") expect(app.getState()).toMatchObject({ show, modified: true });
      if (answer === "save") expect(onDisk(PATH)).toBe(saveShow(show));
      else expect(onDisk(PATH)).toBe(saveShow(smallShow()));
    },
  );

  test("the same file again, saved on the way: what was saved is what opens", async () => {
    const letGo = hold("open");
    const opening = session.openFile(PATH);
    edit();
    const { show } = app.getState();
    await session.save();
    letGo();
    await opening;
    expect(app.getState().show).toEqual(show);
    expect(app.getState().modified).toBe(false);
  });

  test("a show that is chosen while the window's own is on its way stays", async () => {
    host.startPath = PATH;
    const letGo = hold("startFile");
    const starting = session.start();
    await session.openFile(OTHER);
    letGo();
    await starting;
    expect(title()).toBe("Other show");
  });

  test("changes that are given up keep their copy where nothing comes in their place", async () => {
    edit();
    host.copies.set("small", {
      showId: "small",
      title: "",
      path: PATH,
      text: "",
      unfinished: null,
      writtenAt: 5,
    });
    talk.answers.unsaved = "discard";
    await session.openFile("/shows/gone.hopline");
    expect(app.getState().modified).toBe(true);
    expect(host.copies.size).toBe(1);
    await session.openFile(OTHER);
    expect(host.copies.size).toBe(0);
  });

  test("an edit that is made while the file is read anew isn't dropped with the others", async () => {
    edit();
    host.put(PATH, saveShow({ ...smallShow(), title: "Theirs" }));
    const letGo = hold("open");
    const answers = ["reload", "cancel"] as const;
    talk.conflict = () => {
      talk.asked.push("conflict");
      return Promise.resolve(answers[talk.asked.length - 1]!);
    };
    const reloading = session.reload();
    await Promise.resolve();
    await Promise.resolve();
    await Promise.resolve();
    edit();
    const { show } = app.getState();
    letGo();
    await reloading;
    expect(talk.asked).toEqual(["conflict", "conflict"]);
    expect(app.getState().show).toBe(show);
  });
});

describe("starting", () => {
  const copy = (text: string, path: string | null): Recovery => ({
    showId: "small",
    title: "Small show",
    path,
    text,
    unfinished: null,
    writtenAt: 5,
  });

  test("opens what the window was started for", async () => {
    host.startPath = OTHER;
    await session.start();
    expect(app.getState()).toMatchObject({ file: { path: OTHER }, modified: false });
  });

  test("a shipped demo as the start file opens as a show of its own", async () => {
    host.startPath = OTHER;
    host.demoPaths = [OTHER];
    await session.start();
    expect(app.getState().file.path).toBeNull();
    expect(title()).toBe("Other show");
  });

  test("what a crash left is offered, comes back modified, and a save then goes to its file", async () => {
    const edited = { ...smallShow(), title: "Edited before the crash" };
    host.copies.set("small", copy(saveShow(edited), PATH));
    talk.answers.restore = true;
    await session.start();
    expect(app.getState()).toMatchObject({ modified: true, file: { path: PATH } });
    expect(title()).toBe("Edited before the crash");
    expect(await session.save()).toBe(true);
    expect(onDisk(PATH)).toContain("Edited before the crash");
  });

  test("what was begun comes back with the copy, or into the file, where that has all of the show", async () => {
    const back: string[] = [];
    talk.answers.restore = true;
    talk.answers.unsaved = "discard";
    const start = () =>
      createSession(host.api, app, talk, undefined, (begun) =>
        back.push(`${begun} in ${app.getState().show.title}`),
      ).start();
    host.copies.set("small", {
      ...copy(saveShow({ ...smallShow(), title: "Edited" }), PATH),
      unfinished: "a row",
    });
    await start();
    host.copies.set("small", { ...copy("", OTHER), unfinished: "a type" });
    await start();
    expect(back).toEqual(["a row in Edited", "a type in Other show"]);
    expect(app.getState()).toMatchObject({ modified: false, file: { path: OTHER } });
  });

  test("deciding later opens the start file and keeps the copy", async () => {
    host.copies.set("small", copy(saveShow(smallShow()), null));
    host.startPath = OTHER;
    talk.answers.restore = false;
    await session.start();
    expect(title()).toBe("Other show");
    expect(host.copies.size).toBe(1);
  });

  test("a copy that can't be read is told in one line and kept", async () => {
    host.copies.set("small", copy("{", null));
    talk.answers.restore = true;
    await session.start();
    expect(talk.problems[0]).toMatch(/^The copy of “Small show” can't be opened\. .+\.$/);
    expect(host.copies.size).toBe(1);
  });

  test("giving up changes drops their copy", async () => {
    edit();
    host.copies.set("small", copy("", PATH));
    talk.answers.unsaved = "discard";
    await session.newShow();
    expect(host.copies.size).toBe(0);
    expect(title()).toBe("Untitled show");
  });
});

test.each([
  ["Winter Concert", "Winter Concert.hopline"],
  ["a/b\\c:d", "a b c d.hopline"],
  ["..", "Show.hopline"],
  ["   ", "Show.hopline"],
  ["x".repeat(300), `${"x".repeat(80)}.hopline`],
])("%j is saved as %j", (name, file) => {
  expect(fileNameFor(name)).toBe(file);
});
