/** F21: names and tags that stand on two things at once, and cables without a tag. */
import type { Edit } from "../model/edit.ts";
import type { Cable, ChannelPlan, Device, Show, Source } from "../model/show.ts";
import { findTerminal, fullName, terminalOf } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { counted, deviceName, endName, listOf } from "./describe.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";
import { NOWHERE, standing } from "./standing.ts";

export const labels: Check = {
  id: "labels",
  about: "a tag or name on two things, or a cable without a tag",
  reads: ({ wiring }) => [wiring.show.cables, wiring.show.sources, wiring.show.channels],
  run: ({ wiring }) => {
    const { show } = wiring;
    return [
      ...doubles(show.cables, ({ tag }) => tag).map((cables) => sameTag(wiring, cables)),
      ...doubles(show.devices, ({ name }) => name).map(sameDeviceName),
      ...doubles(show.sources, ({ name }) => name).map((sources) => sameSourceName(wiring, sources)),
      ...untagged(wiring),
      ...channelsTwice(wiring),
    ];
  },
  // The first of those that share a label keeps it.
  propose: ({ wiring }, { id }) => {
    const { show } = wiring;
    const [, list] = id.split(":");
    if (list === "channel") {
      const plans = plannedTwice(wiring).find((each) => idOf(each) === id) ?? [];
      return plans.map((plan): Fix => {
        const label = `Drop ${planName(plan)} from the plan`;
        return { label, edits: [{ kind: "remove", list: "channels", id: plan.id }] };
      });
    }
    const others = <Labelled>(
      records: readonly Labelled[],
      label: (record: Labelled) => string,
    ): readonly Labelled[] =>
      records.filter((record) => id === `labels:${list}:${reads(label(record))}`).slice(1);
    if (list === "untagged" || list === "cable") {
      const cables = list === "cable" ? others(show.cables, ({ tag }) => tag) : untaggedCables(show);
      const tags = fresh(
        list === "cable" ? cables[0]!.tag : "K0",
        show.cables.map(({ tag }) => tag),
        cables.length,
      );
      return relabelled(tags, (tag, n) => ({ kind: "put", list: "cables", record: { ...cables[n]!, tag } }));
    }
    if (list === "device") {
      const devices = others(show.devices, ({ name }) => name);
      const names = fresh(
        devices[0]!.name,
        show.devices.map(({ name }) => name),
        devices.length,
      );
      return relabelled(names, (name, n) => ({
        kind: "put",
        list: "devices",
        record: { ...devices[n]!, name },
      }));
    }
    const sources = others(show.sources, ({ name }) => name);
    const names = fresh(
      sources[0]!.name,
      show.sources.map(({ name }) => name),
      sources.length,
    );
    return relabelled(names, (name, n) => ({
      kind: "put",
      list: "sources",
      record: { ...sources[n]!, name },
    }));
  },
};

const relabelled = (labels: readonly string[], edit: (label: string, n: number) => Edit): Fix[] => [
  { label: `Label ${labels.length === 1 ? "it" : "them"} ${listOf(labels, 3)}`, edits: labels.map(edit) },
];

/** Labels counted on from the number at the end of one, or from 2: `L4` → `L5`, `Box` → `Box 2`. */
function fresh(label: string, all: readonly string[], count: number): readonly string[] {
  const [, stem, number] = /^(.*?)(\d*)$/s.exec(label.trim())!;
  const used = new Set(all.map(reads));
  const labels: string[] = [];
  for (let next = number === "" ? 2 : Number(number) + 1; labels.length < count; next++) {
    const candidate = number === "" ? `${stem} ${next}` : `${stem}${next}`;
    if (!used.has(reads(candidate))) labels.push(candidate);
  }
  return labels;
}

/** As the crew reads a label: neither case nor space around it tells two of them apart. */
export const reads = (label: string): string => label.trim().toLowerCase();

/** The records that share a label with another one, label by label. */
function doubles<Labelled>(
  records: readonly Labelled[],
  label: (record: Labelled) => string,
): readonly (readonly Labelled[])[] {
  const first = new Map<string, Labelled>();
  const shared = new Map<string, Labelled[]>();
  for (const record of records) {
    const text = reads(label(record));
    const before = first.get(text);
    if (before === undefined) first.set(text, record);
    else if (text === "") continue;
    else if (shared.has(text)) shared.get(text)!.push(record);
    else shared.set(text, [before, record]);
  }
  return [...shared.values()];
}

