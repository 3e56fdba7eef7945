/** The document. One show is one file; only what stands here is saved. */
import type { CableKind, DeviceType, Range } from "./device-type.ts";
import type {
  ArrivalGroupId,
  CableId,
  ChannelId,
  DeviceId,
  GroupId,
  MixId,
  ModeId,
  PlaceId,
  ShowId,
  SourceId,
  StreamId,
  TypeId,
  WantId,
} from "./ids.ts";
import type { Metres, Ms, SampleRate } from "./units.ts";

export const SHOW_FORMAT = "hopline.show";
/** The file version that this code writes. Older ones are brought up by `exchange/migrate.ts`. */
export const SHOW_VERSION = 1;

export const PAPERS = ["A4", "A3", "Letter", "Tabloid"] as const;
export type Paper = (typeof PAPERS)[number];

export interface Settings {
  readonly sampleRate: SampleRate;
  readonly units: "metric" | "imperial";
  readonly paper: Paper;
  /** The longest time that a wanted feed may take from a source to its jack. Left out: no limit. */
  readonly latencyLimit?: Ms;
  /** Of the air, in °C: how far sound goes in a time. Left out: 20. */
  readonly temperature?: number;
}

/** The temperature of the air where the settings name none, in °C. */
export const USUAL_TEMPERATURE = 20;

/** A point on the canvas, in canvas units. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A part of the site: front of house, monitor position, stage left, truck. An area on the canvas. */
export interface Place {
  readonly id: PlaceId;
  readonly name: string;
  readonly at: Point;
  readonly size: { readonly width: number; readonly height: number };
}

/** One terminal of a bank or of a mix section. Numbers start at 1. */
export interface TerminalRef {
  readonly device: DeviceId;
  readonly group: GroupId;
  readonly number: number;
}

/** A routing setting: `count` terminals from `to` on take from as many terminals from `from` on. */
export interface Assignment {
  readonly to: { readonly group: GroupId; readonly first: number };
  readonly from: { readonly group: GroupId; readonly first: number };
  readonly count: number;
}

export interface Device {
  readonly id: DeviceId;
  readonly name: string;
  readonly type: TypeId;
  readonly place: PlaceId;
  readonly at: Point;
  readonly mode: ModeId;
  /** Place in its chain, counted from the console: 1, 2, … */
  readonly position: number;
  readonly powered: boolean;
  /** Left out: the show's rate. */
  readonly sampleRate?: SampleRate;
  /** Left out: as the type says. */
  readonly clock?: "internal" | GroupId;
  readonly routing: readonly Assignment[];
  /** Inserts that are in, by their returns. */
  readonly inserts?: readonly Range[];
  readonly notes?: string;
}

/** Where a cable's end is plugged: a port, or the first of `ways` jacks of a bank. */
export interface CableEnd {
  readonly device: DeviceId;
  readonly group: GroupId;
  /** The first jack; 1 for a port. */
  readonly first: number;
}

export interface Cable {
  readonly id: CableId;
  readonly kind: CableKind;
  /** Left out: not known yet. */
  readonly length?: Metres;
  readonly tag: string;
  /** Jacks that it joins, one by one: 1 for a link or a single cable, more for a multicore. */
  readonly ways: number;
  readonly ends: readonly [CableEnd, CableEnd];
}

export const SOURCE_KINDS = ["microphone", "DI", "line", "playback", "talkback"] as const;
export type SourceKind = (typeof SOURCE_KINDS)[number];

/** Something that makes sound, and the input jack that it is plugged in. */
export interface Source {
  readonly id: SourceId;
  readonly name: string;
  readonly kind: SourceKind;
  readonly at: TerminalRef;
  readonly phantom: boolean;
  /** The console that sets the analogue gain. */
  readonly preampOwner?: DeviceId;
  /** The analogue gain that it sets, in dB. Left out: not noted. */
  readonly gain?: number;
}

/** A console's channel: what it is called there, and the source that it is meant to carry. */
export interface ChannelPlan {
  readonly id: ChannelId;
  readonly console: DeviceId;
  readonly group: GroupId;
  readonly number: number;
  readonly name: string;
  readonly source?: SourceId;
  /** The channel's digital trim in dB. Left out: 0. */
  readonly trim?: number;
  /** The channel trims digitally against each step of its source's analogue gain. */
  readonly follows?: boolean;
}

