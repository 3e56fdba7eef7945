/** The window: bar above, panels left and right, canvas between them, hop strip below. */
import { Tooltip } from "radix-ui";
import { Toaster } from "sonner";
import { never } from "#engine";
import { Canvas } from "./canvas/Canvas.tsx";
import { Dialogs } from "./dialogs/Dialogs.tsx";
import { Inspector } from "./inspector/Inspector.tsx";
import { Tour } from "./help/Tour.tsx";
import { FileNewsBar } from "./panels/FileNewsBar.tsx";
import { EmptyRig } from "./panels/EmptyRig.tsx";
import { HopStrip } from "./panels/HopStrip.tsx";
import { SidePanel } from "./panels/SidePanel.tsx";
import { TopBar } from "./panels/TopBar.tsx";
import { Icon } from "./parts/Icon.tsx";
import { Splitter } from "./parts/Splitter.tsx";
import { isBlank } from "./state/blank.ts";
import { useFirstSight, useShowComing } from "./state/first-sight.ts";
import { useApp } from "./state/store.ts";
import { setOpen, useUi } from "./state/ui.ts";
import { Lists } from "./tables/Lists.tsx";
import { StageSwitch } from "./tables/StageSwitch.tsx";
import { TypesView } from "./types/TypesView.tsx";
import { OwnerPatterns } from "./theme/OwnerPatterns.tsx";

export function App() {
  // Below the tabs of the lists, which stand where messages come up.
  const below = useUi((state) => state.stage === "lists");
  return (
    <Tooltip.Provider delayDuration={500} skipDelayDuration={200}>
      <OwnerPatterns />
      <div className="app">
        <TopBar />
        <FileNewsBar />
        <Middle />
      </div>
      <Dialogs />
      <Tour />
      <Toaster
        position="top-right"
        offset={below ? 122 : 52}
        visibleToasts={4}
        containerAriaLabel="Messages"
        className="toasts"
      />
    </Tooltip.Provider>
  );
}

/** Panels and hop strip tell of the rig; whoever writes a type has the whole room for it. */
function Middle() {
  const alone = useUi((state) => state.stage === "types");
  return (
    <>
      <div className="middle">
        {!alone && <SidePanel />}
        <main className="stage" aria-label={alone ? "Device types" : "Signal flow"}>
          <Stage />
        </main>
        {!alone && <InspectorPart />}
      </div>
      {!alone && <StripPart />}
    </>
  );
}

function Stage() {
  const stage = useUi((state) => state.stage);
  const sight = useFirstSight();
  const isComing = useShowComing();
  const blank = useApp((state) => isBlank(sight ?? state.show));
  switch (stage) {
    case "canvas":
      return (
        <>
          <StageSwitch floating />
          <Canvas />
          {blank && !isComing && (
            <div className="over-canvas">
              <EmptyRig />
            </div>
          )}
        </>
      );
    case "lists":
      return isComing ? <Coming /> : <Lists />;
    case "types":
      return isComing ? <Coming /> : <TypesView />;
    default:
      return never(stage);
  }
}

/** What is typed in lists or types is about a show, and the one before is none of the user's. */
function Coming() {
  return (
    <div className="lists">
      <div className="lists-bar">
        <StageSwitch />
      </div>
      <p className="lists-empty soft wait" role="status">
        The show is on its way…
      </p>
    </div>
  );
}

function InspectorPart() {
  const isOpen = useUi((state) => state.open.inspector);
  const width = useUi((state) => state.size.inspector);
  if (!isOpen) {
    return (
      <button
        type="button"
        className="edge-button upright"
        aria-label="Open inspector"
        onClick={() => setOpen("inspector", true)}
      >
        <Icon name="sidebar" />
        <span>Inspector</span>
      </button>
    );
  }
  return (
    <>
      <Splitter part="inspector" label="Width of the inspector" side="right" />
      <div className="inspector-part" style={{ width }}>
        <Inspector />
      </div>
    </>
  );
}

function StripPart() {
  const isOpen = useUi((state) => state.open.strip);
  const height = useUi((state) => state.size.strip);
  const isEmpty = useApp((state) => state.lit.traces.length === 0);
  if (!isOpen) {
    return (
      <button
        type="button"
        className="edge-button flat"
        aria-label="Open hop strip"
        onClick={() => setOpen("strip", true)}
      >
        <Icon name="strip" />
        <span>Hop strip</span>
      </button>
    );
  }
  // With no trace to show it is a line that says how to get one, and the canvas has the room.
  if (isEmpty) {
    return (
      <div className="strip-part">
        <HopStrip />
      </div>
    );
  }
  return (
    <>
      <Splitter part="strip" label="Height of the hop strip" side="below" />
      <div className="strip-part" style={{ height }}>
        <HopStrip />
      </div>
    </>
  );
}
