/** A guide to read beside the work: the text of `assets/guide`, as it stands there. */
import { useMemo } from "react";
import TEXT from "../../assets/guide/device-types.md?raw";
import { never } from "#engine";
import { CloseButton, Frame } from "../dialogs/Frame.tsx";
import { readGuide, type GuidePart } from "./guide.ts";
import { Words } from "./Words.tsx";

export function GuideDialog({ onClose }: { onClose: () => void }) {
  const [title, ...parts] = useMemo(() => readGuide(TEXT), []);
  const name = title?.kind === "heading" ? title.line.map(({ text }) => text).join("") : "Guide";
  return (
    <Frame wide title={name} onClose={onClose} buttons={<CloseButton onClose={onClose} />}>
      <div className="guide" tabIndex={0} role="document" aria-label={name}>
        {parts.map((part, n) => (
          <Part key={n} part={part} />
        ))}
      </div>
    </Frame>
  );
}

function Part({ part }: { part: GuidePart }) {
  switch (part.kind) {
    case "heading":
      return (
        <h3>
          <Words line={part.line} />
        </h3>
      );
    case "paragraph":
      return (
        <p>
          <Words line={part.line} />
        </p>
      );
    case "quote":
      return (
        <blockquote>
          <Words line={part.line} />
        </blockquote>
      );
    case "list":
      return (
        <ol>
          {part.items.map((line, n) => (
            <li key={n}>
              <Words line={line} />
            </li>
          ))}
        </ol>
      );
    case "table":
      return (
        <table>
          <thead>
            <tr>
              {part.head.map((line, n) => (
                <th key={n} scope="col">
                  <Words line={line} />
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {part.rows.map((row, n) => (
              <tr key={n}>
                {row.map((line, at) => (
                  <td key={at}>
                    <Words line={line} />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      );
    default:
      return never(part);
  }
}
