/** The type editor without its window: drafts with their undo, and parts put in, taken out, moved and turned. */
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import {
  CATALOGUE,
  checkType,
  hasErrors,
  id,
  saveType,
  spanGroup,
  type DeviceType,
  type TypeId,
} from "#engine";
import { app } from "../../renderer/state/store.ts";
import {
  draftOf,
  edited,
  isChanged,
  packDrafts,
  redone,
  undone,
  unpackDrafts,
} from "../../renderer/types/draft.ts";
import {
  beginBlank,
  beginCopy,
  dropDraft,
  editor,
  editType,
  followShow,
  openDraftNow,
  openType,
  redoType,
  undoType,
} from "../../renderer/types/editor.ts";
import {
  addBank,
  addMode,
  addPort,
  addSection,
  asKind,
  blankType,
  moved,
  newRule,
  ruleEnds,
  withRules,
  withSections,
  without,
} from "../../renderer/types/parts.ts";
import { canUse, importType, takeVersion } from "../../renderer/types/use.ts";
import { ui, type Dialog } from "../../renderer/state/ui.ts";
import type { Session } from "../../renderer/files/session.ts";
import { smallShow } from "./small-show.ts";

const BOX = CATALOGUE.find((type) => type.id === "box-16-8")!;
const renamed = (name: string) => (type: DeviceType) => ({ ...type, name });

describe("a draft", () => {
  test("takes back and does again, and forgets what was taken back at the next edit", () => {
    const first = edited(draftOf(BOX, BOX), renamed("One")(BOX), "renaming");
    const second = edited(first, renamed("Two")(BOX), "renaming again");
    expect(undone(second).type.name).toBe("One");
    expect(undone(undone(second)).type).toBe(BOX);
    expect(undone(undone(undone(second))).type).toBe(BOX);
    expect(redone(undone(second)).type.name).toBe("Two");
    const other = edited(undone(second), renamed("Three")(BOX), "renaming once more");
    expect(other.future).toEqual([]);
    expect(redone(other)).toBe(other);
    expect(other.past.map(({ label }) => label)).toEqual(["renaming", "renaming once more"]);
  });

  test("what was done again can be taken back again, step by step both ways", () => {
    let draft = draftOf(BOX, BOX);
    for (const name of ["One", "Two", "Three"]) draft = edited(draft, renamed(name)(BOX), `to ${name}`);
    const back = undone(undone(draft));
    expect([back.type.name, redone(back).type.name, redone(redone(back)).type.name]).toEqual([
      "One",
      "Two",
      "Three",
    ]);
    const again = redone(redone(back));
    expect(again.future).toEqual([]);
    expect([undone(again).type.name, undone(undone(again)).type.name]).toEqual(["Two", "One"]);
    expect(undone(undone(undone(again))).type).toBe(BOX);
  });

  test("isn't another one where an edit says nothing new", () => {
    const draft = draftOf(BOX, BOX);
    expect(edited(draft, structuredClone(BOX), "nothing")).toBe(draft);
  });

  test("is changed while it differs from what it was begun from", () => {
    const draft = edited(draftOf(BOX, BOX), renamed("One")(BOX), "renaming");
    expect([isChanged(draftOf(BOX, BOX)), isChanged(draft), isChanged(undone(draft))]).toEqual([
      false,
      true,
      false,
    ]);
    expect(isChanged(draftOf(BOX, null))).toBe(true);
  });

  test("outlives the window as text, and what reads otherwise is passed over", () => {
    const drafts = new Map([[BOX.id, draftOf(renamed("One")(BOX), BOX)]]);
    const check = (type: unknown): DeviceType | null =>
      typeof type === "object" && type !== null && "banks" in type ? (type as DeviceType) : null;
    expect(unpackDrafts(packDrafts(drafts), check)).toEqual(drafts);
    for (const text of [null, "", "{", "{}", "[1,null]", '[{"type":5}]']) {
      expect(unpackDrafts(text, check).size).toBe(0);
    }
  });
});

