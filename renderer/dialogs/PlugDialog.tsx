/** What an end can be plugged in, by name: the keyboard's way to a cable. What doesn't fit is listed with the reason. */
import { Command } from "cmdk";
import { useEffect, useMemo, useRef, useState } from "react";
import {
  CABLES,
  cablesThatFit,
  firstFree,
  holeAt,
  holeName,
  type CableEnd,
  type CableId,
  type DeviceId,
  type Offer,
} from "#engine";
import { socketsOf } from "../canvas/sockets.ts";
import { plug } from "../canvas/build.ts";
import { plain } from "../search/search.ts";
import { useApp } from "../state/store.ts";
import { nodeGeometry } from "#engine/layout/geometry.ts";
import { Frame } from "./Frame.tsx";

interface Props {
  readonly from: CableEnd | DeviceId;
  readonly moving: { readonly cable: CableId; readonly side: 0 | 1 } | null;
  readonly only?: DeviceId | undefined;
  readonly onClose: () => void;
}

export function PlugDialog({ from, moving, only, onClose }: Props) {
  const [end, setEnd] = useState<CableEnd | null>(typeof from === "string" ? null : from);
  return end === null ? (
    <ChooseEnd device={from as DeviceId} onChoose={setEnd} onClose={onClose} />
  ) : (
    <ChooseFar from={end} moving={moving} only={only} onClose={onClose} />
  );
}

/** First which of a device's own ends: a port, or the first free jack of a bank. */
function ChooseEnd({
  device,
  onChoose,
  onClose,
}: {
  device: DeviceId;
  onChoose: (end: CableEnd) => void;
  onClose: () => void;
}) {
  const show = useApp((state) => state.show);
  const found = show.devices.find(({ id }) => id === device);
  const type = show.types.find(({ id }) => id === found?.type);
  const ends = useMemo(
    () =>
      type === undefined
        ? []
        : socketsOf(nodeGeometry(type)).map(({ id }) => firstFree(show, { device, group: id, first: 1 })),
    [show, device, type],
  );
  return (
    <Frame title={`Plug a cable in ${found?.name ?? "a device"}`} onClose={onClose}>
      <List
        label="Ports and jacks"
        empty="It has no port or jack that a cable goes in."
        rows={ends.map((end) => {
          const hole = holeAt(show, end);
          const name = hole ? holeName(hole) : end.group;
          const fits = cablesThatFit(show, end).filter(({ fit }) => fit.kind === "fits").length;
          return {
            key: end.group,
            name,
            detail:
              fits === 0 ? "nothing that fits is free" : `${fits} ${fits === 1 ? "end fits" : "ends fit"}`,
            off: false,
            run: () => onChoose(end),
          };
        })}
      />
    </Frame>
  );
}

function ChooseFar({
  from,
  moving,
  only,
  onClose,
}: {
  from: CableEnd;
  moving: Props["moving"];
  only: DeviceId | undefined;
  onClose: () => void;
}) {
  const show = useApp((state) => state.show);
  const offers = useMemo(() => {
    const ways = moving ? show.cables.find(({ id }) => id === moving.cable)?.ways : undefined;
    const all = cablesThatFit(show, from, {
      ...(ways === undefined ? {} : { ways }),
      ...(moving ? { moving: moving.cable } : {}),
    }).filter(({ end }) => only === undefined || end.device === only);
    const fits = (offer: Offer): boolean => offer.fit.kind === "fits";
    return [...all.filter(fits), ...all.filter((offer) => !fits(offer))];
  }, [show, from, moving, only]);
  const hole = holeAt(show, from);
  const name = hole ? holeName(hole) : "this end";
  return (
    <Frame title={moving ? `From ${name} to…` : `Plug ${name} into…`} onClose={onClose} wide>
      <List
        label="Ends of the rig"
        empty="There is nothing else in the rig to plug it in."
        rows={offers.map(({ end, name: far, fit }) => ({
          key: `${end.device}:${end.group}`,
          name: far,
          detail:
            fit.kind === "refused"
              ? fit.reason
              : `${CABLES[fit.cable].name}${fit.ways > 1 ? `, ${fit.ways} ways from jack ${end.first}` : ""}`,
          off: fit.kind === "refused",
          run: () => {
            onClose();
            plug(from, end, moving);
          },
        }))}
      />
    </Frame>
  );
}

interface Row {
  readonly key: string;
  readonly name: string;
  readonly detail: string;
  readonly off: boolean;
  readonly run: () => void;
}

/** Large rigs have thousands of ends; whoever looks for one types a part of its name. */
const MOST_ROWS = 200;

function List({ label, empty, rows }: { label: string; empty: string; rows: readonly Row[] }) {
  const [text, setText] = useState("");
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => input.current?.focus(), []);
  const words = plain(text).split(/\s+/).filter(Boolean);
  const fitting = rows.filter(({ name, detail }) => {
    const searched = plain(`${name} ${detail}`);
    return words.every((word) => searched.includes(word));
  });
  // What is called just as was typed stands before what only has the words in it.
  const typed = plain(text).trim();
  const isNamed = ({ name, off }: Row): boolean => !off && typed !== "" && plain(name).endsWith(typed);
  const found = [...fitting.filter(isNamed), ...fitting.filter((row) => !isNamed(row))];
  const shown = found.slice(0, MOST_ROWS);
  return (
    <Command className="plug-list" label={label} shouldFilter={false} loop>
      <Command.Input
        ref={input}
        className="field"
        value={text}
        onValueChange={setText}
        placeholder="Type a part of its name"
        aria-label={label}
      />
      <Command.List aria-label={label}>
        {rows.length === 0 && <p className="soft search-hint">{empty}</p>}
        {rows.length > 0 && found.length === 0 && (
          <p className="soft search-hint">No end is called “{text}”.</p>
        )}
        {shown.map(({ key, name, detail, off, run }) => (
          <Command.Item
            key={key}
            value={key}
            aria-disabled={off}
            data-off={off || undefined}
            onSelect={() => !off && run()}
          >
            <span className="keep">{name}</span>
            <span className="soft small">{detail}</span>
          </Command.Item>
        ))}
        {found.length > shown.length && (
          <p className="soft search-hint">and {found.length - shown.length} more</p>
        )}
      </Command.List>
    </Command>
  );
}
