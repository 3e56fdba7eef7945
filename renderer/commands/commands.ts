/**
 * Every command, once. Menu bar, native menu, keys and palette read these records, so that they can't disagree about a
 * name, a key or whether something can be done now.
 */
import {
  csvOf,
  fixesOf,
  TABLE_NAMES,
  tableOf,
  type Analysis,
  type Finding,
  type Fix,
  type MenuEntry,
  type TableId,
  type TypeId,
} from "#engine";
import type { Session } from "../files/session.ts";
import type { AppState, SchemeChoice } from "../state/contract.ts";
import { groupOf, lookedAtOutputs } from "../state/groups.ts";
import { offerGear } from "../panels/ask-for-gear.ts";
import { startTour } from "../help/tour.ts";
import { endsFrom, lookedAtBlock } from "../routing/ends.ts";
import { isShowComing, onceShowCame } from "../state/first-sight.ts";
import { giveKeys } from "../parts/give-keys.ts";
import { app, isBehind, onceAnalysed } from "../state/store.ts";
import {
  setOpen,
  showPanel,
  showStage,
  ui,
  type PanelId,
  type Part,
  type StageId,
  type UiState,
} from "../state/ui.ts";
import { openDraftNow, redoType, undoType } from "../types/editor.ts";
import { canUse, showTypes, takeVersion } from "../types/use.ts";
import { EDIT_COMMANDS, RIG_COMMANDS, TO_CANVAS } from "./build-commands.ts";
import { EXPORT_COMMANDS } from "./export-commands.ts";
import type { Chord } from "./keys.ts";
import { views } from "../state/views.ts";
import { focusGridSoon } from "../tables/at-hand.ts";
import { goToStage } from "../tables/go-to-stage.ts";
import { lists, showTable } from "../tables/lists.ts";

/**
 * What a command does to undo. `step`: changes the document as one step. `travels`: moves along the steps. `restarts`:
 * takes another document, after which there is nothing to undo. `none`: leaves the document alone.
 */
export type UndoPolicy = "step" | "travels" | "restarts" | "none";

export interface CommandState {
  readonly app: AppState;
  readonly ui: UiState;
}

export interface CommandContext {
  readonly session: Session;
}

export const MENUS = ["File", "Edit", "Rig", "View", "Go", "Help"] as const;
export type MenuName = (typeof MENUS)[number];

export interface Command {
  readonly id: string;
  readonly label: string | ((state: CommandState) => string);
  /** For who searches with another word. */
  readonly also?: string;
  readonly keys?: readonly Chord[];
  /** Keys work while a text field has the focus; without this they are the field's. */
  readonly inFields?: boolean;
  /**
   * `canvas`: only where the canvas has the keys, or nothing has. `clipboard`: the keys come as the page's clipboard events
   * (`canvas/clipboard.ts`), and are only shown. Left out: anywhere.
   */
  readonly keysBy?: "canvas" | "clipboard";
  readonly menu: MenuName;
  /** Commands of one group stand together, lines between the groups. */
  readonly group: number;
  readonly undo: UndoPolicy;
  /** It is about what arrives where; pressed right after an edit it waits until that is known. */
  readonly needsSignals?: true;
  readonly enabled?: (state: CommandState) => boolean;
  /** For what is on or off. */
  readonly checked?: (state: CommandState) => boolean;
  readonly run: (context: CommandContext) => void | Promise<unknown>;
}

export const labelOf = (command: Command, state: CommandState): string =>
  typeof command.label === "string" ? command.label : command.label(state);

export const isEnabled = (command: Command, state: CommandState): boolean => command.enabled?.(state) ?? true;

export const stateNow = (): CommandState => ({ app: app.getState(), ui: ui.getState() });

const panel = (id: PanelId, label: string, key: string): Command => ({
  id: `panel-${id}`,
  label,
  keys: [key],
  inFields: true,
  menu: "View",
  group: 1,
  undo: "none",
  checked: (state) => state.ui.open.side && state.ui.panel === id,
  run: () => showPanel(id),
});

