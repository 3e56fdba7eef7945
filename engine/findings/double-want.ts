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
    // Nearly every jack has one want or none.
    const wanted = new Uint8Array(wiring.size);
    const doubles = new Set<number>();
    for (const jack of at.wants) {
      if (jack === NOWHERE) continue;
      if (wanted[jack] === 1) doubles.add(jack);
      wanted[jack] = 1;
    }
    if (doubles.size === 0) return [];
    const byJack = new Map<number, Want[]>();
    wiring.show.wants.forEach((want, n) => {
      if (doubles.has(at.wants[n]!)) gather(byJack, at.wants[n]!, want);
    });
    return Array.from(byJack, ([jack, wants]): Finding => {
      const there = terminalOf(wiring, jack);
      return {
        id: `double-want:${there.device}:${there.group}:${there.number}`,
        check: "double-want",
        severity: "error",
        title: `${wants.length} feeds are wanted on ${fullName(wiring, jack)}`,
        reason: `${wants.map(({ name }) => name).join(" and ")} can't share one jack.`,
        terminals: [there],
        devices: [there.device],
        cables: [],
        wants: wants.map(({ id }) => id),
      };
    });
  },
  propose: ({ wiring }, { wants }) =>
    wiring.show.wants.flatMap(({ id, name }): Fix[] =>
      wants.includes(id)
        ? [{ label: `Drop the want “${name}”`, edits: [{ kind: "remove", list: "wants", id }] }]
        : [],
    ),
};
