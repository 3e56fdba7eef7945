/** Places and the devices in them. */
import { useMemo } from "react";
import type { Device, Severity } from "#engine";
import { Icon } from "../parts/Icon.tsx";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { Tree, type TreeRow } from "../parts/Tree.tsx";
import { findingMarks } from "../state/derived.ts";
import { app, useApp } from "../state/store.ts";
import { setOpened, useUi } from "../state/ui.ts";
import { namesIn } from "../words/names.ts";
import { plural } from "../words/verdicts.ts";
import { EmptyRig } from "./EmptyRig.tsx";

export function RigPanel() {
  const analysis = useApp((state) => state.analysis);
  const opened = useUi((state) => state.opened);
  const selected = useApp(({ focus }) => (focus?.kind === "device" ? `rig:${focus.device}` : null));

  const rows = useMemo((): readonly TreeRow[] => {
    const { show } = analysis;
    const { types } = namesIn(analysis);
    const marks = findingMarks(analysis).devices;
    const known = new Set(show.places.map(({ id }) => id));
    const lost = show.devices.filter(({ place }) => !known.has(place));
    const places = [
      ...show.places.map(({ id, name }) => ({
        key: `place:${id}`,
        name,
        devices: show.devices.filter(({ place }) => place === id),
      })),
      ...(lost.length > 0 ? [{ key: "place:", name: "In no place", devices: lost }] : []),
    ];
    return places.flatMap(({ key, name, devices }): TreeRow[] => {
      const open = opened.get(key) ?? true;
      const head: TreeRow = {
        key,
        level: 1,
        open,
        name,
        render: () => (
          <>
            <span className="cut strong">{name}</span>
            <span className="row-end soft number">{devices.length}</span>
          </>
        ),
      };
      if (!open) return [head];
      return [
        head,
        ...devices.map((device): TreeRow => {
          const type = types.get(device.id);
          return {
            key: `rig:${device.id}`,
            level: 2,
            name: device.name,
            press: () => app.getState().look({ kind: "device", device: device.id }, true),
            render: () => (
              <DeviceRow
                device={device}
                type={type?.name ?? "type not in the show"}
                mark={marks.get(device.id)}
              />
            ),
          };
        }),
      ];
    });
  }, [analysis, opened]);

  const { show } = analysis;
  return (
    <section className="panel" aria-labelledby="rig-title">
      <header className="panel-head">
        <h2 id="rig-title">Rig</h2>
        <span className="soft number">
          {plural(show.devices.length, "device", "devices")}, {plural(show.cables.length, "cable", "cables")}
        </span>
      </header>
      <Tree
        label="Places and devices"
        rows={rows}
        selected={selected}
        onToggle={(key, open) => setOpened([key], open)}
        empty={<EmptyRig />}
      />
    </section>
  );
}

function DeviceRow({ device, type, mark }: { device: Device; type: string; mark: Severity | undefined }) {
  return (
    <>
      <OwnerTag device={device.id} />
      <span className="cut keep">{device.name}</span>
      <span className="cut soft small">{type}</span>
      <span className="row-end">
        {!device.powered && <span className="soft small">off</span>}
        {mark && <SeverityMark severity={mark} />}
      </span>
    </>
  );
}

const SEVERITY_NAMES: Readonly<Record<Severity, string>> = {
  error: "error",
  warning: "warning",
  note: "note",
};

export function SeverityMark({ severity }: { severity: Severity }) {
  const tone = severity === "error" ? "danger" : severity === "warning" ? "warn" : "note";
  return (
    <span className={`tone-${tone}`} role="img" aria-label={`has ${SEVERITY_NAMES[severity]}`}>
      <Icon name={severity} size={14} />
    </span>
  );
}
