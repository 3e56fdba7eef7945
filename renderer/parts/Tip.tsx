/** A tooltip on a control that has its own name already. */
import { Tooltip } from "radix-ui";
import type { ReactElement, ReactNode } from "react";

export function Tip({
  text,
  keys,
  side = "bottom",
  children,
}: {
  text: ReactNode;
  keys?: string | undefined;
  side?: "top" | "right" | "bottom" | "left";
  children: ReactElement;
}) {
  return (
    <Tooltip.Root>
      <Tooltip.Trigger asChild>{children}</Tooltip.Trigger>
      <Tooltip.Portal>
        <Tooltip.Content className="tip" side={side} sideOffset={4} collisionPadding={8}>
          {text}
          {keys && <kbd>{keys}</kbd>}
        </Tooltip.Content>
      </Tooltip.Portal>
    </Tooltip.Root>
  );
}
