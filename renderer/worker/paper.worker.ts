/** The thread in which papers are made. */
import { remembering, type Elk } from "#engine/paperwork/signal-flow/elk.ts";
import { layoutThread } from "./layout-thread.ts";
import { paperAnswers, type PaperQuestion } from "./paper-answers.ts";

let elk: Promise<Elk> | null = null;
const answer = paperAnswers(() => (elk ??= Promise.resolve(remembering(layoutThread()))));

addEventListener("message", ({ data }: MessageEvent<PaperQuestion>) => {
  void answer(data).then((answered) => {
    if (answered) postMessage(answered);
  });
});
