/** Everything that must hold of a device type before a device of it can be used: the K rules of SPEC.md. */
import type { DeviceType } from "../model/device-type.ts";
import { TYPE_FORMAT, TYPE_VERSION } from "../model/device-type.ts";
import validateType from "../exchange/generated/type-validator.js";
import { told, type SchemaError } from "../exchange/validate.ts";
import { gather } from "../model/once.ts";
import { checkMixer } from "./check-mixer.ts";
import { checkRules } from "./check-rules.ts";
import { Problems, type TypeProblem } from "./problem.ts";

/** All problems of a type, in the order of its parts. */
export function checkType(type: DeviceType): readonly TypeProblem[] {
  const found = new Problems();
  const countable = checkShape(found, type);
  checkNames(found, type);
  // Counts that can't be would only be told again by everything that counts with them.
  if (countable) {
    checkGeneral(found, type);
    checkJacks(found, type);
    checkPorts(found, type);
    checkMixer(found, type);
    checkRules(found, type);
  }
  return found.list;
}

export const hasErrors = (problems: readonly TypeProblem[]): boolean =>
  problems.some(({ severity }) => severity === "error");

/** K1. False where a number or a choice is out of bounds, so that the type can't be laid out. */
function checkShape(found: Problems, type: DeviceType): boolean {
  if (validateType({ format: TYPE_FORMAT, version: TYPE_VERSION, type })) return true;
  const errors = validateType.errors as readonly SchemaError[];
  for (const error of errors) {
    const { path, message } = told(error);
    const place = path.replace(/^type\.?/, "");
    found.error("shape", place, `${placeWords(type, place)} ${inWords(message)}.`);
  }
  return errors.every(({ keyword }) => keyword === "pattern");
}

const inWords = (message: string): string =>
  message.replace("must be >= ", "must be at least ").replace("must be <= ", "must be at most ");

const FIELDS: Readonly<Record<string, string>> = {
  name: "the name",
  id: "the id",
  count: "the count",
  block: "the block size",
  perJack: "the signals in a jack",
  chain: "the length of the chain",
  run: "the block size",
  first: "the first number",
  perPosition: "the step down the chain",
  shift: "the shift",
  maxMetres: "the longest run",
  value: "the time",
  speed: "the speed",
  share: "the share for audio",
  single: "the slots at 48 kHz",
  double: "the slots at 96 kHz",
  quad: "the slots at 192 kHz",
  transport: "the transport",
  positions: "the chain positions",
};

