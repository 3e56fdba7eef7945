/** A word that says what it means: on hover, on focus, and on a press or a tap, which keeps it open. */
import { Tooltip } from "radix-ui";
import { useState, type ReactNode } from "react";
import { GLOSSARY, type WordId } from "../words/glossary.ts";

export function Term({ word, children }: { word: WordId; children: ReactNode }) {
  return <Explained means={GLOSSARY[word].means}>{children}</Explained>;
}

export function Explained({ means, children }: { means: ReactNode; children: ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <Tooltip.Root open={open} onOpenChange={setOpen}>
      <Tooltip.Trigger
        type="button"
        className="term"
        onClick={(event) => {
          // A tooltip would close with a press, and a finger has nothing but that.
          event.preventDefault();
          setOpen(true);
        }}
      >
        {children}
      </Tooltip.Trigger>
      <Tooltip.Portal>
        <Tooltip.Content className="tip" side="top" sideOffset={4} collisionPadding={8}>
          {means}
        </Tooltip.Content>
      </Tooltip.Portal>
    </Tooltip.Root>
  );
}
