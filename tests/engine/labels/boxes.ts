/** Where the texts of a page stand, by the widths of the paper typeface; turned texts left out. */
import { PT } from "#engine/paperwork/page.ts";
import { paperWidth } from "#engine/paperwork/type.ts";

export interface TextBox {
  readonly text: string;
  readonly points: number;
  readonly bold: boolean;
  readonly left: number;
  readonly right: number;
  /** Of the figures and capitals: from their tops to the baseline. */
  readonly top: number;
  readonly bottom: number;
}

const CAPITALS = 0.73;

const unescaped = (text: string): string =>
  text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");

export function boxesOf(svg: string): readonly TextBox[] {
  const level = svg.replaceAll(/<g transform="rotate[^>]*>.*?<\/g>/g, "");
  return [...level.matchAll(/<text([^>]*)>([^<]*)<\/text>/g)].map(([, attributes, words]) => {
    const number = (name: string): number =>
      Number(new RegExp(` ${name}="([-\\d.]+)"`).exec(attributes!)![1]);
    const size = number("font-size");
    const bold = attributes!.includes('font-weight="700"');
    const text = unescaped(words!);
    const width = paperWidth(text, size / PT, bold);
    const anchor = /text-anchor="(\w+)"/.exec(attributes!)?.[1] ?? "start";
    const left = number("x") - { start: 0, middle: width / 2, end: width }[anchor]!;
    const [bottom, points] = [number("y"), size / PT];
    return { text, points, bold, left, right: left + width, top: bottom - CAPITALS * size, bottom };
  });
}

/** Pairs of texts that stand on each other. Places are written to a hundredth of a millimetre. */
export function overlaps(boxes: readonly TextBox[]): readonly (readonly [string, string])[] {
  const slack = 0.03;
  return boxes.flatMap((a, n) =>
    boxes
      .slice(n + 1)
      .filter(
        (b) =>
          a.left < b.right - slack &&
          b.left < a.right - slack &&
          a.top < b.bottom - slack &&
          b.top < a.bottom - slack,
      )
      .map((b) => [a.text, b.text] as const),
  );
}

export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Texts that begin in a frame and don't end in it. */
export const leaving = (boxes: readonly TextBox[], { x, y, width, height }: Frame): readonly string[] =>
  boxes
    .filter(({ left, bottom }) => left >= x && left < x + width && bottom > y && bottom <= y + height)
    .filter(({ right, top }) => right > x + width || top < y)
    .map(({ text }) => text);
