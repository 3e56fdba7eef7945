/** What the parts of the renderer know of each other: the store's shape. `store.ts` makes it; canvas and panels use it. */
import type {
  Analysis,
  Assignment,
  CableId,
  CableKind,
  Device,
  DeviceId,
  DeviceType,
  Edit,
  FileStamp,
  LoadError,
  Metres,
  MixId,
  ModeId,
  NoWay,
  Patching,
  PlaceId,
  Planned,
  Point,
  Result,
  SampleRate,
  Show,
  ShowId,
  SourceId,
  Terminal,
  Trace,
  TypeChange,
  Way,
} from "#engine";

/** What the user looks at. Not part of the document: it is neither saved nor undone. */
export type Focus =
  /** A jack, a link's slot, a channel or a tap: its trace upstream, and for what is no output jack also downstream. */
  | { readonly kind: "terminal"; readonly terminal: Terminal }
  /** Neighbouring terminals of one group, such as an output block. */
  | { readonly kind: "block"; readonly terminals: readonly Terminal[] }
  | { readonly kind: "source"; readonly source: SourceId }
  | { readonly kind: "mix"; readonly mix: MixId }
  | { readonly kind: "device"; readonly device: DeviceId }
  | { readonly kind: "cable"; readonly cable: CableId }
  | { readonly kind: "finding"; readonly finding: string };

/** What the focus lights up on the canvas, worked out once for all who draw it. */
export interface Lit {
  readonly traces: readonly Trace[];
  /** False: there are more ways than are told. */
  readonly complete: boolean;
  /** Numbers of terminals in the wiring. */
  readonly terminals: ReadonlySet<number>;
  readonly devices: ReadonlySet<DeviceId>;
  readonly cables: ReadonlySet<CableId>;
}

/** Where the canvas should go. `serial` makes the same target count again. */
export interface Reveal {
  readonly devices: readonly DeviceId[];
  readonly serial: number;
}

export type Scheme = "light" | "dark" | "dim";
export type SchemeChoice = Scheme | "system";

/** Everything that can happen to the document. One function applies it (`changes.ts`), one stack undoes it. */
export type Change =
  | {
      readonly kind: "move-devices";
      readonly to: readonly { readonly device: DeviceId; readonly at: Point }[];
    }
  | { readonly kind: "move-place"; readonly place: PlaceId; readonly at: Point }
  | { readonly kind: "rename-device"; readonly device: DeviceId; readonly name: string }
  | { readonly kind: "edit-device"; readonly device: DeviceId; readonly set: DeviceEdit }
  | { readonly kind: "edit-cable"; readonly cable: CableId; readonly set: CableEdit }
  /**
   * Makes `count` destinations take from as many sources; `from` null leaves them unassigned. `clear`: so many
   * destinations lose what they took before, where that is more than `count`.
   */
  | {
      readonly kind: "assign";
      readonly device: DeviceId;
      readonly to: Assignment["to"];
      readonly count: number;
      readonly clear?: number;
      readonly from: Assignment["from"] | null;
    }
  | { readonly kind: "set-title"; readonly title: string }
  | { readonly kind: "set-words"; readonly words: Partial<Pick<Show, "venue" | "notes">> }
  /** Keeps the show as it is now, after the edits, under a name. */
  | {
      readonly kind: "mark-revision";
      readonly name: string;
      readonly date: string;
      readonly note: string;
      readonly edits?: readonly Edit[];
    }
  /** Record by record, as a finding's way out proposes it. */
  | { readonly kind: "edits"; readonly edits: readonly Edit[] };

/** `undefined` takes a setting back to what the type or the show says. */
export interface DeviceEdit {
  readonly mode?: ModeId;
  readonly position?: number;
  readonly powered?: boolean;
  readonly sampleRate?: SampleRate | undefined;
  readonly clock?: Device["clock"] | undefined;
  readonly notes?: string | undefined;
}

export interface CableEdit {
  readonly tag?: string;
  readonly kind?: CableKind;
  readonly length?: Metres | undefined;
}

export interface FileState {
  /** Null: never saved. */
  readonly path: string | null;
  readonly stamp: FileStamp | null;
  /** Milliseconds since 1970; null: not in this session. */
  readonly savedAt: number | null;
  readonly saving: boolean;
  /** One plain line, such as `not saved: disk full`; null where all is well. */
  readonly trouble: string | null;
}

export interface AppState {
  /** The document. */
  readonly show: Show;
  /** What is drawn: of the document, or while the engine is at work of the one before. */
  readonly analysis: Analysis;
  /** The document that the findings are of: for some milliseconds after an edit the one before. */
  readonly foundIn: Show;
  readonly file: FileState;
  readonly modified: boolean;
  readonly focus: Focus | null;
  readonly lit: Lit;
  readonly reveal: Reveal | null;
  readonly scheme: SchemeChoice;
  readonly undoLabel: string | null;
  readonly redoLabel: string | null;
  /** Number of the document's state: after undo and redo it is the one of before. */
  readonly revision: number;
  /** Applies a change as one undoable step named `label`. Does nothing where the document wouldn't differ. */
  change(change: Change, label: string): void;
  undo(): void;
  redo(): void;
  /** The document as it would be if `edit` made its changes, which it doesn't. */
  rehearse(edit: () => void): Show;
  /** Focusing never touches undo, redo or the modified mark. `reveal`: also take the canvas there. */
  look(focus: Focus | null, reveal?: boolean): void;
  /** Takes the canvas to devices without focusing anything. */
  showOnCanvas(devices: readonly DeviceId[]): void;
  /** Takes another document in place of this one. Undo, focus and file state start anew. */
  replace(show: Show, file: Partial<FileState>, modified: boolean): void;
  /** What became of the file. Touches neither document nor undo. */
  noteFile(file: Partial<FileState>): void;
  /** The document as it was at `revision` is safely in the file. */
  noteSaved(revision: number, file: Pick<FileState, "path" | "stamp" | "savedAt">): void;
  setScheme(scheme: SchemeChoice): void;
  /** The show in a file's text, checked. `as`: an id that it takes in place of its own. The document stays as it is. */
  read(text: string, as: ShowId | null): Promise<Result<Show, LoadError>>;
  /** What a version of a device type would do to the document as it is now. */
  tryType(type: DeviceType): Promise<TypeChange>;
  /** Settings that would bring what the document plans as it is now; makes none of them. */
  patch(what: Planned): Promise<Patching>;
  /** A way over settings, for terminals of `rig`, which is the analysis now. In the engine's own thread where there is one. */
  findWay(rig: Analysis, sources: readonly number[], targets: readonly number[]): Promise<Way | NoWay>;
}