describe("parts of a type", () => {
  test("a blank type is missing jacks and ports, and nothing else", () => {
    expect(checkType(blankType([])).map(({ check }) => check)).toEqual(["jacks"]);
    expect(blankType([{ id: "new-type", name: "New type" }])).toMatchObject({
      id: "new-type-2",
      name: "New type 2",
    });
  });

  test("what is added has an id and a name of its own", () => {
    let type = blankType([]);
    for (const direction of ["in", "out", "in"] as const) type = addBank(type, direction);
    type = addPort(addPort(type));
    for (const role of ["channel", "mix", "mix", "direct"] as const) type = addSection(type, role);
    type = addMode(addMode(type, null), type.modes[0]!);
    expect(type.banks.map((bank) => [bank.id, bank.name])).toEqual([
      ["in", "In"],
      ["out", "Out"],
      ["in-2", "In 2"],
    ]);
    expect(type.ports.map((port) => [port.id, port.name])).toEqual([
      ["link-a", "Link A"],
      ["link-b", "Link B"],
    ]);
    expect(type.mixer?.sections.map((section) => [section.id, section.from])).toEqual([
      ["channel", []],
      ["mix", ["channel"]],
      ["mix-2", ["channel"]],
      ["direct-out", ["channel"]],
    ]);
    expect(type.modes.map((mode) => mode.name)).toEqual(["Normal", "New mode", "Normal, copy"]);
    expect(hasErrors(checkType(type))).toBe(false);
  });

  test("a port is added as the one before it is", () => {
    expect(addPort({ ...BOX, ports: [BOX.ports[2]!] }).ports[1]).toEqual({
      ...BOX.ports[2]!,
      id: "link-a",
      name: "Link A",
    });
  });

  test("without its last section a type has no mixer", () => {
    const type = addSection(BOX, "channel");
    expect(withSections(type, [])).toEqual(BOX);
    expect("mixer" in withSections(type, [])).toBe(false);
  });

  test("entries move by one place, and not past the ends", () => {
    expect(moved(["a", "b", "c"], 0, 1)).toEqual(["b", "a", "c"]);
    expect(moved(["a", "b", "c"], 2, -1)).toEqual(["a", "c", "b"]);
    expect(moved(["a", "b"], 0, -1)).toEqual(["a", "b"]);
    expect(moved(["a", "b"], 1, 1)).toEqual(["a", "b"]);
    expect(without(["a", "b", "c"], 1)).toEqual(["a", "c"]);
  });

  test("a new rule joins what the type has, as long as both ends are", () => {
    // The first destination of the box are its 8 outputs, the first source its 16 inputs.
    expect(newRule(BOX, "wired")).toEqual({
      kind: "wired",
      to: { group: "out", first: 1 },
      from: { group: "in", first: 1 },
      count: 8,
    });
    expect(newRule(BOX, "patch")).toMatchObject({
      to: { group: "out", first: 1, count: 8 },
      from: [{ group: "in", first: 1, count: 16 }],
    });
    expect(newRule(BOX, "carry")).toEqual({ kind: "carry", to: "a", from: "b", shift: 0 });
    expect(newRule(blankType([]), "wired")).toBeNull();
    expect(newRule(addBank(blankType([]), "out"), "patch")).toBeNull();
  });

  test("the ends of rules are what can be fed and what can be taken", () => {
    const { to, from } = ruleEnds(BOX);
    expect(to.map(spanGroup)).toEqual(["out", "a", "b", "pm"]);
    expect(from.map(spanGroup)).toEqual(["in", "a", "b"]);
  });

  test("a rule of another kind keeps its ends", () => {
    const [run] = BOX.modes[0]!.rules;
    expect(asKind(BOX, run!, "patch")).toEqual({
      kind: "patch",
      to: { group: "out", first: 1, count: 8 },
      from: [{ group: "a", first: 1, count: 8 }],
      run: 1,
    });
    expect(asKind(BOX, asKind(BOX, run!, "patch"), "wired")).toEqual(run);
    expect(asKind(BOX, { kind: "carry", to: id("b"), from: id("a"), shift: 0 }, "wired")).toEqual({
      kind: "wired",
      to: { group: "b", first: 1 },
      from: { group: "a", first: 1 },
      count: 48,
    });
    expect(asKind(BOX, run!, "wired")).toBe(run);
  });

  test("rules of one mode are changed without those of others", () => {
    const next = withRules(BOX, 0, []);
    expect(next.modes[0]!.rules).toEqual([]);
    expect(next.modes[1]).toBe(BOX.modes[1]);
    expect(withRules(BOX, "every", []).rules).toEqual([]);
  });
});

