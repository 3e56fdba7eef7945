/**
 * Tells a mouse wheel from a trackpad: a wheel zooms, two fingers pan. A wheel comes in whole notches and straight up
 * or down. What begins as one stays that one while events follow each other closely, since the tail of a swipe can
 * look like a notch.
 */
export type Pointing = "wheel" | "trackpad";

export interface WheelLike {
  readonly deltaX: number;
  readonly deltaY: number;
  readonly deltaMode: number;
  readonly timeStamp: number;
  /** Chromium's own: 120 for each notch. */
  readonly wheelDeltaY?: number;
}

const PAUSE = 220;
const NOTCH = 120;

export function pointingTeller(): (event: WheelLike) => Pointing {
  let current: Pointing = "trackpad";
  let lastAt = -Infinity;
  return (event) => {
    const follows = event.timeStamp - lastAt < PAUSE;
    lastAt = event.timeStamp;
    if (!follows) current = looksLikeWheel(event) ? "wheel" : "trackpad";
    return current;
  };
}

function looksLikeWheel({ deltaX, deltaY, deltaMode, wheelDeltaY }: WheelLike): boolean {
  if (deltaX !== 0) return false;
  // Lines or pages instead of pixels come from wheels only.
  if (deltaMode !== 0) return true;
  // A trackpad tells its pixels three to one, so its numbers and its delta agree; a wheel's are scaled by the system.
  if (wheelDeltaY !== undefined && wheelDeltaY === -3 * deltaY) return false;
  return wheelDeltaY !== undefined ? wheelDeltaY % NOTCH === 0 : Math.abs(deltaY) >= 100;
}

/** The factor that a turn of the wheel zooms by: about a fifth for each notch. */
export const zoomFactor = ({ deltaY, deltaMode }: WheelLike): number =>
  2 ** (-Math.max(-240, Math.min(240, deltaMode === 0 ? deltaY : deltaY * 33)) / 400);
