/** The rail, and the panel that it chooses. */
import { Tabs } from "radix-ui";
import { useRef, type ComponentType } from "react";
import { COMMANDS } from "../commands/commands.ts";
import { chordLabel, onMac, thisPlatform } from "../commands/keys.ts";
import { Icon } from "../parts/Icon.tsx";
import { Splitter } from "../parts/Splitter.tsx";
import { Tip } from "../parts/Tip.tsx";
import { findingCounts } from "../state/derived.ts";
import { useFirstSight } from "../state/first-sight.ts";
import { useApp } from "../state/store.ts";
import { PANELS, setOpen, showPanel, ui, useUi, type PanelId } from "../state/ui.ts";
import { DelaysPanel } from "./DelaysPanel.tsx";
import { GearPanel } from "./GearPanel.tsx";
import { FindingsPanel } from "./FindingsPanel.tsx";
import { OutputsPanel } from "./OutputsPanel.tsx";
import { RigPanel } from "./RigPanel.tsx";
import { SourcesPanel } from "./SourcesPanel.tsx";

const LOOKS: Readonly<Record<PanelId, { readonly name: string; readonly Panel: ComponentType }>> = {
  rig: { name: "Rig", Panel: RigPanel },
  sources: { name: "Sources", Panel: SourcesPanel },
  outputs: { name: "Outputs", Panel: OutputsPanel },
  delays: { name: "Delays", Panel: DelaysPanel },
  findings: { name: "Findings", Panel: FindingsPanel },
  gear: { name: "Gear", Panel: GearPanel },
};

export function SidePanel() {
  const panel = useUi((state) => state.panel);
  const isOpen = useUi((state) => state.open.side);
  const width = useUi((state) => state.size.side);
  const errors = useApp((state) => findingCounts(state.analysis).error);
  const first = useFirstSight() !== null;
  const mac = onMac(thisPlatform());
  const shownBefore = useRef<PanelId | null>(null);
  const noteShown = (): void => {
    const { open, panel: shown } = ui.getState();
    shownBefore.current = open.side ? shown : null;
  };

  return (
    <Tabs.Root
      className="side"
      orientation="vertical"
      activationMode="manual"
      value={panel}
      onValueChange={(value) => showPanel(value as PanelId)}
    >
      <Tabs.List className="rail" aria-label="Panels">
        {PANELS.map((id) => (
          <Tip
            key={id}
            side="right"
            text={isOpen && panel === id ? `Close ${LOOKS[id].name}` : LOOKS[id].name}
            keys={chordLabel(COMMANDS.find((command) => command.id === `panel-${id}`)!.keys![0]!, mac)}
          >
            <Tabs.Trigger
              value={id}
              className="rail-tab"
              data-shut={!isOpen || undefined}
              onPointerDownCapture={noteShown}
              onKeyDownCapture={noteShown}
              onClick={() => {
                // A press on the panel that was shown closes it. The tab list itself changes panels already as the
                // press begins, so what counts is what was shown before that.
                if (shownBefore.current === id) setOpen("side", false);
                else showPanel(id);
              }}
            >
              <Icon name={id} size={18} />
              <span>{LOOKS[id].name}</span>
              {id === "findings" && errors > 0 && <span className="rail-dot" aria-hidden="true" />}
            </Tabs.Trigger>
          </Tip>
        ))}
      </Tabs.List>
      {isOpen && (
        <>
          <div className="side-panel" style={{ width }}>
            {!first && <Contents />}
          </div>
          <Splitter part="side" label="Width of the side panel" side="left" />
        </>
      )}
    </Tabs.Root>
  );
}

function Contents() {
  return PANELS.map((id) => {
    const { Panel } = LOOKS[id];
    return (
      <Tabs.Content key={id} value={id} tabIndex={-1}>
        <Panel />
      </Tabs.Content>
    );
  });
}
