/** A device type in a line: its jacks, its links, its mixer. */
import { mostSlots, type DeviceType } from "#engine";
import { plural } from "./verdicts.ts";

/** `32 in, 16 out, 3 × 48-slot Cat 5 link, 5 modes`. */
export function typeFacts({ banks, ports, mixer, modes, chain }: DeviceType): string {
  const jacks = (direction: "in" | "out"): number =>
    banks
      .filter((bank) => bank.direction === direction)
      .reduce((sum, { count, perJack }) => sum + count * perJack, 0);
  const transports = new Map<string, number>();
  for (const { transport, receive, send } of ports) {
    if (mostSlots(receive) + mostSlots(send) === 0) continue;
    transports.set(transport, (transports.get(transport) ?? 0) + 1);
  }
  const channels = mixer?.sections.filter(({ role }) => role === "channel") ?? [];
  const mixes = mixer?.sections.filter(({ role }) => role === "mix") ?? [];
  const sum = (sections: readonly { readonly count: number }[]): number =>
    sections.reduce((all, { count }) => all + count, 0);
  return [
    sum(channels) > 0 ? plural(sum(channels), "channel", "channels") : "",
    sum(mixes) > 0 ? plural(sum(mixes), "mix", "mixes") : "",
    jacks("in") > 0 ? `${jacks("in")} in` : "",
    jacks("out") > 0 ? `${jacks("out")} out` : "",
    ...[...transports].map(([name, count]) => (count > 1 ? `${count} × ${name}` : name)),
    modes.length > 1 ? plural(modes.length, "mode", "modes") : "",
    chain > 1 ? `chains up to ${chain}` : "",
  ]
    .filter(Boolean)
    .join(", ");
}
