/** A cable: its ends, what it is, and what its slots carry for whom. */
import { useMemo, useState } from "react";
import {
  arrivesAt,
  CABLE_KINDS,
  CABLES,
  Edge,
  FOOT_IN_METRES,
  cableRule,
  JACK_CABLES,
  lengthName,
  metres,
  metresToFeet,
  ownerIndex,
  ranges,
  round,
  terminalOf,
  type Analysis,
  rejacked,
  type Cable,
  type CableId,
  type CableKind,
  type CableRule,
  type DeviceId,
} from "#engine";
import type { PluggedCable, Socket } from "#engine/wiring/plugs.ts";
import { OwnerBar } from "../parts/OwnerBar.tsx";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import type { CableEdit } from "../state/contract.ts";
import { app, useApp } from "../state/store.ts";
import { ui } from "../state/ui.ts";
import { LONGEST, tooLong } from "../words/limits.ts";
import { deviceName } from "../words/names.ts";
import { cableName, capital } from "../words/verdicts.ts";
import { Commit, DeviceLink, Fact, Facts, GoTo, Gone, Head, Section } from "./parts.tsx";

export function CableInspector({ id }: { id: CableId }) {
  const analysis = useApp((state) => state.analysis);
  const { show, wiring } = analysis;
  const index = show.cables.findIndex((candidate) => candidate.id === id);
  const cable = show.cables[index];
  const plugged = wiring.plugs.cables[index];
  if (!cable || !plugged) return <Gone what="cable" />;
  const imperial = show.settings.units === "imperial";
  const edit = (set: CableEdit): void => {
    app.getState().change({ kind: "edit-cable", cable: id, set }, `editing ${cableName(analysis, id)}`);
  };
  const rule = strictest(plugged, cable.kind);
  const shownLength =
    cable.length === undefined ? "" : String(round(imperial ? metresToFeet(cable.length) : cable.length, 1));

  return (
    <>
      <Head
        kind={cable.ways > 1 ? `Cable, ${cable.ways} ways` : "Cable"}
        title={
          <Commit
            label="Tag of the cable"
            value={cable.tag}
            placeholder="no tag"
            onCommit={(tag) => {
              const refusal = tooLong(tag, LONGEST.name);
              if (refusal) return refusal;
              edit({ tag });
            }}
          />
        }
      />
      <Section title="Run">
        <Facts>
          {plugged.sockets.map((socket, end) => (
            <Fact key={end} name={end === 0 ? "From" : "To"}>
              <End socket={socket} device={cable.ends[end]!.device} />{" "}
              <button
                type="button"
                className="button small"
                onClick={() => plugElsewhere(cable, end === 0 ? 0 : 1)}
              >
                Plug elsewhere…
                <span className="visually-hidden"> than {end === 0 ? "from" : "to"} there</span>
              </button>
            </Fact>
          ))}
          <Fact name="Kind">
            <select
              className="field"
              aria-label="Kind of cable"
              value={cable.kind}
              onChange={(event) => edit({ kind: event.target.value as CableKind })}
            >
              {CABLE_KINDS.map((kind) => (
                <option key={kind} value={kind}>
                  {CABLES[kind].name}
                </option>
              ))}
            </select>
          </Fact>
          <Fact name={`Length, ${imperial ? "ft" : "m"}`}>
            <Commit
              label={`Length in ${imperial ? "feet" : "metres"}`}
              value={shownLength}
              placeholder="not known"
              onCommit={(text) => {
                const length = lengthFrom(text, imperial);
                if (length === null) return "A length above nought is needed, such as 30 or 12.5.";
                edit({ length });
              }}
            />
          </Fact>
          {plugged.sockets.every(({ kind }) => kind === "bank") && <Jacks cable={cable} />}
          <Fact name="Longest">
            {rule ? (
              <>
                <span className="number">{lengthName(metres(rule.maxMetres), show.settings.units)}</span>{" "}
                <span className="soft small">{rule.provenance}</span>
              </>
            ) : (
              <span className="tone-danger">not a kind that both ends take</span>
            )}
          </Fact>
        </Facts>
        {plugged.join.kind === "misfit" && (
          <p className="tone-danger">
            {capital(cableName(analysis, id))} joins nothing:{" "}
            {plugged.join.why === "missing"
              ? "one of its ends is not in the show."
              : plugged.join.why === "unlike"
                ? "its ends don’t fit each other."
                : "both its ends send, or both receive."}
          </p>
        )}
      </Section>
      <Carried analysis={analysis} plugged={plugged} />
    </>
  );
}

/** Lists what the end can go to; its other end stays where it is. */
function plugElsewhere(cable: Cable, side: 0 | 1): void {
  const stays = cable.ends[side === 0 ? 1 : 0];
  ui.setState({ dialog: { kind: "plug", from: stays, moving: { cable: cable.id, side } } });
}

