/** Groups of outputs that should arrive together, made from what is looked at. */
import {
  findTerminal,
  fullName,
  id,
  isOutput,
  locate,
  terminalOf,
  type Analysis,
  type ArrivalGroup,
  type ArrivalGroupId,
  type Show,
} from "#engine";
import type { Focus } from "./contract.ts";

/** The output jacks among what is looked at, by their numbers in the wiring. */
export function lookedAtOutputs({ wiring }: Analysis, focus: Focus | null): readonly number[] {
  const terminals =
    focus?.kind === "block" ? focus.terminals : focus?.kind === "terminal" ? [focus.terminal] : [];
  return terminals
    .map((terminal) => findTerminal(wiring, terminal))
    .filter((at) => at !== null && isOutput(locate(wiring, at).span)) as readonly number[];
}

/** A new group of the jacks, named after the first and last of them. */
export function groupOf({ wiring, show }: Analysis, jacks: readonly number[]): ArrivalGroup {
  const [first, last] = [jacks[0]!, jacks.at(-1)!];
  const name =
    jacks.length === 1 ? fullName(wiring, first) : `${fullName(wiring, first)} to ${fullName(wiring, last)}`;
  return {
    id: freeId(show),
    name,
    members: jacks.map((jack) => {
      const { device, group, number } = terminalOf(wiring, jack);
      return { device, group, number };
    }),
  };
}

/** The group with jacks that it doesn't have yet. */
export function widened(group: ArrivalGroup, { members }: ArrivalGroup): ArrivalGroup {
  const has = (ref: ArrivalGroup["members"][number]): boolean =>
    group.members.some(
      (each) => each.device === ref.device && each.group === ref.group && each.number === ref.number,
    );
  return { ...group, members: [...group.members, ...members.filter((ref) => !has(ref))] };
}

function freeId({ groups = [] }: Show): ArrivalGroupId {
  const taken = new Set<string>(groups.map((group) => group.id));
  let number = groups.length + 1;
  while (taken.has(`group-${number}`)) number++;
  return id<ArrivalGroupId>(`group-${number}`);
}
