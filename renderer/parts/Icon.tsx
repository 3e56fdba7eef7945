/** The app's few icons: 16 × 16, drawn in the colour of the text around them. */
import { memo } from "react";

const PATHS = {
  rig: "M2.5 2.5h4.5v4h-4.5z M9 9.5h4.5v4H9z M4.75 6.5v5H9",
  sources:
    "M8 1.8a2.2 2.2 0 0 1 2.2 2.2v3.6a2.2 2.2 0 0 1-4.4 0V4A2.2 2.2 0 0 1 8 1.8z M3.6 7.6a4.4 4.4 0 0 0 8.8 0 M8 12v2.4",
  outputs:
    "M2.5 3.5h3v3h-3z M6.5 3.5h3v3h-3z M10.5 3.5h3v3h-3z M2.5 9.5h3v3h-3z M6.5 9.5h3v3h-3z M10.5 9.5h3v3h-3z",
  delays: "M2.5 2.5v11 M2.5 4.5h6M8.5 3v3 M2.5 8h9M11.5 6.5v3 M2.5 11.5h7.5M10 10v3",
  findings: "M3.5 14.5v-12h8.5l-2 3 2 3H3.5",
  gear: "M2.5 5.5h11v7.5h-11z M5.5 5.5v-2.5h5v2.5 M8 7.5v3.5M6.2 9.2h3.6",
  search: "M7 2.5a4.5 4.5 0 1 1 0 9 4.5 4.5 0 0 1 0-9z M10.4 10.4l3.6 3.6",
  chevron: "M6 4l4 4-4 4",
  close: "M4 4l8 8M12 4l-8 8",
  light:
    "M8 5a3 3 0 1 1 0 6 3 3 0 0 1 0-6z M8 1.2v1.6M8 13.2v1.6M1.2 8h1.6M13.2 8h1.6M3.2 3.2l1.1 1.1M11.7 11.7l1.1 1.1M12.8 3.2l-1.1 1.1M4.3 11.7l-1.1 1.1",
  dark: "M13 9.6A5.6 5.6 0 0 1 6.4 3a5.6 5.6 0 1 0 6.6 6.6z",
  dim: "M5.6 12.2a4.6 4.6 0 1 1 4.8 0 M6 14.2h4 M8 10.2V7.4",
  system: "M2 3.5h12v7.5H2z M6 13.5h4 M8 11v2.5",
  folder: "M1.8 4h4.4l1.4 1.6h6.6v7H1.8z",
  file: "M4 1.8h5l3 3v9.4H4z M9 1.8v3h3",
  up: "M8 13V3.4M4 7.2l4-4 4 4",
  cable: "M2 11c0-2.6 2-3.4 4-3.4s4-.8 4-3.4M2 11v2.6M10 4.2V2M13.6 13.6H8.4",
  error: "M5.4 1.8h5.2l3.6 3.6v5.2l-3.6 3.6H5.4l-3.6-3.6V5.4z M8 4.8v3.8M8 10.6v.8",
  warning: "M8 2l6.4 11.6H1.6z M8 6v3.8M8 11.2v.8",
  note: "M8 1.8a6.2 6.2 0 1 1 0 12.4A6.2 6.2 0 0 1 8 1.8z M8 7.2v4M8 4.6v.8",
  check: "M3 8.6l3.2 3.2L13 4.8",
  target: "M8 3.2a4.8 4.8 0 1 1 0 9.6 4.8 4.8 0 0 1 0-9.6z M8 .8v3.4M8 11.8v3.4M.8 8h3.4M11.8 8h3.4",
  sidebar: "M2 3h12v10H2z M10 3v10",
  strip: "M2 3h12v10H2z M2 9.4h12",
} as const;

export type IconName = keyof typeof PATHS;

export const Icon = memo(function Icon({ name, size = 16 }: { name: IconName; size?: number }) {
  return (
    <svg className="icon" width={size} height={size} viewBox="0 0 16 16" aria-hidden="true" focusable="false">
      <path
        d={PATHS[name]}
        fill="none"
        stroke="currentColor"
        strokeWidth="1.3"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
});
