/**
 * The guides' Markdown as plain data: headings, paragraphs, lists, quotes, tables, bold, italics and code. What isn't one of these
 * is text. Nothing of it becomes markup by itself, so a guide can't bring any.
 */

export interface Piece {
  readonly kind: "text" | "bold" | "italic" | "code";
  readonly text: string;
}
export type Line = readonly Piece[];

export type GuidePart =
  | { readonly kind: "heading"; readonly level: 1 | 2; readonly line: Line }
  | { readonly kind: "paragraph" | "quote"; readonly line: Line }
  | { readonly kind: "list"; readonly items: readonly Line[] }
  | { readonly kind: "table"; readonly head: readonly Line[]; readonly rows: readonly (readonly Line[])[] };

export const readGuide = (text: string): readonly GuidePart[] =>
  text
    .replaceAll("\r\n", "\n")
    .trim()
    .split(/\n{2,}/)
    .map(readPart);

function readPart(part: string): GuidePart {
  const lines = part.split("\n");
  const [, signs, title] = /^(#{1,2}) (.*)$/.exec(part) ?? [];
  if (title !== undefined) return { kind: "heading", level: signs === "#" ? 1 : 2, line: pieces(title) };
  if (lines.every((line) => line.startsWith("|"))) {
    const cells = (line: string): readonly Line[] =>
      line
        .split("|")
        .slice(1, -1)
        .map((cell) => pieces(cell.trim()));
    return { kind: "table", head: cells(lines[0]!), rows: lines.slice(2).map(cells) };
  }
  if (/^\d+\. /.test(part)) {
    return {
      kind: "list",
      items: part.split(/\n(?=\d+\. )/).map((item) => pieces(joined(item.replace(/^\d+\. +/, "")))),
    };
  }
  const quoted = lines.every((line) => line.startsWith(">"));
  const plain = quoted ? lines.map((line) => line.replace(/^> ?/, "")).join("\n") : part;
  return { kind: quoted ? "quote" : "paragraph", line: pieces(joined(plain)) };
}

const joined = (text: string): string => text.replaceAll(/\s*\n\s*/g, " ");

export function pieces(text: string): Line {
  return text.split(/(\*\*[^*]+\*\*|`[^`]+`|\b_[^_]+_\b)/).flatMap((piece): Piece[] => {
    if (piece === "") return [];
    if (/^\*\*.+\*\*$/.test(piece)) return [{ kind: "bold", text: piece.slice(2, -2) }];
    if (/^_.+_$/.test(piece)) return [{ kind: "italic", text: piece.slice(1, -1) }];
    if (/^`.+`$/.test(piece)) return [{ kind: "code", text: piece.slice(1, -1) }];
    return [{ kind: "text", text: piece }];
  });
}
