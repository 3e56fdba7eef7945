/** A device: what it is, how it is set, who owns what of it, and where its links go. */
import { useMemo } from "react";
import {
  blocksOf,
  CLOCK_LOOP,
  metres,
  lengthName,
  rateName,
  ruleWords,
  runsFree,
  SAMPLE_RATES,
  State,
  terminalOf,
  type Analysis,
  type Block,
  type Device,
  type DeviceId,
  type DeviceType,
  type GroupId,
  type ModeId,
  type SampleRate,
  type WiredDevice,
} from "#engine";
import { OwnerBar } from "../parts/OwnerBar.tsx";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { Pill } from "../parts/Pill.tsx";
import { Term } from "../parts/Term.tsx";
import type { DeviceEdit } from "../state/contract.ts";
import { firstTerminal } from "../state/derived.ts";
import { app, useApp } from "../state/store.ts";
import { LONGEST, nameRefusal, tooLong } from "../words/limits.ts";
import { deviceName, runName } from "../words/names.ts";
import { BLOCK_TONES, plural } from "../words/verdicts.ts";
import { Commit, DeviceLink, Fact, Facts, GoTo, Gone, Head, Section } from "./parts.tsx";
import { showTypes } from "../types/use.ts";
import { Inserts } from "./Inserts.tsx";
import { Routing } from "./Routing.tsx";

export function DeviceInspector({ id }: { id: DeviceId }) {
  const analysis = useApp((state) => state.analysis);
  const { show, wiring } = analysis;
  const device = show.devices.find((candidate) => candidate.id === id);
  if (!device) return <Gone what="device" />;
  const wired = wiring.devices[wiring.indexOf.get(id) ?? -1] ?? null;
  const type = wired?.fabric.layout.type ?? null;
  const place = show.places.find((candidate) => candidate.id === device.place);

  return (
    <>
      <Head
        kind={type ? type.category : "Device"}
        title={
          <Commit
            label="Name of the device"
            value={device.name}
            onCommit={(text) => {
              const name = text.trim();
              const refusal = nameRefusal(name, "A device needs a name.");
              if (refusal) return refusal;
              app.getState().change({ kind: "rename-device", device: id, name }, `renaming ${device.name}`);
            }}
          />
        }
      >
        <p className="soft with-mark">
          <OwnerTag device={id} />
          {type ? type.name : `The show has no type “${device.type}”, so nothing is known of this device.`}
        </p>
        {type && (
          <button type="button" className="button small" onClick={() => showTypes(type.id)}>
            Edit its type…
          </button>
        )}
      </Head>
      {wired && type && (
        <>
          <Settings
            analysis={analysis}
            device={device}
            wired={wired}
            type={type}
            place={place?.name ?? "none"}
          />
          <Inserts wired={wired} />
          <Blocks analysis={analysis} wired={wired} />
          <Links analysis={analysis} wired={wired} />
          <DependsOn analysis={analysis} wired={wired} />
          <Routing analysis={analysis} wired={wired} />
        </>
      )}
      <Section title="Notes">
        <Commit
          label="Notes on the device"
          multiline
          value={device.notes ?? ""}
          onCommit={(notes) => {
            const refusal = tooLong(notes, LONGEST.note);
            if (refusal) return refusal;
            edit(device, { notes: notes === "" ? undefined : notes }, "notes on");
          }}
        />
      </Section>
    </>
  );
}

function edit(device: Device, set: DeviceEdit, what: string): void {
  app.getState().change({ kind: "edit-device", device: device.id, set }, `${what} ${device.name}`);
}

/** What the modes wire otherwise: their names alone don't say which outputs a link feeds. */
function Modes({ type, current }: { type: DeviceType; current: ModeId }) {
  return (
    <details className="modes">
      <summary>What each mode does</summary>
      <ul>
        {type.modes.map(({ id, name, rules }) => (
          <li key={id} aria-current={id === current || undefined}>
            <strong>{name}</strong>
            {rules.map((rule, n) => (
              <p key={n} className="soft small">
                {ruleWords(type, rule)}
              </p>
            ))}
          </li>
        ))}
      </ul>
    </details>
  );
}

