/** Parts of the window that hold the keys as a whole, whatever of them has the page's focus. */
const PARTS = ".canvas, [role=grid], .inspector-body";

/**
 * Gives the keys to something that is on its way to the page. At the end of this turn it is there, so that the next key
 * finds it; a menu or dialog that closes gives the keys back later than that, so they are taken once more with the next
 * frame, unless the user has gone on meanwhile: that may be to another field.
 */
export function giveKeys(focus: () => void): void {
  let part: Element | null = null;
  let hasGoneOn = false;
  const goOn = (): void => void (hasGoneOn = true);
  queueMicrotask(() => {
    focus();
    part = document.activeElement?.closest(PARTS) ?? null;
    addEventListener("keydown", goOn, true);
    addEventListener("pointerdown", goOn, true);
  });
  requestAnimationFrame(() => {
    removeEventListener("keydown", goOn, true);
    removeEventListener("pointerdown", goOn, true);
    if (!hasGoneOn && !part?.contains(document.activeElement)) focus();
  });
}
