/**
 * What is being typed and is no edit yet. The recovery copy and the question before closing count it in; the document
 * hears of it when the field is left.
 */
import { useEffect, useRef } from "react";
import { createStore } from "zustand";

export interface Typing {
  /** The edit that leaving the field now would make; does nothing where the text can't be taken. Null: nothing is typed. */
  readonly take: (() => void) | null;
}

export const typing = createStore<Typing>(() => ({ take: null }));

/** `take` as in `Typing`, another function for each text. The keys are in one field at a time, so the last one counts. */
export function useTyping(text: string, take: (() => void) | null): void {
  const latest = useRef(take);
  useEffect(() => {
    latest.current = take;
  });
  const isTyped = take !== null;
  const own = useRef<Typing["take"]>(null);
  useEffect(() => {
    if (isTyped) typing.setState({ take: (own.current = () => latest.current?.()) });
  }, [text, isTyped]);
  // Not between two texts: whoever asks only whether something is typed has no news then.
  useEffect(() => {
    if (!isTyped) return;
    return () => {
      if (typing.getState().take === own.current) typing.setState({ take: null });
    };
  }, [isTyped]);
}
