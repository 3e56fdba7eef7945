import { never } from "#engine";
import type { Line, Piece } from "./guide.ts";

/** A line of a guide with what is set off in it. */
export const Words = ({ line }: { line: Line }) => line.map((piece, n) => <Word key={n} piece={piece} />);

function Word({ piece: { kind, text } }: { piece: Piece }) {
  switch (kind) {
    case "text":
      return text;
    case "bold":
      return <strong>{text}</strong>;
    case "italic":
      return <em>{text}</em>;
    case "code":
      return <code>{text}</code>;
    default:
      return never(kind);
  }
}
