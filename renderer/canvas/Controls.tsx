/** Zoom, fit, and the depth that the canvas shows. */
import { useReactFlow } from "@xyflow/react";
import { useApp } from "../state/store.ts";
import { placeOfNode } from "./node-ids.ts";
import { fitAll, letGo } from "./sight.ts";
import { WORDS } from "./words.ts";
import { glide } from "./motion.ts";

const ICONS = {
  in: "M8 3v10M3 8h10",
  out: "M3 8h10",
  fit: "M2 6V2h4M10 2h4v4M14 10v4h-4M6 14H2v-4",
  lit: "M2 5V2h3M11 2h3v3M14 11v3h-3M5 14H2v-3M5.5 8h5M8.5 6l2 2-2 2",
} as const;

function Button({
  name,
  icon,
  onClick,
  disabled,
}: {
  name: string;
  icon: keyof typeof ICONS;
  onClick: () => void;
  disabled?: boolean;
}) {
  return (
    <button type="button" aria-label={name} title={name} onClick={onClick} disabled={disabled}>
      <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
        <path d={ICONS[icon]} />
      </svg>
    </button>
  );
}

export function Controls() {
  const flow = useReactFlow();
  const lit = useApp((state) => state.lit.devices);
  const zoom = (by: typeof flow.zoomIn): void => {
    letGo();
    void by(glide(160));
  };
  return (
    <div className="canvas-controls" role="group" aria-label="View">
      <Button name={WORDS.zoomIn} icon="in" onClick={() => zoom(flow.zoomIn)} />
      <Button name={WORDS.zoomOut} icon="out" onClick={() => zoom(flow.zoomOut)} />
      <Button name={WORDS.fit} icon="fit" onClick={() => fitAll(flow, 260)} />
      <Button
        name={WORDS.fitLit}
        icon="lit"
        disabled={lit.size === 0}
        onClick={() => {
          letGo();
          const nodes = flow.getNodes().filter(({ id }) => placeOfNode(id) === null && lit.has(id as never));
          void flow.fitView({ nodes, padding: 0.08, maxZoom: 1.6, ...glide(260) });
        }}
      />
    </div>
  );
}