/** The dialog, once there is one. */
const asked = (): Promise<Dialog> =>
  new Promise((resolve) => {
    const stop = ui.subscribe(({ dialog }) => {
      if (!dialog) return;
      stop();
      resolve(dialog);
    });
  });

describe("the editor", () => {
  beforeEach(() => {
    editor.setState({ show: null, drafts: new Map(), open: null });
    app.getState().replace(smallShow(), {}, false);
    followShow(app.getState().show);
  });
  const first = (): DeviceType => app.getState().show.types[0]!;

  test("a type that is only looked at has no draft; one edit makes one, and undo takes it back", () => {
    openType(first().id);
    expect(editor.getState().drafts.size).toBe(0);
    editType(renamed("One"), "renaming");
    expect(openDraftNow()).toMatchObject({ type: { name: "One" }, base: first() });
    undoType();
    expect(isChanged(openDraftNow()!)).toBe(false);
    redoType();
    expect(openDraftNow()!.type.name).toBe("One");
    expect(app.getState().undoLabel).toBeNull();
  });

  test("a draft stays while others are opened, until it is dropped", () => {
    openType(first().id);
    editType(renamed("One"), "renaming");
    beginBlank();
    expect(openDraftNow()!.type.name).toBe("New type");
    openType(first().id);
    expect(openDraftNow()!.type.name).toBe("One");
    dropDraft(first().id);
    expect(openDraftNow()!.type).toBe(first());
  });

  test("a copy has an id that neither show nor catalogue has", () => {
    beginCopy(BOX);
    beginCopy(BOX);
    expect([...editor.getState().drafts.keys()]).toEqual(["box-16-8-2", "box-16-8-3"]);
  });

  describe("with a storage", () => {
    const kept = new Map<string, string>();
    beforeEach(() => {
      kept.clear();
      Reflect.set(globalThis, "localStorage", {
        getItem: (key: string) => kept.get(key) ?? null,
        setItem: (key: string, text: string) => void kept.set(key, text),
        removeItem: (key: string) => void kept.delete(key),
      });
    });
    afterEach(() => void Reflect.deleteProperty(globalThis, "localStorage"));

    test("another show has other drafts, and the first one's come back with it", () => {
      const { show } = app.getState();
      beginCopy(BOX);
      editType(renamed("One"), "renaming");
      followShow({ ...show, id: id("another") });
      expect([editor.getState().open, editor.getState().drafts.size]).toEqual([null, 0]);
      beginCopy(first());
      followShow(show);
      expect([...editor.getState().drafts.values()].map(({ type }) => type.name)).toEqual(["One"]);
    });

    test("a window that is opened anew has the drafts; one that was dropped stays gone", () => {
      const { show } = app.getState();
      openType(first().id);
      editType(renamed("One"), "renaming");
      editor.setState({ show: null, drafts: new Map(), open: null });
      followShow(show);
      openType(first().id);
      expect(openDraftNow()).toMatchObject({ type: { name: "One" }, base: { name: first().name } });
      dropDraft(first().id);
      expect(kept.size).toBe(0);
      editor.setState({ show: null, drafts: new Map(), open: null });
      followShow(show);
      expect(editor.getState().drafts.size).toBe(0);
    });
  });

  test("a version is asked about anew where the show went on meanwhile", async () => {
    beginCopy(BOX);
    editType(renamed("Mine"), "renaming");
    const done = takeVersion();
    app.getState().change({ kind: "set-title", title: "Meanwhile" }, "renaming the show");
    await done;
    expect(app.getState().show.title).toBe("Meanwhile");
    expect(app.getState().show.types.at(-1)!.name).toBe("Mine");
    expect(app.getState().undoLabel).toBe("using Mine");
  });

  describe("a type's file", () => {
    const told: string[] = [];
    const session = {
      problem: (line: string) => told.push(`problem: ${line}`),
      remark: (line: string) => told.push(`remark: ${line}`),
    } as unknown as Session;
    beforeEach(() => void told.splice(0));
    const fileOf = (text: string | Uint8Array<ArrayBuffer>): File => new File([text], "box.hopline-type");
    const own = (name: string): DeviceType => ({ ...first(), name });

    test("of a type that the show doesn't have is begun as a draft", async () => {
      await importType(session, fileOf(saveType({ ...BOX, id: id("mine"), name: "Mine" })));
      expect(openDraftNow()).toMatchObject({ type: { id: "mine", name: "Mine" }, base: null });
      expect(told).toEqual([]);
    });

    test("of one that the show has as it is in the file says so and opens it", async () => {
      await importType(session, fileOf(saveType(first())));
      expect(told).toEqual([`remark: The show has “${first().name}” already, just as it is in the file.`]);
      expect([editor.getState().open, editor.getState().drafts.size]).toEqual([first().id, 0]);
    });

    test.each([
      ["version", 1],
      ["copy", 1],
      ["cancel", 0],
    ] as const)("of another one of its id is asked about: %s", async (choice, drafts) => {
      const done = importType(session, fileOf(saveType(own("Theirs"))));
      const dialog = await asked();
      if (dialog.kind !== "import-type") throw new Error("something else was asked");
      expect([dialog.name, dialog.present]).toEqual(["Theirs", first().name]);
      dialog.answer(choice);
      await done;
      expect(editor.getState().drafts.size).toBe(drafts);
      const open = openDraftNow();
      if (choice === "version")
        expect([open?.type.id, open?.type.name, open?.base]).toEqual([first().id, "Theirs", first()]);
      if (choice === "copy") expect([open?.type.id === first().id, open?.base]).toEqual([false, null]);
    });

    test.each([
      ["no type", "{}"],
      ["no JSON", "banks"],
      ["no text", Uint8Array.of(0x89, 0x50, 0x4e, 0x47)],
      ["zeros", "\0\0"],
    ])("that is %s is refused by its name, and begins nothing", async (_, content) => {
      await importType(session, fileOf(content));
      expect(told).toHaveLength(1);
      expect(told[0]).toMatch(/^problem: “box\.hopline-type” can't be taken in\. [A-Z].+\.$/);
      expect(editor.getState().drafts.size).toBe(0);
    });
  });

  test("a new type is used at once, as one step of the document", async () => {
    beginCopy(BOX);
    const { id: copy } = openDraftNow()!.type;
    expect(canUse()).toBe(true);
    await takeVersion();
    expect(app.getState().show.types.at(-1)?.id).toBe(copy);
    expect(canUse()).toBe(false);
    app.getState().undo();
    expect(app.getState().show.types.some((type) => type.id === copy)).toBe(false);
  });

  test("pressed twice it is asked about once", async () => {
    const used = app.getState().show.devices[0]!.type;
    openType(used);
    editType((type) => ({ ...type, modes: [{ id: id("other"), name: "Other", rules: [] }] }), "other modes");
    const done = Promise.all([takeVersion(), takeVersion()]);
    const dialog = await asked();
    if (dialog.kind !== "use-type") throw new Error("something else was asked");
    dialog.answer(false);
    await done;
    expect(ui.getState().dialog).toBeNull();
  });

  test("a type with an error can't be used", () => {
    beginBlank();
    expect(canUse()).toBe(false);
  });

  test("a version that breaks something is asked about; no leaves the show as it is, yes changes it", async () => {
    const used = app.getState().show.devices[0]!.type;
    openType(used);
    editType((type) => ({ ...type, modes: [{ id: id("other"), name: "Other", rules: [] }] }), "other modes");
    const answered = async (yes: boolean): Promise<void> => {
      const done = takeVersion();
      const dialog = await asked();
      if (dialog.kind !== "use-type") throw new Error("something else was asked");
      expect(dialog.change.lost.length).toBeGreaterThan(0);
      dialog.answer(yes);
      await done;
    };
    const before = app.getState().show;
    await answered(false);
    expect(app.getState().show).toBe(before);
    expect(openDraftNow()!.past).toHaveLength(1);
    await answered(true);
    expect(
      app
        .getState()
        .show.types.find((type) => type.id === used)!
        .modes.map(({ name }) => name),
    ).toEqual(["Other"]);
    expect(editor.getState().drafts.has(id<TypeId>(used))).toBe(false);
  });
});
