/** The guide to writing a type: the text of `assets/guide`, in the place of the list, to read beside the form. */
import { useEffect, useMemo, useRef } from "react";
import TEXT from "../../assets/guide/device-types.md?raw";
import { never } from "#engine";
import { readGuide, type GuidePart } from "../help/guide.ts";
import { Words } from "../help/Words.tsx";
import { ui } from "../state/ui.ts";
import { StageSwitch } from "../tables/StageSwitch.tsx";

const close = (): void => ui.setState({ typeGuide: false });

export function TypeGuide() {
  const [title, ...parts] = useMemo(() => readGuide(TEXT), []);
  const name = title?.kind === "heading" ? title.line.map(({ text }) => text).join("") : "Guide";
  const page = useRef<HTMLDivElement>(null);
  useEffect(() => page.current?.focus(), []);
  return (
    <aside className="type-guide" aria-label={name} onKeyDown={({ key }) => key === "Escape" && close()}>
      <div className="type-list-head">
        <StageSwitch />
      </div>
      <div className="type-guide-head">
        <h2>{name}</h2>
        <button type="button" className="button small" onClick={close}>
          Close
        </button>
      </div>
      <div ref={page} className="guide" tabIndex={0} role="document" aria-label={name}>
        <div className="guide-text">
          {" "}
          {parts.map((part, n) => (
            <Part key={n} part={part} />
          ))}
        </div>{" "}
      </div>
    </aside>
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
        <div className="guide-table">
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
        </div>
      );
    default:
      return never(part);
  }
}
