/** Counts what a person does in the window: each press, drag, key chord, and each text typed in one go. */
import type { Page } from "@playwright/test";

export async function countActions(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const counted = globalThis as unknown as { hoplineActions: number };
    counted.hoplineActions = 0;
    /** Where text is being typed: what goes on there is one action. */
    let typing: EventTarget | null = null;
    addEventListener(
      "pointerdown",
      () => {
        typing = null;
        counted.hoplineActions++;
      },
      true,
    );
    addEventListener(
      "keydown",
      (event) => {
        if (["Shift", "Control", "Alt", "Meta"].includes(event.key)) return;
        const isText = event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey;
        if (isText && typing !== null) return;
        typing = isText ? event.target : null;
        counted.hoplineActions++;
      },
      true,
    );
    addEventListener(
      "input",
      (event) => {
        // Filled without keys, by the test's own hand.
        if (typing === null) counted.hoplineActions++;
        typing = event.target;
      },
      true,
    );
  });
  return () => page.evaluate(() => (globalThis as unknown as { hoplineActions: number }).hoplineActions);
}
