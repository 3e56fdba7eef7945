/**
 * The cells of a node as SVG. Far away a bank is a strip of colours; at the middle depth its blocks carry letter and
 * range; near, every cell has its number and what it is called.
 */
import { memo, type ReactNode } from "react";
import type { DeviceId } from "#engine";
import type { OwnerLook, Owners } from "../theme/owners.ts";
import { cellRect, runRects, stretchesOf, type Rect, type SpanGeometry } from "#engine/layout/geometry.ts";
import type { Level } from "./level.ts";
import { rangeName, type BlockLook, type CellLook, type SpanLook } from "./looks.ts";
import { fittedLabel, lineCount, textWidth } from "#engine/layout/text.ts";
import { cellsName } from "./words.ts";

/** Text of blocks and cells in pixels, and the most that it may grow to in canvas units. */
const BLOCK_TEXT = 10.5;
const BLOCK_MOST = 15;
const CELL_TEXT = 9.5;
/** From this size of a pixel on, small cells have room for a letter and a name. */
const CLOSE = 0.42;

interface SpanProps {
  readonly at: SpanGeometry;
  readonly look: SpanLook;
  readonly owners: Owners;
  readonly level: Level;
}

export const SpanCells = memo(function SpanCells(props: SpanProps) {
  const { at, look, level } = props;
  const outline = runRects(at, 1, at.span.count)
    .map(({ x, y, width, height }) => `M${x} ${y}h${width}v${height}h${-width}z`)
    .join("");
  return (
    <g>
      <path className="bed" d={outline} />
      {level.depth === "near" ? (
        look.cells.map((cell, index) => <NearCell key={index} {...props} cell={cell} number={index + 1} />)
      ) : (
        <>
          <Fills {...props} />
          {level.depth === "middle" && <Blocks {...props} />}
        </>
      )}
      {level.depth !== "near" && <Troubles {...props} />}
      <path className="rim" d={outline} />
    </g>
  );
});

interface Run {
  readonly first: number;
  readonly last: number;
  readonly cell: CellLook;
}

const alike = (a: CellLook, b: CellLook): boolean => a.owner === b.owner && a.fed === b.fed;

function runsOf(cells: readonly CellLook[]): readonly Run[] {
  const runs: Run[] = [];
  cells.forEach((cell, index) => {
    const last = runs.at(-1);
    if (last && alike(last.cell, cell)) runs[runs.length - 1] = { ...last, last: index + 1 };
    else runs.push({ first: index + 1, last: index + 1, cell });
  });
  return runs.filter(({ cell }) => cell.fed);
}

/** A run of small cells that begins or ends within a column can't be told by one rectangle. */
function rectsOf(at: SpanGeometry, first: number, last: number): readonly Rect[] {
  const whole = at.size === "large" || (first % 2 === 1 && (last % 2 === 0 || last === at.span.count));
  if (whole) return runRects(at, first, last);
  return Array.from({ length: last - first + 1 }, (_, n) => cellRect(at, first + n));
}

const fillOf = (owners: Owners, { owner, fed }: CellLook): string | null =>
  !fed
    ? null
    : owner === null
      ? "var(--stage-signal)"
      : (owners.get(owner)?.pattern ?? "var(--stage-signal)");

function Fills({ at, look, owners }: SpanProps) {
  return runsOf(look.cells).flatMap(({ first, last, cell }) =>
    rectsOf(at, first, last).map((rect) => (
      <rect key={`${rect.x} ${rect.y}`} {...rect} fill={fillOf(owners, cell) ?? "none"} />
    )),
  );
}

/** Blocks of one look that follow each other read as one: `F 1–16`. */
function merged(blocks: readonly BlockLook[]): readonly BlockLook[] {
  const runs: BlockLook[] = [];
  for (const block of blocks) {
    const last = runs.at(-1);
    const joins =
      last &&
      last.state === block.state &&
      block.state !== "shared" &&
      block.state !== "partly fed" &&
      last.owners.length === block.owners.length &&
      last.owners.every((owner, n) => owner === block.owners[n]);
    if (joins) runs[runs.length - 1] = { ...last, last: block.last, fed: last.fed + block.fed };
    else runs.push(block);
  }
  return runs;
}

function Blocks({ at, look, owners, level }: SpanProps) {
  const size = Math.min(BLOCK_MOST, BLOCK_TEXT * level.unit);
  return (
    <>
      {look.blocks.map(({ first, last }) =>
        runRects(at, first, last).map((rect, part) => (
          <rect
            key={`${first} ${part}`}
            className="block"
            {...rect}
            {...(part === 0 ? { role: "button", "aria-label": cellsName(owners, look, first, last) } : {})}
          />
        )),
      )}
      {merged(look.blocks).flatMap((block) =>
        stretchesOf(at, block.first, block.last).map(({ first, last, rect }) => (
          <BlockText key={first} rect={rect} block={{ ...block, first, last }} owners={owners} size={size} />
        )),
      )}
    </>
  );
}

