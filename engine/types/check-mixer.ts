/** K10: the mix engine of a type. */
import type { DeviceType, MixSection, SectionRole } from "../model/device-type.ts";
import type { GroupId } from "../model/ids.ts";
import { TAKE_INSERTS } from "../wiring/inserts.ts";
import { layoutOf, legsOf } from "../wiring/layout.ts";
import type { Problems } from "./problem.ts";

const MIXES: ReadonlySet<SectionRole> = new Set(["mix", "main", "matrix"]);

export function checkMixer(found: Problems, type: DeviceType): void {
  const sections = type.mixer?.sections ?? [];
  if (type.mixer && sections.length === 0) {
    found.remark("mixer", "mixer.sections", "The mixer has no channels and no mixes.");
  }
  sections.forEach((section, n) => {
    const path = `mixer.sections[${n}]`;
    checkTrim(found, section, path);
    checkFrom(found, type, section, path);
    if (section.role === "send" || section.role === "return") checkInsert(found, sections, section, path);
    if (section.role === "join") checkJoin(found, type, section, path);
  });
}

function checkTrim(found: Problems, { name, role, trim }: MixSection, path: string): void {
  if (!trim) return;
  if (trim.from > trim.to) {
    found.error(
      "mixer",
      `${path}.trim.from`,
      `The trim of ${name} goes from ${trim.from} dB down to ${trim.to} dB; the lower end comes first.`,
    );
  }
  if (role !== "channel") {
    found.remark(
      "mixer",
      `${path}.trim`,
      `Only channels have a digital trim; for ${name} it counts for nothing.`,
    );
  }
}

/** What a section takes must be there, and be something that goes through a mixer. */
function checkFrom(found: Problems, type: DeviceType, section: MixSection, path: string): void {
  const { id, name, role, from } = section;
  const sections = new Map<GroupId, MixSection>((type.mixer?.sections ?? []).map((each) => [each.id, each]));
  const banks = new Map(type.banks.map((bank) => [bank.id, bank]));
  from.forEach((group, n) => {
    const at = `${path}.from[${n}]`;
    const bank = banks.get(group);
    const other = sections.get(group);
    if (from.indexOf(group) < n) {
      found.remark("mixer", at, `${name} names ${other?.name ?? bank?.name ?? `“${group}”`} twice.`);
    } else if (!other && !bank) {
      const port = type.ports.find((each) => each.id === group);
      const what = port
        ? `${port.name}, which is a port; slots come in by rules to channels`
        : `“${group}”, which the type doesn't have`;
      found.error("mixer", at, `${name} takes ${what}.`);
    } else if (role === "join") {
      const leg = bank ? bank.direction === "in" : other?.role === "channel";
      if (!leg) {
        found.error(
          "mixer",
          at,
          `${name} joins input jacks and channels, and ${(bank ?? other)!.name} is neither.`,
        );
      }
    } else if (bank) {
      found.error("mixer", at, `${name} takes ${bank.name}, which are jacks; only a passive join does that.`);
    } else if (role === "direct" && other!.role !== "channel") {
      found.error("mixer", at, `A direct out takes its channel, and ${other!.name} has no channels.`);
    } else if (MIXES.has(role) && group === id) {
      found.remark("mixer", at, `${name} may feed itself, which goes round in a loop.`);
    } else if (role === "matrix" && other!.role === "channel") {
      found.remark(
        "mixer",
        at,
        `${name} takes channels directly; commonly a matrix takes mixes and mains only. Look it up on the sheet.`,
      );
    }
  });
  if (role === "channel" && from.length > 0) {
    found.remark("mixer", `${path}.from`, `${name} is fed by rules; what it lists here counts for nothing.`);
  }
  if ((MIXES.has(role) || role === "direct" || role === "join") && from.length === 0) {
    found.remark("mixer", `${path}.from`, `${name} lists nothing that may feed it.`);
  }
}

/** An insert belongs to channels or buses of one section, each number to the same number there. */
function checkInsert(
  found: Problems,
  sections: readonly MixSection[],
  section: MixSection,
  path: string,
): void {
  const { name, role, from, count } = section;
  const place = sections.find(({ id }) => id === from[0]);
  if (from.length !== 1) {
    found.error("mixer", `${path}.from`, `${name} must name the one section whose inserts it is part of.`);
  }
  if (!place) return;
  if (!TAKE_INSERTS.has(place.role)) {
    found.error(
      "mixer",
      `${path}.from`,
      `${name} is for inserts of ${place.name}, but only channels, mixes, mains and matrices have inserts.`,
    );
  } else if (count > place.count) {
    found.remark(
      "mixer",
      `${path}.count`,
      `${name} has ${count}, but ${place.name} only ${place.count}; the rest counts for nothing.`,
    );
  }
  const partner = role === "send" ? "return" : "send";
  if (!sections.some((other) => other.role === partner && other.from[0] === place.id)) {
    found.remark("mixer", path, `${place.name} has an insert ${role} and no ${partner}.`);
  }
}

function checkJoin(found: Problems, type: DeviceType, { name, from, count }: MixSection, path: string): void {
  const legs = legsOf(layoutOf(type), from);
  const longest = Math.max(0, ...legs.map((leg) => leg.count));
  if (legs.length > 0 && count > longest) {
    found.remark(
      "mixer",
      `${path}.count`,
      `${name} has ${count} ways, but its longest leg ${longest}; past that nothing can come.`,
    );
  }
}
