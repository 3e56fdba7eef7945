/**
 * Files that are dragged into the window: a show opens, a list goes to the import of lists, a device type
 * to that of types. Everything else that is dropped is left to whoever it was meant for.
 */
import { listShown, settleTyping } from "../commands/commands.ts";
import { decoded, LARGEST_LIST } from "../tables/read-list.ts";
import { onceShowCame } from "../state/first-sight.ts";
import { afterDialog, showStage, ui } from "../state/ui.ts";
import { importType } from "../types/use.ts";
import type { Session } from "./session.ts";

/** Larger than any show may be: not even read. */
const MOST_BYTES = 200_000_000;

export function openDroppedFiles(session: Session, problem: (line: string) => void): void {
  addEventListener("dragover", (event) => {
    // Without this the page would go to the file instead.
    if (holdsFiles(event)) event.preventDefault();
  });
  addEventListener("drop", (event) => {
    if (event.defaultPrevented || !holdsFiles(event)) return;
    event.preventDefault();
    settleTyping();
    const files = [...(event.dataTransfer?.files ?? [])];
    // A dialog that is open has the window to itself.
    if (ui.getState().dialog !== null) return problem("Close the dialog first, then drop the file again.");
    const show = files.find(({ name }) => /\.hopline$/i.test(name));
    const type = files.find(({ name }) => /\.hopline-type$/i.test(name));
    const list = files.find(({ name }) => /\.(csv|tsv|txt)$/i.test(name));
    if (!show && type)
      return onceShowCame(() => {
        showStage("types");
        void importType(session, type);
      });
    if (!show && list)
      return onceShowCame(() => void takeList(list).then((line) => line !== null && problem(line)));
    if (!show)
      return problem("Shows (.hopline), device types (.hopline-type) and lists (.csv) can be dropped here.");
    if (show.size > MOST_BYTES) return problem(`“${show.name}” is larger than any show.`);
    void show.text().then(
      (text) => session.openDropped(show.name, text),
      () => problem(`“${show.name}” can't be read.`),
    );
  });
}

/** Opens the import of the list that is shown. Value: why not, in one line. */
async function takeList(file: File): Promise<string | null> {
  if (file.size > LARGEST_LIST)
    return `“${file.name}” is larger than ${LARGEST_LIST / 1_000_000} MB: that is no list.`;
  try {
    const text = decoded(new Uint8Array(await file.arrayBuffer()));
    const table = listShown(ui.getState());
    showStage("lists");
    afterDialog(() =>
      ui.setState({ dialog: { kind: "import-list", table, file: { name: file.name, text } } }),
    );
    return null;
  } catch {
    return `“${file.name}” can’t be read.`;
  }
}

const holdsFiles = ({ dataTransfer }: DragEvent): boolean => dataTransfer?.types.includes("Files") ?? false;