const stage = (id: StageId, label: string, key: string, also: string): Command => ({
  id: `stage-${id}`,
  label,
  also,
  keys: [key],
  inFields: true,
  menu: "View",
  group: 0,
  undo: "none",
  checked: (state) => state.ui.stage === id,
  run: () => goToStage(id),
});

/** A list in the middle of the window, with the keys in it. */
const list = (id: TableId): Command => ({
  id: `list-${id}`,
  label: `List of ${TABLE_NAMES[id].toLowerCase()}`,
  also: "table spreadsheet",
  menu: "Go",
  group: 5,
  undo: "none",
  checked: (state) => state.ui.stage === "lists" && lists.getState().table === id,
  run: () => {
    showTable(id);
    showStage("lists");
    focusGridSoon();
  },
});

const part = (id: Part, label: string, key: string): Command => ({
  id: `toggle-${id}`,
  label,
  keys: [key],
  inFields: true,
  menu: "View",
  group: 2,
  undo: "none",
  checked: (state) => state.ui.open[id],
  run: () => setOpen(id, !ui.getState().open[id]),
});

const scheme = (id: SchemeChoice, label: string): Command => ({
  id: `scheme-${id}`,
  label,
  also: "colour scheme theme night red",
  menu: "View",
  group: 3,
  undo: "none",
  checked: (state) => state.app.scheme === id,
  run: () => app.getState().setScheme(id),
});

/** The list that is shown; beside the canvas the one that most begin with. */
export const listShown = ({ stage }: UiState): TableId =>
  stage === "lists" ? lists.getState().table : "inputs";
const listName = (state: CommandState): string => TABLE_NAMES[listShown(state.ui)].toLowerCase();

/** Focuses the finding that is `by` places from the focused one. */
function stepFinding(by: 1 | -1): void {
  const { analysis, focus, look } = app.getState();
  const { findings } = analysis;
  if (findings.length === 0) return;
  const at = focus?.kind === "finding" ? findings.findIndex(({ id }) => id === focus.finding) : -1;
  const next =
    at === -1 ? (by === 1 ? 0 : findings.length - 1) : (at + by + findings.length) % findings.length;
  look({ kind: "finding", finding: findings[next]!.id }, true);
}

/** The first way out of the finding that is looked at; tried once for each state of the rig. */
function wayOut({ app: { analysis, focus, show } }: CommandState): Fix | null {
  if (focus?.kind !== "finding" || analysis.show !== show) return null;
  const finding = analysis.findings.find(({ id }) => id === focus.finding);
  if (!finding) return null;
  if (tried?.finding !== finding || tried.analysis !== analysis)
    tried = { analysis, finding, fix: fixesOf(analysis, finding)[0] ?? null };
  return tried.fix;
}

let tried: {
  readonly analysis: Analysis;
  readonly finding: Finding;
  readonly fix: Fix | null;
} | null = null;

const quoted = (verb: string, what: string | null): string => (what === null ? verb : `${verb} ${what}`);

const inTypes = (state: CommandState): boolean => state.ui.stage === "types";

/** What undo and redo would take: a step of the type in the making while that is on the screen and has one, else of the show. */
function stepsOf(state: CommandState): { readonly undo: string | null; readonly redo: string | null } {
  const { undo, redo } = draftSteps(state);
  return { undo: undo ?? state.app.undoLabel, redo: redo ?? state.app.redoLabel };
}

function draftSteps(state: CommandState): { readonly undo: string | null; readonly redo: string | null } {
  const draft = inTypes(state) ? openDraftNow() : null;
  return { undo: draft?.past.at(-1)?.label ?? null, redo: draft?.future.at(-1)?.label ?? null };
}

