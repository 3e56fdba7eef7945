/** Where cables are pulled from: a ring at both borders, for each port and each bank that a cable goes in. */
import { memo } from "react";
import type { DeviceId } from "#engine";
import type { NodeGeometry } from "#engine/layout/geometry.ts";
import { pullCable } from "./cabling.ts";
import { socketsOf } from "./sockets.ts";
import { useView } from "./view.ts";

export const SocketRings = memo(function SocketRings({
  device,
  geometry,
}: {
  device: DeviceId;
  geometry: NodeGeometry;
}) {
  const offers = useView((state) => state.cabling?.offers.get(device) ?? null);
  const from = useView((state) => (state.cabling?.from.device === device ? state.cabling.from.group : null));
  const settled = useView((state) => state.settled);
  const { form, width } = geometry;
  if (!settled) return null;
  return socketsOf(geometry).flatMap(({ id, name, rect }) => {
    const fit = offers?.get(id)?.fit.kind;
    const common = {
      className: "socket nodrag nopan",
      "data-group": id,
      "data-fit": fit,
      "data-from": from === id || undefined,
      title: `Pull a cable from ${name}`,
      onPointerDown: (event: React.PointerEvent) => pullCable(event, device, id),
    };
    // In a compact node the banks stand side by side: each has its socket under its jacks.
    if (form === "compact") {
      return [
        <i
          key={id}
          {...common}
          data-side="bottom"
          style={{ left: rect.x + rect.width - 15, top: geometry.height }}
        />,
      ];
    }
    const top = rect.y + rect.height / 2;
    return [
      <i key={`${id} left`} {...common} data-side="left" style={{ left: 0, top }} />,
      <i key={`${id} right`} {...common} data-side="right" style={{ left: width, top }} />,
    ];
  });
});
