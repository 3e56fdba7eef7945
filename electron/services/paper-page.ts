/**
 * A page of papers as the drawing instructions of a PDF. Pages are SVG of a small closed set, all of it written by
 * `engine/paperwork`; whatever is not of that set is refused, so that nothing is ever left out of a print unseen.
 */
import type { Page } from "#engine/paperwork/page.ts";
import type { PaperType } from "./paper-type.ts";

/** The page says something that isn't in the set. A bug of ours, or a page that isn't ours. */
export class UnknownDrawing extends Error {
  override readonly name = "UnknownDrawing";
}

/** What a page is drawn with. */
export interface Inks {
  readonly type: PaperType;
  /** Faces that were used, by their place in the typeface. */
  readonly faces: Set<number>;
  /** Opacities of lines that were used, in hundredths. */
  readonly opacities: Set<number>;
  /** Letters that the typeface lacks. They are left out. */
  readonly lacking: Set<string>;
}

export const faceName = (face: number): string => `F${face}`;
export const opacityName = (hundredths: number): string => `A${hundredths}`;

/** A PDF counts in points. */
export const POINTS = 72 / 25.4;

type Attributes = ReadonlyMap<string, string>;

const NUMBER = /^-?\d+(?:\.\d+)?$/;
const COLOUR = /^#(?:[\da-f]{3}|[\da-f]{6})$/i;
const ROTATION = /^rotate\((-?\d+(?:\.\d+)?) (-?\d+(?:\.\d+)?) (-?\d+(?:\.\d+)?)\)$/;
const STEP = /([MLQZ])([^MLQZ]*)/y;

/** How far along the tangent the handles of a quarter of a circle stand: 4/3 (√2 − 1). */
const QUARTER = 0.552285;

const ENTITIES: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&#39;": "'",
};

const decoded = (text: string): string =>
  text.includes("&")
    ? text.replaceAll(/&[^;]*;?/g, (entity) => ENTITIES[entity] ?? refuse(`the entity ${entity}`))
    : text;

function refuse(what: string): never {
  throw new UnknownDrawing(`a page has ${what}, which papers don't use`);
}

/** Attributes of what is painted. */
const FILLED = ["fill"];
const STROKED = ["stroke", "stroke-width", "stroke-dasharray", "stroke-opacity"];

/** Every element that papers use, with all of its attributes. */
const KNOWN: Readonly<Record<string, ReadonlySet<string>>> = {
  svg: new Set(["xmlns", "width", "height", "viewBox", "font-family", "fill"]),
  title: new Set(),
  g: new Set(["transform"]),
  rect: new Set(["x", "y", "width", "height", "rx", ...FILLED, ...STROKED]),
  circle: new Set(["cx", "cy", "r", ...FILLED, ...STROKED]),
  line: new Set(["x1", "y1", "x2", "y2", ...STROKED]),
  path: new Set(["d", ...FILLED, ...STROKED]),
  text: new Set(["x", "y", "font-size", "font-weight", "text-anchor", ...FILLED]),
};

/** The page's content stream. Throws `UnknownDrawing`. */
export function drawingOf(page: Page, inks: Inks): string {
  return new Drawing(page, inks).read();
}

/** What the PDF's reader has been told last; nothing is said twice. */
interface State {
  fill: string;
  stroke: string;
  width: string;
  dashes: string;
  opacity: number;
}

class Drawing {
  readonly #page: Page;
  readonly #inks: Inks;
  readonly #out: string[] = [];
  #state: State = { fill: "", stroke: "", width: "", dashes: "", opacity: 100 };
  /** States before the groups that are open; null where the group changes nothing. */
  readonly #groups: (State | null)[] = [];
  #ink = "#000";
  #at = 0;

  constructor(page: Page, inks: Inks) {
    this.#page = page;
    this.#inks = inks;
  }

