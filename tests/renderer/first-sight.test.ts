import { readFileSync } from "node:fs";
import { describe, expect, test, vi } from "vitest";
import { analyse, loadShow, type Show } from "#engine";
import { bareLooks, looksOf } from "../../renderer/canvas/looks.ts";
import { commandById, runCommand } from "../../renderer/commands/commands.ts";
import type { Session } from "../../renderer/files/session.ts";
import { awaitShow, catchSight, endSight, isShowComing } from "../../renderer/state/first-sight.ts";
import { app } from "../../renderer/state/store.ts";
import { ui } from "../../renderer/state/ui.ts";

function demo(): Show {
  const loaded = loadShow(readFileSync("assets/demo/quayside.hopline", "utf8"));
  if (!loaded.ok) throw new Error(loaded.error.message);
  return loaded.value;
}

/** Runs a command by its id, with a session that only counts saves. */
function press(id: string, save = vi.fn(() => Promise.resolve(true))): typeof save {
  const command = commandById(id);
  if (!command) throw new Error(`no command ${id}`);
  runCommand(command, { session: { save } as unknown as Session });
  return save;
}

describe("a show that is seen only", () => {
  test("shows its devices as they are shown later, with nothing on them", () => {
    const show = demo();
    const bare = bareLooks(show).devices;
    const known = looksOf(analyse(show)).devices;
    expect([...bare.keys()]).toEqual(show.devices.map(({ id }) => id));
    for (const [device, look] of bare) {
      const { type, name, mode, position, powered } = known.get(device)!;
      expect(look).toMatchObject({ name, mode, position, powered, spans: [], findings: 0, worst: null });
      expect(look.type).toBe(type);
    }
  });

  test("keeps what is about the document for the document that comes", async () => {
    const show = demo();
    catchSight(show);
    const save = press("save");
    press("panel-sources");
    expect(ui.getState().panel).toBe("sources");
    expect(save).not.toHaveBeenCalled();
    app.getState().replace(show, {}, false);
    expect(isShowComing()).toBe(false);
    await Promise.resolve();
    expect(save).toHaveBeenCalledTimes(1);
  });

  test("is gone where the file was refused after all, and keys are heard again", async () => {
    catchSight(demo());
    const save = press("save");
    endSight();
    await Promise.resolve();
    expect(save).toHaveBeenCalledTimes(1);
    press("save", save);
    expect(save).toHaveBeenCalledTimes(2);
  });
});

test("a show of which nothing is seen yet is waited for likewise", async () => {
  awaitShow();
  const save = press("save");
  press("panel-outputs");
  expect(ui.getState().panel).toBe("outputs");
  expect(save).not.toHaveBeenCalled();
  endSight();
  await Promise.resolve();
  expect(save).toHaveBeenCalledTimes(1);
});

test("right after an edit, what is about its signals waits for them, and what follows waits for that", () => {
  const { look, change } = app.getState();
  look(null);
  const { show } = app.getState();
  change({ kind: "rename-device", device: show.devices[0]!.id, name: "Jetty" }, "renaming");
  const { foundIn } = app.getState();
  expect(app.getState().analysis.findings.length).toBeGreaterThan(0);
  // As it is while the worker is at work.
  app.setState({ foundIn: show });
  press("next-finding");
  press("undo");
  press("panel-sources");
  expect(app.getState()).toMatchObject({ focus: null, undoLabel: "renaming" });
  expect(ui.getState().panel).toBe("sources");
  app.setState({ foundIn });
  expect(app.getState()).toMatchObject({ focus: { kind: "finding" }, undoLabel: null });
});
