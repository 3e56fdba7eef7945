/** Names and places: what is asked while a rig is built. */
import { useId, useState } from "react";
import { addPlace, type CableId, type DeviceId, type PlaceId } from "#engine";
import { addNamedPlace, askToRemovePlace, goToPlace, removePlace, rename } from "../canvas/build.ts";
import { Commit } from "../inspector/parts.tsx";
import { app, useApp } from "../state/store.ts";
import { TooLong } from "../parts/TooLong.tsx";
import { LONGEST, nameRefusal, tooLong } from "../words/limits.ts";
import { plural } from "../words/verdicts.ts";
import { CloseButton, Frame } from "./Frame.tsx";
import { FormButtons } from "./questions.tsx";

type Thing =
  | { readonly kind: "device"; readonly id: DeviceId }
  | { readonly kind: "place"; readonly id: PlaceId }
  | { readonly kind: "cable"; readonly id: CableId };

const WHAT: Readonly<Record<Thing["kind"], string>> = {
  device: "Name of the device",
  place: "Name of the place",
  cable: "Tag of the cable",
};

function presentName(thing: Thing): string {
  const { show } = app.getState();
  if (thing.kind === "device") return show.devices.find(({ id }) => id === thing.id)?.name ?? "";
  if (thing.kind === "place") return show.places.find(({ id }) => id === thing.id)?.name ?? "";
  return show.cables.find(({ id }) => id === thing.id)?.tag ?? "";
}

export function RenameThingDialog({ onClose, ...thing }: Thing & { onClose: () => void }) {
  const [before] = useState(() => presentName(thing));
  return (
    <NameDialog
      title={thing.kind === "cable" ? "Tag the cable" : `Rename ${before}`}
      label={WHAT[thing.kind]}
      does={thing.kind === "cable" ? "Tag" : "Rename"}
      first={before}
      mayBeEmpty={thing.kind === "cable"}
      onClose={onClose}
      onName={(name) => {
        if (thing.kind !== "cable") return rename(thing, name);
        app
          .getState()
          .change({ kind: "edit-cable", cable: thing.id, set: { tag: name } }, `tagging cable ${name}`);
      }}
    />
  );
}

export function AddPlaceDialog({ onClose }: { onClose: () => void }) {
  // The name that it would get by itself.
  const [first] = useState(() => addPlace(app.getState().show, { x: 0, y: 0 }).place.name);
  return (
    <NameDialog
      title="Add a place"
      label="Name of the place"
      does="Add"
      first={first}
      hint="Front of house, monitors, stage left, truck: a part of the site that devices stand in."
      onClose={onClose}
      onName={addNamedPlace}
    />
  );
}

function NameDialog({
  title,
  label,
  does,
  first,
  hint,
  mayBeEmpty = false,
  onClose,
  onName,
}: {
  title: string;
  label: string;
  does: string;
  first: string;
  hint?: string;
  mayBeEmpty?: boolean;
  onClose: () => void;
  onName: (name: string) => void;
}) {
  const [name, setName] = useState(first);
  const form = useId();
  const plain = name.trim();
  const refusal = tooLong(plain, LONGEST.name);
  const ready = refusal === undefined && (mayBeEmpty || plain !== "");
  return (
    <Frame
      title={title}
      onClose={onClose}
      buttons={<FormButtons form={form} does={does} ready={ready} onClose={onClose} />}
    >
      {hint && <p className="soft">{hint}</p>}
      <form
        id={form}
        onSubmit={(event) => {
          event.preventDefault();
          if (!ready) return;
          onClose();
          onName(plain);
        }}
      >
        <input
          className="field"
          aria-label={label}
          aria-invalid={refusal !== undefined || undefined}
          autoFocus
          value={name}
          onFocus={(event) => event.target.select()}
          onChange={(event) => setName(event.target.value)}
        />
        <TooLong reason={refusal} />
      </form>
    </Frame>
  );
}

export function PlacesDialog({ onClose }: { onClose: () => void }) {
  const show = useApp((state) => state.show);
  return (
    <Frame title="Places" onClose={onClose} buttons={<CloseButton onClose={onClose} />}>
      {show.places.length === 0 ? (
        <p className="soft">This show has no places yet.</p>
      ) : (
        <ul className="place-list" aria-label="Places">
          {show.places.map(({ id, name }) => (
            <li key={id}>
              <Commit
                label={`Name of ${name}`}
                value={name}
                onCommit={(text) => {
                  const refusal = nameRefusal(text.trim(), "A place needs a name.");
                  if (refusal) return refusal;
                  rename({ kind: "place", id }, text);
                }}
              />
              <span className="soft number">
                {plural(show.devices.filter(({ place }) => place === id).length, "device", "devices")}
              </span>
              <button
                type="button"
                className="button"
                onClick={() => {
                  onClose();
                  goToPlace(id);
                }}
              >
                Go to<span className="visually-hidden"> {name}</span>
              </button>
              <button type="button" className="button" onClick={() => askToRemovePlace(id)}>
                Delete<span className="visually-hidden"> {name}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </Frame>
  );
}

/** A place with devices in it: they go to another place, or go too. */
export function RemovePlaceDialog({ place, onClose }: { place: PlaceId; onClose: () => void }) {
  const show = useApp((state) => state.show);
  const found = show.places.find(({ id }) => id === place);
  const others = show.places.filter(({ id }) => id !== place);
  const inside = show.devices.filter((device) => device.place === place).length;
  const [to, setTo] = useState<PlaceId | null>(others[0]?.id ?? null);
  const devices = plural(inside, "device", "devices");
  const name = found?.name ?? "the place";
  const done = (devicesTo: Parameters<typeof removePlace>[1]): void => {
    onClose();
    removePlace(place, devicesTo);
  };
  return (
    <Frame
      question
      title={`Delete ${name}?`}
      onClose={onClose}
      buttons={
        <>
          <button type="button" className="button" onClick={() => done({ kind: "with" })}>
            Delete its {devices} too
          </button>
          <span className="spring" />
          <button type="button" className="button" autoFocus onClick={onClose}>
            Cancel
          </button>
          {to !== null && (
            <button type="button" className="button main" onClick={() => done({ kind: "to", place: to })}>
              Move them and delete
            </button>
          )}
        </>
      }
    >
      <p>
        {devices} {inside === 1 ? "stands" : "stand"} in it.
      </p>
      {to !== null && (
        <label className="form-line">
          Move {inside === 1 ? "it" : "them"} to
          <select className="field" value={to} onChange={(event) => setTo(event.target.value as PlaceId)}>
            {others.map(({ id, name: other }) => (
              <option key={id} value={id}>
                {other}
              </option>
            ))}
          </select>
        </label>
      )}
    </Frame>
  );
}
