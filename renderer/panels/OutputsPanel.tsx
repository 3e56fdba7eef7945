/** Who owns every output block of every box, and what arrives at each jack: the question the day is about. */
import { useDeferredValue, useEffect, useMemo, useState } from "react";
import {
  fullName,
  locate,
  ownerIndex,
  sideName,
  terminalOf,
  type Analysis,
  type Block,
  type DeviceId,
  type Terminal,
} from "#engine";
import { OwnerMark } from "../parts/OwnerMark.tsx";
import { OwnerBar } from "../parts/OwnerBar.tsx";
import { Pill } from "../parts/Pill.tsx";
import { Tree, type TreeRow } from "../parts/Tree.tsx";
import { boxOutputs, firstTerminal, jacksByOwner, type BoxOutputs } from "../state/derived.ts";
import { app, useApp } from "../state/store.ts";
import { setOpened, useUi } from "../state/ui.ts";
import { ownersOf, type OwnerLook, type Owners } from "../theme/owners.ts";
import { calledName, namesIn, numberText, originOf, runName } from "../words/names.ts";
import { BLOCK_TONES, verdictAt, verdictName, VERDICT_TONES } from "../words/verdicts.ts";

/** `null`: all jacks; `"dark"`: those at which nothing arrives. */
type Only = DeviceId | "dark" | null;

const boxKey = (device: DeviceId): string => `box:${device}`;
const blockKey = ({ wired, first, span }: Block): string =>
  `block:${wired.device.id}:${sideName(span)}:${first}`;
const jackKey = ({ device, group, number }: Terminal): string => `jack:${device}:${group}:${number}`;

/** Boxes stand open, loudspeakers and the like closed: their one jack is seldom what is looked for. */
const opensAtFirst = ({ wired }: BoxOutputs): boolean =>
  ["stage box", "breakout", "console"].includes(wired.fabric.layout.type.category);

export function OutputsPanel() {
  // After an edit what is typed and the number of findings come first.
  const analysis = useDeferredValue(useApp((state) => state.analysis));
  const opened = useUi((state) => state.opened);
  const [filter, setFilter] = useState("");
  const [only, setOnly] = useState<Only>(null);
  const owners = ownersOf(analysis.show);
  const selected = useSelectedKey(analysis);
  const isFiltered = filter.trim() !== "" || only !== null;

  const rows = useMemo(
    () => boxOutputs(analysis).flatMap((box) => boxRows(analysis, owners, box, opened, filter, only)),
    [analysis, owners, opened, filter, only],
  );

  return (
    <section className="panel" aria-labelledby="outputs-title">
      <header className="panel-head">
        <h2 id="outputs-title">Outputs</h2>
        <span className="soft">by box and block</span>
      </header>
      <div className="panel-tools">
        <OwnerChips analysis={analysis} owners={owners} only={only} onOnly={setOnly} />
        <input
          className="field"
          type="search"
          aria-label="Filter outputs"
          placeholder="Filter by jack, mix or want"
          value={filter}
          onChange={(event) => setFilter(event.target.value)}
        />
      </div>
      <Tree
        label="Outputs by box and block"
        rows={rows}
        selected={selected}
        onToggle={(key, open) => setOpened([key], open)}
        empty={
          <p className="soft">
            {isFiltered ? "No output jack fits the filter." : "No device in this show has output jacks."}
          </p>
        }
      />
    </section>
  );
}

