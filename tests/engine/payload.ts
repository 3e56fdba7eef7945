/** One text in every field of a show that a person can write, and the texts that have run as something else elsewhere. */
import type { Show } from "#engine/model/show.ts";

/** Fields that hold what a person writes; ids are held to letters and digits by the schema. */
const WRITTEN = new Set(["title", "venue", "notes", "note", "name", "tag", "transport"]);

/** The show with `text` in all of them; `date` too, which is a text of at most so many signs. */
export function withText(show: Show, text: string): Show {
  const change = (value: unknown, key: string): unknown => {
    if (Array.isArray(value)) return value.map((each) => change(each, key));
    if (typeof value === "object" && value !== null) {
      return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, change(inner, name)]));
    }
    return typeof value === "string" && WRITTEN.has(key) ? text : value;
  };
  return change(show, "") as Show;
}

/** What breaks out of HTML, SVG, XML, JSON in a page, or a quoted text; from OWASP's cheat sheets and by sign. */
export const MARKUP: readonly string[] = [
  "<script>alert(1)</script>",
  "</script><script>alert(1)</script>",
  "</title></style></textarea><img src=x onerror=alert(1)>",
  "\"'><svg onload=alert(1)>",
  "<!--<script>",
  "]]><script>alert(1)</script>",
  "javascript:alert(1)",
  "&lt;b&gt; R&amp;B &#60;",
  "end with a backslash \\",
  'a "quoted" \\" one\\\\',
  "two\nlines\r\nand\rthree",
  "line\u2028and\u2029paragraph",
  "half \ud800 pairs \udc00",
  "bell \u0007 and nothing \u0000",
  "__proto__",
  "constructor",
  "\\N \\G \\E \\l",
  "<b>graph</b>",
];