/** How many jacks the cable joins, and from which on. */
function Jacks({ cable }: { cable: Cable }) {
  const [refusal, setRefusal] = useState<string | null>(null);
  const set = (change: Parameters<typeof rejacked>[2]): void => {
    const made = rejacked(app.getState().show, cable.id, change);
    setRefusal(made.kind === "refused" ? made.reason : null);
    if (made.kind === "refused") return;
    const label = `jacks of ${cable.tag ? `cable ${cable.tag}` : "the cable"}`;
    app.getState().change({ kind: "edits", edits: made.edits }, label);
  };
  const number = (text: string, take: (value: number) => void): void => {
    const value = Number(text);
    if (Number.isInteger(value) && value > 0) take(value);
    else setRefusal("A whole number from 1 on is needed.");
  };
  const [a, b] = cable.ends;
  return (
    <>
      <Fact name="Ways">
        <Commit
          label="Ways"
          value={String(cable.ways)}
          onCommit={(text) => number(text, (ways) => set({ ways }))}
        />
      </Fact>
      <Fact name="First jacks">
        <span className="jack-pair">
          <Commit
            label="First jack at the start"
            value={String(a.first)}
            onCommit={(text) => number(text, (first) => set({ first: [first, b.first] }))}
          />
          <span>to</span>
          <Commit
            label="First jack at the end"
            value={String(b.first)}
            onCommit={(text) => number(text, (first) => set({ first: [a.first, first] }))}
          />
        </span>
      </Fact>
      {refusal && (
        <p className="tone-danger" role="alert">
          {refusal}
        </p>
      )}
    </>
  );
}

/** Null: not a length. An empty field takes the length back to not known. */
function lengthFrom(text: string, imperial: boolean) {
  const plain = text.trim().replace(",", ".");
  if (plain === "") return undefined;
  const value = Number(plain);
  return Number.isFinite(value) && value > 0
    ? metres(round(imperial ? value * FOOT_IN_METRES : value, 3))
    : null;
}

/** The rule of the end that takes less of this kind; null where an end doesn't take it. */
function strictest({ sockets }: PluggedCable, kind: CableKind): CableRule | null {
  const rules = sockets.map((socket) =>
    socket.kind === "missing"
      ? undefined
      : cableRule(socket.kind === "port" ? socket.port.cables : JACK_CABLES[socket.bank.level], kind),
  );
  const [a, b] = rules;
  if (!a || !b) return null;
  return a.maxMetres <= b.maxMetres ? a : b;
}

function End({ socket, device }: { socket: Socket; device: DeviceId }) {
  const where =
    socket.kind === "port"
      ? socket.port.name
      : socket.kind === "bank"
        ? `${socket.bank.name} ${socket.first}`
        : "not in the show";
  return (
    <>
      <DeviceLink device={device} /> <span className="soft">{where}</span>
    </>
  );
}

interface Way {
  readonly from: DeviceId;
  readonly to: DeviceId;
  /** Where the signals come out of the cable. */
  readonly terminals: readonly number[];
}

/** What the cable carries, each way: the terminals that it feeds. */
function waysOf({ wiring }: Analysis, { index, join }: PluggedCable): readonly Way[] {
  const way = (from: Socket, to: Socket): Way[] => {
    if (from.kind === "missing" || to.kind === "missing") return [];
    const { base, fabric, device } = to.device;
    const terminals: number[] = [];
    for (let at = base; at < base + fabric.layout.size; at++) {
      if (wiring.edge[at] === Edge.cable && wiring.setting[at] === index && wiring.feeder[at]! >= 0)
        terminals.push(at);
    }
    return terminals.length > 0 ? [{ from: from.device.device.id, to: device.id, terminals }] : [];
  };
  if (join.kind === "misfit") return [];
  const [a, b] = join.kind === "link" ? join.ends : [join.from, join.to];
  return join.kind === "link" ? [...way(a, b), ...way(b, a)] : way(a, b);
}

function Carried({ analysis, plugged }: { analysis: Analysis; plugged: PluggedCable }) {
  const ways = useMemo(() => waysOf(analysis, plugged), [analysis, plugged]);
  return (
    <>
      {ways.map((way) => (
        <Section
          key={`${way.from}>${way.to}`}
          title={`${deviceName(analysis, way.from)} → ${deviceName(analysis, way.to)}`}
        >
          <div className="slot-bar">
            <OwnerBar
              analysis={analysis}
              terminals={way.terminals}
              cell={Math.min(8, 230 / way.terminals.length)}
            />
          </div>
          <ul className="plain-list">
            {slotsByOwner(analysis, way.terminals).map(({ key, owner, name, terminals, numbers }) => (
              <li key={key} className="count-line">
                <span className="with-mark">
                  {owner && <OwnerTag device={owner} />}
                  <GoTo
                    focus={{
                      kind: "block",
                      terminals: terminals.map((terminal) => terminalOf(analysis.wiring, terminal)),
                    }}
                  >
                    {name}
                  </GoTo>
                </span>
                <span className="soft number cut" title={numbers}>
                  {numbers}
                </span>
              </li>
            ))}
          </ul>
        </Section>
      ))}
    </>
  );
}

interface Share {
  readonly key: string;
  readonly owner: DeviceId | null;
  readonly name: string;
  readonly terminals: readonly number[];
  readonly numbers: string;
}

function slotsByOwner(analysis: Analysis, terminals: readonly number[]): readonly Share[] {
  const { wiring, arrivals } = analysis;
  const groups = new Map<string, { owner: DeviceId | null; name: string; terminals: number[] }>();
  for (const terminal of terminals) {
    const index = ownerIndex(wiring, arrivals, terminal);
    const owner = index < 0 ? null : wiring.devices[index]!.device.id;
    const name = owner
      ? deviceName(analysis, owner)
      : arrivesAt(wiring, arrivals, terminal)
        ? "Straight from sources"
        : "Nothing";
    const group = groups.get(name);
    if (group) group.terminals.push(terminal);
    else groups.set(name, { owner, name, terminals: [terminal] });
  }
  return [...groups.values()].map(({ owner, name, terminals: members }) => ({
    key: name,
    owner,
    name,
    terminals: members,
    numbers: ranges(members.map((member) => terminalOf(wiring, member).number)),
  }));
}
