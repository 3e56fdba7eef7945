import { describe, expect, it } from "vitest";
import { analyse, applyEdits, id, type DeviceId, type Show } from "#engine";
import { nodeGeometry } from "#engine/layout/geometry.ts";
import { depthAt, levelAt } from "../../renderer/canvas/level.ts";
import { movesOf } from "../../renderer/canvas/moves.ts";
import { placeNodeId } from "../../renderer/canvas/node-ids.ts";
import { fitted, fittedLabel, lineCount, textWidth } from "#engine/layout/text.ts";
import { nearest, readingOrder, spotsOf } from "../../renderer/canvas/walk.ts";
import { pointingTeller, zoomFactor, type WheelLike } from "../../renderer/canvas/wheel.ts";
import { looksOf } from "../../renderer/canvas/looks.ts";
import { applyChange } from "../../renderer/state/changes.ts";
import { BOX, CONSOLE, smallShow, STAGE } from "./small-show.ts";

describe("depths of zoom", () => {
  it("changes depth later on the way out than on the way in", () => {
    expect(depthAt(0.63, "far")).toBe("far");
    expect(depthAt(0.63, "middle")).toBe("middle");
    expect(depthAt(1.45, "middle")).toBe("middle");
    expect(depthAt(1.45, "near")).toBe("near");
  });

  it("keeps text between its size and a third more, at any zoom", () => {
    let level = levelAt(0.1, null);
    for (let zoom = 0.1; zoom < 4; zoom *= 1.01) {
      level = levelAt(zoom, level);
      expect(level.unit * zoom).toBeGreaterThanOrEqual(0.999);
      expect(level.unit * zoom).toBeLessThanOrEqual(1.34);
    }
  });

  it("stays the same object within a step, so that nothing draws again", () => {
    const level = levelAt(0.8, null);
    expect(levelAt(0.805, level)).toBe(level);
  });
});

describe("text that is cut to fit", () => {
  it("never grows wider than the room", () => {
    for (const text of ["Overhead left", "Wedge mix 3", "Monitor bus thru", "x", "Kick"]) {
      for (const room of [10, 30, 45, 80]) {
        for (const cut of [fitted(text, 9, room), fittedLabel(text, 9, room)])
          expect(textWidth(cut, 9)).toBeLessThanOrEqual(room + 0.01);
      }
    }
  });

  it("keeps what tells neighbours apart", () => {
    expect(fittedLabel("Overhead left", 10, 50)).toMatch(/^Ov.*… L$/);
    expect(fittedLabel("Snare bottom", 10, 50)).toBe("Snare B");
    expect(fittedLabel("Kick", 10, 50)).toBe("Kick");
  });

  it("counts lines that break between words", () => {
    expect(lineCount("Front fill left", 10, 200)).toBe(1);
    expect(lineCount("Front fill left", 10, 50)).toBe(2);
    expect(lineCount("Loudspeakers", 10, 20)).toBe(Infinity);
  });
});

describe("walking by arrow keys", () => {
  const rect = (x: number, y: number) => ({ x, y, width: 10, height: 10 });

  it("goes to what is straight ahead before what is nearer but aside", () => {
    const others = [
      ["ahead", rect(100, 0)],
      ["aside", rect(40, 80)],
    ] as const;
    expect(nearest(rect(0, 0), others, "right")).toBe("ahead");
    expect(nearest(rect(0, 0), others, "down")).toBe("aside");
    expect(nearest(rect(0, 0), others, "left")).toBeNull();
  });

  it("reaches every block and every cell of a device", () => {
    const show = smallShow();
    const look = looksOf(analyse(show)).devices.get(BOX)!;
    for (const single of [false, true]) {
      const spots = spotsOf(nodeGeometry(look.type), look.spans, single);
      const reached = new Set([spots[0]![0]]);
      const queue = [spots[0]!];
      for (let at = queue.pop(); at; at = queue.pop()) {
        for (const direction of ["left", "right", "up", "down"] as const) {
          const next = nearest(
            at[1],
            spots.filter(([spot]) => spot !== at[0]),
            direction,
          );
          if (!next || reached.has(next)) continue;
          reached.add(next);
          queue.push(spots.find(([spot]) => spot === next)!);
        }
      }
      expect(reached.size).toBe(spots.length);
    }
  });

  it("reads devices by rows", () => {
    const boxes = new Map<DeviceId, ReturnType<typeof rect>>([
      [id("c"), rect(0, 600)],
      [id("b"), rect(500, 10)],
      [id("a"), rect(0, 20)],
    ]);
    expect(readingOrder(boxes)).toEqual(["a", "b", "c"]);
  });
});

