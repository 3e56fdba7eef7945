/**
 * The hand-out's page. Texts of the show come on it as text nodes only. What is looked at stands in the address after the
 * `#`, so that the phone's own way back works: nothing, `d5` for a device, `n123` for a node.
 */
import type { Handout } from "#engine/exchange/handout.ts";
import { find, indexOf, MOST_HITS, type Hit } from "./find.ts";
import {
  called,
  deviceName,
  deviceOf,
  endsBelow,
  fullName,
  outcomeOf,
  shortName,
  traceTo,
  unpack,
  type Rig,
} from "./rig.ts";

type Child = Node | string | null;

function make(tag: string, classes: string, ...children: readonly Child[]): HTMLElement {
  const element = document.createElement(tag);
  if (classes !== "") element.className = classes;
  for (const child of children) if (child !== null && child !== "") element.append(child);
  return element;
}

function link(to: string, classes: string, ...children: readonly Child[]): HTMLElement {
  const element = make("a", classes, ...children);
  element.setAttribute("href", `#${to}`);
  return element;
}

const ms = (time: number): string => `${time.toFixed(3)} ms`;
const count = (number: number, one: string): string => `${number} ${one}${number === 1 ? "" : "s"}`;

class Page {
  readonly #rig: Rig;
  readonly #index: ReturnType<typeof indexOf>;
  readonly #main: HTMLElement;
  readonly #search: HTMLInputElement;

  constructor(rig: Rig, main: HTMLElement, search: HTMLInputElement) {
    this.#rig = rig;
    this.#index = indexOf(rig);
    this.#main = main;
    this.#search = search;
  }

  show(): void {
    const [, kind, digits] = /^#([dn])(\d+)$/.exec(location.hash) ?? [];
    const number = Number(digits);
    const { data, count: nodes } = this.#rig;
    if (this.#search.value.trim() !== "") this.#put(...this.#results(this.#search.value));
    else if (kind === "d" && number < data.devices.length) this.#put(...this.#device(number));
    else if (kind === "n" && number < nodes) this.#put(...this.#node(number));
    else this.#put(...this.#home());
  }

  #put(...children: readonly Child[]): void {
    this.#main.replaceChildren(...children.filter((child) => child !== null));
  }

  /** The letter of who owns it, on its colour and hatch. */
  #mark(device: number): HTMLElement | null {
    const mark = this.#rig.data.devices[device]?.mark;
    if (!mark) return null;
    const [letter, colour, hatch] = mark;
    const badge = make("span", `mark c${colour} h${hatch}`, make("b", "", letter));
    badge.title = deviceName(this.#rig, device);
    return badge;
  }