/** `Bank 1 “In”, the count`: where a path leads, in words. */
function placeWords(type: DeviceType, path: string): string {
  const [, list, index] = /^(?:mixer\.)?(banks|ports|sections|modes|rules)\[(\d+)\]/.exec(path) ?? [];
  const field = /\.?([A-Za-z]+)(?:\[\d+\])?$/.exec(path)?.[1] ?? "";
  const what = FIELDS[field] ?? (field === "" ? "the type" : `“${field}”`);
  if (list === undefined) return capital(what);
  const n = Number(index);
  const named = { banks: type.banks, ports: type.ports, modes: type.modes, sections: type.mixer?.sections }[
    list as "banks"
  ]?.[n]?.name;
  const part = { banks: "Bank", ports: "Port", sections: "Mixer section", modes: "Mode", rules: "Rule" }[
    list as "banks"
  ];
  return `${part} ${n + 1}${named ? ` “${named}”` : ""}, ${what}`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Every part of a type that has an id, with its path. */
function partsOf(type: DeviceType): {
  readonly groups: readonly Named[];
  readonly modes: readonly Named[];
} {
  const at = (path: string, list: readonly { readonly id: string; readonly name: string }[]): Named[] =>
    list.map(({ id, name }, n) => ({ id, name, path: `${path}[${n}]` }));
  return {
    groups: [
      ...at("banks", type.banks),
      ...at("ports", type.ports),
      ...at("mixer.sections", type.mixer?.sections ?? []),
    ],
    modes: at("modes", type.modes),
  };
}

interface Named {
  readonly id: string;
  readonly name: string;
  readonly path: string;
}

/** K2. */
function checkNames(found: Problems, type: DeviceType): void {
  const { groups, modes } = partsOf(type);
  for (const [list, what, whats] of [
    [groups, "bank, port or section", "banks, ports or sections"],
    [modes, "mode", "modes"],
  ] as const) {
    const ids = new Map<string, Named[]>();
    const names = new Map<string, Named[]>();
    for (const part of list) {
      gather(ids, part.id, part);
      gather(names, part.name.trim().toLowerCase(), part);
    }
    for (const [id, [, ...again]] of ids) {
      for (const { path } of again) {
        found.error("ids", `${path}.id`, `Two ${whats} have the id “${id}”, so rules can't tell them apart.`);
      }
    }
    for (const [name, [first, ...again]] of names) {
      if (name === "") continue;
      for (const { path } of again) {
        found.remark(
          "ids",
          `${path}.name`,
          `Another ${what} is called “${first!.name}” too; nobody can tell them apart.`,
        );
      }
    }
    for (const { name, path } of list) {
      if (name !== "" && name.trim() === "") found.error("ids", `${path}.name`, `A ${what} has no name.`);
    }
  }
  for (const { id, path } of groups) {
    if (id === "internal" || id === "none") {
      found.error("ids", `${path}.id`, `“${id}” can't be an id: for the word clock it means something else.`);
    }
  }
  if (type.name !== "" && type.name.trim() === "") found.error("ids", "name", "The type has no name.");
}

/** K3 and K11, and K12 as far as it concerns the type as a whole. */
function checkGeneral(found: Problems, type: DeviceType): void {
  if (type.banks.length === 0 && type.ports.length === 0) {
    found.error("jacks", "", "The type has neither jacks nor ports, so nothing can be plugged in.");
  }
  checkClock(found, type, "clock", type.clock);
  type.modes.forEach(({ clock }, n) => {
    if (clock !== undefined) checkClock(found, type, `modes[${n}].clock`, clock);
  });
  checkPositions(found, type);
  if (type.forwards && !type.ports.some(({ network }) => network)) {
    found.remark(
      "ports",
      "forwards",
      "It forwards streams, but has no network port that they could come by.",
    );
  }
  const clockless = type.clock === "none" && type.modes.every(({ clock }) => (clock ?? "none") === "none");
  if (clockless && !type.forwards && type.ports.length > 0) {
    found.remark("clock", "clock", "It has link ports but no word clock, so no link of it can ever match.");
  }
}

/** K11. */
function checkClock(found: Problems, type: DeviceType, path: string, clock: string): void {
  if (clock === "internal" || clock === "none") return;
  const port = type.ports.find(({ id }) => id === clock);
  if (!port) {
    found.error("clock", path, `The word clock follows “${clock}”, which is no port of the type.`);
  } else if (!port.carriesClock) {
    found.error("clock", path, `The word clock follows ${port.name}, but ${port.name} carries no clock.`);
  }
}

/** K7. */
function checkPositions(found: Problems, type: DeviceType): void {
  const fitting = new Set<number>();
  type.modes.forEach(({ name, positions }, n) => {
    if (positions === undefined) {
      for (let position = 1; position <= type.chain; position++) fitting.add(position);
      return;
    }
    const path = `modes[${n}].positions`;
    if (positions.length === 0) {
      found.error("chain", path, `Mode “${name}” fits no chain position at all.`);
    }
    positions.forEach((position, at) => {
      fitting.add(position);
      if (position > type.chain) {
        const most = type.chain === 1 ? "the type doesn't chain" : `a chain has ${type.chain}`;
        found.error(
          "chain",
          `${path}[${at}]`,
          `Mode “${name}” is for chain position ${position}, but ${most}.`,
        );
      }
      if (positions.indexOf(position) < at) {
        found.remark("chain", `${path}[${at}]`, `Mode “${name}” lists chain position ${position} twice.`);
      }
    });
  });
  for (let position = 1; position <= type.chain; position++) {
    if (!fitting.has(position)) {
      found.remark("chain", "chain", `No mode fits chain position ${position}.`);
    }
  }
}

/** K13. */
function checkJacks(found: Problems, type: DeviceType): void {
  type.banks.forEach((bank, n) => {
    const { name, direction, level, perJack, connector, convertsRate, leg } = bank;
    const path = `banks[${n}]`;
    if (level === "AES3" && perJack === 1) {
      found.remark(
        "jacks",
        `${path}.perJack`,
        `An AES3 jack carries a pair, but ${name} has one signal in each.`,
      );
    }
    if (convertsRate && (level !== "AES3" || direction === "out")) {
      found.remark(
        "jacks",
        `${path}.convertsRate`,
        `Only AES3 inputs convert the sample rate; for ${name} it counts for nothing.`,
      );
    }
    if (leg !== undefined && (direction === "in" || level === "AES3" || level === "radio")) {
      found.remark(
        "jacks",
        `${path}.leg`,
        `Only analogue outputs are legs of a split; for ${name} it counts for nothing.`,
      );
    }
    if ((level === "radio") !== (connector === "antenna")) {
      found.remark(
        "jacks",
        `${path}.connector`,
        `Radio goes by an antenna and nothing else does; ${name} has ${connector} at ${level} level.`,
      );
    }
  });
}

/** K12. */
function checkPorts(found: Problems, type: DeviceType): void {
  type.ports.forEach((port, n) => {
    const { name, receive, send, cables, network } = port;
    const path = `ports[${n}]`;
    for (const way of ["receive", "send"] as const) {
      const { single, double, quad } = port[way];
      if (double > single || quad > double) {
        found.remark(
          "ports",
          `${path}.${way}`,
          `${name} ${way}s more slots at a higher sample rate; links have fewer there.`,
        );
      }
    }
    if ([receive, send].every(({ single, double, quad }) => single + double + quad === 0)) {
      found.error("ports", `${path}.receive`, `${name} has no slots either way, at any sample rate.`);
    }
    if (cables.length === 0) {
      found.remark(
        "ports",
        `${path}.cables`,
        `${name} takes no kind of cable, so whatever is plugged in is the wrong kind.`,
      );
    }
    cables.forEach(({ kind }, at) => {
      if (cables.findIndex((other) => other.kind === kind) < at) {
        found.error(
          "ports",
          `${path}.cables[${at}]`,
          `${name} lists one kind of cable twice, each with its own longest run.`,
        );
      }
    });
    if (network && network.share <= 0) {
      found.error(
        "ports",
        `${path}.network.share`,
        `${name} leaves audio no share of its speed; at most 1 and more than 0 is needed.`,
      );
    }
  });
}
