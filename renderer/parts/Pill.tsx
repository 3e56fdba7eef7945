import type { ReactNode } from "react";
import type { Tone } from "../words/verdicts.ts";

export function Pill({ tone, children }: { tone: Tone; children: ReactNode }) {
  return (
    <span className="pill" data-tone={tone}>
      {children}
    </span>
  );
}
