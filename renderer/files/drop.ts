/** A show file that is dragged into the window opens. Everything else that is dropped is left to whoever it was meant for. */
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
    const files = [...(event.dataTransfer?.files ?? [])];
    const show = files.find(({ name }) => /\.hopline$/i.test(name));
    if (!show) return problem("Only show files (.hopline) open here.");
    if (show.size > MOST_BYTES) return problem(`“${show.name}” is larger than any show.`);
    void show.text().then(
      (text) => session.openDropped(show.name, text),
      () => problem(`“${show.name}” can't be read.`),
    );
  });
}

const holdsFiles = ({ dataTransfer }: DragEvent): boolean => dataTransfer?.types.includes("Files") ?? false;
