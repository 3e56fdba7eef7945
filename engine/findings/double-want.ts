/** F3: two wants on one jack. Only one of them can be had. */
import type { Want } from "../model/show.ts";
import { fullName, terminalOf } from "../trace/terminal.ts";
import type { Check, Finding, Fix } from "./finding.ts";
import { gather } from "../model/once.ts";
import { NOWHERE, standing } from "./standing.ts";

export const doubleWant: Check = {
  id: "double-want",
  about: "two wants on one jack",
  reads: ({ wiring }) => [wiring.show.wants],
  run: ({ wiring }) => {
    const at = standing(wiring);
    const byJack = new Map<number, Want[]>();
    wiring.show.wants.forEach((want, n) => {
      if (at.wants[n] !== NOWHERE) gather(byJack, at.wants[n]!, want);
    });
    return [...byJack].flatMap(([jack, wants]): Finding[] => {
      if (wants.length < 2) return [];
      const at = terminalOf(wiring, jack);
      return [
        {
          id: `double-want:${at.device}:${at.group}:${at.number}`,
          check: "double-want",
          severity: "error",
          title: `${wants.length} feeds are wanted on ${fullName(wiring, jack)}`,
          reason: `${wants.map(({ name }) => name).join(" and ")} can't share one jack.`,
          terminals: [at],
          devices: [at.device],
          cables: [],
          wants: wants.map(({ id }) => id),
        },
      ];
    });
  },
  propose: ({ wiring }, { wants }) =>
    wiring.show.wants.flatMap(({ id, name }): Fix[] =>
      wants.includes(id)
        ? [{ label: `Drop the want “${name}”`, edits: [{ kind: "remove", list: "wants", id }] }]
        : [],
    ),
};