export interface MixMember {
  readonly group: GroupId;
  readonly number: number;
  readonly tap: "pre" | "post";
}

/** A bus of a mix engine in use: its name, and what goes into it. A stereo one takes two neighbouring buses. */
export interface Mix {
  readonly id: MixId;
  readonly console: DeviceId;
  readonly group: GroupId;
  readonly first: number;
  readonly width: 1 | 2;
  readonly name: string;
  readonly members: readonly MixMember[];
}

/** A feed that must reach a jack. */
export interface Want {
  readonly id: WantId;
  readonly name: string;
  readonly to: TerminalRef;
  /** The tap that it has to come from. Left out: anything that arrives will do. */
  readonly from?: TerminalRef;
  /** The longest time from a source to the jack. Left out: the show's limit. */
  readonly limit?: Ms;
}

/** Outputs that should arrive together: left and right, or the boxes of one array. */
export interface ArrivalGroup {
  readonly id: ArrivalGroupId;
  readonly name: string;
  readonly members: readonly TerminalRef[];
  /** The longest time from the first arrival to the last. Left out: 0.01 ms, which is common practice. */
  readonly within?: Ms;
}

/** AES67 packet times in milliseconds: 1 is required of every device, the others are optional. */
export const PACKET_TIMES = [0.125, 0.25, 1 / 3, 1, 4] as const;

/** Channels that one network port sends and others take, over switches. */
export interface Stream {
  readonly id: StreamId;
  readonly name: string;
  /** The port that sends, and its first slot. */
  readonly from: CableEnd;
  readonly channels: number;
  /** Milliseconds of sound in one packet. */
  readonly packetTime: number;
  /** The ports that take it, each with the slot that takes the first channel. */
  readonly to: readonly CableEnd[];
}

export interface LineCheck {
  readonly at: TerminalRef;
  readonly result: "passed" | "failed";
  readonly date: string;
  readonly note: string;
  /** Fingerprint of the trace as it was checked. */
  readonly trace: string;
}

export interface Revision {
  readonly name: string;
  readonly date: string;
  readonly note: string;
  /** What the show was. Left out: the revision is a note and no more. In the file as differences (`exchange/revisions.ts`). */
  readonly was?: ShowContent;
}

/** What was chosen when papers of the show were made last. What is left out is as usual. */
export interface Paperwork {
  /** Who answers for the papers. */
  readonly author?: string;
  /** Kinds and single sheets as `sheetsNamed` takes them; names that nothing has any more are passed over. */
  readonly sheets?: readonly string[];
  /** Of all but the diagram and labels. Left out: half of the settings' paper, where that is a large one. */
  readonly listPaper?: Paper;
  readonly diagram?: {
    /** Laid out for paper, or as the devices stand on the canvas. */
    readonly arrangement?: "tidy" | "canvas";
    readonly delays?: boolean;
  };
  readonly strips?: {
    /** Jacks in a row of the panel. Left out: as they share a bank evenly. */
    readonly perRow?: 8 | 12 | 16;
    readonly digits?: boolean;
  };
  readonly tags?: {
    /** A usual sheet of labels by its id. Left out, or one that isn't known: plain paper to be cut. */
    readonly on?: string;
    readonly order?: "cable" | "place";
  };
}

/** What a show is, without what tells the file, what has happened to it and how it is printed. */
export type ShowContent = Omit<Show, "format" | "version" | "id" | "lineChecks" | "revisions" | "paperwork">;

export interface Show {
  readonly format: typeof SHOW_FORMAT;
  readonly version: typeof SHOW_VERSION;
  readonly id: ShowId;
  readonly title: string;
  readonly venue: string;
  readonly notes: string;
  readonly settings: Settings;
  readonly places: readonly Place[];
  readonly types: readonly DeviceType[];
  readonly devices: readonly Device[];
  readonly cables: readonly Cable[];
  readonly sources: readonly Source[];
  readonly channels: readonly ChannelPlan[];
  readonly mixes: readonly Mix[];
  readonly wants: readonly Want[];
  readonly streams?: readonly Stream[];
  readonly groups?: readonly ArrivalGroup[];
  readonly lineChecks: readonly LineCheck[];
  readonly revisions: readonly Revision[];
  readonly paperwork?: Paperwork;
}
