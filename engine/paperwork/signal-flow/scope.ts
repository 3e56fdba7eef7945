/** What of a rig a signal-flow diagram shows: the whole of it, or what one console, place or signal has to do with. */
import type { DeviceId, PlaceId, SourceId } from "../../model/ids.ts";
import { never } from "../../model/result.ts";
import type { TerminalRef } from "../../model/show.ts";
import type { Analysis } from "../../analysis.ts";
import { isJoin } from "../../trace/joins.ts";
import { ownersAt } from "../../trace/owners.ts";
import { MOST_STEPS, reachOf } from "../../trace/reach.ts";
import { sourcesById } from "../../trace/records.ts";
import { findTerminal, fullName } from "../../trace/terminal.ts";
import { Edge, State, type Wiring } from "../../wiring/wiring.ts";

export type DiagramScope =
  | { readonly kind: "rig" }
  /** The jacks that the console owns, and every device on the way there. */
  | { readonly kind: "console"; readonly device: DeviceId }
  /** The devices of a place; cables that leave it are marked. */
  | { readonly kind: "place"; readonly place: PlaceId }
  /** From a source to every jack that it reaches. */
  | { readonly kind: "source"; readonly source: SourceId }
  /** From where a jack's signal comes, mixes opened back to their sources, to the jack, and on to every jack that it reaches. */
  | { readonly kind: "jack"; readonly at: TerminalRef };

export interface Scoped {
  readonly title: string;
  /** Indexes of devices in the show. */
  readonly devices: ReadonlySet<number>;
  /** Indexes of cables in the show. */
  readonly cables: ReadonlySet<number>;
  /** The terminals whose signals make the diagram; null: all of the rig. */
  readonly way: ReadonlySet<number> | null;
  /** Only these are told of; null: all that the devices have. */
  readonly terminals: ReadonlySet<number> | null;
  /** The mixes, direct outs and sends that were opened to what goes into them, nearest to the jack first. */
  readonly taps: readonly number[];
  /** What the diagram can't show of what was asked, in words; empty where it shows all. */
  readonly notes: readonly string[];
}

export function scopeOf(analysis: Analysis, scope: DiagramScope): Scoped {
  const { show, wiring } = analysis;
  switch (scope.kind) {
    case "rig":
      return {
        title: "Signal flow",
        devices: new Set(show.devices.keys()),
        cables: new Set(show.cables.keys()),
        way: null,
        terminals: null,
        taps: [],
        notes: [],
      };
    case "console": {
      const index = wiring.indexOf.get(scope.device);
      if (index === undefined) return nothing("The console isn't in the show.");
      const way = new Way(wiring);
      way.devices.add(index);
      for (const terminal of ownedJacks(analysis, index)) way.up(terminal);
      return {
        title: `Signal flow of ${show.devices[index]!.name}`,
        devices: way.devices,
        cables: way.cables,
        way: way.terminals,
        terminals: null,
        taps: [],
        notes: [],
      };
    }
    case "place": {
      const place = show.places.find(({ id }) => id === scope.place);
      if (!place) return nothing("The place isn't in the show.");
      const devices = new Set([...show.devices.keys()].filter((n) => show.devices[n]!.place === place.id));
      const ids = new Set([...devices].map((n) => show.devices[n]!.id));
      const cables = [...show.cables.keys()].filter((n) =>
        show.cables[n]!.ends.some(({ device }) => ids.has(device)),
      );
      return {
        title: `Signal flow at ${place.name}`,
        devices,
        cables: new Set(cables),
        way: null,
        terminals: null,
        taps: [],
        notes: [],
      };
    }
    case "source": {
      const source = sourcesById(show).get(scope.source);
      const start = source && findTerminal(wiring, source.at);
      if (!source || start === null || start === undefined) return nothing("The source isn't in the show.");
      return signal(wiring, `Signal flow of ${source.name}`, start);
    }
    case "jack": {
      const start = findTerminal(wiring, scope.at);
      if (start === null) return nothing("The jack isn't in the show.");
      return signal(wiring, `Signal flow of ${fullName(wiring, start)}`, start, true);
    }
    default:
      return never(scope);
  }
}

