/** F31 and F32: streams that take more of a link than they may, and streams that don't fit in their packets. */
import type { Edit } from "../model/edit.ts";
import type { Stream } from "../model/show.ts";
import { round, type SampleRate } from "../model/units.ts";
import {
  audioLimit,
  fittingTimes,
  linkLoads,
  mostChannels,
  MOST_PAYLOAD,
  packetSamples,
  streamLoad,
  type LinkLoad,
} from "../wiring/aes67.ts";
import { networkPort } from "../wiring/network.ts";
import { wiredOf } from "../trace/records.ts";
import type { Wiring } from "../wiring/wiring.ts";
import { cableName, counted, listOf } from "./describe.ts";
import { found, type Check, type Finding, type Fix } from "./finding.ts";

const megabits = (bits: number): string => `${round(bits / 1e6, 3)} Mbit/s`;
const msName = (time: number): string => `${round(time, 3)} ms`;
const nameOf = ({ name, id }: Stream): string => `“${name || id}”`;

const putStream = (record: Stream): Edit => ({ kind: "put", list: "streams", record });

export const networkLoad: Check = {
  id: "network-load",
  about: "streams that take more of a link than audio may",
  reads: ({ wiring }) => [wiring.ways, wiring.conduct, wiring.show.cables],
  run: ({ wiring }) =>
    linkLoads(wiring).flatMap((load) => (load.wire > load.limit ? [overload(wiring, load)] : [])),
  // Longer packets have fewer headers; every device takes 1 ms.
  propose: ({ wiring }, { id }): readonly Fix[] => {
    const load = linkLoads(wiring).find((each) => id === loadId(each));
    const longer = (load?.streams ?? []).flatMap(({ stream, rate }): Stream[] => {
      const time = fittingTimes(stream.channels, rate).find((each) => each <= 1);
      return time !== undefined && time > stream.packetTime ? [{ ...stream, packetTime: time }] : [];
    });
    if (longer.length === 0) return [];
    const label = `Send ${listOf(longer.map((stream) => `${nameOf(stream)} in packets of ${msName(stream.packetTime)}`))}`;
    return [{ label, edits: longer.map(putStream) }];
  },
};

const loadId = ({ cable, from }: LinkLoad): string =>
  `network-load:${cable.cable.id}:${from.device.device.id}:${from.port.id}`;

function overload(wiring: Wiring, load: LinkLoad): Finding {
  const { cable, from, to, streams, wire, limit } = load;
  const slower = [from, to].toSorted((a, b) => audioLimit(a) - audioLimit(b))[0]!;
  const { speed, share, provenance } = slower.port.network!;
  const each = streams.map(
    ({ stream, rate }) => `${nameOf(stream)} ${megabits(streamLoad(stream, rate).wire)}`,
  );
  return found(
    {
      id: loadId(load),
      check: "network-load",
      severity: "error",
      title: `${cableName(wiring, cable.cable)} carries ${megabits(wire)} of streams from ${from.device.device.name} to ${to.device.device.name}; ${megabits(limit)} may be taken`,
      reason: `${counted(streams.length, "stream")} on the wire: ${listOf(each)}. Of the ${speed} Mbit/s of ${slower.device.device.name} ${slower.port.name} audio may take ${round(share * 100, 1)} % (${provenance}).`,
    },
    {
      devices: [from.device.device.id, to.device.device.id],
      cables: [cable.cable.id],
    },
  );
}

export const packetTooBig: Check = {
  id: "packet-too-big",
  about: "a stream of more channels than fit in its packets",
  reads: ({ wiring }) => [wiring.show.streams, wiring.conduct],
  run: ({ wiring }) =>
    (wiring.show.streams ?? []).flatMap((stream) => {
      const rate = senderRate(wiring, stream);
      return rate !== null && stream.channels > mostChannels(stream.packetTime, rate)
        ? [tooBig(stream, rate)]
        : [];
    }),
  propose: ({ wiring }, { id }): readonly Fix[] => {
    const stream = (wiring.show.streams ?? []).find((each) => id === `packet-too-big:${each.id}`);
    const rate = stream ? senderRate(wiring, stream) : null;
    const time = stream && rate !== null ? fittingTimes(stream.channels, rate)[0] : undefined;
    if (!stream || time === undefined) return [];
    return [
      {
        label: `Send ${nameOf(stream)} in packets of ${msName(time)}`,
        edits: [putStream({ ...stream, packetTime: time })],
      },
    ];
  },
};

/** Null where the stream's sender is no network port of the rig, which check F14 tells. */
const senderRate = (wiring: Wiring, { from }: Stream): SampleRate | null =>
  networkPort(from, (end) => wiredOf(wiring, end.device))?.device.rate ?? null;

function tooBig(stream: Stream, rate: SampleRate): Finding {
  const { channels, packetTime, from } = stream;
  const samples = packetSamples(packetTime, rate);
  const fit = mostChannels(packetTime, rate);
  return found(
    {
      id: `packet-too-big:${stream.id}`,
      check: "packet-too-big",
      severity: "error",
      title: `Stream ${nameOf(stream)} doesn't fit in its packets: ${counted(channels, "channel")} where ${fit} ${fit === 1 ? "fits" : "fit"}`,
      reason: `${channels} channels of ${samples} samples (${msName(packetTime)}) are ${streamLoad(stream, rate).payload} bytes; an AES67 packet holds ${MOST_PAYLOAD}.`,
    },
    { devices: [from.device] },
  );
}
