/** What every dialog has: a veil, a title, a place for buttons. Escape and a press outside answer `onClose`. */
import { Dialog } from "radix-ui";
import { useState, type ReactNode } from "react";
import { ui } from "../state/ui.ts";

interface Props {
  readonly title: string;
  readonly onClose: () => void;
  readonly wide?: boolean;
  /** As large as the window allows. */
  readonly full?: boolean;
  /** A question that has to be answered: a press beside it does nothing. */
  readonly question?: boolean;
  readonly children: ReactNode;
  readonly buttons?: ReactNode;
}

let last: HTMLElement | null = null;

/** Whoever has the keys; of a dialog that follows another one, whoever had them before that. */
function keysBefore(): HTMLElement | null {
  const active = document.activeElement;
  if (active instanceof HTMLElement && active.closest(".dialog")) return last;
  last = active instanceof HTMLElement && active !== document.body ? active : null;
  return last;
}

export function Frame({
  title,
  onClose,
  wide = false,
  full = false,
  question = false,
  children,
  buttons,
}: Props) {
  // Before a control of the dialog takes the keys by itself: to this one they go back.
  const [before] = useState(keysBefore);
  return (
    <Dialog.Root open onOpenChange={(open) => !open && onClose()}>
      <Dialog.Portal>
        <Dialog.Overlay className="veil" />
        <Dialog.Content
          className="dialog"
          data-wide={wide || undefined}
          data-full={full || undefined}
          role={question ? "alertdialog" : "dialog"}
          aria-describedby={undefined}
          onCloseAutoFocus={(event) => {
            // One dialog may lead to the next, which has the keys then; and a hasty user has gone on already, for this
            // comes a turn after the dialog has gone.
            const isTaken = document.activeElement !== document.body;
            if (ui.getState().dialog !== null || isTaken) return event.preventDefault();
            if (!before?.isConnected) return;
            event.preventDefault();
            before.focus({ preventScroll: true });
          }}
          onInteractOutside={(event) => question && event.preventDefault()}
        >
          <Dialog.Title className="dialog-title">{title}</Dialog.Title>
          <div className="dialog-body">{children}</div>
          {buttons && <footer className="dialog-buttons">{buttons}</footer>}
        </Dialog.Content>
      </Dialog.Portal>
    </Dialog.Root>
  );
}

/** The buttons of a dialog that only tells. */
export function CloseButton({ onClose }: { onClose: () => void }) {
  return (
    <>
      <span className="spring" />
      <button type="button" className="button main" onClick={onClose}>
        Close
      </button>
    </>
  );
}
