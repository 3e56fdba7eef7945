/** All branches of a split, grouped by console; the chosen one's hops stand beside it. */
import { useMemo } from "react";
import {
  findTerminal,
  MOST_BRANCHES,
  ownerIndex,
  shortName,
  type Analysis,
  type DeviceId,
  type Trace,
} from "#engine";
import { OwnerMark } from "../parts/OwnerMark.tsx";
import { Tree, type TreeRow } from "../parts/Tree.tsx";
import type { Focus } from "../state/contract.ts";
import { useApp } from "../state/store.ts";
import { setOpened, useUi } from "../state/ui.ts";
import { ownersOf } from "../theme/owners.ts";
import { deviceName } from "../words/names.ts";
import { msText, plural, verdictName } from "../words/verdicts.ts";

interface Props {
  readonly analysis: Analysis;
  readonly focus: Focus;
  readonly traces: readonly Trace[];
  readonly chosen: number;
  readonly onChoose: (index: number) => void;
}

interface Branch {
  readonly trace: Trace;
  readonly index: number;
  readonly at: number | null;
}

/** `arriving`: the trace upstream of what is looked at, where that has one besides what it reaches. */
function groupsOf({ analysis, focus, traces }: Props) {
  const { wiring, arrivals } = analysis;
  const owners = ownersOf(analysis.show);
  const groups = new Map<string, { title: string; device: DeviceId | null; branches: Branch[] }>();
  const add = (key: string, title: string, device: DeviceId | null, branch: Branch): void => {
    const group = groups.get(key);
    if (group) group.branches.push(branch);
    else groups.set(key, { title, device, branches: [branch] });
  };
  traces.forEach((trace, index) => {
    const at = findTerminal(wiring, trace.target);
    const branch = { trace, index, at };
    const isFocus = focus.kind === "terminal" && at === findTerminal(wiring, focus.terminal) && at !== null;
    if (isFocus) return add("here", "Arrives here", null, branch);
    if (trace.verdict.kind !== "arrives") return add("dark", "Doesn’t arrive", null, branch);
    const owner = at === null ? -1 : ownerIndex(wiring, arrivals, at);
    const device = owner < 0 ? null : wiring.devices[owner]!.device.id;
    if (device === null) return add("none", "Without a console", null, branch);
    return add(device, owners.get(device)?.name ?? deviceName(analysis, device), device, branch);
  });
  return [...groups];
}

export function BranchList(props: Props) {
  const { analysis, focus, traces, chosen, onChoose } = props;
  const opened = useUi((state) => state.opened);
  const owners = ownersOf(analysis.show);

  const rows = useMemo((): readonly TreeRow[] => {
    return groupsOf(props).flatMap(([id, { title, device, branches }]): TreeRow[] => {
      const key = `reach:${id}`;
      const open = opened.get(key) ?? true;
      const owner = device && owners.get(device);
      const head: TreeRow = {
        key,
        level: 1,
        open,
        name: `${title}: ${plural(branches.length, "way", "ways")}`,
        render: () => (
          <>
            {owner && <OwnerMark owner={owner} decorative />}
            <span className="cut strong">{title}</span>
            <span className="row-end soft number small">{branches.length}</span>
          </>
        ),
      };
      return open ? [head, ...branches.map((branch) => branchRow(analysis, branch, onChoose))] : [head];
    });
    // The traces and their focus change together.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [analysis, traces, opened, owners, onChoose]);

  const complete = useApp((state) => state.lit.complete);
  const jacks = new Set(traces.map(({ target }) => JSON.stringify(target))).size;
  const title =
    focus.kind === "source" || focus.kind === "mix"
      ? `Reaches ${plural(jacks, "jack", "jacks")}`
      : `${traces.length} traces`;
  return (
    <div className="branches">
      <h3 className="branches-title">{title}</h3>
      {!complete && (
        <p className="soft small branches-cut">
          Only the first {MOST_BRANCHES.toLocaleString("en")} ways are listed: ways that part and meet again
          multiply.
        </p>
      )}
      <Tree
        label={title}
        rows={rows}
        selected={`branch:${chosen}`}
        onToggle={(key, open) => setOpened([key], open)}
        empty={null}
      />
    </div>
  );
}

function branchRow(
  analysis: Analysis,
  { trace, index, at }: Branch,
  onChoose: (index: number) => void,
): TreeRow {
  const name = at === null ? "gone" : shortName(analysis.wiring, at);
  const device = deviceName(analysis, trace.target.device);
  const arrives = trace.verdict.kind === "arrives";
  return {
    key: `branch:${index}`,
    level: 2,
    name: `${device} ${name}`,
    press: () => onChoose(index),
    render: () => (
      <>
        <span className="cut keep">
          {device} <span className="soft">{name}</span>
        </span>
        <span className={`row-end number small ${arrives ? "soft" : "tone-danger"}`}>
          {arrives ? `${msText(trace.delay)} ms` : verdictName(trace.verdict.kind)}
        </span>
      </>
    ),
  };
}
