/** What goes into each mix of one console, as a matrix: channels and buses down, mixes across, `pre`, `post` or nothing. */
import type { DeviceId } from "../model/ids.ts";
import { err, ok } from "../model/result.ts";
import type { Mix, MixMember, Show, TerminalRef } from "../model/show.ts";
import { plain } from "../trace/lookup.ts";
import { spanGroup, spanName, type Span } from "../wiring/layout.ts";
import { membersFrom } from "./mixes.ts";
import { directoryOf } from "./places.ts";
import { field, makeTable, type ColumnSpec, type Table } from "./table.ts";
import type { Read } from "./words.ts";

/** A channel or bus that something of the console may take. */
interface MemberRow {
  readonly key: string;
  readonly at: TerminalRef;
  readonly span: Span;
  /** What the show calls it. */
  readonly name: string;
}

type Tap = MixMember["tap"];

const memberKey = ({ group, number }: Pick<MixMember, "group" | "number">): string => `${group}/${number}`;

const mixField = field<Mix>(
  (work, key) => work.get("mixes", key),
  (work, record) => work.put("mixes", record),
);

/** Consoles that have mixes, in the show's order. */
export function desksWithMixes({ devices, mixes }: Show): readonly DeviceId[] {
  const mixing = new Set(mixes.map((mix) => mix.console));
  return devices.map(({ id }) => id).filter((device) => mixing.has(device));
}

function readTap(text: string): Read<Tap | null> {
  const typed = plain(text).replace(/[ -]?fader$/, "");
  if (["", "-", "–", "no", "none", "0"].includes(typed)) return ok(null);
  if (["post", "po", "x", "yes", "1", "•"].includes(typed)) return ok("post");
  if (["pre", "pr"].includes(typed)) return ok("pre");
  return err(`“${text.trim()}” isn’t known here. It can be post, pre or nothing.`);
}

/** The mix with what the row gives it; a new member stands before the first that comes after it in the matrix. */
function withMember(mix: Mix, row: MemberRow, places: ReadonlyMap<string, number>, tap: Tap | null): Mix {
  const { group, number } = row.at;
  const at = mix.members.findIndex((member) => memberKey(member) === row.key);
  if (tap === null) return at < 0 ? mix : { ...mix, members: mix.members.filter((_, n) => n !== at) };
  const member: MixMember = { group, number, tap };
  if (at >= 0) return { ...mix, members: mix.members.map((each, n) => (n === at ? member : each)) };
  const own = places.get(row.key)!;
  const behind = mix.members.findIndex((each) => (places.get(memberKey(each)) ?? -1) > own);
  return { ...mix, members: mix.members.toSpliced(behind < 0 ? mix.members.length : behind, 0, member) };
}

/** Each mix by a name that no other column has. */
function headings(mixes: readonly Mix[], bus: (mix: Mix) => string): readonly string[] {
  const taken = new Set(["channel", "name"]);
  const often = new Map<string, number>();
  for (const { name } of mixes) often.set(plain(name), (often.get(plain(name)) ?? 0) + 1);
  return mixes.map((mix) => {
    const plainName = plain(mix.name);
    const isOwn = plainName !== "" && often.get(plainName) === 1 && !taken.has(plainName);
    return isOwn ? mix.name : `${mix.name} ${bus(mix)}`.trim();
  });
}

/** `desk`: null, or one that has no mixes, shows the first that has. */
export function membersTable(show: Show, desk: DeviceId | null): Table {
  const directory = directoryOf(show);
  const desks = desksWithMixes(show);
  const shown = desk !== null && desks.includes(desk) ? desk : desks[0];
  const mixes = show.mixes.filter((mix) => mix.console === shown);
  const layout = shown === undefined ? null : directory.layout(shown);
  const fits = new Map(mixes.map((mix) => [mix.id, new Set(membersFrom(directory, mix).map(spanGroup))]));
  const taken = new Set([...fits.values()].flatMap((groups) => [...groups]));

  const names = new Map<string, string>();
  for (const plan of show.channels) if (plan.console === shown) names.set(memberKey(plan), plan.name);
  for (const { group, first, width, name } of mixes) {
    if (width === 1) names.set(memberKey({ group, number: first }), name);
    else
      for (const [n, side] of ["L", "R"].entries())
        names.set(memberKey({ group, number: first + n }), `${name} ${side}`.trim());
  }
  const rows = (layout?.spans ?? [])
    .filter((span) => span.side === "bus" && taken.has(spanGroup(span)))
    .flatMap((span) =>
      Array.from({ length: span.count }, (_, n): MemberRow => {
        const at = { device: shown!, group: spanGroup(span), number: n + 1 };
        const key = memberKey(at);
        return { key, at, span, name: names.get(key) ?? "" };
      }),
    );
  const places = new Map(rows.map(({ key }, place) => [key, place]));

  const sectionName = (mix: Mix): string => {
    const span = layout?.spans.find((each) => spanGroup(each) === mix.group);
    return `${span ? spanName(span) : `#${mix.group}`} ${mix.first}`;
  };
  const titles = headings(mixes, sectionName);
  const mixColumn = (mix: Mix, place: number): ColumnSpec<MemberRow> => {
    const taps = new Map(mix.members.map((member) => [memberKey(member), member.tap]));
    const tell = ({ key }: MemberRow): string => taps.get(key) ?? "";
    return {
      id: `mix:${mix.id}`,
      name: titles[place]!,
      width: 9,
      slim: true,
      also: [sectionName(mix)],
      tell,
      write: (work, key, text) => {
        const tap = readTap(text);
        if (!tap.ok) return tap.error;
        const row = rows[places.get(key)!]!;
        return mixField((record) => withMember(record, row, places, tap.value))(work, mix.id, text);
      },
      choices: () => ["post", "pre"],
      // What stands there although the bus doesn't take it can be taken out.
      isFixed: (row) => !fits.get(mix.id)!.has(row.at.group) && !taps.has(row.key),
      next: (row) => ({ "": "post", post: "pre", pre: "" })[tell(row)] ?? "",
    };
  };
  const columns: ColumnSpec<MemberRow>[] = [
    {
      id: "channel",
      name: "Channel",
      width: 14,
      also: ["ch", "no", "#", "number", "bus"],
      tell: ({ span, at }) => `${spanName(span)} ${at.number}`,
      write: () => "Channels can’t be renumbered here.",
      isFixed: () => true,
    },
    { id: "name", name: "Name", width: 20, also: [], tell: ({ name }) => name },
    ...mixes.map(mixColumn),
  ];
  const deskName = shown === undefined ? "" : directory.book.tell(shown);
  return makeTable({
    id: "members",
    name: "Members",
    one: "row of members",
    many: "rows",
    empty: "No console has a mix yet. Make mixes in the list of mixes.",
    known: [["channel"]],
    show,
    rows,
    key: ({ key }) => key,
    columns,
    subject: ({ at }) => ({ kind: "bus", at }),
    grows: false,
    create: (_work, cells) => ({
      ok: false,
      column: "channel",
      reason: cells.has("channel")
        ? `${deskName} has no “${cells.get("channel")}” that a mix may take.`
        : "It isn’t said which channel this is.",
    }),
  });
}
