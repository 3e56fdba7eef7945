/**
 * What AES67 streams take of a network. A packet holds `samples` of each channel as L24 (RFC 3190), behind headers of
 * RTP (RFC 3550, 12 bytes), UDP (RFC 768, 8) and IPv4 (RFC 791, 20); Ethernet adds a header of 14 and a check of 4, and
 * on the wire a preamble of 8 and a gap of 12 (IEEE 802.3).
 */
import { PACKET_TIMES, type Stream } from "../model/show.ts";
import type { SampleRate } from "../model/units.ts";
import type { PluggedCable, Port } from "./plugs.ts";
import type { Wiring } from "./wiring.ts";

const SAMPLE_BYTES = 3;
const IP_BYTES = 12 + 8 + 20;
const FRAME_BYTES = 14 + 4;
const WIRE_BYTES = 8 + 12;

/** The most bytes of sound that a packet may hold: AES67-2018, 7.1. */
export const MOST_PAYLOAD = 1440;

/** Samples of each channel in one packet. Whole ones: at 44.1 kHz a packet isn't quite as long as its name. */
export const packetSamples = (packetTime: number, rate: SampleRate): number =>
  Math.max(1, Math.round((packetTime / 1000) * rate));

/** The channels that fit in one packet: 10 at 48 kHz and 1 ms. */
export const mostChannels = (packetTime: number, rate: SampleRate): number =>
  Math.floor(MOST_PAYLOAD / (SAMPLE_BYTES * packetSamples(packetTime, rate)));

/** The packet times that a stream's channels fit in, the longest first. */
export const fittingTimes = (channels: number, rate: SampleRate): readonly number[] =>
  PACKET_TIMES.filter((time) => mostChannels(time, rate) >= channels).toReversed();

/** Of one stream; bits a second but for the payload, which is bytes a packet. */
export interface StreamLoad {
  readonly payload: number;
  readonly media: number;
  readonly ip: number;
  readonly frame: number;
  readonly wire: number;
}

export function streamLoad(
  { channels, packetTime }: Pick<Stream, "channels" | "packetTime">,
  rate: SampleRate,
): StreamLoad {
  const samples = packetSamples(packetTime, rate);
  const payload = channels * samples * SAMPLE_BYTES;
  const bits = (bytes: number): number => (bytes * 8 * rate) / samples;
  return {
    payload,
    media: bits(payload),
    ip: bits(payload + IP_BYTES),
    frame: bits(payload + IP_BYTES + FRAME_BYTES),
    wire: bits(payload + IP_BYTES + FRAME_BYTES + WIRE_BYTES),
  };
}

/** What streams take of a cable in one direction. */
export interface LinkLoad {
  readonly cable: PluggedCable;
  readonly from: Port;
  readonly to: Port;
  readonly streams: readonly { readonly stream: Stream; readonly rate: SampleRate }[];
  /** Bits a second on the wire. */
  readonly wire: number;
  /** Bits a second that audio may take: the lesser of the two ports' speed × share. */
  readonly limit: number;
}

/**
 * The loads of all cables that streams cross, in the order of the cables. A stream crosses a cable once, whatever number
 * of receivers lies behind it; one whose sender or receiver is off isn't sent there.
 */
export function linkLoads({ ways }: Wiring): readonly LinkLoad[] {
  const loads = new Map<string, Crossed>();
  const crossings = new Map<Stream, Crossing>();
  for (const { stream, from: sender, to: receiver, legs } of ways) {
    if (!sender.device.device.powered || !receiver.device.device.powered) continue;
    const crossing = crossings.get(stream) ?? { stream, rate: sender.device.rate };
    crossings.set(stream, crossing);
    for (const { cable, from, to } of legs) {
      const key = `${cable.index}:${from.device.index}:${from.port.id}`;
      const load = loads.get(key) ?? { cable, from, to, streams: new Set<Crossing>() };
      loads.set(key, load);
      load.streams.add(crossing);
    }
  }
  return [...loads.values()]
    .map(({ cable, from, to, streams }) => ({
      cable,
      from,
      to,
      streams: [...streams],
      wire: [...streams].reduce((sum, { stream, rate }) => sum + streamLoad(stream, rate).wire, 0),
      limit: Math.min(audioLimit(from), audioLimit(to)),
    }))
    .sort((a, b) => a.cable.index - b.cable.index || a.from.device.index - b.from.device.index);
}

type Crossing = LinkLoad["streams"][number];
type Crossed = Pick<LinkLoad, "cable" | "from" | "to"> & { readonly streams: Set<Crossing> };

/** Bits a second that audio may take at a port: its speed × share. */
export const audioLimit = ({ port: { network } }: Port): number =>
  network ? network.speed * 1e6 * network.share : Number.POSITIVE_INFINITY;
