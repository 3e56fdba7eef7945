import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { err, ok, type FileNews, type HostApi, type HostResult, type WatchRequest } from "#engine";
import { ASK_MS, hideNews, news, newsKey, watchFile, type FileWatch } from "../../renderer/files/watch.ts";
import { createAppStore, type AppStore } from "../../renderer/state/store.ts";
import { smallShow } from "./small-show.ts";

let app: AppStore;
let watch: FileWatch;
let asked: WatchRequest[];
let answer: () => HostResult<FileNews>;

const SAME: FileNews = { others: 0, onDisk: { kind: "same" } };
const CHANGED: FileNews = { others: 1, onDisk: { kind: "changed", at: 5 } };
const shown = () => ({ others: news.getState().others, onDisk: news.getState().onDisk });

beforeEach(() => {
  vi.useFakeTimers();
  asked = [];
  answer = () => ok(SAME);
  const host = {
    watchFile: (request: WatchRequest) => {
      asked.push(request);
      return Promise.resolve(answer());
    },
  } as unknown as HostApi;
  app = createAppStore();
  app.getState().replace(smallShow(), { path: "/a.hopline", stamp: "1" }, false);
  watch = watchFile(host, app, "w");
});

afterEach(() => {
  watch.stop();
  vi.useRealTimers();
});

test("asks at once, again and again, and when another file is opened", async () => {
  await vi.advanceTimersByTimeAsync(0);
  expect(asked).toEqual([{ window: "w", path: "/a.hopline", stamp: "1" }]);
  await vi.advanceTimersByTimeAsync(3 * ASK_MS);
  expect(asked).toHaveLength(4);
  app.getState().replace(smallShow(), { path: "/b.hopline", stamp: "2" }, false);
  expect(asked.at(-1)).toEqual({ window: "w", path: "/b.hopline", stamp: "2" });
});

test("tells what came, and that it is over", async () => {
  answer = () => ok(CHANGED);
  await watch.ask();
  expect(shown()).toEqual(CHANGED);
  answer = () => ok(SAME);
  await watch.ask();
  expect(newsKey(news.getState())).toBeNull();
});

test("an answer about what the window no longer holds is dropped", async () => {
  answer = () => ok(CHANGED);
  const asking = watch.ask();
  answer = () => ok(SAME);
  app.getState().noteSaved(app.getState().revision, { path: "/a.hopline", stamp: "2", savedAt: 9 });
  await asking;
  expect(shown()).toEqual(SAME);
  answer = () => ok(CHANGED);
  app.getState().noteFile({ saving: true });
  await watch.ask();
  expect(shown()).toEqual(SAME);
});

test("a host that doesn't answer leaves what is known, and is asked again", async () => {
  answer = () => ok(CHANGED);
  await watch.ask();
  answer = () => err({ code: "unreachable", message: "gone" });
  await watch.ask();
  expect(shown()).toEqual(CHANGED);
  const before = asked.length;
  await vi.advanceTimersByTimeAsync(ASK_MS);
  expect(asked).toHaveLength(before + 1);
});

test("a window that goes says so and asks no more", async () => {
  await vi.advanceTimersByTimeAsync(0);
  watch.stop();
  expect(asked.at(-1)).toEqual({ window: "w", path: null, stamp: null });
  const before = asked.length;
  await vi.advanceTimersByTimeAsync(10 * ASK_MS);
  expect(asked).toHaveLength(before);
});

test("the window's own save makes the file its own again, and who else has it open is still told", async () => {
  answer = () => ok(CHANGED);
  await watch.ask();
  answer = () => new Promise(() => {}) as never;
  app.getState().noteSaved(app.getState().revision, { path: "/a.hopline", stamp: "2", savedAt: 9 });
  expect(shown()).toEqual({ others: 1, onDisk: { kind: "same" } });
});

test("another file has none of the news of the one before, and is asked about at once", async () => {
  answer = () => ok(CHANGED);
  await watch.ask();
  hideNews();
  answer = () => new Promise(() => {}) as never;
  app.getState().replace(smallShow(), { path: "/b.hopline", stamp: "1" }, false);
  expect(news.getState()).toEqual({ ...SAME, hidden: null });
  expect(asked.at(-1)).toEqual({ window: "w", path: "/b.hopline", stamp: "1" });
});

test("edits, and looking around, ask nothing", async () => {
  await vi.advanceTimersByTimeAsync(0);
  const before = asked.length;
  app.getState().look(null);
  app.getState().change({ kind: "set-title", title: "Other" }, "renaming");
  expect(asked).toHaveLength(before);
});

test("an answer about another file of the same stamp is dropped, and one that comes after the window went", async () => {
  answer = () => ok(CHANGED);
  const late = watch.ask();
  answer = () => ok(SAME);
  app.getState().replace(smallShow(), { path: "/b.hopline", stamp: "1" }, false);
  await late;
  expect(shown()).toEqual(SAME);
  answer = () => ok(CHANGED);
  const last = watch.ask();
  watch.stop();
  await last;
  expect(shown()).toEqual(SAME);
});

describe("what was put away", () => {
  test("stays away until there is something new, or it was over in between", async () => {
    answer = () => ok(CHANGED);
    await watch.ask();
    hideNews();
    await watch.ask();
    expect(news.getState().hidden).toBe(newsKey(CHANGED));
    answer = () => ok({ ...CHANGED, onDisk: { kind: "changed", at: 6 } });
    await watch.ask();
    expect(newsKey(news.getState())).not.toBe(news.getState().hidden);
    answer = () => ok(SAME);
    await watch.ask();
    answer = () => ok(CHANGED);
    await watch.ask();
    expect(news.getState().hidden).toBeNull();
  });

  test("the file stands before who has it open, and being gone is news of its own", () => {
    expect(newsKey({ others: 2, onDisk: { kind: "same" } })).toBe("others");
    expect(newsKey({ others: 2, onDisk: { kind: "gone" } })).toBe("gone");
    expect(newsKey(SAME)).toBeNull();
  });
});
