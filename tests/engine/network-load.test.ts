/** D7, F31 and F32: what AES67 streams take of a network, against arithmetic from the standards' own sizes. */
import { describe, expect, test } from "vitest";
import { analyse } from "#engine/analysis.ts";
import type { Show, Stream } from "#engine/model/show.ts";
import { fittingTimes, linkLoads, mostChannels, streamLoad } from "#engine/wiring/aes67.ts";
import { rig } from "./rigs/build.ts";
import { findingsOf, reasons, told } from "./checks/told.ts";

describe("the size of a stream", () => {
  test.each([
    [8, 9.216, 9.536, 9.68, 9.84],
    [2, 2.304, 2.624, 2.768, 2.928],
  ])(
    "[D7] %i channels of L24 at 48 kHz and 1 ms: %d Mbit/s of media, %d of IP, %d of frames, %d on the wire (arithmetic from RFC 3190, 3550, 768, 791 and IEEE 802.3)",
    (channels, media, ip, frame, wire) => {
      const load = streamLoad({ channels, packetTime: 1 }, 48000);
      expect(load.payload).toBe(channels * 48 * 3);
      expect([load.media, load.ip, load.frame, load.wire].map((bits) => bits / 1e6)).toEqual([
        media,
        ip,
        frame,
        wire,
      ]);
    },
  );

  test("[F32] channels in a packet of 1440 bytes: 80, 40, 30, 10, 2, and 5 at 96 kHz and 1 ms (AES67-2018 7.1; arithmetic)", () => {
    expect([0.125, 0.25, 1 / 3, 1, 4].map((time) => mostChannels(time, 48000))).toEqual([80, 40, 30, 10, 2]);
    expect(mostChannels(1, 96000)).toBe(5);
    expect(fittingTimes(8, 48000)).toEqual([1, 1 / 3, 0.25, 0.125]);
    expect(fittingTimes(81, 48000)).toEqual([]);
  });
});

/**
 *     One net ──N1── p1 Switch p2 ──N2── net Two
 *                           p3 ──N3── net Three
 */
const network = (streams: readonly string[], change: (stream: Stream) => Stream = (each) => each): Show => {
  const show = rig({
    devices: {
      one: { name: "One", type: "aes67-endpoint", clock: "internal" },
      switch: { name: "Switch", type: "aes67-switch" },
      two: { name: "Two", type: "aes67-endpoint", clock: "net" },
      three: { name: "Three", type: "aes67-endpoint", clock: "net" },
    },
    cables: ["N1: one.net - switch.p1", "N2: switch.p2 - two.net", "N3: switch.p3 - three.net"],
    streams,
  });
  return { ...show, streams: show.streams!.map(change) };
};

/** A fast port for talk of a slow one: the switch's own stay at a gigabit. */
const slowed = (show: Show, speed: number): Show => ({
  ...show,
  types: show.types.map((type) =>
    type.id === "aes67-endpoint"
      ? {
          ...type,
          ports: type.ports.map((port) =>
            port.network ? { ...port, network: { ...port.network, speed } } : port,
          ),
        }
      : type,
  ),
});

const loads = (show: Show): readonly string[] =>
  linkLoads(analyse(show).wiring).map(
    ({ cable, from, to, wire }) =>
      `${cable.cable.tag} ${from.device.device.id} to ${to.device.device.id}: ${wire / 1e6}`,
  );

describe("the load of a link", () => {
  test("[F31] a stream crosses a cable once, however many take it, and only in its own direction", () => {
    expect(
      loads(network(["A: one.net.1 x8 > two.net.1, three.net.1", "B: two.net.1 x2 > one.net.1"])),
    ).toEqual([
      "N1 one to switch: 9.84",
      "N1 switch to one: 2.928",
      "N2 switch to two: 9.84",
      "N2 two to switch: 2.928",
      "N3 switch to three: 9.84",
    ]);
  });

  test("[F31] a receiver that is off, and one that no way leads to, take nothing", () => {
    const show = network(["A: one.net.1 x8 > two.net.1, three.net.1"]);
    const off: Show = {
      ...show,
      devices: show.devices.map((device) => (device.id === "three" ? { ...device, powered: false } : device)),
    };
    expect(loads(off)).toEqual(["N1 one to switch: 9.84", "N2 switch to two: 9.84"]);
    expect(loads({ ...show, cables: show.cables.slice(1) })).toEqual([]);
  });

  test("[F31] over three quarters of the slower port's speed (IEEE 802.1Q cl. 34), not at them", () => {
    // 2 × 9.84 = 19.68 Mbit/s; 26.24 × 0.75 = 19.68.
    const two = network(["A: one.net.1 x8 > two.net.1", "B: one.net.9 x8 > two.net.9"]);
    expect(told(slowed(two, 26.24), "network-load")).toEqual([]);
    expect(told(slowed(two, 26), "network-load")).toEqual([
      "error network-load:N1:one:net: Cable N1 carries 19.68 Mbit/s of streams from One to Switch; 19.5 Mbit/s may be taken",
      "error network-load:N2:switch:p2: Cable N2 carries 19.68 Mbit/s of streams from Switch to Two; 19.5 Mbit/s may be taken",
    ]);
    expect(reasons(slowed(two, 26), "network-load")[1]).toBe(
      "2 streams on the wire: “A” 9.84 Mbit/s and “B” 9.84 Mbit/s. Of the 26 Mbit/s of Two Network audio may take 75 % (standard).",
    );
  });
});

describe("packets", () => {
  const packet = (channels: number, packetTime: number): Show =>
    network([`A: one.net.1 x${channels} > two.net.1`], (stream) => ({ ...stream, packetTime }));

  test("[F32] more channels than fit", () => {
    expect(told(packet(10, 1), "packet-too-big")).toEqual([]);
    expect(told(packet(11, 1), "packet-too-big")).toEqual([
      "error packet-too-big:a: Stream “A” doesn't fit in its packets: 11 channels where 10 fit",
    ]);
    expect(reasons(packet(11, 1), "packet-too-big")).toEqual([
      "11 channels of 48 samples (1 ms) are 1584 bytes; an AES67 packet holds 1440.",
    ]);
    expect(findingsOf(packet(2, 4), "packet-too-big")).toEqual([]);
    expect(findingsOf(packet(3, 4), "packet-too-big")).toHaveLength(1);
  });

  test("[F32] at the sender's rate", () => {
    const show = packet(6, 1);
    const fast: Show = {
      ...show,
      devices: show.devices.map((device) =>
        device.id === "one" ? { ...device, sampleRate: 96000 } : device,
      ),
    };
    expect(told(show, "packet-too-big")).toEqual([]);
    expect(told(fast, "packet-too-big")).toHaveLength(1);
  });
});
