/** Who analyses the document for the store: the engine in this thread, or the one in the worker. */
import {
  changeTypeIn,
  loadShow,
  ok,
  patchPlanned,
  reanalyse,
  wayFor,
  type Analysis,
  type DeviceType,
  type LoadError,
  type NoWay,
  type Patching,
  type Planned,
  type Result,
  type Show,
  type ShowId,
  type TypeChange,
  type Way,
} from "#engine";

export interface Analyst {
  /**
   * The analysis of a show if it can be had at once. Null: it comes later, by what `answer` was given; of several shows
   * asked for in a row only the last is sure of an answer.
   */
  ask(show: Show): Analysis | null;
  /** The show in a file's text. `as`: an id that it takes in place of its own. */
  read(text: string, as: ShowId | null): Promise<Result<Show, LoadError>>;
  /** What a version of a device type would do to the show. */
  tryType(show: Show, type: DeviceType): Promise<TypeChange>;
  /** Settings that would bring what the show plans. */
  patch(show: Show, what: Planned): Promise<Patching>;
  /** A way over settings of the rig (N rules), for terminals of its wiring. */
  findWay(rig: Analysis, sources: readonly number[], targets: readonly number[]): Promise<Way | NoWay>;
}

/** `first`: an analysis to start from. `answer`: takes the analyses that come later. */
export type MakeAnalyst = (first: Analysis, answer: (analysis: Analysis) => void) => Analyst;

/** Reads a file in this thread. */
export function readHere(text: string, as: ShowId | null): Promise<Result<Show, LoadError>> {
  const loaded = loadShow(text);
  return Promise.resolve(loaded.ok && as !== null ? ok({ ...loaded.value, id: as }) : loaded);
}

/** Answers at once, in this thread. */
export const inThread: MakeAnalyst = (first) => {
  let last = first;
  return {
    ask: (show) => (last = reanalyse(show, last)),
    read: readHere,
    tryType: (show, type) => Promise.resolve(changeTypeIn((last = reanalyse(show, last)), type)),
    patch: (show, what) => Promise.resolve(patchPlanned((last = reanalyse(show, last)), what)),
    findWay: (...asked) => Promise.resolve(wayFor(...asked)),
  };
};