function BlockText({
  rect,
  block,
  owners,
  size,
}: {
  rect: Rect;
  block: BlockLook;
  owners: Owners;
  size: number;
}) {
  const looks = block.owners.flatMap((id) => owners.get(id) ?? []);
  const letters = looks.map(({ letter }) => letter).join("+");
  const range = rangeName(block.first, block.last);
  const room = rect.width - 4;
  const width = (text: string): number =>
    textWidth(text, size) + (letters && text.length > letters.length ? size * 0.3 : 0);
  const text = [letters ? `${letters} ${range}` : range, letters].find(
    (option) => option && width(option) <= room,
  );
  if (!text) return null;
  const showRange = text !== letters;
  const [owner] = looks;
  const x = rect.x + rect.width / 2;
  const y = rect.y + rect.height / 2;
  const ground = width(text) + 5;
  const partly = block.fed > 0 && block.fed < block.last - block.first + 1;
  const groundFill =
    looks.length > 1 || (partly && !owner)
      ? "var(--raised)"
      : (owner?.fill ?? (block.fed > 0 ? "var(--stage-signal)" : "var(--panel)"));
  return (
    <g className={block.fed === 0 ? "unfed-text" : undefined}>
      {/* A clear ground, or hatch and separators would run through the text. */}
      <rect
        x={x - ground / 2}
        y={y - size * 0.6}
        width={ground}
        height={size * 1.2}
        rx={1.5}
        fill={groundFill}
      />
      <text
        x={x}
        y={y + size * 0.35}
        fontSize={size}
        textAnchor="middle"
        fill={looks.length > 1 ? "var(--ink)" : (owner?.ink ?? "var(--ink-soft)")}
      >
        {letters && <tspan fontWeight={700}>{letters}</tspan>}
        {showRange && <tspan>{letters ? ` ${range}` : range}</tspan>}
      </text>
    </g>
  );
}

/** A notch at the top right of each dark or faulty block. */
function Troubles({ at, look, level }: SpanProps) {
  const size = Math.min(9, 6 * level.unit);
  return look.blocks.flatMap(({ first, last }) => {
    const worst = look.cells
      .slice(first - 1, last)
      .reduce<CellLook["trouble"]>(
        (found, { trouble }) => (trouble === "danger" || found === null ? (trouble ?? found) : found),
        null,
      );
    if (worst === null) return [];
    const rect = runRects(at, first, last).at(-1)!;
    return [<Notch key={first} rect={rect} size={size} tone={worst} />];
  });
}

function Notch({ rect, size, tone }: { rect: Rect; size: number; tone: string }) {
  const right = rect.x + rect.width;
  return <path className={`notch ${tone}`} d={`M${right - size} ${rect.y}H${right}V${rect.y + size}Z`} />;
}

interface NearProps extends SpanProps {
  readonly cell: CellLook;
  readonly number: number;
}

const numberText = ({ span }: SpanLook, number: number): string => {
  if (span.side !== "jack" || span.bank.perJack === 1) return String(number);
  const leg = number % 2 === 1 ? "A" : "B";
  return span.bank.count === 1 ? leg : `${Math.ceil(number / 2)}${leg}`;
};

function NearCell(props: NearProps) {
  const { at, look, owners, cell, number, level } = props;
  const rect = cellRect(at, number);
  const owner = cell.owner === null ? null : (owners.get(cell.owner) ?? null);
  const size = Math.min(CELL_TEXT * level.unit, 7);
  return (
    <g role="button" aria-label={cellsName(owners, look, number, number)}>
      {at.size === "large" ? (
        <LargeCell rect={rect} owner={owner} cell={cell} size={size} number={numberText(look, number)} />
      ) : (
        <SmallCell
          rect={rect}
          owner={owner}
          cell={cell}
          size={Math.min(size, 5.6)}
          number={String(number)}
          close={level.unit <= CLOSE}
        />
      )}
      {cell.trouble !== null && <Notch rect={rect} size={at.size === "large" ? 6 : 4} tone={cell.trouble} />}
    </g>
  );
}

interface CellProps {
  readonly rect: Rect;
  readonly owner: OwnerLook | null;
  readonly cell: CellLook;
  readonly number: string;
  readonly size: number;
}

