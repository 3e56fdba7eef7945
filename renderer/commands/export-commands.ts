/** What leaves the app for other programs and for phones. Made in a thread of its own, since a large rig takes a while. */
import { layoutLibrary } from "../canvas/layout-library.ts";
import { app } from "../state/store.ts";
import { today } from "../words/dates.ts";
import type { FileWish } from "../worker/paper-answers.ts";
import { millFor } from "../worker/papers.ts";
import type { Command, CommandContext } from "./commands.ts";

const EXPORT = { menu: "File", group: 4, undo: "none", needsSignals: true } as const;

const hasDevices: Command["enabled"] = ({ app: { show } }) => show.devices.length > 0;

interface Kind {
  readonly wish: FileWish;
  /** Of the file's name, after the show's. */
  readonly name: string;
  /** Begins the remark that tells where it is. */
  readonly what: string;
}

async function exported({ session }: CommandContext, { wish, name, what }: Kind): Promise<void> {
  const { analysis } = app.getState();
  const mill = millFor(analysis, layoutLibrary);
  try {
    const text = await mill.file(wish);
    await session.exportText(`${analysis.show.title} ${name}`, ENDINGS[wish.kind], text, what);
  } catch (error) {
    session.problem(`${what} can’t be made: ${error instanceof Error ? error.message : String(error)}`);
  } finally {
    mill.close();
  }
}

const ENDINGS: Readonly<Record<FileWish["kind"], string>> = {
  graphml: "graphml",
  dot: "dot",
  handout: "html",
};

export const EXPORT_COMMANDS: readonly Command[] = [
  {
    ...EXPORT,
    id: "export-handout",
    label: "Export hand-out for phones…",
    also: "html page search jack stage crew offline",
    enabled: hasDevices,
    run: (context) =>
      exported(context, {
        wish: { kind: "handout", date: today() },
        name: "hand-out",
        what: "The hand-out",
      }),
  },
  {
    ...EXPORT,
    id: "export-graphml",
    label: "Export wiring as GraphML",
    also: "graph network nodes edges",
    enabled: hasDevices,
    run: (context) =>
      exported(context, { wish: { kind: "graphml" }, name: "wiring", what: "The wiring as GraphML" }),
  },
  {
    ...EXPORT,
    id: "export-dot",
    label: "Export wiring as DOT",
    also: "graph drawing nodes edges",
    enabled: hasDevices,
    run: (context) => exported(context, { wish: { kind: "dot" }, name: "wiring", what: "The wiring as DOT" }),
  },
];
