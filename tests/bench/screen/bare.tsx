/** The yardstick of the screen's bench: the canvas library alone, with plain nodes and edges of the rig that it is given. */
import { ReactFlow, type Edge, type Node } from "@xyflow/react";
import "@xyflow/react/dist/style.css";
import { createRoot } from "react-dom/client";

const { nodes, edges } = (globalThis as typeof globalThis & { bare: { nodes: Node[]; edges: Edge[] } }).bare;

createRoot(document.getElementById("root")!).render(
  <div style={{ width: "100vw", height: "100vh" }}>
    <ReactFlow defaultNodes={nodes} defaultEdges={edges} fitView minZoom={0.05} onlyRenderVisibleElements />
  </div>,
);
