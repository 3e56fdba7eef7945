/** What colours, letters, hatches, lines and marks mean. */
import type { Analysis } from "#engine";
import { useApp } from "../state/store.ts";
import { OwnerMark } from "../parts/OwnerMark.tsx";
import { ownersOf, type OwnerLook } from "../theme/owners.ts";
import { LINE_CLASS } from "./CableEdge.tsx";
import { looksOf } from "./looks.ts";
import { view, useView } from "./view.ts";
import { WORDS } from "./words.ts";

const LINES = [
  ["link", "Cat 5"],
  ["coax", "Coax"],
  ["fibre", "Fibre"],
  ["digital", "110 Ω digital"],
  ["multicore", "Multicore"],
  ["single", "Microphone, line"],
  ["loudspeaker", "Loudspeaker"],
] as const;

/** Owners whose signals the rig carries at all: a personal mixer that only feeds phones needs no line here. */
const MOST_OWNERS = 12;

export function Legend() {
  const open = useView(({ legend }) => legend);
  return (
    <div className="legend" data-open={open || undefined}>
      <button
        type="button"
        className="legend-toggle"
        aria-expanded={open}
        onClick={() => view.setState({ legend: !open })}
      >
        <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
          <path d="M2 4h3v3H2z M2 10h3v3H2z M7.5 5.5H14 M7.5 11.5H14" />
        </svg>
        {WORDS.legend}
      </button>
      {open && <Body />}
    </div>
  );
}

function Body() {
  const owners = useApp((state) => ownersOf(state.analysis.show));
  const used = useApp((state) => usedKinds(state.analysis));
  const shown: OwnerLook[] = [...owners.values()].slice(0, MOST_OWNERS);
  return (
    <div className="legend-body">
      <section>
        <h3>Signal from</h3>
        {shown.map((owner) => (
          <p key={owner.device}>
            <OwnerMark owner={owner} decorative />
            {owner.name}
          </p>
        ))}
        {owners.size > shown.length && <p>and {owners.size - shown.length} more</p>}
        <p>
          <i className="swatch stage" />
          the stage, no console’s
        </p>
        <p>
          <i className="swatch unfed" />
          unfed
        </p>
      </section>
      {used.length > 0 && (
        <section>
          <h3>Cables</h3>
          {LINES.filter(([kind]) => used.includes(kind)).map(([kind, name]) => (
            <p key={kind}>
              <svg width="30" height="10" aria-hidden="true" className={`cable kind-${kind}`}>
                <path className="line" d="M0 5H30" />
                {kind === "multicore" && <path className="core" d="M0 5H30" />}
              </svg>
              {name}
            </p>
          ))}
        </section>
      )}
      <section>
        <h3>Marks</h3>
        <p>
          <svg width="12" height="12" aria-hidden="true">
            <path className="notch danger" d="M2 1h9v9z" />
          </svg>
          wanted or faulty, and dark
        </p>
        <p>
          <svg width="12" height="12" aria-hidden="true">
            <path className="notch warn" d="M2 1h9v9z" />
          </svg>
          not enough known
        </p>
        <p>
          <svg className="finding error" viewBox="0 0 16 16" width="14" height="14" aria-hidden="true">
            <path className="shape" d="M5.4 1.8h5.2l3.6 3.6v5.2l-3.6 3.6H5.4l-3.6-3.6V5.4z" />
            <path className="stroke" d="M8 4.6v4.2M8 10.8v.6" />
          </svg>
          an error is found here
        </p>
        <p>
          <svg className="finding warning" viewBox="0 0 16 16" width="14" height="14" aria-hidden="true">
            <path className="shape" d="M8 1.6l7 12.8H1z" />
            <path className="stroke" d="M8 6v4M8 12v.6" />
          </svg>
          a warning is found here
        </p>
      </section>
    </div>
  );
}

/** As one text, so that it compares by value. */
const usedKinds = (analysis: Analysis): string =>
  [...new Set([...looksOf(analysis).cables.values()].map(({ kind }) => LINE_CLASS[kind]))].sort().join(" ");