  #row(to: string, name: string, note: string, mark: HTMLElement | null, warn = false): HTMLElement {
    return make(
      "li",
      "",
      link(
        to,
        "row",
        make(
          "span",
          "grow",
          make("span", "name", name),
          note === "" ? null : make("span", warn ? "note bad" : "note", note),
        ),
        mark,
      ),
    );
  }

  /** A node by what it is called; below, where it is and what comes there. */
  #nodeRow(node: number, within: boolean): HTMLElement {
    const rig = this.#rig;
    const name = called(rig, node);
    const place = within ? shortName(rig, node) : fullName(rig, node);
    const told = outcomeOf(rig, node);
    const comes = rig.feeder[node]! < 0 ? "" : this.#comes(node);
    const quiet = told.arrives || name === "";
    const state = rig.feeder[node]! >= 0 || !told.arrives ? (told.arrives ? comes : told.verdict) : "";
    return this.#row(
      `n${node}`,
      name === "" ? place : name,
      [name === "" ? "" : place, state].filter((part) => part !== "").join(" · "),
      this.#mark(told.owner),
      !quiet,
    );
  }

  /** `from Monitors Mix 9 (Drums)` */
  #comes(node: number): string {
    const rig = this.#rig;
    const { origin, arrives, verdict } = outcomeOf(rig, node);
    if (!arrives) return verdict;
    const name = called(rig, origin);
    return `from ${name === "" ? "" : `${name}, `}${fullName(rig, origin)}`;
  }

  #list(nodes: readonly number[], within = false): HTMLElement {
    return make("ul", "", ...nodes.map((node) => this.#nodeRow(node, within)));
  }

  #folded(title: string, number: number, list: () => HTMLElement, open = false): HTMLElement | null {
    if (number === 0) return null;
    const details = document.createElement("details");
    details.append(make("summary", "", make("span", "grow", title), make("span", "count", String(number))));
    // Filled when it is opened: a large rig has thousands of rows.
    const fill = (): void => {
      if (details.open && details.childElementCount === 1) details.append(list());
    };
    details.addEventListener("toggle", fill);
    details.open = open;
    fill();
    return details;
  }

  #cautions(): HTMLElement {
    return make(
      "section",
      "caution",
      make("h2", "", "Caution"),
      ...this.#rig.data.cautions.map((line) => make("p", "", line)),
    );
  }

  #home(): readonly Child[] {
    const rig = this.#rig;
    const { data } = rig;
    const at = (place: number): number[] =>
      data.devices.flatMap((device, index) => (device.place === place ? [index] : []));
    const places = [
      ...data.places.map((name, index) => ({ name: data.texts[name]!, devices: at(index) })),
      { name: "No place", devices: at(-1) },
    ];
    const sources = [...new Set(data.sources.map(({ at: node }) => node))];
    const mixes = data.names.flatMap(([node, , kind]) => (kind === "mix" ? [node] : []));
    const wants = data.names.flatMap(([node, , kind]) => (kind === "want" ? [node] : []));
    const boxes = data.devices.flatMap((_, device) => (this.#jacks(device) > 0 ? [device] : []));
    return [
      this.#cautions(),
      make("h2", "", "By place"),
      ...places.map(({ name, devices }) => this.#folded(name, devices.length, () => this.#devices(devices))),
      make("h2", "", "By list"),
      this.#folded("Boxes and all that has jacks", boxes.length, () => this.#devices(boxes)),
      this.#folded("Sources", sources.length, () => this.#list(sources)),
      this.#folded("Wanted feeds", wants.length, () => this.#list([...new Set(wants)])),
      this.#folded("Mixes", mixes.length, () => this.#list([...new Set(mixes)])),
    ];
  }

  #jacks(device: number): number {
    const { data, starts } = this.#rig;
    return data.rows.reduce(
      (sum, row, n) =>
        row.device === device && (row.kind === "in" || row.kind === "out")
          ? sum + starts[n + 1]! - starts[n]!
          : sum,
      0,
    );
  }

  #devices(devices: readonly number[]): HTMLElement {
    const { data } = this.#rig;
    return make(
      "ul",
      "",
      ...devices.map((device) =>
        this.#row(
          `d${device}`,
          deviceName(this.#rig, device),
          data.texts[data.devices[device]!.type]!,
          this.#mark(device),
        ),
      ),
    );
  }

  #device(device: number): readonly Child[] {
    const rig = this.#rig;
    const { data, starts } = rig;
    const { place, type } = data.devices[device]!;
    const order = ["out", "in", "channel", "tap"];
    const rows = data.rows
      .map((row, n) => ({
        ...row,
        nodes: Array.from({ length: starts[n + 1]! - starts[n]! }, (_, k) => starts[n]! + k),
      }))
      .filter((row) => row.device === device && order.includes(row.kind))
      .sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind));
    return [
      make("h1", "", make("span", "grow", deviceName(rig, device)), this.#mark(device)),
      make(
        "p",
        "soft",
        [place < 0 ? "" : data.texts[data.places[place]!]!, data.texts[type]!]
          .filter((part) => part !== "")
          .join(" · "),
      ),
      ...rows.map(({ name, kind, nodes }) =>
        this.#folded(
          data.texts[name]!,
          nodes.length,
          () => this.#list(nodes, true),
          kind === "out" || rows.length === 1,
        ),
      ),
      rows.length === 0 ? make("p", "", "It has no jacks of its own; signals pass it.") : null,
    ];
  }

  #node(node: number): readonly Child[] {
    const rig = this.#rig;
    const { data } = rig;
    const device = deviceOf(rig, node);
    const name = called(rig, node);
    const told = outcomeOf(rig, node);
    const fed = rig.feeder[node]! >= 0;
    const members = rig.membersOf.get(node) ?? [];
    const taps = [...new Set(rig.tapsOf.get(node) ?? [])].filter(
      (tap) => called(rig, tap) !== "" || rig.fed[tap]!.length > 0,
    );
    const below = endsBelow(rig, node);
    const source = (rig.sourceAt.get(node) ?? []).map((each) => {
      const { kind, phantom, preamp } = data.sources[each]!;
      const parts = [
        data.texts[kind]!,
        phantom ? "48 V on" : "",
        preamp < 0 ? "" : `preamp set by ${deviceName(rig, preamp)}`,
      ];
      return make("p", "", parts.filter((part) => part !== "").join(" · "));
    });
    return [
      make("h1", "", make("span", "grow", name === "" ? fullName(rig, node) : name), this.#mark(told.owner)),
      name === "" ? null : make("p", "soft", fullName(rig, node)),
      ...source,
      this.#verdict(node, told, fed),
      fed ? make("h2", "", "The way here") : null,
      fed ? this.#way(node) : null,
      this.#folded("Goes to", below.length, () => this.#list(below), below.length <= 40),
      this.#folded("Goes into mixes", taps.length, () => this.#list(taps), taps.length <= 40),
      this.#folded("Takes", members.length, () => this.#list(members), members.length <= 40 && !fed),
      below.length + taps.length + members.length === 0 && !fed && told.arrives
        ? make("p", "", "It goes nowhere.")
        : null,
      make("p", "", link(`d${device}`, "button", `All of ${deviceName(rig, device)}`)),
    ];
  }

  #verdict(node: number, told: ReturnType<typeof outcomeOf>, fed: boolean): HTMLElement | null {
    const rig = this.#rig;
    const owner = told.owner < 0 ? "" : `Owner: ${deviceName(rig, told.owner)}`;
    if (!told.arrives) {
      return make("p", "verdict bad", make("b", "", told.verdict), make("span", "", told.reason));
    }
    if (!fed) return owner === "" ? null : make("p", "soft", owner);
    return make(
      "p",
      "verdict",
      make("b", "", "arrives"),
      make("span", "", [this.#comes(node), owner, ms(told.delay)].filter((part) => part !== "").join(" · ")),
    );
  }

  /** Hop by hop in the direction of the signal, the time counted up. */
  #way(node: number): HTMLElement {
    const rig = this.#rig;
    const { data, by, time } = rig;
    const list = make("ol", "way");
    let inside: HTMLElement | null = null;
    let last = -1;
    let sum = 0;
    for (const at of traceTo(rig, node)) {
      const device = deviceOf(rig, at);
      const text = by[at]! < 0 ? "" : data.texts[by[at]!]!;
      const cable = last >= 0 && device !== last;
      if (cable) list.append(make("li", "cable", text));
      if (device !== last) {
        inside = make("ul", "");
        list.append(
          make(
            "li",
            "hop",
            link(`d${device}`, "device", deviceName(rig, device)),
            this.#mark(device),
            inside,
          ),
        );
      }
      sum += time[at]!;
      inside?.append(
        make(
          "li",
          "",
          link(
            `n${at}`,
            "grow",
            make("span", "name", shortName(rig, at)),
            cable || text === "" ? null : make("span", "note", text),
          ),
          make("span", "time", ms(sum / 1e6)),
        ),
      );
      last = device;
    }
    return list;
  }

  #results(query: string): readonly Child[] {
    const rig = this.#rig;
    const { hits, count: all } = find(this.#index, query);
    const row = (hit: Hit): HTMLElement => {
      switch (hit.kind) {
        case "node":
          return this.#nodeRow(hit.node, false);
        case "device": {
          const { data } = rig;
          const type = data.texts[data.devices[hit.device]!.type]!;
          return this.#row(`d${hit.device}`, deviceName(rig, hit.device), type, this.#mark(hit.device));
        }
      }
    };
    const head = all > MOST_HITS ? `The first ${MOST_HITS} of ${all}` : count(all, "thing");
    const told = make("p", "soft", all === 0 ? "Nothing is called that." : head);
    told.setAttribute("role", "status");
    return [told, make("ul", "", ...hits.map(row))];
  }
}

function start(): void {
  const main = document.querySelector<HTMLElement>("main");
  const search = document.querySelector<HTMLInputElement>("input");
  const text = document.getElementById("data")?.textContent;
  if (!main || !search || text === undefined || text === null) return;
  const page = new Page(unpack(JSON.parse(text) as Handout), main, search);
  search.addEventListener("input", () => page.show());
  addEventListener("hashchange", () => {
    search.value = "";
    page.show();
    scrollTo(0, 0);
    main.focus({ preventScroll: true });
  });
  // The way from a result to where one is already changes no address.
  main.addEventListener("click", (event) => {
    const target = event.target instanceof Element ? event.target.closest("a") : null;
    if (target?.getAttribute("href") === (location.hash || "#") && search.value !== "") {
      search.value = "";
      page.show();
    }
  });
  document.querySelector("header a")?.addEventListener("click", () => {
    search.value = "";
    page.show();
  });
  page.show();
}

start();