describe("moving", () => {
  it("snaps devices to the grid and is one change", () => {
    const show = smallShow();
    const roomy = {
      ...show,
      places: show.places.map((place) => ({ ...place, size: { width: 2000, height: 2000 } })),
    };
    const moves = movesOf(roomy, new Map([[BOX, { x: 643, y: 76 }]]));
    expect(moves.change).toEqual({ kind: "move-devices", to: [{ device: BOX, at: { x: 640, y: 80 } }] });
    expect(moves.label).toBe("Move Stage box");
  });

  it("puts a device that is dropped in another place there, in one change that says so", () => {
    const show = smallShow();
    const moves = movesOf(show, new Map([[BOX, { x: 13, y: 76 }]]));
    expect(moves.label).toBe("Move Stage box to Front of house");
    expect([...moves.takers]).toEqual(["front"]);
    const { show: after } = applyChange(show, moves.change)!;
    expect(after.devices.find(({ id: each }) => each === BOX)).toMatchObject({
      place: "front",
      at: { x: 10, y: 80 },
    });
    // What is drawn meanwhile is what the drop makes of it.
    for (const { id: each, at, size } of after.places) {
      const area = moves.areas.get(each);
      if (area) expect(area).toEqual({ ...at, ...size });
      else
        expect(after.places.find((one) => one.id === each)).toEqual(
          show.places.find((one) => one.id === each),
        );
    }
    expect(moves.areas.has(id("front"))).toBe(true);
  });

  it("takes a place's devices along, in one change, and no others", () => {
    const show = smallShow();
    const place = show.places.find((one) => one.id === STAGE)!;
    const to = { x: place.at.x + 50, y: place.at.y - 20 };
    const { change } = movesOf(show, new Map([[placeNodeId(STAGE), to]]));
    if (change.kind !== "edits") throw new Error("not a list of edits");
    const after: Show = applyEdits(show, change.edits);
    for (const device of show.devices) {
      const moved = after.devices.find((one) => one.id === device.id)!;
      const by = device.place === STAGE ? { x: 50, y: -20 } : { x: 0, y: 0 };
      expect(moved.at).toEqual({ x: device.at.x + by.x, y: device.at.y + by.y });
    }
    expect(after.places.find((one) => one.id === STAGE)!.at).toEqual(to);
  });
});

describe("pictures of the rig", () => {
  it("keep their objects where an edit changes nothing in them", () => {
    const show = smallShow();
    const before = looksOf(analyse(show));
    const moved = {
      ...show,
      devices: show.devices.map((device) =>
        device.id === BOX ? { ...device, at: { x: 990, y: 990 } } : device,
      ),
    };
    const after = looksOf(analyse(moved));
    expect(after.devices.get(BOX)).toBe(before.devices.get(BOX));
    expect(after.devices.get(CONSOLE)).toBe(before.devices.get(CONSOLE));
    const renamed = {
      ...show,
      devices: show.devices.map((device) => (device.id === BOX ? { ...device, name: "Riser" } : device)),
    };
    const last = looksOf(analyse(renamed));
    expect(last.devices.get(BOX)).not.toBe(before.devices.get(BOX));
    expect(last.devices.get(CONSOLE)).toBe(before.devices.get(CONSOLE));
  });

  it("show a cell for each terminal", () => {
    const look = looksOf(analyse(smallShow())).devices.get(BOX)!;
    expect(look.spans.map(({ cells }) => cells.length)).toEqual(look.spans.map(({ span }) => span.count));
  });
});

describe("wheel or trackpad", () => {
  const event = (more: Partial<WheelLike>): WheelLike => ({
    deltaX: 0,
    deltaY: 0,
    deltaMode: 0,
    timeStamp: 0,
    ...more,
  });

  it("knows whole notches from two fingers", () => {
    expect(pointingTeller()(event({ deltaY: 120, wheelDeltaY: -120 }))).toBe("wheel");
    expect(pointingTeller()(event({ deltaY: 3, deltaMode: 1 }))).toBe("wheel");
    expect(pointingTeller()(event({ deltaY: 4, wheelDeltaY: -12 }))).toBe("trackpad");
    expect(pointingTeller()(event({ deltaY: 40, wheelDeltaY: -120 }))).toBe("trackpad");
    expect(pointingTeller()(event({ deltaX: 3, deltaY: 120 }))).toBe("trackpad");
  });

  it("stays with what a gesture began as", () => {
    const tell = pointingTeller();
    expect(tell(event({ deltaY: 4, wheelDeltaY: -12 }))).toBe("trackpad");
    expect(tell(event({ deltaY: 120, wheelDeltaY: -120, timeStamp: 16 }))).toBe("trackpad");
    expect(tell(event({ deltaY: 120, wheelDeltaY: -120, timeStamp: 900 }))).toBe("wheel");
  });

  it("zooms in by as much as it zooms out", () => {
    expect(zoomFactor(event({ deltaY: -120 })) * zoomFactor(event({ deltaY: 120 }))).toBeCloseTo(1);
  });
});