function LargeCell({ rect, owner, cell, number, size }: CellProps) {
  const { x, y, width, height } = rect;
  const chip = owner ? Math.max(size * 1.1, textWidth(owner.letter, size) + size * 0.5) : 0;
  const room = width - 3;
  const under = height - size * 1.45;
  const oneLine = fittedLabel(cell.label ?? "", size, room);
  const lines =
    oneLine === cell.label || under < size * 2.3 ? [oneLine] : twoLines(cell.label ?? "", size, room);
  return (
    <>
      <rect
        className="cell"
        {...rect}
        style={owner ? { fill: `color-mix(in srgb, ${owner.fill} 20%, var(--raised))` } : undefined}
        data-fed={cell.fed || undefined}
      />
      {owner && (
        <>
          <rect x={x + width - chip - 1} y={y + 1} width={chip} height={size * 1.2} fill={owner.pattern} />
          <rect
            x={x + width - chip - 1 + chip * 0.14}
            y={y + 1 + size * 0.08}
            width={chip * 0.72}
            height={size * 1.04}
            fill={owner.fill}
          />
          <text
            x={x + width - 1 - chip / 2}
            y={y + 1 + size * 0.97}
            fontSize={size}
            fontWeight={700}
            textAnchor="middle"
            fill={owner.ink}
          >
            {owner.letter}
          </text>
        </>
      )}
      <text className={cell.fed ? "number fed" : "number"} x={x + 2} y={y + size + 0.6} fontSize={size}>
        {number}
      </text>
      {lines.map((line, n) => (
        <text
          key={n}
          className="label"
          x={x + 1.8}
          y={y + height - size * 0.42 - (lines.length - 1 - n) * size * 1.1}
          fontSize={size}
        >
          {line}
        </text>
      ))}
    </>
  );
}

/** Breaks between words where that puts all on two lines, else cuts the second line short. */
function twoLines(text: string, size: number, room: number): readonly string[] {
  const words = text.split(" ");
  for (let cut = words.length - 1; cut > 0; cut--) {
    const first = words.slice(0, cut).join(" ");
    if (lineCount(first, size, room) !== 1) continue;
    return [first, fittedLabel(words.slice(cut).join(" "), size, room)];
  }
  return [fittedLabel(text, size, room)];
}

function SmallCell({ rect, owner, cell, number, size, close }: CellProps & { readonly close: boolean }) {
  const { x, y, width, height } = rect;
  const text = owner && close ? `${owner.letter} ${number}` : number;
  const ground = textWidth(text, size) + size * 0.5;
  const label = close && cell.label ? twoLines(cell.label, size, width - 1) : [];
  const top = close ? y + size * 0.15 : y + height / 2 - size * 0.6;
  return (
    <>
      <rect
        className="cell"
        {...rect}
        style={owner && close ? { fill: `color-mix(in srgb, ${owner.fill} 20%, var(--raised))` } : undefined}
        data-fed={cell.fed || undefined}
      />
      {owner && (
        <rect
          x={x}
          y={close ? y : y}
          width={width}
          height={close ? size * 1.5 : height}
          fill={owner.pattern}
        />
      )}
      {owner && (
        <rect
          x={x + width / 2 - ground / 2}
          y={top}
          width={ground}
          height={size * 1.2}
          rx={0.6}
          fill={owner.fill}
        />
      )}
      <text
        className={cell.fed ? "number fed" : "number"}
        x={x + width / 2}
        y={top + size * 0.97}
        fontSize={size}
        textAnchor="middle"
        style={owner ? { fill: owner.ink } : undefined}
      >
        {text}
      </text>
      {label.map((line, n) => (
        <text
          key={n}
          className="label"
          x={x + width / 2}
          y={y + size * (2.55 + n * 1.1)}
          fontSize={size}
          textAnchor="middle"
        >
          {line}
        </text>
      ))}
    </>
  );
}

/** Lit cells once more, above a veil that dims the rest of the node, with a strong rim around each run. */
export const LitCells = memo(function LitCells({
  at,
  look,
  owners,
  level,
  numbers,
}: SpanProps & { readonly numbers: readonly number[] }) {
  const runs: { first: number; last: number }[] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last && last.last === number - 1) last.last = number;
    else runs.push({ first: number, last: number });
  }
  const parts: ReactNode[] = runs.flatMap(({ first, last }) => {
    if (level.depth === "near") {
      return Array.from({ length: last - first + 1 }, (_, n) => (
        <NearCell
          key={`cell ${first + n}`}
          at={at}
          look={look}
          owners={owners}
          level={level}
          number={first + n}
          cell={look.cells[first + n - 1]!}
        />
      ));
    }
    return Array.from({ length: last - first + 1 }, (_, n) => {
      const cell = look.cells[first + n - 1]!;
      return (
        <rect
          key={`cell ${first + n}`}
          {...cellRect(at, first + n)}
          fill={fillOf(owners, cell) ?? "var(--raised)"}
        />
      );
    });
  });
  return (
    <g aria-hidden="true">
      {parts}
      {runs.flatMap(({ first, last }) =>
        rectsOf(at, first, last).map((rect) => (
          <rect key={`rim ${rect.x} ${rect.y}`} className="lit-rim" {...rect} />
        )),
      )}
    </g>
  );
});

export const ownerOf = (owners: Owners, id: DeviceId): OwnerLook | null => owners.get(id) ?? null;
