/** F7, F31 and F32: slots and megabits that there aren't. Bits and bytes by hand from RFC 3190, 3550, 768, 791 and IEEE 802.3. */
import { describe, expect, test } from "vitest";
import type { Show } from "#engine/model/show.ts";
import { rig } from "../rigs/build.ts";
import { EIGHT, EIGHT_BY_EIGHT, port, type } from "../rigs/types.ts";
import { findingsOf, told } from "./told.ts";
import { offered, whole } from "./whole.ts";

describe("slots", () => {
  const console = (...set: readonly string[]): Show =>
    rig({ rate: 96000, devices: { house: { name: "House", type: "console-24", set } } });

  test("[F7] up to the very last slot of the port; no cable where none is plugged in", () => {
    const show = console("link1 41 x8 < mix 1");
    expect(whole(show, "over-capacity")).toEqual([
      "error over-capacity:house:link1:send: House Link 1 out is set past its last slot",
      "It carries 24 slots at 96 kHz; slots 41–48 do not exist.",
      "at House Link 1 out 41–48; devices house",
    ]);
    expect(findingsOf(show, "over-capacity")[0]!.cables).toEqual([]);
  });

  test("[F7] [F27] the other port's settings stay, whichever way the slots go", () => {
    expect(offered(console("link1 25 x8 < mix 1", "link2 25 x8 < mix 1"), "over-capacity")).toEqual([
      "Clear the settings of House past the last slot",
      "  devices house routing: link2 25 x8 < mix 1",
    ]);
    expect(offered(console("ch 1 < link1 30", "ch 2 < link2 30"), "over-capacity")).toEqual([
      "Clear the settings of House past the last slot",
      "  devices house routing: ch 2 < link2 30",
    ]);
  });

  test("[F7] [F27] a device alone with a rate of its own goes back to the show's", () => {
    const show = rig({
      devices: { house: { name: "House", type: "console-24", rate: 96000, set: ["link1 25 x8 < mix 1"] } },
    });
    expect(offered(show, "over-capacity")[0]).toBe("Run House at the show's rate");
  });

  /** Sends four slots at single rates and eight at double ones, and receives the other way round. */
  const UNEVEN = type("uneven", {
    banks: EIGHT_BY_EIGHT.banks,
    ports: [
      port("x", { single: 8, double: 4, quad: 2 }, { send: { single: 4, double: 8, quad: 2 } }),
      port("y", EIGHT, { receive: { single: 8, double: 8, quad: 2 } }),
    ],
    rules: [
      {
        kind: "patch",
        to: { group: "x" as never, first: 1, count: 8 },
        from: [{ group: "in" as never, first: 1, count: 8 }],
        run: 1,
      },
      {
        kind: "patch",
        to: { group: "y" as never, first: 1, count: 8 },
        from: [{ group: "in" as never, first: 1, count: 8 }],
        run: 1,
      },
      {
        kind: "patch",
        to: { group: "out" as never, first: 1, count: 8 },
        from: [{ group: "x" as never, first: 1, count: 8 }],
        run: 1,
      },
    ],
  });
  const set = ["x 5 < in 1", "out 1 < x 5"];

  test("[F7] [W10] where neither end converts each way has its own slots: the sender's at its rate, the receiver's at its own", () => {
    const show = rig({
      types: [UNEVEN],
      devices: {
        one: { name: "One", type: "uneven", set },
        two: { name: "Two", type: "uneven", rate: 96000, set },
      },
      cables: ["L1: one.x - two.x, 5 m"],
    });
    // From One to Two four are sent and four received, from Two to One eight and eight.
    expect(told(show, "over-capacity")).toEqual([
      "error over-capacity:one:x:send: One Port X out is set past its last slot",
      "error over-capacity:two:x:receive: Two Port X in is set past its last slot",
    ]);
  });

  test("[F7] a cable from a device to itself has two ways as well", () => {
    const show = rig({
      types: [UNEVEN],
      devices: { one: { name: "One", type: "uneven", set: ["y 5 < in 1", "x 5 < in 1"] } },
      cables: ["L1: one.x - one.y, 5 m"],
    });
    // Y sends eight to X, X four to Y.
    expect(told(show, "over-capacity")).toEqual([
      "error over-capacity:one:x:send: One Port X out is set past its last slot",
    ]);
  });
});

describe("streams", () => {
  const network = (
    streams: readonly (readonly [channels: number, packetTime: number])[],
    speed: number,
    rate: 44100 | 96000 = 44100,
  ): Show => {
    const show = rig({
      rate,
      devices: {
        one: { name: "One", type: "aes67-endpoint", clock: "internal" },
        two: { name: "Two", type: "aes67-endpoint", clock: "net" },
      },
      cables: ["N1: one.net - two.net, 5 m, cat5e"],
      streams: streams.map(
        ([channels], n) => `${"ABC"[n]}: one.net.${1 + 8 * n} x${channels} > two.net.${1 + 8 * n}`,
      ),
    });
    return {
      ...show,
      streams: show.streams!.map((stream, n) => ({ ...stream, packetTime: streams[n]![1] })),
      types: show.types.map((each) => ({
        ...each,
        ports: each.ports.map((p) => (p.network ? { ...p, network: { ...p.network, speed } } : p)),
      })),
    };
  };

  test("[F31] [F27] what each stream takes on the wire; those in packets of 1 ms already stay as they are", () => {
    // At 44.1 kHz 0.125 ms are 6 samples, 1 ms 44: (8·6·3 + 78)·8·44100/6 and (8·44·3 + 78)·8·44100/44 bits a second.
    const show = network(
      [
        [8, 0.125],
        [8, 1],
      ],
      28,
    );
    expect(whole(show, "network-load")).toEqual([
      "error network-load:N1:one:net: Cable N1 carries 22.146 Mbit/s of streams from One to Two; 21 Mbit/s may be taken",
      "2 streams on the wire: “A” 13.054 Mbit/s and “B” 9.093 Mbit/s. Of the 28 Mbit/s of One Network audio may take 75 % (standard).",
      "devices one, two; cables N1",
    ]);
    expect(offered(show, "network-load")).toEqual([
      "Send “A” in packets of 1 ms",
      "  streams a packetTime: 1",
    ]);
  });

  test("[F31] [F27] never longer than 1 ms, which every device takes; a stream without a name by its id", () => {
    // Two channels fit in 4 ms, too. (2·6·3 + 78)·8·44100/6 = 6.703 Mbit/s, in 1 ms (2·44·3 + 78)·8·44100/44 = 2.742.
    const show = network([[2, 0.125]], 8);
    const nameless = { ...show, streams: show.streams!.map((stream) => ({ ...stream, name: "" })) };
    expect(offered(nameless, "network-load")).toEqual([
      "Send “a” in packets of 1 ms",
      "  streams a packetTime: 1",
    ]);
  });

  test("[F32] one channel fits, two don't: 4 ms at 96 kHz are 384 samples of 3 bytes", () => {
    expect(whole(network([[2, 4]], 1000, 96000), "packet-too-big")).toEqual([
      "error packet-too-big:a: Stream “A” doesn't fit in its packets: 2 channels where 1 fits",
      "2 channels of 384 samples (4 ms) are 2304 bytes; an AES67 packet holds 1440.",
      "devices one",
    ]);
  });
});
