/** A slim bar of terminals, each in its owner's colour and hatch; what nobody feeds stays empty. */
import { memo } from "react";
import { arrivesAt, ownerIndex, type Analysis } from "#engine";
import { ownersOf } from "../theme/owners.ts";

interface Run {
  readonly from: number;
  readonly count: number;
  readonly fill: string | null;
}

export const OwnerBar = memo(function OwnerBar({
  analysis,
  terminals,
  cell = 7,
  height = 12,
}: {
  analysis: Analysis;
  terminals: readonly number[];
  cell?: number;
  height?: number;
}) {
  const runs = runsOf(analysis, terminals);
  const width = terminals.length * cell;
  return (
    <svg className="owner-bar" width={width + 1} height={height + 1} aria-hidden="true" focusable="false">
      {runs.map(({ from, count, fill }) => (
        <rect
          key={from}
          x={from * cell + 0.5}
          y="0.5"
          width={count * cell}
          height={height}
          fill={fill ?? "var(--owner-none)"}
        />
      ))}
      <path
        d={terminals.map((_, n) => (n === 0 ? "" : `M${n * cell + 0.5} 0.5v${height}`)).join("")}
        stroke="var(--panel)"
        strokeOpacity="0.7"
      />
      <rect x="0.5" y="0.5" width={width} height={height} fill="none" stroke="var(--edge)" />
    </svg>
  );
});

function runsOf({ show, wiring, arrivals }: Analysis, terminals: readonly number[]): readonly Run[] {
  const owners = ownersOf(show);
  const runs: Run[] = [];
  terminals.forEach((terminal, from) => {
    const owner = ownerIndex(wiring, arrivals, terminal);
    const look = owner < 0 ? undefined : owners.get(wiring.devices[owner]!.device.id);
    // Straight from a source: fed, but no console's.
    const fill = look?.pattern ?? (arrivesAt(wiring, arrivals, terminal) ? "var(--unlit)" : null);
    const last = runs.at(-1);
    if (last && last.fill === fill) runs[runs.length - 1] = { ...last, count: last.count + 1 };
    else runs.push({ from, count: 1, fill });
  });
  return runs;
}
