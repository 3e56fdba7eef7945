/** Pages as one HTML document for a host to print: no script, nothing from elsewhere, one printed page for each. */
import type { Page } from "./page.ts";
import { escaped } from "./svg.ts";

/** A file of the paper typeface (`assets/fonts/paper-font.json`). */
export interface PaperFont {
  readonly weight: number;
  /** The letters in it, as CSS tells a `unicode-range`. */
  readonly range: string;
  /** Base64. */
  readonly woff2: string;
}

/** The typeface as style rules, only the files whose letters occur. */
export function fontStyle(fonts: readonly PaperFont[], pages: readonly Page[]): string {
  const codes = new Set<number>();
  for (const { svg } of pages) for (const letter of new Set(svg)) codes.add(letter.codePointAt(0)!);
  return fonts
    .filter(({ range }) => holds(range, codes))
    .map(
      ({ weight, range, woff2 }) =>
        `@font-face{font-family:"Hopline Paper";font-weight:${weight};unicode-range:${range};src:url(data:font/woff2;base64,${woff2}) format("woff2")}`,
    )
    .join("");
}

function holds(range: string, codes: ReadonlySet<number>): boolean {
  const stretches = range.split(",").map((part) => {
    const [from, to] = part.trim().replace("U+", "").split("-");
    return [Number.parseInt(from!, 16), Number.parseInt(to ?? from!, 16)] as const;
  });
  for (const code of codes) if (stretches.some(([from, to]) => code >= from && code <= to)) return true;
  return false;
}

export function paperHtml(title: string, pages: readonly Page[], fonts: readonly PaperFont[]): string {
  const sizes = new Map(pages.map((page) => [sizeName(page), page]));
  const style = [
    fontStyle(fonts, pages),
    ...[...sizes].map(
      ([name, { width, height }]) =>
        `@page ${name}{size:${pixels(width)} ${pixels(height)};margin:0}.${name}{page:${name};width:${pixels(width)};height:${pixels(height)}}`,
    ),
    "html,body{margin:0;padding:0;background:#fff}section{break-after:page;overflow:hidden}section:last-child{break-after:auto}svg{display:block}",
  ].join("");
  const body = pages.map((page) => `<section class="${sizeName(page)}">${page.svg}</section>`).join("\n");
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${escaped(title)}</title><style>${style}</style></head><body>\n${body}\n</body></html>\n`;
}

/**
 * Browsers lay pages out in whole pixels of 1/96 inch and scale what is wider to fit: an A3 of 420 mm came out 0.07 % too
 * small, which a label at real size can't have.
 */
const pixels = (millimetres: number): string => `${Math.floor((millimetres / 25.4) * 96 + 1e-6)}px`;

const sizeName = ({ width, height }: Page): string => `p${Math.round(width * 10)}x${Math.round(height * 10)}`;

/** One page as a file of its own, with the typeface in it. */
export const pageSvg = (page: Page, fonts: readonly PaperFont[]): string =>
  page.svg.replace(/^<svg[^>]*>/, (start) => `${start}<style>${fontStyle(fonts, [page])}</style>`);