/** The type of the device that is looked at. */
function typeInFocus({ app: { focus, show } }: CommandState): TypeId | null {
  const id =
    focus?.kind === "device" ? focus.device : focus?.kind === "terminal" ? focus.terminal.device : null;
  const type = show.devices.find((device) => device.id === id)?.type;
  return show.types.some((each) => each.id === type) ? (type ?? null) : null;
}

export const COMMANDS: readonly Command[] = [
  {
    id: "new",
    label: "New show",
    also: "blank empty",
    keys: ["Mod+N"],
    inFields: true,
    menu: "File",
    group: 1,
    undo: "restarts",
    run: async ({ session }) => {
      await session.newShow();
      offerGear();
    },
  },
  {
    id: "open",
    label: "Open…",
    keys: ["Mod+O"],
    inFields: true,
    menu: "File",
    group: 1,
    undo: "restarts",
    run: ({ session }) => session.openFile(null),
  },
  {
    id: "save",
    label: "Save",
    keys: ["Mod+S"],
    inFields: true,
    menu: "File",
    group: 2,
    undo: "none",
    run: ({ session }) => session.save(),
  },
  {
    id: "save-as",
    label: "Save as…",
    keys: ["Mod+Shift+S"],
    inFields: true,
    menu: "File",
    group: 2,
    undo: "none",
    run: ({ session }) => session.saveAs(),
  },
  {
    id: "mark-revision",
    label: "Mark a revision…",
    also: "version snapshot keep issue",
    menu: "File",
    group: 3,
    undo: "step",
    run: () => ui.setState({ dialog: { kind: "mark-revision" } }),
  },
  {
    id: "import-list",
    label: (state) => `Import ${listName(state)}…`,
    also: "csv spreadsheet list clipboard paste",
    menu: "File",
    group: 3,
    undo: "step",
    run: () => ui.setState({ dialog: { kind: "import-list", table: listShown(ui.getState()) } }),
  },
  {
    id: "export-list",
    label: (state) => `Export ${listName(state)} as CSV`,
    also: "csv spreadsheet list save table",
    menu: "File",
    group: 3,
    undo: "none",
    needsSignals: true,
    run: ({ session }) => {
      const { show, analysis } = app.getState();
      const shown = listShown(ui.getState());
      const table = tableOf(shown, show, analysis, lists.getState().desk);
      const name = TABLE_NAMES[shown].toLowerCase();
      return session.exportText(`${show.title} ${name}`, "csv", csvOf(table), `The list of ${name}`);
    },
  },
  {
    id: "paper",
    label: "Papers…",
    also: "print pdf export svg png csv sheets diagram worksheet labels input list patch",
    keys: ["Mod+P"],
    inFields: true,
    menu: "File",
    group: 3,
    undo: "none",
    needsSignals: true,
    run: () => ui.setState({ dialog: { kind: "paper" } }),
  },
  ...EXPORT_COMMANDS,
  {
    id: "undo",
    label: (state) => quoted("Undo", stepsOf(state).undo),
    keys: ["Mod+Z"],
    menu: "Edit",
    group: 1,
    undo: "travels",
    enabled: (state) => stepsOf(state).undo !== null,
    run: () => (draftSteps(stateNow()).undo === null ? app.getState().undo() : undoType()),
  },
  {
    id: "redo",
    label: (state) => quoted("Redo", stepsOf(state).redo),
    keys: ["Mod+Shift+Z", "Mod+Y"],
    menu: "Edit",
    group: 1,
    undo: "travels",
    enabled: (state) => stepsOf(state).redo !== null,
    run: () => (draftSteps(stateNow()).redo === null ? app.getState().redo() : redoType()),
  },
  {
    id: "show-settings",
    label: "Settings of the show",
    also: "sample rate metric imperial feet metres units latency limit temperature venue notes preferences",
    menu: "Edit",
    group: 2,
    undo: "none",
    run: () => {
      app.getState().look(null);
      setOpen("inspector", true);
      giveKeys(() => document.querySelector<HTMLElement>(".inspector-body")?.focus());
    },
  },
  {
    id: "rename-show",
    label: "Rename show…",
    also: "title",
    menu: "Edit",
    group: 2,
    undo: "step",
    run: () => ui.setState({ dialog: { kind: "rename-show" } }),
  },
  {
    id: "group-outputs",
    label: "Make an arrival group",
    also: "delays together outputs time align",
    keys: ["Mod+G"],
    menu: "Edit",
    group: 3,
    undo: "step",
    needsSignals: true,
    enabled: (state) => lookedAtOutputs(state.app.analysis, state.app.focus).length > 0,
    run: () => {
      const { analysis, focus, change } = app.getState();
      const record = groupOf(analysis, lookedAtOutputs(analysis, focus));
      change({ kind: "edits", edits: [{ kind: "put", list: "groups", record }] }, `grouping ${record.name}`);
      showPanel("delays");
    },
  },
  {
    id: "route-block",
    label: "Route a block…",
    also: "patch bring send carry outputs way assign",
    keys: ["Alt+R"],
    menu: "Edit",
    group: 3,
    undo: "step",
    needsSignals: true,
    enabled: (state) => state.app.show.devices.length > 0,
    run: () => {
      const { analysis, focus } = app.getState();
      ui.setState({ dialog: { kind: "route", ...endsFrom(analysis, lookedAtBlock(analysis, focus)) } });
    },
  },
  {
    id: "patch-channels",
    label: "Patch channels to their sources…",
    also: "input list route assign soft patch",
    menu: "Edit",
    group: 5,
    undo: "step",
    enabled: ({ app: { show } }) => show.channels.some(({ source }) => source !== undefined),
    run: () => ui.setState({ dialog: { kind: "patch-list", what: "channels" } }),
  },
  {
    id: "patch-wants",
    label: "Patch what the wants say…",
    also: "outputs route assign feeds",
    menu: "Edit",
    group: 5,
    undo: "step",
    enabled: ({ app: { show } }) => show.wants.some(({ from }) => from !== undefined),
    run: () => ui.setState({ dialog: { kind: "patch-list", what: "wants" } }),
  },
  ...EDIT_COMMANDS,
  ...RIG_COMMANDS,
  stage("canvas", "Canvas", "Alt+C", "signal flow diagram"),
  stage("types", "Device types", "Alt+T", "editor gear sheet jacks ports modes rules write"),
  stage("lists", "Lists", "Alt+L", "tables spreadsheet inputs channels mixes outputs cables devices"),
  {
    id: "edit-type",
    label: "Edit the type of this device",
    also: "device types editor sheet modes rules",
    menu: "Edit",
    group: 4,
    undo: "none",
    enabled: (state) => typeInFocus(state) !== null,
    run: () => showTypes(typeInFocus(stateNow())),
  },
  {
    id: "use-type",
    label: "Use this version of the type",
    also: "device types editor apply",
    menu: "Edit",
    group: 4,
    undo: "step",
    enabled: (state) => inTypes(state) && canUse(),
    run: () => takeVersion(),
  },
  panel("rig", "Rig", "Alt+1"),
  panel("sources", "Sources", "Alt+2"),
  panel("outputs", "Outputs", "Alt+3"),
  panel("delays", "Delays", "Alt+4"),
  panel("findings", "Findings", "Alt+5"),
  panel("gear", "Gear", "Alt+6"),
  part("side", "Side panel", "Mod+B"),
  part("inspector", "Inspector", "Mod+I"),
  part("strip", "Hop strip", "Mod+H"),
  scheme("system", "Colours as the system"),
  scheme("light", "Light"),
  scheme("dark", "Dark"),
  scheme("dim", "Dim red, for show dark"),
  {
    id: "search",
    label: "Go to anything…",
    also: "search find jack source mix channel device cable want",
    keys: ["Mod+K", "Mod+F"],
    inFields: true,
    menu: "Go",
    group: 1,
    undo: "none",
    run: () => ui.setState({ search: "" }),
  },
  {
    id: "palette",
    label: "All commands…",
    keys: ["Mod+Shift+P"],
    inFields: true,
    menu: "Go",
    group: 1,
    undo: "none",
    run: () => ui.setState({ search: ">" }),
  },
  TO_CANVAS,
  {
    id: "back",
    label: "Back to what was looked at",
    also: "previous focus",
    keys: ["Alt+Left"],
    menu: "Go",
    group: 2,
    undo: "none",
    enabled: () => views.canGo(-1),
    run: () => views.go(-1),
  },
  {
    id: "forward",
    label: "Forward again",
    also: "next focus",
    keys: ["Alt+Right"],
    menu: "Go",
    group: 2,
    undo: "none",
    enabled: () => views.canGo(1),
    run: () => views.go(1),
  },
  {
    id: "show-on-canvas",
    label: "Show on canvas",
    also: "reveal centre zoom to",
    keys: ["Mod+J"],
    menu: "Go",
    group: 3,
    undo: "none",
    enabled: (state) => state.app.focus !== null,
    run: () => {
      showStage("canvas");
      app.getState().look(app.getState().focus, true);
    },
  },
  {
    id: "show-rig",
    label: "Show whole rig",
    also: "fit zoom out overview",
    keys: ["Mod+0"],
    menu: "Go",
    group: 3,
    undo: "none",
    enabled: (state) => state.app.show.devices.length > 0,
    run: () => {
      showStage("canvas");
      app.getState().showOnCanvas(app.getState().show.devices.map(({ id }) => id));
    },
  },
  {
    id: "clear-focus",
    label: "Look at nothing",
    also: "deselect clear",
    keys: ["Esc"],
    menu: "Go",
    group: 3,
    undo: "none",
    enabled: (state) => state.app.focus !== null,
    run: () => app.getState().look(null),
  },
  {
    id: "next-finding",
    label: "Next finding",
    keys: ["F8"],
    inFields: true,
    menu: "Go",
    group: 4,
    undo: "none",
    needsSignals: true,
    enabled: (state) => state.app.analysis.findings.length > 0,
    run: () => stepFinding(1),
  },
  {
    id: "previous-finding",
    label: "Previous finding",
    keys: ["Shift+F8"],
    inFields: true,
    menu: "Go",
    group: 4,
    undo: "none",
    needsSignals: true,
    enabled: (state) => state.app.analysis.findings.length > 0,
    run: () => stepFinding(-1),
  },
  ...(Object.keys(TABLE_NAMES) as TableId[]).map(list),
  {
    id: "take-way-out",
    label: (state) => {
      const fix = wayOut(state);
      return fix ? `Way out: ${fix.label}` : "Take the way out";
    },
    also: "fix settle finding",
    keys: ["Mod+F8"],
    inFields: true,
    menu: "Go",
    group: 4,
    undo: "step",
    needsSignals: true,
    enabled: (state) => wayOut(state) !== null,
    run: () => {
      const fix = wayOut(stateNow());
      if (fix) app.getState().change({ kind: "edits", edits: fix.edits }, fix.label);
    },
  },
  {
    id: "legend",
    label: "How to read it",
    also: "legend colours hatches help",
    keys: ["F1"],
    inFields: true,
    menu: "Help",
    group: 1,
    undo: "none",
    run: () => ui.setState({ dialog: { kind: "legend" } }),
  },
  {
    id: "tour",
    label: "Short tour",
    also: "help introduction first steps guide",
    menu: "Help",
    group: 1,
    undo: "none",
    enabled: (state) => state.ui.tour === null,
    run: startTour,
  },
  {
    id: "words",
    label: "Words",
    also: "help glossary terms verdicts definitions meaning",
    menu: "Help",
    group: 1,
    undo: "none",
    run: () => ui.setState({ dialog: { kind: "words" } }),
  },
  {
    id: "checks",
    label: "What is checked",
    also: "help findings errors warnings notes conditions rules",
    menu: "Help",
    group: 1,
    undo: "none",
    run: () => ui.setState({ dialog: { kind: "checks" } }),
  },
  {
    id: "guide-types",
    label: "Guide: writing a device type",
    also: "help sheet modes rules editor",
    menu: "Help",
    group: 2,
    undo: "none",
    run: () => {
      showStage("types");
      ui.setState({ typeGuide: true });
    },
  },
  {
    id: "keys",
    label: "Keys",
    also: "keyboard shortcuts help",
    keys: ["Mod+/"],
    menu: "Help",
    group: 1,
    undo: "none",
    run: () => ui.setState({ dialog: { kind: "keys" } }),
  },
];