const nothing = (note: string): Scoped => ({
  title: "Signal flow",
  devices: new Set(),
  cables: new Set(),
  way: null,
  terminals: null,
  taps: [],
  notes: [note],
});

/** Output jacks, tracks included, and jacks with nothing behind them, that get something of a device's taps. */
function ownedJacks({ wiring, arrivals }: Analysis, owner: number): readonly number[] {
  const owned: number[] = [];
  for (const wired of wiring.devices) {
    if (!wired) continue;
    for (const span of wired.fabric.layout.spans) {
      if (span.side !== "jack") continue;
      for (let n = 0; n < span.count; n++) {
        const terminal = wired.base + span.start + n;
        const isEnd =
          span.bank.direction === "out" || wiring.downStart[terminal + 1] === wiring.downStart[terminal];
        if (isEnd && ownersAt(wiring, arrivals, terminal).includes(owner)) owned.push(terminal);
      }
    }
  }
  return owned;
}

/** Terminals with the devices and cables that lead to them. */
class Way {
  readonly terminals = new Set<number>();
  readonly devices = new Set<number>();
  readonly cables = new Set<number>();
  /** The taps that were opened. */
  readonly taps: number[] = [];
  readonly #wiring: Wiring;
  constructor(wiring: Wiring) {
    this.#wiring = wiring;
  }

  /**
   * Everything upstream of a terminal to where its trace starts, over all legs of passive joins. `opens`: over all that goes
   * into mixes, too.
   */
  up(start: number, opens = false): void {
    const { feeder, state, mixInto } = this.#wiring;
    // What is found first is looked at first, so that taps stand by their nearness.
    const open = [start];
    for (let n = 0; n < open.length; n++) {
      const at = open[n]!;
      if (this.terminals.has(at)) continue;
      this.add(at);
      if (feeder[at]! >= 0) {
        this.#over(at);
        open.push(feeder[at]!);
      } else if (state[at] === State.tap && (opens || isJoin(this.#wiring, at))) {
        const [first, last] = [mixInto.start[at]!, mixInto.start[at + 1]!];
        for (let member = first; member < last; member++) open.push(mixInto.terminal[member]!);
        if (last > first && !isJoin(this.#wiring, at)) this.taps.push(at);
      }
    }
  }

  add(terminal: number): void {
    this.terminals.add(terminal);
    this.devices.add(this.#wiring.deviceOf[terminal]!);
  }

  /** The cables of the step into a terminal. */
  #over(terminal: number): void {
    const { edge, setting, ways, deviceOf } = this.#wiring;
    if (edge[terminal] === Edge.cable) this.cables.add(setting[terminal]!);
    if (edge[terminal] !== Edge.stream) return;
    for (const { cable } of ways[setting[terminal]!]!.legs) {
      this.cables.add(cable.index);
      // The switches that a stream passes have no terminals of their own on its way.
      for (const socket of cable.sockets) if (socket.kind === "port") this.devices.add(socket.device.index);
    }
    this.devices.add(deviceOf[terminal]!);
  }
}

function signal(wiring: Wiring, title: string, start: number, opens = false): Scoped {
  const way = new Way(wiring);
  way.up(start, opens);
  const { traces, complete } = reachOf(wiring, start);
  const cables = new Map(wiring.show.cables.map(({ id }, index) => [id, index]));
  for (const { hops } of traces) {
    for (const { steps } of hops) {
      for (const step of steps) {
        for (const end of [step.from, step.to]) {
          const terminal = findTerminal(wiring, end);
          if (terminal !== null) way.add(terminal);
        }
        if (step.kind === "cable") way.cables.add(cables.get(step.cable)!);
      }
    }
  }
  return {
    title,
    devices: way.devices,
    cables: way.cables,
    way: way.terminals,
    terminals: way.terminals,
    taps: way.taps,
    notes: complete ? [] : [`The signal branches too often: what lies past ${MOST_STEPS} steps is left out.`],
  };
}
