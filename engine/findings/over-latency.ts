/** F30: wanted feeds that take longer from a source to their jack than they may. */
import type { DeviceId } from "../model/ids.ts";
import type { Edit } from "../model/edit.ts";
import { gather, once } from "../model/once.ts";
import type { Want } from "../model/show.ts";
import { round } from "../model/units.ts";
import { latencies, type Latency } from "../trace/latency.ts";
import { ownerIndex } from "../trace/owners.ts";
import { fullName, terminalOf } from "../trace/terminal.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { counted, listOf, tapName } from "./describe.ts";
import { found, type Analysed, type Check, type Finding, type Fix } from "./finding.ts";
import { allowed } from "./remedies.ts";
import { NOWHERE, standing } from "./standing.ts";

interface Late {
  readonly want: Want;
  readonly jack: number;
  readonly limit: number;
  readonly latency: Latency;
}

export const overLatency: Check = {
  id: "over-latency",
  about: "a wanted feed that takes longer than its limit",
  reads: ({ wiring, arrivals }) => [
    arrivals.root,
    arrivals.delay,
    wiring.state,
    wiring.conduct,
    wiring.mixInto,
    wiring.show.mixes,
    wiring.show.sources,
    wiring.show.wants,
  ],
  run: (rig) => [...lateByOwner(rig)].map(([owner, late]) => told(rig.wiring, owner, late)),
  // Which hop the show could do without nobody can tell, so all that an edit can do is to let the feeds have their time.
  propose: (rig, finding) =>
    [...lateByOwner(rig)]
      .filter(([owner]) => idOf(rig.wiring, owner) === finding.id)
      .flatMap(([, late]): Fix[] => {
        const wants = late.map(({ want, latency }) => ({ ...want, limit: allowed(latency.time) }));
        const edits = wants.flatMap(({ limit, ...want }): Edit[] =>
          limit === null ? [] : [{ kind: "put", list: "wants", record: { ...want, limit } }],
        );
        const [first] = wants;
        const label =
          wants.length === 1
            ? `Allow ${first!.name} ${first!.limit} ms`
            : `Allow ${listOf(
                wants.map(({ name }) => name),
                3,
              )} the time that they take`;
        return edits.length < wants.length ? [] : [{ label, edits }];
      }),
};

const idOf = ({ devices }: Wiring, owner: number): string =>
  `over-latency:${devices[owner]?.device.id ?? "sources"}`;

const latenciesOf = once(({ wiring, arrivals }: Analysed) => latencies(wiring, arrivals));

/** In place of an owner: straight from a source. */
const NO_OWNER = -1;

/** Feeds past their limit, by the device that owns them: what one console adds, it adds to all its feeds. */
function lateByOwner(rig: Analysed): ReadonlyMap<number, readonly Late[]> {
  const { wiring, arrivals } = rig;
  const { wants, settings } = wiring.show;
  const at = standing(wiring);
  const late = new Map<number, Late[]>();
  wants.forEach((want, n) => {
    const limit = want.limit ?? settings.latencyLimit;
    const jack = at.wants[n]!;
    if (limit === undefined || jack === NOWHERE) return;
    const latency = latenciesOf(rig)(jack);
    // Rounded, for sums of the same delays in another order differ in their last digits.
    if (!latency || round(latency.time, 9) <= limit) return;
    gather(late, ownerIndex(wiring, arrivals, jack), { want, jack, limit, latency });
  });
  return late;
}

function told(wiring: Wiring, owner: number, late: readonly Late[]): Finding {
  const device = owner === NO_OWNER ? null : wiring.devices[owner]!.device;
  const over = ({ latency, limit }: Late): number => latency.time - limit;
  const worst = late.reduce((most, each) => (over(each) > over(most) ? each : most));
  const time = `${round(worst.latency.time, 3)} ms`;
  const more = late.filter((each) => each !== worst).map(({ want }) => want.name);
  const others = more.length > 0 ? ` So ${more.length === 1 ? "does" : "do"} ${listOf(more)}.` : "";
  const whose = device ? ` of ${device.name}` : " straight from sources";
  return found(
    {
      id: idOf(wiring, owner),
      check: "over-latency",
      severity: "warning",
      title:
        late.length === 1
          ? `${worst.want.name} takes ${time}; ${worst.limit} ms are its limit`
          : `${counted(late.length, "feed")}${whose} take longer than their limit, up to ${time}`,
      reason: `${originName(wiring, worst.latency)} reaches ${worst.want.name} at ${fullName(wiring, worst.jack)} after ${time}${way(wiring, worst.latency)}; at most ${worst.limit} ms are wanted.${others}`,
    },
    {
      terminals: late.map(({ jack }) => terminalOf(wiring, jack)),
      devices: device ? [device.id] : devicesOf(late),
      wants: late.map(({ want }) => want.id),
    },
  );
}

const devicesOf = (late: readonly Late[]): readonly DeviceId[] => [
  ...new Set(late.map(({ want }) => want.to.device)),
];

function originName(wiring: Wiring, { origin }: Latency): string {
  return wiring.show.sources[wiring.sourceAt[origin]!]?.name ?? tapName(wiring, origin);
}

/** ` by Monitors Mix 9 (Ears)`: the mixes that the longest way passes. */
const way = (wiring: Wiring, { taps }: Latency): string =>
  taps.length > 0 ? ` by ${listOf(taps.map((tap) => tapName(wiring, tap)))}` : "";
