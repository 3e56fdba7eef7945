/** Questions come one at a time, and each is answered: a save that waits for an answer would otherwise wait for good. */
import { beforeEach, expect, test, vi } from "vitest";
import type { HostApi } from "#engine";
import type { CommandContext } from "../../renderer/commands/commands.ts";
import { listenToHostMenu } from "../../renderer/commands/listen.ts";
import { ask, ui, type ConflictAnswer, type UnsavedAnswer } from "../../renderer/state/ui.ts";

const conflict = (): Promise<ConflictAnswer> =>
  ask((answer) => ({ kind: "conflict", name: "small.hopline", answer }));
const unsaved = (): Promise<UnsavedAnswer> =>
  ask((answer) => ({ kind: "unsaved", title: "Small show", before: "opening another show", answer }));
const shown = () => ui.getState().dialog?.kind ?? null;
const answer = (choice: "cancel"): void => {
  const { dialog } = ui.getState();
  if (dialog?.kind === "conflict" || dialog?.kind === "unsaved") dialog.answer(choice);
};

beforeEach(() => ui.setState({ dialog: null }));

test("a question that comes late leaves alone what the user has opened", async () => {
  ui.setState({ dialog: { kind: "rename-show" } });
  const asked = conflict();
  expect(shown()).toBe("rename-show");
  ui.setState({ dialog: null });
  expect(shown()).toBe("conflict");
  answer("cancel");
  expect(await asked).toBe("cancel");
  expect(shown()).toBeNull();
});

test("of several questions each is answered, one after the other", async () => {
  const answers = Promise.all([conflict(), unsaved(), conflict()]);
  const order: (string | null)[] = [];
  for (let n = 0; n < 3; n++) {
    order.push(shown());
    answer("cancel");
  }
  expect(order).toEqual(["conflict", "unsaved", "conflict"]);
  expect(await answers).toEqual(["cancel", "cancel", "cancel"]);
  expect(shown()).toBeNull();
});

test("a host's own menu doesn't put a dialog in the place of a question", () => {
  let press: (id: string) => void = () => {};
  const save = vi.fn(() => Promise.resolve(true));
  const host = {
    kind: "electron",
    setMenu: () => {},
    onCommand: (heard: (id: string) => void) => (press = heard),
  } as unknown as HostApi;
  listenToHostMenu(host, { session: { save } } as unknown as CommandContext);
  void conflict();
  press("rename-show");
  press("save");
  expect(shown()).toBe("conflict");
  expect(save).not.toHaveBeenCalled();
  answer("cancel");
  press("save");
  expect(save).toHaveBeenCalledTimes(1);
});
