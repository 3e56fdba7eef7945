/** One small picture for each category of device, in a square of 16 × 16, drawn as lines. */
import type { Category } from "#engine";

export const GLYPHS: Readonly<Record<Category, string>> = {
  console: "M2 3.5h12v9H2z M5 5.5v5 M8 5.5v5 M11 5.5v5 M4 9h2 M7 7h2 M10 8.5h2",
  "stage box":
    "M2 4h12v8H2z M4.4 6.6h.01 M7 6.6h.01 M9.6 6.6h.01 M12 6.6h.01 M4.4 9.4h.01 M7 9.4h.01 M9.6 9.4h.01 M12 9.4h.01",
  breakout: "M2 6h6v4H2z M8 7h3.5V3.5H14 M8 8h6 M8 9h3.5v3.5H14",
  split: "M2 8h5 M7 8l4-4h3 M7 8l4 4h3",
  interface: "M2 3.5h12v9H2z M4.5 6.5h7 M9.5 5l2 1.5-2 1.5 M11.5 9.5h-7 M6.5 8l-2 1.5 2 1.5",
  network: "M6.5 2.5h3v3h-3z M2 10.5h3v3H2z M11 10.5h3v3h-3z M8 5.5V8 M3.5 10.5V8h9v2.5",
  processor: "M2 4h12v8H2z M4 10c2 0 1.5-4 3.5-4s1.5 4 4.5 1.5",
  radio:
    "M8 14V8 M5.5 5.6a3.4 3.4 0 0 0 0 4.8 M10.5 5.6a3.4 3.4 0 0 1 0 4.8 M3.3 3.4a6.6 6.6 0 0 0 0 9.2 M12.7 3.4a6.6 6.6 0 0 1 0 9.2 M8 8h.01",
  loudspeaker: "M4 2h8v12H4z M8 4.6h.01 M8 7.6a2.4 2.4 0 1 1 0 4.8 2.4 2.4 0 0 1 0-4.8z",
  "personal mixer":
    "M2 5h7v8H2z M5.5 7.2a1.8 1.8 0 1 1 0 3.6 1.8 1.8 0 0 1 0-3.6z M10.5 9V6a1.75 1.75 0 0 1 3.5 0v3 M10.5 9h.8v2h-.8z M13.2 9h.8v2h-.8z",
  recorder:
    "M2 4h12v8H2z M5.4 6.6a1.5 1.5 0 1 1 0 3 1.5 1.5 0 0 1 0-3z M10.6 6.6a1.5 1.5 0 1 1 0 3 1.5 1.5 0 0 1 0-3z M5.4 9.6h5.2",
};
