/** Everything about what is looked at. */
import type { ReactNode } from "react";
import { never, type Finding } from "#engine";
import { Icon } from "../parts/Icon.tsx";
import type { Focus } from "../state/contract.ts";
import { app, useApp } from "../state/store.ts";
import { setOpen } from "../state/ui.ts";
import { severityTone } from "../panels/FindingsPanel.tsx";
import { FixList, fixesTitle, useFixes } from "../panels/Fixes.tsx";
import { cableName, capital } from "../words/verdicts.ts";
import { CableInspector } from "./CableInspector.tsx";
import { DeviceInspector } from "./DeviceInspector.tsx";
import { DeviceList, GoTo, Head, Section, TerminalLink } from "./parts.tsx";
import { ShowInspector } from "./ShowInspector.tsx";
import { BlockInspector, MixInspector, SourceInspector, TerminalInspector } from "./SignalInspectors.tsx";

export function Inspector() {
  const focus = useApp((state) => state.focus);
  return (
    <aside className="inspector" aria-label="Inspector">
      <button
        type="button"
        className="icon-button inspector-close"
        aria-label="Close inspector"
        onClick={() => setOpen("inspector", false)}
      >
        <Icon name="close" size={14} />
      </button>
      {/* Anew for each focus, so that half-typed fields and scrolling don't carry over to another thing. */}
      <div className="inspector-body" key={JSON.stringify(focus)} tabIndex={-1}>
        {inspectorFor(focus)}
      </div>
    </aside>
  );
}

function inspectorFor(focus: Focus | null): ReactNode {
  if (focus === null) return <ShowInspector />;
  switch (focus.kind) {
    case "terminal":
      return <TerminalInspector terminal={focus.terminal} />;
    case "block":
      return <BlockInspector terminals={focus.terminals} />;
    case "source":
      return <SourceInspector id={focus.source} />;
    case "mix":
      return <MixInspector id={focus.mix} />;
    case "device":
      return <DeviceInspector id={focus.device} />;
    case "cable":
      return <CableInspector id={focus.cable} />;
    case "finding":
      return <FindingInspector id={focus.finding} />;
    default:
      return never(focus);
  }
}

/** Ways out that clear the finding and break nothing else, each one undoable step. */
function Fixes({ finding }: { finding: Finding }) {
  const fixes = useFixes(finding);
  if (fixes.length === 0) return null;
  return (
    <Section title={fixesTitle(fixes)}>
      <FixList finding={finding} fixes={fixes} />
    </Section>
  );
}

function FindingInspector({ id }: { id: string }) {
  const analysis = useApp((state) => state.analysis);
  const finding = analysis.findings.find((candidate) => candidate.id === id);
  if (!finding) {
    return (
      <Head kind="Finding" title="This finding is settled.">
        <p className="soft">What it told of is no longer so.</p>
      </Head>
    );
  }
  const { severity, title, reason, terminals, devices, cables } = finding;
  return (
    <>
      <Head
        kind="Finding"
        title={
          <span className="with-mark">
            <span className={severityTone(severity)}>
              <Icon name={severity} />
            </span>
            {title}
          </span>
        }
      />
      <Section title="Why">
        <p>{reason}</p>
      </Section>
      <Fixes finding={finding} />
      {terminals.length > 0 && (
        <Section title="Jacks and slots">
          <ul className="plain-list">
            {terminals.map((terminal) => (
              <li key={JSON.stringify(terminal)}>
                <TerminalLink terminal={terminal} />
              </li>
            ))}
          </ul>
        </Section>
      )}
      {devices.length > 0 && (
        <Section title="Devices">
          <DeviceList devices={devices} />
        </Section>
      )}
      {cables.length > 0 && (
        <Section title="Cables">
          <ul className="plain-list">
            {cables.map((cable) => (
              <li key={cable}>
                <GoTo focus={{ kind: "cable", cable }}>{capital(cableName(analysis, cable))}</GoTo>
              </li>
            ))}
          </ul>
        </Section>
      )}
      <button
        type="button"
        className="button"
        onClick={() => app.getState().look({ kind: "finding", finding: id }, true)}
      >
        Show on canvas
      </button>
    </>
  );
}
