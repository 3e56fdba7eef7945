/** What a check looks for and what to do about what it finds, as the engine's pages say it. Loaded when it is asked for. */
import { Explained } from "../parts/Term.tsx";
import { pageOf, ruleParts, type CheckPage } from "./checks.ts";
import type { Line } from "./guide.ts";
import { Words } from "./Words.tsx";

export default function CheckHelp({ check }: { check: string }) {
  const page = pageOf(check);
  return page ? (
    <CheckText page={page} />
  ) : (
    <p className="soft">There is no page for “{check}”, through a mistake in Hopline.</p>
  );
}

export function CheckText({ page }: { page: CheckPage }) {
  return (
    <dl className="check-help">
      <dt>When</dt>
      <dd>
        <Words line={page.when} />
      </dd>
      <dt>What to do</dt>
      <dd>
        <Words line={page.todo} />
      </dd>
      <dt>
        Exactly <span className="soft small">{page.rule}</span>
      </dt>
      <dd>
        <Exactly line={page.exactly} />
      </dd>
    </dl>
  );
}

/** The rules that a rule leans on are told on the spot, too. */
function Exactly({ line }: { line: Line }) {
  return line.map((piece, n) =>
    piece.kind === "text" ? (
      ruleParts(piece.text).map(({ text, rule }, part) =>
        rule ? (
          <Explained key={`${n}:${part}`} means={<Words line={rule} />}>
            {text}
          </Explained>
        ) : (
          text
        ),
      )
    ) : (
      <Words key={n} line={[piece]} />
    ),
  );
}