function Settings({
  analysis,
  device,
  wired,
  type,
  place,
}: {
  analysis: Analysis;
  device: Device;
  wired: WiredDevice;
  type: DeviceType;
  place: string;
}) {
  const { show } = analysis;
  const positions = Array.from({ length: Math.max(type.chain, device.position) }, (_, n) => n + 1);
  const clockPorts = type.ports.filter(({ carriesClock }) => carriesClock);
  return (
    <Section title="Settings">
      <Facts>
        <Fact name="Place">{place}</Fact>
        <Fact name="Mode" word="mode">
          {type.modes.length > 1 || wired.fabric.mode === null ? (
            <select
              className="field"
              aria-label="Mode"
              value={device.mode}
              onChange={(event) => edit(device, { mode: event.target.value as ModeId }, "mode of")}
            >
              {wired.fabric.mode === null && <option value={device.mode}>unknown: {device.mode}</option>}
              {type.modes.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          ) : (
            wired.fabric.mode.name
          )}
        </Fact>
        {type.chain > 1 && (
          <Fact name="Chain position" word="chain">
            <select
              className="field"
              aria-label="Chain position"
              value={device.position}
              onChange={(event) =>
                edit(device, { position: Number(event.target.value) }, "chain position of")
              }
            >
              {positions.map((position) => (
                <option key={position} value={position}>
                  {position}
                </option>
              ))}
            </select>
          </Fact>
        )}
        <Fact name="Power">
          <label className="check">
            <input
              type="checkbox"
              checked={device.powered}
              onChange={(event) => edit(device, { powered: event.target.checked }, "power of")}
            />
            {device.powered ? "on" : "off"}
          </label>
        </Fact>
        {type.clock !== "none" && (
          <>
            <Fact name="Sample rate">
              <select
                className="field"
                aria-label="Sample rate"
                value={device.sampleRate ?? ""}
                onChange={(event) =>
                  edit(
                    device,
                    {
                      sampleRate:
                        event.target.value === "" ? undefined : (Number(event.target.value) as SampleRate),
                    },
                    "sample rate of",
                  )
                }
              >
                <option value="">show’s: {rateName(show.settings.sampleRate)}</option>
                {SAMPLE_RATES.map((rate) => (
                  <option key={rate} value={rate}>
                    {rateName(rate)}
                  </option>
                ))}
              </select>
            </Fact>
            <Fact name="Word clock" word="word clock">
              <select
                className="field"
                aria-label="Word clock"
                value={device.clock ?? ""}
                onChange={(event) =>
                  edit(
                    device,
                    { clock: event.target.value === "" ? undefined : (event.target.value as GroupId) },
                    "word clock of",
                  )
                }
              >
                <option value="">type’s: {clockName(type, wired.fabric.mode?.clock ?? type.clock)}</option>
                <option value="internal">own clock</option>
                {clockPorts.map(({ id, name }) => (
                  <option key={id} value={id}>
                    follows {name}
                  </option>
                ))}
              </select>
            </Fact>
            <Fact name="Clock leader" word="leader">
              <Leader analysis={analysis} wired={wired} />
            </Fact>
          </>
        )}
      </Facts>
      {type.modes.length > 1 && <Modes type={type} current={device.mode} />}
    </Section>
  );
}

const clockName = (type: DeviceType, clock: DeviceType["clock"]): string =>
  clock === "internal"
    ? "own clock"
    : clock === "none"
      ? "no clock"
      : (type.ports.find(({ id }) => id === clock)?.name ?? clock);

function Leader({ analysis: { wiring }, wired }: { analysis: Analysis; wired: WiredDevice }) {
  const leader = wiring.leaders[wired.index]!;
  const found = wiring.devices[leader];
  if (!found)
    return <span className="tone-danger">{leader === CLOCK_LOOP ? "a loop of clocks" : "none"}</span>;
  if (runsFree(wiring.leaders, wired)) return <span className="tone-danger">none arrives: it runs free</span>;
  return leader === wired.index ? <>itself</> : <DeviceLink device={found.device.id} />;
}

function Blocks({ analysis, wired }: { analysis: Analysis; wired: WiredDevice }) {
  const blocks = useMemo(
    () =>
      wired.fabric.layout.spans
        .filter(({ side }) => side === "jack" || side === "send")
        .filter((span) => span.side !== "jack" || span.bank.direction === "out")
        .flatMap((span) => blocksOf(analysis.wiring, analysis.arrivals, wired, span)),
    [analysis, wired],
  );
  if (blocks.length === 0) return null;
  return (
    <Section title="Outputs by block" word="block">
      <ul className="plain-list">
        {blocks.map((block) => (
          <BlockLine key={firstTerminal(block)} analysis={analysis} block={block} />
        ))}
      </ul>
    </Section>
  );
}

function BlockLine({ analysis, block }: { analysis: Analysis; block: Block }) {
  const { first, last, state, owners } = block;
  const terminals = Array.from({ length: last - first + 1 }, (_, n) => firstTerminal(block) + n);
  const name = runName(analysis, terminals);
  return (
    <li className="block-line">
      <GoTo
        focus={{
          kind: "block",
          terminals: terminals.map((terminal) => terminalOf(analysis.wiring, terminal)),
        }}
      >
        {name}
      </GoTo>
      <OwnerBar analysis={analysis} terminals={terminals} cell={5} />
      {state === "one owner" ? (
        <span className="cut soft">{owners.map((owner) => deviceName(analysis, owner)).join(", ")}</span>
      ) : (
        <Term word={state}>
          <Pill tone={BLOCK_TONES[state]}>{state}</Pill>
        </Term>
      )}
    </li>
  );
}

function Links({ analysis, wired }: { analysis: Analysis; wired: WiredDevice }) {
  const { wiring, show } = analysis;
  const { ports } = wired.fabric.layout.type;
  if (ports.length === 0) return null;
  return (
    <Section title="Links" word="link">
      <ul className="plain-list">
        {ports.map((port) => {
          const plug = wiring.plugs.ofPort(wired.index, port.id);
          const far = plug?.far;
          const cable = plug?.cable.cable;
          return (
            <li key={port.id} className="link-line">
              <div>
                <span>{port.name}</span> <span className="soft small">{port.transport}</span>
              </div>
              {cable ? (
                <div className="soft with-mark">
                  <GoTo focus={{ kind: "cable", cable: cable.id }}>{cable.tag || "untagged cable"}</GoTo>
                  {cable.length !== undefined && (
                    <span className="number small">
                      {lengthName(metres(cable.length), show.settings.units)}
                    </span>
                  )}
                  <span>to</span>
                  {far ? <DeviceLink device={far.device.device.id} /> : <span>nowhere</span>}
                </div>
              ) : (
                <div className="soft">nothing plugged in</div>
              )}
            </li>
          );
        })}
      </ul>
    </Section>
  );
}

/** Every device that some output jack here passes on its way: whoever changes one of them can silence this box. */
function DependsOn({ analysis, wired }: { analysis: Analysis; wired: WiredDevice }) {
  const counts = useMemo(() => gatekeeperCounts(analysis, wired), [analysis, wired]);
  if (counts.length === 0) return null;
  return (
    <Section title="Gatekeepers of its output jacks" word="gatekeeper">
      <ul className="plain-list">
        {counts.map(({ device, jacks }) => (
          <li key={device} className="count-line">
            <DeviceLink device={device} />
            <span className="soft number">{plural(jacks, "jack", "jacks")}</span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function gatekeeperCounts(
  { wiring, arrivals }: Analysis,
  wired: WiredDevice,
): readonly { readonly device: DeviceId; readonly jacks: number }[] {
  const counts = new Map<DeviceId, number>();
  for (const span of wired.fabric.layout.spans) {
    if (span.side !== "jack" || span.bank.direction !== "out") continue;
    for (let n = 0; n < span.count; n++) {
      const jack: number = wired.base + span.start + n;
      const root = arrivals.root[jack]!;
      if (root < 0 || (wiring.state[root] !== State.tap && wiring.state[root] !== State.source)) continue;
      const passed = new Set<number>();
      for (let at = jack; at >= 0; at = wiring.feeder[at]!) passed.add(wiring.deviceOf[at]!);
      for (const index of passed) {
        const { id } = wiring.devices[index]!.device;
        if (index !== wired.index) counts.set(id, (counts.get(id) ?? 0) + 1);
      }
    }
  }
  return [...counts].map(([device, jacks]) => ({ device, jacks })).sort((a, b) => b.jacks - a.jacks);
}
