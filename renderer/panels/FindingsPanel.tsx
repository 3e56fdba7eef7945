/** What is wrong or worth knowing, gravest first. */
import { useVirtualizer } from "@tanstack/react-virtual";
import { Popover } from "radix-ui";
import { lazy, Suspense, useEffect, useRef } from "react";
import type { Finding, Severity } from "#engine";
import { Icon } from "../parts/Icon.tsx";
import { findingCounts } from "../state/derived.ts";
import { app, useApp } from "../state/store.ts";
import { ui, useUi } from "../state/ui.ts";
import { plural } from "../words/verdicts.ts";
import { FixList, fixesTitle, useFixes } from "./Fixes.tsx";

export const severityTone = (severity: Severity): string =>
  severity === "error" ? "tone-danger" : severity === "warning" ? "tone-warn" : "tone-note";

export function FindingsPanel() {
  const analysis = useApp((state) => state.analysis);
  const focused = useApp(({ focus }) => (focus?.kind === "finding" ? focus.finding : null));
  const { findings } = analysis;
  const counts = findingCounts(analysis);
  const scroller = useRef<HTMLDivElement>(null);
  // eslint-disable-next-line react-hooks/incompatible-library -- see Tree.tsx
  const virtual = useVirtualizer({
    count: findings.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => 76,
    getItemKey: (index) => findings[index]!.id,
    overscan: 6,
  });
  useEffect(() => {
    const index = findings.findIndex(({ id }) => id === focused);
    if (index >= 0) virtual.scrollToIndex(index, { align: "auto" });
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [focused]);

  return (
    <section className="panel" aria-labelledby="findings-title">
      <header className="panel-head">
        <h2 id="findings-title">Findings</h2>
        <span className="soft number">
          {(["error", "warning", "note"] as const)
            .filter((severity) => counts[severity] > 0)
            .map((severity) => plural(counts[severity], severity, `${severity}s`))
            .join(", ")}
        </span>
      </header>
      {findings.length === 0 ? (
        <div className="empty">
          <p className="soft">No check found anything to say about this show.</p>
        </div>
      ) : (
        <div ref={scroller} className="findings">
          <ul aria-label="Findings" style={{ height: virtual.getTotalSize() }}>
            {virtual.getVirtualItems().map((item) => {
              const finding = findings[item.index]!;
              return (
                <li
                  key={finding.id}
                  ref={virtual.measureElement}
                  data-index={item.index}
                  style={{ transform: `translateY(${item.start}px)` }}
                >
                  <FindingCard finding={finding} focused={finding.id === focused} />
                </li>
              );
            })}
          </ul>
        </div>
      )}
    </section>
  );
}

function FindingCard({ finding, focused }: { finding: Finding; focused: boolean }) {
  const { id, severity, title, reason } = finding;
  const inspected = useUi((state) => state.open.inspector);
  // What the inspector would tell, where it is closed.
  const whole = focused && !inspected;
  return (
    <article
      className="finding-card"
      data-focused={focused || undefined}
      data-whole={whole || undefined}
      aria-current={focused || undefined}
    >
      <span className={severityTone(severity)} role="img" aria-label={severity}>
        <Icon name={severity} />
      </span>
      <div className="finding-text">
        <h3>{title}</h3>
        <p className="soft">{reason}</p>
      </div>
      <div className="finding-buttons">
        <button
          type="button"
          className="button small"
          aria-label={`Show me: ${title}`}
          onClick={() => app.getState().look({ kind: "finding", finding: id }, true)}
        >
          Show me
        </button>
        <Why finding={finding} />
      </div>
      {whole && <WaysOut finding={finding} />}
    </article>
  );
}

function WaysOut({ finding }: { finding: Finding }) {
  const fixes = useFixes(finding);
  if (fixes.length === 0) return null;
  return (
    <div className="finding-ways">
      <h4>{fixesTitle(fixes)}</h4>
      <FixList finding={finding} fixes={fixes} />
    </div>
  );
}

const CheckHelp = lazy(() => import("../help/CheckHelp.tsx"));

/** What the check looks for and what to do, beside the finding that asks for it. */
function Why({ finding }: { finding: Finding }) {
  const { title, check } = finding;
  return (
    <Popover.Root>
      <Popover.Trigger className="button small" aria-label={`Why? ${title}`}>
        Why?
      </Popover.Trigger>
      <Popover.Portal>
        <Popover.Content
          className="popover why"
          side="right"
          align="start"
          sideOffset={6}
          collisionPadding={8}
          aria-label={`Why: ${title}`}
        >
          {/* In the list it is cut. */}
          <p>{finding.reason}</p>
          <Suspense fallback={<p className="soft">One moment…</p>}>
            <WaysOut finding={finding} />
            <CheckHelp check={check} />
          </Suspense>
          <Popover.Close asChild>
            <button
              type="button"
              className="button small"
              onClick={() => ui.setState({ dialog: { kind: "checks" } })}
            >
              All that is checked…
            </button>
          </Popover.Close>
        </Popover.Content>
      </Popover.Portal>
    </Popover.Root>
  );
}