export const commandById = (id: string): Command | undefined => COMMANDS.find((command) => command.id === id);

/** What the command needs isn't known yet, and will be. */
export const canWait = (command: Command): boolean =>
  (isShowComing() && waits(command)) || (command.needsSignals === true && isBehind());

/** Runs a command if it can be run, at once or as soon as what it needs is known. */
export function runCommand(command: Command, context: CommandContext): void {
  // Who presses a key while a show is on its way means that show, and not the one before.
  if (isShowComing() && waits(command)) return onceShowCame(() => runCommand(command, context));
  if (command.menu === "File") settleTyping();
  const run = (): void => {
    if (isEnabled(command, stateNow())) void command.run(context);
  };
  const isHeld = (command.needsSignals && isBehind()) || (held > 0 && command.undo !== "none");
  if (!isHeld) return run();
  held++;
  onceAnalysed(() => {
    held--;
    run();
  });
}

/** Commands that wait for what arrives where. What is undone after one of them is pressed is what it did. */
let held = 0;

/** What is being typed becomes an edit as when the field is left, so that a file that says “saved” has it. */
export function settleTyping(): void {
  // Tests run without a page, or with a stand-in that has no elements.
  const field = globalThis.document?.activeElement;
  if (typeof HTMLElement === "undefined" || !(field instanceof HTMLElement)) return;
  if (!field.matches("input, textarea")) return;
  const inGrid = field.closest("[role=grid]") !== null;
  field.blur();
  if (inGrid) focusGridSoon();
  else if (field.isConnected) field.focus({ preventScroll: true });
}

