import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { LAST_PAGE_GRACE_MS, Lifetime, RELOAD_MS } from "../../electron/browser-host/lifetime.ts";

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function setUp(ownsWindow: boolean) {
  const end = vi.fn();
  const offerAddress = vi.fn();
  const lifetime = new Lifetime({ end, offerAddress });
  lifetime.ownsWindow = ownsWindow;
  return { lifetime, end, offerAddress };
}

describe("[H26] a host that opened its window", () => {
  it("ends a while after the last page is gone", () => {
    const { lifetime, end, offerAddress } = setUp(true);
    for (const pages of [1, 2, 1, 0]) lifetime.follow(pages);
    vi.advanceTimersByTime(LAST_PAGE_GRACE_MS - 1);
    expect(end).not.toHaveBeenCalled();
    vi.advanceTimersByTime(1);
    expect(end).toHaveBeenCalledOnce();
    expect(offerAddress).not.toHaveBeenCalled();
  });

  it("stays where a page comes back in time, and while one is left", () => {
    const { lifetime, end } = setUp(true);
    for (const pages of [1, 0, 1, 2, 1]) lifetime.follow(pages);
    vi.advanceTimersByTime(10 * LAST_PAGE_GRACE_MS);
    expect(end).not.toHaveBeenCalled();
  });

  it("waits for its first page as long as it takes", () => {
    const { lifetime, end } = setUp(true);
    lifetime.follow(0);
    vi.advanceTimersByTime(10 * LAST_PAGE_GRACE_MS);
    expect(end).not.toHaveBeenCalled();
  });
});

describe("[H26] a host that was started for its address", () => {
  it("stays, and offers a new one, but not at a reload", () => {
    const { lifetime, end, offerAddress } = setUp(false);
    lifetime.follow(1);
    lifetime.follow(0);
    vi.advanceTimersByTime(RELOAD_MS - 1);
    lifetime.follow(1);
    vi.advanceTimersByTime(10 * RELOAD_MS);
    expect(offerAddress).not.toHaveBeenCalled();
    lifetime.follow(0);
    vi.advanceTimersByTime(10 * LAST_PAGE_GRACE_MS);
    expect(offerAddress).toHaveBeenCalledOnce();
    expect(end).not.toHaveBeenCalled();
  });
});
