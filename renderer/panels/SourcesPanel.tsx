/** Sources by the box that they are plugged in. */
import { useMemo, useState } from "react";
import { findTerminal, gather, shortName, type Analysis, type DeviceId, type Source } from "#engine";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { Tree, type TreeRow } from "../parts/Tree.tsx";
import { app, useApp } from "../state/store.ts";
import { setOpened, useUi } from "../state/ui.ts";
import { deviceName } from "../words/names.ts";

export function SourcesPanel() {
  const analysis = useApp((state) => state.analysis);
  const opened = useUi((state) => state.opened);
  const selected = useApp(({ focus }) => (focus?.kind === "source" ? `source:${focus.source}` : null));
  const [filter, setFilter] = useState("");

  const rows = useMemo((): readonly TreeRow[] => {
    const wanted = filter.trim().toLowerCase();
    const boxes = new Map<DeviceId, Source[]>();
    for (const source of analysis.show.sources) {
      if (wanted && !`${source.name} ${source.kind}`.toLowerCase().includes(wanted)) continue;
      gather(boxes, source.at.device, source);
    }
    return [...boxes].flatMap(([device, sources]): TreeRow[] => {
      const key = `sources-at:${device}`;
      const open = opened.get(key) ?? true;
      const head: TreeRow = {
        key,
        level: 1,
        open,
        name: deviceName(analysis, device),
        render: () => (
          <>
            <span className="cut strong">{deviceName(analysis, device)}</span>
            <span className="row-end soft number">{sources.length}</span>
          </>
        ),
      };
      return open ? [head, ...sources.map((source) => sourceRow(analysis, source))] : [head];
    });
  }, [analysis, opened, filter]);

  return (
    <section className="panel" aria-labelledby="sources-title">
      <header className="panel-head">
        <h2 id="sources-title">Sources</h2>
        <span className="soft number">{analysis.show.sources.length}</span>
      </header>
      <div className="panel-tools">
        <input
          className="field"
          type="search"
          aria-label="Filter sources"
          placeholder="Filter"
          value={filter}
          onChange={(event) => setFilter(event.target.value)}
        />
      </div>
      <Tree
        label="Sources by box"
        rows={rows}
        selected={selected}
        onToggle={(key, open) => setOpened([key], open)}
        empty={
          <p className="soft">
            {analysis.show.sources.length === 0
              ? "No source is plugged in anywhere in this show."
              : `No source is called “${filter.trim()}”.`}
          </p>
        }
      />
    </section>
  );
}

function sourceRow(analysis: Analysis, source: Source): TreeRow {
  const at = findTerminal(analysis.wiring, source.at);
  const jack = at === null ? "jack not in the rig" : shortName(analysis.wiring, at);
  return {
    key: `source:${source.id}`,
    level: 2,
    name: source.name,
    press: () => app.getState().look({ kind: "source", source: source.id }, true),
    render: () => (
      <>
        <span className="row-lead soft number">{jack}</span>
        <span className="cut keep">{source.name}</span>
        {/* Most are microphones: only the others are worth a word here. */}
        {source.kind !== "microphone" && <span className="cut soft small">{source.kind}</span>}
        <span className="row-end">
          {source.phantom && (
            <span className="soft small number" title="Phantom power on">
              48 V
            </span>
          )}
          {source.preampOwner && <OwnerTag device={source.preampOwner} />}
        </span>
      </>
    ),
  };
}
