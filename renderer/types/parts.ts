/** Parts of a type put in, taken out, moved and copied. Each returns a new type and leaves the old one as it was. */
import {
  freeId,
  id,
  layoutOf,
  spanGroup,
  type CableRule,
  type DeviceType,
  type FabricRule,
  type GroupId,
  type JackBank,
  type LinkPort,
  type MixEngine,
  type MixSection,
  type Mode,
  type ModeId,
  type Range,
  type SectionRole,
  type Span,
  type TypeId,
} from "#engine";

/** `Link A` → `link-a`; letters that an id can't have are left out. */
const slug = (text: string): string =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-+|-+$/g, "")
    .slice(0, 40) || "part";

const groupIds = ({ banks, ports, mixer }: DeviceType): Set<string> =>
  // What the word clock calls by name can't be a group.
  new Set(["internal", "none", ...[...banks, ...ports, ...(mixer?.sections ?? [])].map((part) => part.id)]);

const freeGroup = (type: DeviceType, name: string): GroupId =>
  id<GroupId>(freeId(slug(name), groupIds(type)));

/** `Out`, and `Out 2` where something is called that already. */
function freeName(wanted: string, taken: readonly { readonly name: string }[]): string {
  const names = new Set(taken.map(({ name }) => name));
  if (!names.has(wanted)) return wanted;
  let n = 2;
  while (names.has(`${wanted} ${n}`)) n++;
  return `${wanted} ${n}`;
}

const groups = ({ banks, ports, mixer }: DeviceType): readonly { readonly name: string }[] => [
  ...banks,
  ...ports,
  ...(mixer?.sections ?? []),
];

/** A type with nothing in it but a mode. */
export function blankType(taken: readonly { readonly id: string; readonly name: string }[]): DeviceType {
  const name = freeName("New type", taken);
  return {
    id: id<TypeId>(freeId(slug(name), new Set(taken.map((each) => each.id)))),
    name,
    category: "stage box",
    banks: [],
    ports: [],
    rules: [],
    modes: [{ id: id<ModeId>("normal"), name: "Normal", rules: [] }],
    chain: 1,
    clock: "internal",
  };
}

export function addBank(type: DeviceType, direction: JackBank["direction"]): DeviceType {
  const name = freeName(direction === "in" ? "In" : "Out", groups(type));
  const bank: JackBank = {
    id: freeGroup(type, name),
    name,
    direction,
    count: 8,
    perJack: 1,
    connector: "XLR",
    level: direction === "in" ? "mic" : "line",
    block: 8,
  };
  return { ...type, banks: [...type.banks, bank] };
}

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/** A port as the one before it, or one with 48 slots each way. */
export function addPort(type: DeviceType): DeviceType {
  const before = type.ports.at(-1);
  const taken = new Set(groups(type).map(({ name }) => name));
  const letter = [...LETTERS].find((each) => !taken.has(`Link ${each}`));
  const name = letter ? `Link ${letter}` : freeName("Link", groups(type));
  const fresh: Omit<LinkPort, "id" | "name"> = {
    transport: "48-slot Cat 5 link",
    receive: { single: 48, double: 24, quad: 12 },
    send: { single: 48, double: 24, quad: 12 },
    cables: [{ kind: "cat5e-shielded", maxMetres: 100, provenance: "assumed" }],
    block: 8,
    carriesClock: true,
    carriesPreamp: true,
    convertsRate: false,
  };
  const port: LinkPort = { ...(before ?? fresh), id: freeGroup(type, name), name };
  return { ...type, ports: [...type.ports, port] };
}

export function addSection(type: DeviceType, role: SectionRole): DeviceType {
  const name = freeName(SECTION_NAMES[role], groups(type));
  const sections = type.mixer?.sections ?? [];
  const channel = sections.find((section) => section.role === "channel");
  const section: MixSection = {
    id: freeGroup(type, name),
    name,
    role,
    count: channel && role !== "mix" && role !== "main" && role !== "matrix" ? channel.count : 8,
    from: role === "channel" || !channel ? [] : [channel.id],
    block: 8,
  };
  const mixer: MixEngine = {
    processing: { value: 0, unit: "ms", provenance: "assumed" },
    ...type.mixer,
    sections: [...sections, section],
  };
  return { ...type, mixer };
}

export const SECTION_NAMES: Readonly<Record<SectionRole, string>> = {
  channel: "Channel",
  mix: "Mix",
  main: "Main",
  matrix: "Matrix",
  direct: "Direct out",
  send: "Insert send",
  return: "Insert return",
  join: "Join",
};

/** A type without a section has no mixer. */
export function withSections(type: DeviceType, sections: readonly MixSection[]): DeviceType {
  const { mixer, ...rest } = type;
  return sections.length === 0 || !mixer ? rest : { ...type, mixer: { ...mixer, sections } };
}

