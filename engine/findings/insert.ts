/** F33: inserts that are in and whose signal doesn't come back, or comes back from elsewhere. */
import type { DeviceId } from "../model/ids.ts";
import type { Device } from "../model/show.ts";
import { runsIn } from "../model/runs.ts";
import { arrivesAt, comesFrom } from "../trace/owners.ts";
import { wiredOf } from "../trace/records.ts";
import { namesOf, ranges, terminalOf } from "../trace/terminal.ts";
import { insertsOf, type InsertPoint } from "../wiring/inserts.ts";
import type { WiredDevice, Wiring } from "../wiring/wiring.ts";
import { tapName } from "./describe.ts";
import { found, type Analysed, type Check, type Finding, type Fix } from "./finding.ts";
import { deviceFix, without } from "./remedies.ts";

type Fault = "dark" | "elsewhere" | "lost";

export const insert: Check = {
  id: "insert",
  about: "an insert that is in and whose signal doesn't come back from its own send",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    wiring.state,
    wiring.conduct,
    wiring.show.mixes,
    wiring.show.sources,
  ],
  run: (rig) => rig.wiring.devices.flatMap((wired) => (wired?.device.inserts ? faultsOf(rig, wired) : [])),
  propose: (rig, { id, devices: [device] }) => {
    const wired = wiredOf(rig.wiring, device!);
    const fault = (["dark", "elsewhere", "lost"] as const).find((each) => id === idOf(device!, each));
    if (!wired || !fault) return [];
    return fault === "lost" ? takeOutLost(wired) : takeOut(wired, pointsOf(rig, wired, fault));
  },
};

const idOf = (device: DeviceId, fault: Fault): string => `insert:${fault}:${device}`;

/** The inserts of a device from which nothing comes back, or something else than went out. */
function pointsOf(
  { wiring, arrivals }: Analysed,
  { base, device, fabric }: WiredDevice,
  fault: Exclude<Fault, "lost">,
): readonly InsertPoint[] {
  return insertsOf(device, fabric.layout).points.filter(({ comesBack, goesOut }) => {
    const arrives = arrivesAt(wiring, arrivals, base + comesBack);
    if (fault === "dark") return !arrives;
    return arrives && goesOut !== null && !comesFrom(arrivals, base + comesBack, base + goesOut);
  });
}

/** Inserts that name no return section, or no number of it that an insert can stand in. */
function lostOf({ device, fabric }: WiredDevice): NonNullable<Device["inserts"]> {
  const there = new Set(insertsOf(device, fabric.layout).points.map((point) => point.insert));
  return (device.inserts ?? []).filter((_, index) => !there.has(index));
}

function faultsOf(rig: Analysed, wired: WiredDevice): Finding[] {
  const { wiring, arrivals } = rig;
  const { device, base } = wired;
  const dark = pointsOf(rig, wired, "dark");
  const elsewhere = pointsOf(rig, wired, "elsewhere");
  const lost = lostOf(wired);
  const names = (points: readonly InsertPoint[]): string => placesOf(wiring, wired, points);
  const at = (points: readonly InsertPoint[]): Parameters<typeof found>[1] => ({
    terminals: points.flatMap(({ at: place, comesBack }) =>
      [place, comesBack].map((offset) => terminalOf(wiring, base + offset)),
    ),
    devices: [device.id],
  });
  const findings: Finding[] = [];
  if (dark.length > 0) {
    const says = { id: idOf(device.id, "dark"), check: "insert", severity: "error" } as const;
    const returns = namesOf(
      wiring,
      dark.map(({ comesBack }) => base + comesBack),
    );
    const title = `${names(dark)} ${dark.length === 1 ? "is" : "are"} silent behind an insert`;
    const reason = `The insert is in, and nothing arrives at ${returns}.`;
    findings.push(found({ ...says, title, reason }, at(dark)));
  }
  if (elsewhere.length > 0) {
    const says = { id: idOf(device.id, "elsewhere"), check: "insert", severity: "warning" } as const;
    const [first] = elsewhere;
    const title = `What comes back from the ${elsewhere.length === 1 ? "insert" : "inserts"} of ${names(elsewhere)} isn't what went out`;
    const reason = `${tapName(wiring, arrivals.root[base + first!.comesBack]!)} arrives at ${namesOf(wiring, [base + first!.comesBack])}; its own send is ${namesOf(wiring, [base + first!.goesOut!])}.`;
    findings.push(found({ ...says, title, reason }, at(elsewhere)));
  }
  if (lost.length > 0) {
    const says = { id: idOf(device.id, "lost"), check: "insert", severity: "error" } as const;
    const title = `${device.name} has inserts in that it doesn't have`;
    const each = lost.map(
      ({ group, first, count }) => `“${group}” ${ranges(Array.from({ length: count }, (_, n) => first + n))}`,
    );
    findings.push(
      found(
        { ...says, title, reason: `No insert returns there: ${each.join(", ")}.` },
        { devices: [device.id] },
      ),
    );
  }
  return findings;
}

const placesOf = (wiring: Wiring, { base }: WiredDevice, points: readonly InsertPoint[]): string =>
  namesOf(
    wiring,
    points.map(({ at }) => base + at),
  );

/** Takes the inserts at fault out, and leaves the others in. */
function takeOut({ device, fabric }: WiredDevice, points: readonly InsertPoint[]): readonly Fix[] {
  const gone = new Set(points.map(({ comesBack }) => comesBack));
  const kept = (device.inserts ?? []).flatMap((range) => {
    const span = fabric.layout.destinations.get(range.group);
    if (!span) return [range];
    const numbers = Array.from({ length: range.count }, (_, n) => range.first + n);
    const stays = numbers.filter((number) => !gone.has(span.start + number - 1));
    return runsIn(stays).map((run) => ({ group: range.group, ...run }));
  });
  return keep(device, kept, points.length);
}

/** Takes those out that no insert returns for. */
function takeOutLost(wired: WiredDevice): readonly Fix[] {
  const lost = lostOf(wired);
  const kept = (wired.device.inserts ?? []).filter((range) => !lost.includes(range));
  return keep(wired.device, kept, lost.length);
}

function keep(device: Device, kept: NonNullable<Device["inserts"]>, out: number): readonly Fix[] {
  const record = kept.length > 0 ? { ...device, inserts: kept } : without(device, "inserts");
  return [deviceFix(`Take ${out === 1 ? "the insert" : `${out} inserts`} of ${device.name} out`, record)];
}