const says = (key: string, title: string, reason: string): Parameters<typeof found>[0] => ({
  id: `labels:${key}`,
  check: "labels",
  severity: "warning",
  title,
  reason,
});

function sameTag(wiring: Wiring, cables: readonly Cable[]): Finding {
  const tag = cables[0]!.tag.trim();
  const runs = cables.map(({ ends }) => `from ${endName(wiring, ends[0])} to ${endName(wiring, ends[1])}`);
  return found(
    says(
      `cable:${reads(tag)}`,
      `${cables.length} cables bear the tag ${tag}`,
      `They run ${listOf(runs)}. Who pulls ${tag} can't tell which.`,
    ),
    { cables: cables.map(({ id }) => id) },
  );
}

function sameDeviceName(devices: readonly Device[]): Finding {
  const name = devices[0]!.name.trim();
  return found(
    says(
      `device:${reads(name)}`,
      `${devices.length} devices are called ${name}`,
      "Papers and findings can't tell them apart.",
    ),
    { devices: devices.map(({ id }) => id) },
  );
}

function sameSourceName(wiring: Wiring, sources: readonly Source[]): Finding {
  const name = sources[0]!.name.trim();
  const jacks = sources.map(({ at }) => findTerminal(wiring, at));
  const where = sources.map(({ at }, n) =>
    jacks[n] === null ? deviceName(wiring, at.device) : fullName(wiring, jacks[n]!),
  );
  return found(
    says(
      `source:${reads(name)}`,
      `${sources.length} sources are called ${name}`,
      `They stand at ${listOf(where)}; on an input list they read the same.`,
    ),
    {
      terminals: jacks.flatMap((jack) => (jack === null ? [] : [terminalOf(wiring, jack)])),
      devices: [...new Set(sources.map(({ at }) => at.device))],
    },
  );
}

/** The plans that share a channel with another one, channel by channel. */
function plannedTwice(wiring: Wiring): readonly (readonly ChannelPlan[])[] {
  const { channels } = wiring.show;
  const at = standing(wiring).channels;
  const seen = new Uint8Array(wiring.size);
  const shared = new Map<number, ChannelPlan[]>();
  at.forEach((terminal) => {
    if (terminal === NOWHERE) return;
    if (seen[terminal] === 1) shared.set(terminal, []);
    seen[terminal] = 1;
  });
  if (shared.size > 0) channels.forEach((plan, n) => shared.get(at[n]!)?.push(plan));
  return [...shared.values()];
}

const idOf = ([first]: readonly ChannelPlan[]): string => `labels:channel:${first!.id}`;
const planName = ({ name, source }: ChannelPlan): string =>
  name === "" ? (source ?? "a blank") : `“${name}”`;

const channelsTwice = (wiring: Wiring): Finding[] =>
  plannedTwice(wiring).map((plans) => {
    const terminal = findTerminal(wiring, { ...plans[0]!, device: plans[0]!.console })!;
    return found(
      says(
        `channel:${plans[0]!.id}`,
        `${fullName(wiring, terminal)} is planned ${plans.length === 2 ? "twice" : `${plans.length} times`}`,
        `As ${listOf(plans.map(planName))}. On a list it can be one thing only.`,
      ),
      { terminals: [terminalOf(wiring, terminal)], devices: [plans[0]!.console] },
    );
  });

export const untaggedCables = ({ cables }: Show): readonly Cable[] =>
  cables.filter(({ tag }) => tag.trim() === "");

function untagged(wiring: Wiring): Finding[] {
  const cables = untaggedCables(wiring.show);
  if (cables.length === 0) return [];
  const runs = cables.map(({ ends }) => `${endName(wiring, ends[0])} to ${endName(wiring, ends[1])}`);
  return [
    found(
      {
        id: "labels:untagged",
        check: "labels",
        severity: "note",
        title: `${counted(cables.length, "cable")} ${cables.length === 1 ? "bears" : "bear"} no tag`,
        reason: `${listOf(runs)}. Worksheets and faults name cables by their tags.`,
      },
      { cables: cables.map(({ id }) => id) },
    ),
  ];
}
