/** How late a signal arrives, and what each part of that number rests on. */
import { describe, expect, test } from "vitest";
import type { DeviceType } from "#engine/model/device-type.ts";
import { stepsOf, type Trace } from "#engine/trace/trace.ts";
import { reachOf } from "#engine/trace/reach.ts";
import { traceOf } from "#engine/trace/walk.ts";
import * as rigs from "./rigs/index.ts";
import { Bench, tellSteps } from "./tell.ts";

/** `link send 0.020833 assumed + cable 0.000269 standard + …`: every part of every step. */
const parts = (trace: Trace): readonly string[] =>
  stepsOf(trace).map((step) =>
    step.parts.map(({ what, ms, provenance }) => `${what} ${ms.toFixed(6)} ${provenance}`).join(" + "),
  );

/** A network endpoint whose sender takes 0.2 ms and whose receiver 0.3. */
const late = (type: DeviceType): DeviceType => ({
  ...type,
  ports: type.ports.map((port) =>
    port.transport === "AES67"
      ? {
          ...port,
          sendDelay: { value: 0.2, unit: "ms", provenance: "measured" },
          receiveDelay: { value: 0.3, unit: "ms", provenance: "measured" },
        }
      : port,
  ),
});

describe("delay", () => {
  test("[D1] a trace's delay is the sum of its steps'", () => {
    // Three links of three samples at 48 kHz, 195 m of category cable at 5.376 ns/m, one converter.
    const ears = new Bench(rigs.R02).trace("Ears rack Out 3");
    expect(ears.delay).toBeCloseTo(3 * 0.0625 + 0.00104832 + 0.25, 9);
    // Three samples take half as long at 96 kHz.
    const harp = new Bench(rigs.R08).trace("House Channel 24");
    expect(harp.delay).toBeCloseTo(0.3 + 0.03125 + 0.0002688, 9);
    // What starts at a tap and goes nowhere takes no time.
    expect(new Bench(rigs.R01).trace("House Mix 1").delay).toBe(0);
  });

  test("[D1] samples count at the rate of the device concerned", () => {
    const bench = new Bench(rigs.R56);
    expect(tellSteps(bench.show, bench.trace("Slow Out 1"))).toEqual([
      "Slow In 1: to digital, 1 ms",
      "Slow Out 1: set out 1 x1 < in 1, 0.5 ms",
      "Slow Out 1: to analogue, 0.5 ms",
    ]);
    expect(tellSteps(bench.show, bench.trace("Quick Out 1"))).toEqual([
      "Quick In 1: to digital, 0.5 ms",
      "Quick Out 1: set out 1 x1 < in 1, 0.25 ms",
      "Quick Out 1: to analogue, 0.5 ms",
    ]);
    // The coax from the interface to the recorder runs at 96 kHz, the link before it sends at 48 and receives at 96.
    const recorder = new Bench(rigs.R15);
    expect(parts(recorder.trace("Recorder Track 1"))).toEqual([
      "",
      "link send 0.020833 assumed + link receive 0.020833 assumed",
      "",
      "link send 0.010417 assumed + cable 0.000200 assumed + link receive 0.020833 assumed",
      "",
    ]);
  });

  test("[D1] a stream takes its packet's time, what the sender and the receiver take, and its cables'", () => {
    const { show } = rigs.R19;
    const slow = {
      ...show,
      types: show.types.map((type) => (type.id === "aes67-endpoint" ? late(type) : type)),
    };
    const bench = new Bench({ show: slow });
    const { wiring } = bench;
    // Each end has a sender and a receiver; 160 m of cable of 5.376 ns/m.
    const time = 1 + 0.2 + 160 * 0.000005376 + 0.3;
    const [from, to] = [bench.at("Endpoint 1 Network out 8"), bench.at("Endpoint 2 Network in 16")];
    expect(wiring.feeder[to]).toBe(from);
    expect(wiring.delay[to]).toBeCloseTo(time, 9);
    const stream = stepsOf(traceOf(wiring, to)).slice(-3);
    expect(stream.map(({ kind }) => kind)).toEqual(["cable", "streamed", "cable"]);
    expect(stream.reduce((sum, { delay }) => sum + delay, 0)).toBeCloseTo(time, 9);
  });

  test("[D1] processing counts once, where a channel enters the mixer", () => {
    const bench = new Bench(rigs.R12);
    const [throughMix, straight] = reachOf(bench.wiring, bench.at("House Local in 1")).traces;
    expect(tellSteps(bench.show, throughMix!)).toEqual([
      "House Local in 1: to digital, 0.3 ms",
      "House Channel 1: set ch 1 x1 < in 1",
      "House Mix 1: wedge, pre, 0.6 ms",
      "House Main 1: main, post",
      "House Matrix 1: delay, post",
      "House Local out 1: set out 1 x1 < mtx 1",
      "House Local out 1: to analogue, 0.25 ms",
    ]);
    expect(throughMix!.delay).toBeCloseTo(1.15, 9);
    expect(straight!.delay).toBeCloseTo(1.15, 9);
  });

  test("[D2] a cable adds its length times its kind's delay, and nothing where its length isn't known", () => {
    const bench = new Bench(rigs.R02);
    // 75 m and 90 m on category cable; T2's length isn't known.
    expect(parts(bench.trace("Stage box Out 1"))[1]).toBe(
      "link send 0.020833 assumed + cable 0.000403 standard + link receive 0.041667 assumed",
    );
    expect(parts(bench.trace("Monitors Link 2 in 1"))[1]).toBe(
      "link send 0.020833 assumed + link receive 0.041667 assumed",
    );
    // 10 m of line cable at 5 ns/m: a jack cable has no link to send and receive.
    expect(parts(new Bench(rigs.R01).trace("Wedge In 1")).at(-1)).toBe("cable 0.000050 assumed");
  });

  test("[D3] every part says where its number comes from", () => {
    expect(parts(new Bench(rigs.R56).trace("Slow Out 1"))).toEqual([
      "conversion 1.000000 maker's sheet",
      "fabric 0.500000 measured",
      "conversion 0.500000 measured",
    ]);
    for (const [name, rig] of rigs.RIGS) {
      const bench = new Bench(rig);
      for (const device of bench.show.devices) {
        for (const trace of bench.outputs(device.id)) {
          for (const step of stepsOf(trace)) {
            expect(
              step.parts.reduce((sum, { ms }) => sum + ms, 0),
              name,
            ).toBeCloseTo(step.delay, 12);
          }
        }
      }
    }
  });
});
