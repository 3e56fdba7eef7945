/** What leaves the app for other programs and for phones. */
import { dot, graphml, handoutHtml } from "#engine";
import { app } from "../state/store.ts";
import { today } from "../words/dates.ts";
import type { Command } from "./commands.ts";

const EXPORT = { menu: "File", group: 4, undo: "none" } as const;

const hasDevices: Command["enabled"] = ({ app: { show } }) => show.devices.length > 0;

export const EXPORT_COMMANDS: readonly Command[] = [
  {
    ...EXPORT,
    id: "export-handout",
    label: "Export hand-out for phones…",
    also: "html page search jack stage crew offline",
    enabled: hasDevices,
    run: ({ session }) => {
      const { analysis } = app.getState();
      const title = `${analysis.show.title} hand-out`;
      return session.exportText(title, "html", handoutHtml(analysis, today()), "The hand-out");
    },
  },
  {
    ...EXPORT,
    id: "export-graphml",
    label: "Export wiring as GraphML",
    also: "graph network nodes edges",
    enabled: hasDevices,
    run: ({ session }) => {
      const { analysis } = app.getState();
      return session.exportText(
        `${analysis.show.title} wiring`,
        "graphml",
        graphml(analysis),
        "The wiring as GraphML",
      );
    },
  },
  {
    ...EXPORT,
    id: "export-dot",
    label: "Export wiring as DOT",
    also: "graph drawing nodes edges",
    enabled: hasDevices,
    run: ({ session }) => {
      const { analysis } = app.getState();
      return session.exportText(`${analysis.show.title} wiring`, "dot", dot(analysis), "The wiring as DOT");
    },
  },
];
