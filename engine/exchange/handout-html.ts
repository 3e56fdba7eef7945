/**
 * The hand-out for phones as one page that needs nothing else. Its policy lets run one script and one style sheet, by their
 * hashes, and lets nothing be fetched; what a show says stands in it as JSON that no parser takes for an element.
 */
import type { Analysis } from "../analysis.ts";
import { escaped } from "../paperwork/svg.ts";
import { SCRIPT, SCRIPT_HASH, STYLE, STYLE_HASH } from "./generated/handout-page.js";
import { handoutData } from "./handout.ts";

const POLICY = [
  "default-src 'none'",
  `script-src '${SCRIPT_HASH}'`,
  `style-src '${STYLE_HASH}'`,
  // The empty icon, which keeps a browser from asking a server for one.
  "img-src data:",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

/** `<` would begin an element or a comment; the others once were line ends in scripts. */
const inPage = (value: unknown): string =>
  JSON.stringify(value).replaceAll(
    /[<>&\u2028\u2029]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );

/** The same show and date give the same bytes. `date` is told as it stands. */
export function handoutHtml(analysis: Analysis, date: string): string {
  const data = handoutData(analysis, date);
  const revision = analysis.show.revisions.at(-1);
  const state = revision ? `revision ${revision.name}` : "";
  const told = [data.venue, data.revision === "" ? "no revision" : `revision ${data.revision}`, data.rate]
    .filter(Boolean)
    .join(" · ");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>${escaped(data.title)}: hand-out</title>
<link rel="icon" href="data:,">
<style>${STYLE}</style>
</head>
<body>
<header>
<a href="#"><span class="grow">${escaped(data.title)}</span><span class="date">${state === "" ? "" : `<span>${escaped(state)}</span>`}<span>${escaped(date)}</span></span></a>
<input type="search" aria-label="Find a jack, source, mix, channel or device" placeholder="Jack, source, mix, device…" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="search">
</header>
<main tabindex="-1"><noscript><p>This page needs its own script, which this reader doesn't run. Open it in a browser.</p></noscript></main>
<footer><p>${escaped(told)}</p><p>As of ${escaped(date)}. What changed since then is not in here.</p></footer>
<script type="application/json" id="data">${inPage(data)}</script>
<script>${SCRIPT}</script>
</body>
</html>
`;
}