const waits = (command: Command): boolean =>
  command.menu === "File" ||
  command.menu === "Edit" ||
  command.menu === "Rig" ||
  !isEnabled(command, stateNow());

/** Commands of a menu in groups, in the order in which they stand. */
export function groupsOf(menu: MenuName): readonly (readonly Command[])[] {
  const groups = new Map<number, Command[]>();
  for (const command of COMMANDS.filter((candidate) => candidate.menu === menu)) {
    const group = groups.get(command.group);
    if (group) group.push(command);
    else groups.set(command.group, [command]);
  }
  return [...groups.entries()].sort(([a], [b]) => a - b).map(([, commands]) => commands);
}

/** The menu for a host that has one of its own. */
export function menuEntries(state: CommandState): readonly MenuEntry[] {
  return MENUS.map((menu) => ({
    kind: "submenu",
    label: menu,
    entries: groupsOf(menu).flatMap((commands, index): MenuEntry[] => [
      ...(index > 0 ? [{ kind: "separator" } as const] : []),
      ...commands.map((command): MenuEntry => ({
        kind: "command",
        id: command.id,
        label: labelOf(command, state),
        // Those of the clipboard the host has for text fields too, where it needs them.
        keys: command.keysBy === "clipboard" ? "" : (command.keys?.[0] ?? ""),
        enabled: isEnabled(command, state),
      })),
    ]),
  }));
}
