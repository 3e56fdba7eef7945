/** A cable pulled from a port or a bank of jacks to another, by mouse, pen or finger. */
import {
  cablesThatFit,
  firstFree,
  fitOf,
  gather,
  holeAt,
  holeName,
  type CableEnd,
  type DeviceId,
  type GroupId,
  type Offer,
  type Point,
} from "#engine";
import { hitNode, nodeGeometry, type GroupGeometry, type NodeGeometry } from "#engine/layout/geometry.ts";
import { followPointer, pageOf } from "../parts/follow-pointer.ts";
import { app } from "../state/store.ts";
import { ui } from "../state/ui.ts";
import { plug } from "./build.ts";
import { stageAt } from "./stage.ts";
import { view, type Cabling } from "./view.ts";

/** Offers by device and group, so that a node finds its own. */
function sorted(offers: readonly Offer[]): Cabling["offers"] {
  const lists = new Map<DeviceId, Offer[]>();
  for (const offer of offers) gather(lists, offer.end.device, offer);
  return new Map(
    [...lists].map(([device, list]) => [device, new Map(list.map((offer) => [offer.end.group, offer]))]),
  );
}

/** The cable in a port, which pulling at the port takes out; banks have many, so there a new one begins. */
function cableAt(
  end: CableEnd,
): { readonly moving: NonNullable<Cabling["moving"]>; readonly far: CableEnd } | null {
  const { show } = app.getState();
  if (holeAt(show, end)?.kind !== "port") return null;
  for (const { id, ends } of show.cables) {
    const side = ends.findIndex(({ device, group }) => device === end.device && group === end.group);
    if (side === 0 || side === 1) return { moving: { cable: id, side }, far: ends[side === 0 ? 1 : 0] };
  }
  return null;
}

interface Hit {
  readonly end: CableEnd | null;
  readonly device: DeviceId;
  readonly offer: Offer | null;
}

/** A group that a cable goes in, at a height of the node: ports and banks have rows of their own. */
function groupAt(geometry: NodeGeometry, { x, y }: Point): GroupGeometry | null {
  const hit = hitNode(geometry, x, y)?.group;
  if (hit && hit.kind !== "section") return hit;
  const beside = (group: GroupGeometry): boolean =>
    group.kind !== "section" && y >= group.rect.y && y < group.rect.y + group.rect.height;
  // In a compact node the banks stand side by side, and their height says nothing.
  return geometry.form === "compact" ? null : (geometry.groups.find(beside) ?? null);
}

/** Pixels from a device's border that a ring takes. */
const RING = 14;

function hitAt(page: Point, cabling: Cabling): Hit | null {
  const node = document.elementFromPoint(page.x, page.y)?.closest(".react-flow__node-device");
  const device = node?.getAttribute("data-id") as DeviceId | null | undefined;
  const at = stageAt(page);
  const { show } = app.getState();
  const record = show.devices.find(({ id }) => id === device);
  const type = show.types.find(({ id }) => id === record?.type);
  if (!record || !type || !at) return null;
  const geometry = nodeGeometry(type);
  const local = { x: at.x - record.at.x, y: at.y - record.at.y };
  const { level } = view.getState();
  // Far away a device is one thing, and which row a drop falls on says nothing; only its rings tell one end from another.
  const atRing = local.x < RING * level.unit || local.x > geometry.width - RING * level.unit;
  const group = level.depth === "far" && !atRing ? null : groupAt(geometry, local);
  if (!group) return { device: record.id, end: null, offer: null };
  const offer = cabling.offers.get(record.id)?.get(group.id) ?? null;
  const cell = hitNode(geometry, local.x, local.y)?.cell;
  const jack =
    level.depth === "near" && cell?.at.span.side === "jack"
      ? Math.ceil(cell.number / cell.at.span.bank.perJack)
      : null;
  const end = { device: record.id, group: group.id, first: jack ?? offer?.end.first ?? 1 };
  return { device: record.id, end, offer };
}

/** What a drop would do there. */
function dropAt(
  page: Point,
  cabling: Cabling,
): { readonly over: Cabling["over"]; readonly run: (() => void) | null } {
  const hit = hitAt(page, cabling);
  if (!hit) return { over: null, run: null };
  const { from, moving } = cabling;
  const { show } = app.getState();
  if (hit.end) {
    const { end } = hit;
    if (end.device === from.device && end.group === from.group) return { over: null, run: null };
    const ways = moving ? show.cables.find(({ id }) => id === moving.cable)?.ways : undefined;
    const fit = fitOf(show, from, end, {
      ...(ways === undefined ? {} : { ways }),
      ...(moving ? { moving: moving.cable } : {}),
    });
    const hole = holeAt(show, end);
    const name = hole ? holeName(hole) : "";
    if (fit.kind === "refused") return { over: { text: fit.reason, fits: false }, run: null };
    const many = fit.ways > 1 ? `, ${fit.ways} ways` : "";
    return { over: { text: `${name}${many}`, fits: true }, run: () => plug(from, end, moving) };
  }
  const offers = [...(cabling.offers.get(hit.device)?.values() ?? [])];
  const fits = offers.filter(({ fit }) => fit.kind === "fits");
  const [first] = fits;
  if (!first) {
    const refusal = offers.map(({ fit }) => fit).find((fit) => fit.kind === "refused" && fit.why === "taken");
    const text = refusal?.kind === "refused" ? refusal.reason : "Nothing here takes this cable.";
    return { over: { text, fits: false }, run: null };
  }
  if (fits.length === 1) {
    return { over: { text: first.name, fits: true }, run: () => plug(from, first.end, moving) };
  }
  return {
    over: { text: `${fits.length} ends fit: choose after the drop`, fits: true },
    run: () => ui.setState({ dialog: { kind: "plug", from, moving, only: hit.device } }),
  };
}

/** Begins at a socket; goes on at the window until the button or finger is lifted, or Escape is pressed. */
export function pullCable(event: React.PointerEvent, device: DeviceId, group: GroupId): void {
  if (event.button !== 0 || view.getState().cabling) return;
  event.preventDefault();
  event.stopPropagation();
  const { show } = app.getState();
  const end = firstFree(show, { device, group, first: 1 });
  const start = pageOf(event);
  followPointer(event, {
    begin() {
      const taken = cableAt(end);
      const from = taken?.far ?? end;
      const moving = taken?.moving ?? null;
      const ways = moving ? show.cables.find(({ id }) => id === moving.cable)?.ways : undefined;
      const offers = sorted(
        cablesThatFit(show, from, {
          ...(ways === undefined ? {} : { ways }),
          ...(moving ? { moving: moving.cable } : {}),
        }),
      );
      view.setState({ cabling: { from, moving, offers, start, at: start, over: null }, hovered: null });
    },
    move(at) {
      const { cabling } = view.getState();
      if (cabling) view.setState({ cabling: { ...cabling, at, over: dropAt(at, cabling).over } });
    },
    drop(at) {
      const { cabling } = view.getState();
      if (cabling) dropAt(at, cabling).run?.();
    },
    end: () => view.setState({ cabling: null }),
  });
}