/** The row of what is looked at; the box and block that it lies in open for it. */
function useSelectedKey(analysis: Analysis): string | null {
  const focus = useApp((state) => state.focus);
  const found = useMemo(() => {
    const terminal =
      focus?.kind === "terminal" ? focus.terminal : focus?.kind === "block" ? focus.terminals[0] : null;
    if (!terminal || !focus) return null;
    for (const { wired, blocks } of boxOutputs(analysis)) {
      if (wired.device.id !== terminal.device) continue;
      const block = blocks.find(
        ({ span, first, last }) =>
          span.side === "jack" &&
          span.bank.id === terminal.group &&
          terminal.number >= first &&
          terminal.number <= last,
      );
      if (!block) return null;
      return focus.kind === "block"
        ? { key: blockKey(block), open: [boxKey(terminal.device)] }
        : { key: jackKey(terminal), open: [boxKey(terminal.device), blockKey(block)] };
    }
    return null;
  }, [analysis, focus]);
  useEffect(() => {
    if (found) setOpened(found.open, true);
    // Opens when something else is looked at, and not again when the user has closed it.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [focus]);
  return found?.key ?? null;
}

function OwnerChips({
  analysis,
  owners,
  only,
  onOnly,
}: {
  analysis: Analysis;
  owners: Owners;
  only: Only;
  onOnly: (only: Only) => void;
}) {
  const counts = jacksByOwner(analysis);
  const all = boxOutputs(analysis).reduce(
    (sum, { blocks }) => sum + blocks.reduce((inner, { first, last }) => inner + last - first + 1, 0),
    0,
  );
  const fed = [...counts.values()].reduce((sum, count) => sum + count, 0);
  const chip = (value: Exclude<Only, null>, name: string, count: number, owner: OwnerLook | null) => (
    <button
      key={value}
      type="button"
      className="chip"
      aria-pressed={only === value}
      aria-label={`Only ${name}: ${count} jacks`}
      title={name}
      onClick={() => onOnly(only === value ? null : value)}
    >
      {owner ? <OwnerMark owner={owner} decorative /> : <span className="chip-none" aria-hidden="true" />}
      <span className="number">{count}</span>
    </button>
  );
  return (
    <div className="chips" role="group" aria-label="Jacks by owner">
      {[...owners.values()]
        .filter(({ device }) => counts.has(device))
        .map((owner) => chip(owner.device, owner.name, counts.get(owner.device)!, owner))}
      {all - fed > 0 && chip("dark", "without an owner", all - fed, null)}
    </div>
  );
}

function boxRows(
  analysis: Analysis,
  owners: Owners,
  box: BoxOutputs,
  opened: ReadonlyMap<string, boolean>,
  filter: string,
  only: Only,
): readonly TreeRow[] {
  const { wired, blocks } = box;
  const { device } = wired;
  const wanted = filter.trim().toLowerCase();
  const isFiltered = wanted !== "" || only !== null;
  const open = isFiltered || (opened.get(boxKey(device.id)) ?? opensAtFirst(box));
  const inner = blocks.flatMap((block): readonly TreeRow[] => {
    const blockOpen = isFiltered || (opened.get(blockKey(block)) ?? false);
    const jacks = blockOpen
      ? terminalsIn(block)
          .filter((terminal) => fits(analysis, terminal, wanted, only))
          .map((terminal) => jackRow(analysis, owners, terminal))
      : [];
    if (isFiltered && jacks.length === 0) return [];
    return [blockRow(analysis, owners, block, blockOpen), ...jacks];
  });
  if (isFiltered && inner.length === 0) return [];
  const head: TreeRow = {
    key: boxKey(device.id),
    level: 1,
    open,
    name: device.name,
    press: () => {
      app.getState().look({ kind: "device", device: device.id }, true);
      setOpened([boxKey(device.id)], true);
    },
    render: () => (
      <>
        <span className="cut strong keep">{device.name}</span>
        <span className="cut soft small">{wired.fabric.mode?.name ?? device.mode}</span>
        <span className="row-end soft number small">{jackCount(blocks)}</span>
      </>
    ),
  };
  return open ? [head, ...inner] : [head];
}

const jackCount = (blocks: readonly Block[]): number =>
  blocks.reduce((sum, { first, last }) => sum + last - first + 1, 0);

const terminalsIn = (block: Block): readonly number[] =>
  Array.from({ length: block.last - block.first + 1 }, (_, n) => firstTerminal(block) + n);

function fits(analysis: Analysis, terminal: number, wanted: string, only: Only): boolean {
  if (only !== null) {
    const owner = ownerIndex(analysis.wiring, analysis.arrivals, terminal);
    const device = owner < 0 ? "dark" : analysis.wiring.devices[owner]!.device.id;
    if (device !== only) return false;
  }
  if (wanted === "") return true;
  const origin = originOf(analysis, terminal);
  const wants = namesIn(analysis).wantsAt.get(terminal) ?? [];
  const text = [
    fullName(analysis.wiring, terminal),
    origin === null ? verdictName(verdictAt(analysis, terminal)) : calledName(analysis, origin),
    ...wants.map(({ name }) => name),
  ].join(" ");
  return text.toLowerCase().includes(wanted);
}

function blockRow(analysis: Analysis, owners: Owners, block: Block, open: boolean): TreeRow {
  const { state } = block;
  const terminals = terminalsIn(block);
  const name = runName(analysis, terminals);
  const names = block.owners.map((id) => owners.get(id)?.name ?? id);
  return {
    key: blockKey(block),
    level: 2,
    open,
    name: `${name}, ${state}${names.length > 0 ? `: ${names.join(", ")}` : ""}`,
    press: () =>
      app.getState().look(
        terminals.length === 1
          ? { kind: "terminal", terminal: terminalOf(analysis.wiring, terminals[0]!) }
          : {
              kind: "block",
              terminals: terminals.map((terminal) => terminalOf(analysis.wiring, terminal)),
            },
        true,
      ),
    render: () => (
      <>
        <span className="row-lead number">{name}</span>
        <OwnerBar analysis={analysis} terminals={terminals} />
        <span className="cut soft">{state === "one owner" ? names[0] : ""}</span>
        {state !== "one owner" && (
          <span className="row-end">
            <Pill tone={BLOCK_TONES[state]}>
              {state === "partly fed" ? `${block.fed} of ${terminals.length} fed` : state}
            </Pill>
          </span>
        )}
      </>
    ),
  };
}

function jackRow(analysis: Analysis, owners: Owners, at: number): TreeRow {
  const { wiring, arrivals } = analysis;
  const terminal = terminalOf(wiring, at);
  const origin = originOf(analysis, at);
  const verdict = verdictAt(analysis, at);
  const index = ownerIndex(wiring, arrivals, at);
  const owner = index < 0 ? null : (owners.get(wiring.devices[index]!.device.id) ?? null);
  const wants = namesIn(analysis).wantsAt.get(at) ?? [];
  const what = origin === null ? verdictName(verdict) : calledName(analysis, origin);
  const missed =
    origin === null && wants.length > 0 ? `wanted: ${wants.map((want) => want.name).join(", ")}` : null;
  const tone = origin === null ? (wants.length > 0 ? "danger" : VERDICT_TONES[verdict]) : null;
  const { span } = locate(wiring, at);
  const number = numberText(analysis, at);
  return {
    key: jackKey(terminal),
    level: 3,
    name: `${sideName(span)} ${number}: ${what}${owner ? ` from ${owner.name}` : ""}`,
    press: () => app.getState().look({ kind: "terminal", terminal }, true),
    render: () => (
      <>
        <span className="row-number number">{number}</span>
        {owner ? <OwnerMark owner={owner} decorative /> : <span className="mark-none" aria-hidden="true" />}
        <span className={`cut keep ${tone ? `tone-${tone}` : ""}`}>{missed ?? what}</span>
        {missed !== null && <span className="cut small soft">{what}</span>}
      </>
    ),
  };
}
