/** The engine's own thread. */
import type { Answer, Question } from "./analyst.ts";
import { answers } from "./answers.ts";

const answer = answers();

const post = (message: Answer): void => postMessage(message);

addEventListener("message", ({ data }: MessageEvent<Question>) => post(answer(data, post)));
