/** The engine's own thread. */
import type { Question } from "./analyst.ts";
import { answers } from "./answers.ts";

const answer = answers();

addEventListener("message", ({ data }: MessageEvent<Question>) => postMessage(answer(data)));
