/** The session's questions as dialogs, its remarks as toasts. */
import { toast } from "sonner";
import type { HostApi } from "#engine";
import type { Talk } from "../files/session.ts";
import { ask, type ConflictAnswer, type RecoveryAnswer, type UnsavedAnswer } from "../state/ui.ts";

export function dialogTalk(host: HostApi): Talk {
  const problem = (line: string): void => void toast.error(line, { duration: Infinity, closeButton: true });
  return {
    unsaved: (title, before) => ask<UnsavedAnswer>((answer) => ({ kind: "unsaved", title, before, answer })),
    conflict: (name) => ask<ConflictAnswer>((answer) => ({ kind: "conflict", name, answer })),
    recovery: (copies) => ask<RecoveryAnswer>((answer) => ({ kind: "recovery", copies, answer })),
    openPath: () =>
      host.dialogs === "native"
        ? picked(host.pickOpen(), problem)
        : ask<string | null>((answer) => ({ kind: "open-file", answer })),
    savePath: (suggested) =>
      host.dialogs === "native"
        ? picked(host.pickSave(suggested), problem)
        : ask<string | null>((answer) => ({
            kind: "save-file",
            purpose: "Save the show",
            suggested,
            extension: ".hopline",
            answer,
          })),
    problem,
    remark: (line) => void toast(line),
  };
}

async function picked(
  choice: ReturnType<HostApi["pickOpen"]>,
  problem: (line: string) => void,
): Promise<string | null> {
  const found = await choice;
  if (found.ok) return found.value;
  problem(found.error.message);
  return null;
}
