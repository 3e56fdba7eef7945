import type { WindowState } from "#engine";

/** `• Quayside – Hopline`; the dot says that there is something to save. */
export const windowTitle = ({ title, modified }: Pick<WindowState, "title" | "modified">): string =>
  `${modified ? "• " : ""}${title} – Hopline`;