  read(): string {
    const { svg, height } = this.#page;
    // Millimetres from the upper left corner; corners as SVG has them where nothing is said.
    this.#out.push(`${figure(POINTS)} 0 0 ${figure(-POINTS)} 0 ${figure(height * POINTS)} cm 4 M`);
    if (this.#open() !== "svg") refuse("no svg element at its start");
    let depth = 1;
    while (depth > 0) {
      if (svg.charCodeAt(this.#at) !== LESS) refuse("text outside of a text element");
      if (svg.charCodeAt(this.#at + 1) === SLASH) {
        this.#close(depth === 1 ? "svg" : "g");
        depth--;
        if (depth > 0) this.#endGroup();
      } else if (this.#open() === "g") depth++;
    }
    if (this.#at !== svg.length) refuse("something behind its end");
    return this.#out.join("\n");
  }

  /** The next element, drawn. Groups and the page itself stay open. */
  #open(): string {
    const { svg } = this.#page;
    const from = this.#at + 1;
    let end = from;
    while (isLetter(svg.charCodeAt(end))) end++;
    const name = svg.slice(from, end);
    const known = Object.hasOwn(KNOWN, name) ? KNOWN[name]! : refuse(`the element <${name}>`);
    const attributes = new Map<string, string>();
    this.#at = end;
    while (svg.charCodeAt(this.#at) === SPACE) {
      const equals = svg.indexOf('="', this.#at);
      const quote = svg.indexOf('"', equals + 2);
      if (equals < 0 || quote < 0) refuse("an attribute without an end");
      const attribute = svg.slice(this.#at + 1, equals);
      if (!known.has(attribute)) refuse(`the attribute ${attribute} of <${name}>`);
      if (attributes.has(attribute)) refuse(`the attribute ${attribute} twice`);
      attributes.set(attribute, svg.slice(equals + 2, quote));
      this.#at = quote + 1;
    }
    const isEmpty = svg.charCodeAt(this.#at) === SLASH;
    if (isEmpty) this.#at++;
    if (svg.charCodeAt(this.#at) !== GREATER) refuse(`an element <${name}> without an end`);
    this.#at++;
    switch (name) {
      case "svg":
        if (isEmpty || this.#out.length > 1) refuse("a page within a page");
        this.#start(attributes);
        return name;
      case "g":
        if (isEmpty) return "";
        this.#startGroup(attributes);
        return name;
      case "title":
      case "text": {
        const words = isEmpty ? "" : this.#words(name);
        if (name === "text") this.#text(attributes, words);
        return name;
      }
      default:
        if (!isEmpty) refuse(`something within <${name}>`);
        this.#shape(name, attributes);
        return name;
    }
  }

  #words(name: string): string {
    const { svg } = this.#page;
    const end = svg.indexOf("<", this.#at);
    if (end < 0) refuse(`an element <${name}> without an end`);
    const words = decoded(svg.slice(this.#at, end));
    this.#at = end;
    this.#close(name);
    return words;
  }

  #close(name: string): void {
    const end = `</${name}>`;
    if (!this.#page.svg.startsWith(end, this.#at)) refuse(`an element other than <${name}> that ends here`);
    this.#at += end.length;
  }

  #start(attributes: Attributes): void {
    const { width, height } = this.#page;
    const box = `0 0 ${width} ${height}`;
    if (attributes.get("viewBox") !== box) refuse(`a viewBox other than ${box}`);
    const ink = attributes.get("fill");
    if (ink !== undefined) this.#ink = ink;
  }

  #startGroup(attributes: Attributes): void {
    const transform = attributes.get("transform");
    if (transform === undefined) return void this.#groups.push(null);
    const [, degrees, x, y] = (ROTATION.exec(transform) ?? refuse(`the transform ${transform}`)).map(
      Number,
    ) as [number, number, number, number];
    this.#groups.push({ ...this.#state });
    const [cos, sin] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    const matrix = [cos, sin, -sin, cos, x - x * cos + y * sin, y - x * sin - y * cos].map(figure);
    this.#out.push(`q ${matrix.join(" ")} cm`);
  }

  #endGroup(): void {
    const before = this.#groups.pop();
    if (!before) return;
    this.#out.push("Q");
    this.#state = before;
  }

  #shape(name: string, attributes: Attributes): void {
    switch (name) {
      case "rect":
        return this.#paint(attributes, rectangle(attributes));
      case "circle": {
        const r = numberOf(attributes, "r");
        return this.#paint(
          attributes,
          rounded(numberOf(attributes, "cx") - r, numberOf(attributes, "cy") - r, 2 * r, 2 * r, r),
        );
      }
      case "line": {
        const [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map((each) => textOf(attributes, each));
        return this.#paint(attributes, `${x1} ${y1} m ${x2} ${y2} l`, "none");
      }
      case "path":
        return this.#paint(attributes, path(attributes.get("d") ?? ""));
      default:
        return refuse(`<${name}> where it can't stand`);
    }
  }

  #paint(attributes: Attributes, shape: string, usualFill = this.#ink): void {
    if (shape === "") return;
    const fill = attributes.get("fill") ?? usualFill;
    const stroke = attributes.get("stroke-width") === "0" ? "none" : (attributes.get("stroke") ?? "none");
    if (fill !== "none") this.#fill(fill);
    if (stroke !== "none") this.#stroke(stroke, attributes);
    const how = fill === "none" ? (stroke === "none" ? null : "S") : stroke === "none" ? "f" : "B";
    if (how !== null) this.#out.push(`${shape} ${how}`);
  }

  #fill(fill: string): void {
    if (fill === this.#state.fill) return;
    this.#out.push(`${colour(fill)} rg`);
    this.#state.fill = fill;
  }

  #stroke(stroke: string, attributes: Attributes): void {
    const state = this.#state;
    if (stroke !== state.stroke) {
      this.#out.push(`${colour(stroke)} RG`);
      state.stroke = stroke;
    }
    const width = attributes.has("stroke-width") ? textOf(attributes, "stroke-width") : "1";
    if (width !== state.width) {
      this.#out.push(`${width} w`);
      state.width = width;
    }
    const dashes = attributes.get("stroke-dasharray") ?? "";
    if (dashes !== state.dashes) {
      if (dashes !== "" && !dashes.split(" ").every((each) => NUMBER.test(each)))
        refuse(`dashes of ${dashes}`);
      this.#out.push(`[${dashes}] 0 d`);
      state.dashes = dashes;
    }
    const opacity = attributes.has("stroke-opacity")
      ? Math.round(numberOf(attributes, "stroke-opacity") * 100)
      : 100;
    if (opacity !== state.opacity) {
      this.#inks.opacities.add(opacity);
      this.#out.push(`/${opacityName(opacity)} gs`);
      state.opacity = opacity;
    }
  }

  #text(attributes: Attributes, words: string): void {
    const weight = attributes.get("font-weight") ?? "400";
    if (weight !== "400" && weight !== "700") refuse(`the weight ${weight}`);
    const { runs, width, lacking } = this.#inks.type.line(words, weight === "700" ? 700 : 400);
    for (const letter of lacking) this.#inks.lacking.add(letter);
    if (runs.length === 0) return;
    const size = numberOf(attributes, "font-size");
    const anchor = attributes.get("text-anchor") ?? "start";
    const before = ANCHORS[anchor] ?? refuse(`the anchor ${anchor}`);
    const x = numberOf(attributes, "x") - (before * width * size) / 1000;
    const fill = attributes.get("fill") ?? this.#ink;
    if (fill === "none") return;
    this.#fill(fill);
    // Upright again, since the page counts downwards.
    const shown = runs.map(({ face, shown: letters }) => {
      this.#inks.faces.add(face);
      return `/${faceName(face)} 1 Tf ${letters} TJ`;
    });
    this.#out.push(
      `BT ${figure(size)} 0 0 ${figure(-size)} ${figure(x)} ${textOf(attributes, "y")} Tm ${shown.join(" ")} ET`,
    );
  }
}

const [SPACE, SLASH, LESS, GREATER] = [32, 47, 60, 62];

const isLetter = (code: number): boolean => code >= 97 && code <= 122;

/** The part of a line that lies before the place it is set at. */
const ANCHORS: Readonly<Record<string, number>> = { start: 0, middle: 0.5, end: 1 };

/** Far finer than a printer, and never with an exponent. */
export const figure = (value: number): string => String(Math.round(value * 1e4) / 1e4);

function textOf(attributes: Attributes, name: string): string {
  const value = attributes.get(name) ?? "";
  return NUMBER.test(value) ? value : refuse(`${name}="${value}", no number,`);
}

const numberOf = (attributes: Attributes, name: string): number => Number(textOf(attributes, name));

const COLOURS = new Map<string, string>();

/** `#09c` → `0 0.6 0.8` */
function colour(value: string): string {
  const known = COLOURS.get(value);
  if (known !== undefined) return known;
  if (!COLOUR.test(value)) refuse(`the colour ${value}`);
  const digits =
    value.length === 4 ? [...value.slice(1)].map((each) => each + each).join("") : value.slice(1);
  const parts = [0, 2, 4].map((at) => figure(Number.parseInt(digits.slice(at, at + 2), 16) / 255));
  COLOURS.set(value, parts.join(" "));
  return parts.join(" ");
}

function rectangle(attributes: Attributes): string {
  const [x, y, width, height] = ["x", "y", "width", "height"].map((each) => textOf(attributes, each));
  if (!attributes.has("rx")) return `${x} ${y} ${width} ${height} re`;
  const [wide, high] = [Number(width), Number(height)];
  const radius = Math.min(numberOf(attributes, "rx"), wide / 2, high / 2);
  return rounded(Number(x), Number(y), wide, high, radius);
}

function rounded(x: number, y: number, width: number, height: number, r: number): string {
  const [right, bottom, handle] = [x + width, y + height, r * (1 - QUARTER)];
  const curve = (...values: readonly number[]): string => `${values.map(figure).join(" ")} c`;
  const to = (px: number, py: number, operator: string): string => `${figure(px)} ${figure(py)} ${operator}`;
  return [
    to(x + r, y, "m"),
    to(right - r, y, "l"),
    curve(right - handle, y, right, y + handle, right, y + r),
    to(right, bottom - r, "l"),
    curve(right, bottom - handle, right - handle, bottom, right - r, bottom),
    to(x + r, bottom, "l"),
    curve(x + handle, bottom, x, bottom - handle, x, bottom - r),
    to(x, y + r, "l"),
    curve(x, y + handle, x + handle, y, x + r, y),
    "h",
  ].join(" ");
}

const COUNTS: Readonly<Record<string, number>> = { M: 2, L: 2, Q: 4, Z: 0 };

function path(d: string): string {
  const out: string[] = [];
  let [x, y] = [0, 0];
  STEP.lastIndex = 0;
  while (STEP.lastIndex < d.length) {
    const [, step, operands] = STEP.exec(d) ?? refuse(`the path ${d}`);
    const texts = operands === "" ? [] : operands!.split(" ");
    if (texts.length !== COUNTS[step!] || !texts.every((each) => NUMBER.test(each))) refuse(`the path ${d}`);
    if (step === "Z") {
      out.push("h");
      continue;
    }
    if (step === "Q") {
      // A PDF knows curves with two handles only: each stands two thirds of the way to the one.
      const [cx, cy, tox, toy] = texts.map(Number) as [number, number, number, number];
      const handles = [
        x + ((cx - x) * 2) / 3,
        y + ((cy - y) * 2) / 3,
        tox + ((cx - tox) * 2) / 3,
        toy + ((cy - toy) * 2) / 3,
      ];
      out.push(`${handles.map(figure).join(" ")} ${texts[2]} ${texts[3]} c`);
      [x, y] = [tox, toy];
      continue;
    }
    out.push(`${texts.join(" ")} ${step === "M" ? "m" : "l"}`);
    [x, y] = texts.map(Number) as [number, number];
  }
  return out.join(" ");
}
