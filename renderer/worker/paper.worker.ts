/** The thread in which papers are made. */
import { remembering, type Elk } from "#engine/paperwork/signal-flow/elk.ts";
import { layoutThread } from "./layout-thread.ts";
import { paperAnswers, type PaperQuestion } from "./paper-answers.ts";

let elk: Promise<Elk> | null = null;
const layouts = (): Promise<Elk> => (elk ??= Promise.resolve(remembering(layoutThread())));
const answer = paperAnswers(layouts);

addEventListener("message", ({ data }: MessageEvent<PaperQuestion>) => {
  // It takes a while to start, as long as the show is looked through.
  if (data.kind === "show" && data.forSheets) void layouts();
  void answer(data).then((answered) => {
    if (answered) postMessage(answered);
  });
});
