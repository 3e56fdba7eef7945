/** Packets and loads of AES67 streams at their borders. The times are those of AES67, clause 7.2 (from memory). */
import { describe, expect, test } from "vitest";
import type { Show } from "#engine/model/show.ts";
import { mostChannels, linkLoads, packetSamples } from "#engine/wiring/aes67.ts";
import { compile } from "#engine/wiring/compile.ts";
import { rig } from "./rigs/build.ts";

describe("samples in a packet", () => {
  test.each([
    [1, 48000, 48],
    [0.125, 48000, 6],
    [4, 48000, 192],
    [4, 192000, 768],
    // 44.1 samples last 1 ms: a packet has whole ones.
    [1, 44100, 44],
    [0.125, 44100, 6],
    // However short, a packet holds one.
    [0.001, 48000, 1],
  ] as const)("[D7] %d ms at %d Hz: %d", (time, rate, samples) => {
    expect(packetSamples(time, rate)).toBe(samples);
  });

  test("[F32] channels of L24 in 1440 bytes: 1440 / (3 × samples), whole ones (AES67, RFC 3190)", () => {
    expect(mostChannels(1, 48000)).toBe(10);
    expect(mostChannels(0.125, 48000)).toBe(80);
    expect(mostChannels(4, 48000)).toBe(2);
    expect(mostChannels(1, 96000)).toBe(5);
  });
});

describe("loads of a cable", () => {
  /** Two endpoints that send to each other over one cable; the second one comes first in the streams. */
  const both = (off: readonly string[] = []): Show => {
    const end = (name: string, key: string) => ({ name, type: "aes67-endpoint", off: off.includes(key) });
    return rig({
      devices: {
        one: { ...end("One", "one"), clock: "internal" },
        two: { ...end("Two", "two"), clock: "net" },
      },
      cables: ["N1: one.net - two.net, 5 m, cat5e"],
      streams: ["Back: two.net.1 x8 > one.net.1", "There: one.net.1 x2 > two.net.1"],
    });
  };

  test("[F31] each way by itself, that of the first device first; 9.84 and 2.928 Mbit/s on the wire", () => {
    const loads = linkLoads(compile(both()));
    expect(loads.map(({ from, to }) => `${from.device.device.id} ${to.device.device.id}`)).toEqual([
      "one two",
      "two one",
    ]);
    // 2 and 8 channels of L24 at 48 kHz in packets of 1 ms over IPv4 (RFC 3190, 3550, 768, 791; IEEE 802.3).
    expect(loads.map(({ wire }) => wire)).toEqual([2_928_000, 9_840_000]);
  });

  test("[F31] three quarters of a gigabit may be taken (IEEE 802.1Q's default share)", () => {
    expect(linkLoads(compile(both())).map(({ limit }) => limit)).toEqual([750_000_000, 750_000_000]);
  });

  test("[F31] what is off neither sends nor is sent to", () => {
    expect(linkLoads(compile(both(["one"])))).toEqual([]);
    expect(linkLoads(compile(both(["two"])))).toEqual([]);
  });
});