export function addMode(type: DeviceType, like: Mode | null): DeviceType {
  const name = freeName(like ? `${like.name}, copy` : "New mode", type.modes);
  const taken = new Set<string>(type.modes.map((mode) => mode.id));
  const mode: Mode = { rules: [], ...like, id: id<ModeId>(freeId(slug(name), taken)), name };
  return { ...type, modes: [...type.modes, mode] };
}

/** Where rules stand: those of every mode, or those of one. */
export type RulePlace = "every" | number;

export const rulesAt = (type: DeviceType, place: RulePlace): readonly FabricRule[] =>
  place === "every" ? type.rules : (type.modes[place]?.rules ?? []);

export const rulesPath = (place: RulePlace): string =>
  place === "every" ? "rules" : `modes[${place}].rules`;

export function withRules(type: DeviceType, place: RulePlace, rules: readonly FabricRule[]): DeviceType {
  if (place === "every") return { ...type, rules };
  const mode = type.modes[place];
  return mode ? { ...type, modes: type.modes.with(place, { ...mode, rules }) } : type;
}

/** Groups that rules can feed, and those that they can take from, in the order of the type. */
export function ruleEnds(type: DeviceType): { readonly to: readonly Span[]; readonly from: readonly Span[] } {
  const { spans, destinations, sources } = layoutOf(type);
  const [to, from] = [new Set(destinations.values()), new Set(sources.values())];
  const filled = spans.filter(({ count }) => count > 0);
  return { to: filled.filter((span) => to.has(span)), from: filled.filter((span) => from.has(span)) };
}

/** A rule of a kind between what the type has, as long as both ends are; null where it has no two ends. */
export function newRule(type: DeviceType, kind: FabricRule["kind"]): FabricRule | null {
  const ends = ruleEnds(type);
  const ports = (spans: readonly Span[]): readonly Span[] =>
    kind === "carry" ? spans.filter(({ side }) => side === "send" || side === "receive") : spans;
  const to = ports(ends.to)[0];
  const from =
    ports(ends.from).find((span) => to && spanGroup(span) !== spanGroup(to)) ?? ports(ends.from)[0];
  return to && from ? ruleBetween(kind, to, from) : null;
}

function ruleBetween(kind: FabricRule["kind"], to: Span, from: Span): FabricRule {
  const [target, source] = [spanGroup(to), spanGroup(from)];
  const count = Math.min(to.count, from.count);
  switch (kind) {
    case "patch":
      return {
        kind,
        to: { group: target, first: 1, count: to.count },
        from: [{ group: source, first: 1, count: from.count }],
        run: 1,
      };
    case "wired":
      return { kind, to: { group: target, first: 1 }, from: { group: source, first: 1 }, count };
    case "carry":
      return { kind, to: target, from: source, shift: 0 };
  }
}

/** A rule as one of another kind, as far as that goes. */
export function asKind(type: DeviceType, rule: FabricRule, kind: FabricRule["kind"]): FabricRule {
  if (rule.kind === kind) return rule;
  const [to, from] = endsOf(rule);
  const { destinations, sources } = layoutOf(type);
  const delay = rule.delay ? { delay: rule.delay } : {};
  const count = Math.min(to.count, from.count);
  const whole = (spans: ReadonlyMap<GroupId, Span>, range: Range): Range =>
    rule.kind === "carry" ? { ...range, count: spans.get(range.group)?.count || 1 } : range;
  switch (kind) {
    case "patch":
      return { kind, to: whole(destinations, to), from: [whole(sources, from)], run: 1, ...delay };
    case "wired": {
      const length = Math.min(whole(destinations, to).count, whole(sources, from).count);
      return {
        kind,
        to: { group: to.group, first: to.first },
        from: { group: from.group, first: from.first },
        count: rule.kind === "carry" ? length : count,
        ...delay,
      };
    }
    case "carry":
      return { kind, to: to.group, from: from.group, shift: from.first - to.first, ...delay };
  }
}

/** Both ends of a rule as ranges; of a patch rule the first of what it lists. */
function endsOf(rule: FabricRule): readonly [Range, Range] {
  switch (rule.kind) {
    case "patch":
      return [rule.to, rule.from[0] ?? rule.to];
    case "wired":
      return [
        { group: rule.to.group, first: rule.to.first, count: rule.count },
        { group: rule.from.group, first: rule.from.first, count: rule.count },
      ];
    case "carry":
      return [
        { group: rule.to, first: 1, count: 1 },
        { group: rule.from, first: 1 + rule.shift, count: 1 },
      ];
  }
}

/** A list with one entry moved by one place. */
export function moved<Item>(list: readonly Item[], at: number, by: 1 | -1): readonly Item[] {
  const to = at + by;
  const item = list[at];
  const other = list[to];
  return item === undefined || other === undefined ? list : list.with(at, other).with(to, item);
}

export const without = <Item>(list: readonly Item[], at: number): readonly Item[] =>
  list.filter((_, n) => n !== at);

/** The kinds of cable that aren't listed yet. */
export const freeCable = (kinds: readonly CableRule["kind"][], cables: readonly CableRule[]) =>
  kinds.find((kind) => !cables.some((cable) => cable.kind === kind)) ?? null;
