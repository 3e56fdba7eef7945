/** The settings that would bring what the lists plan, shown before any of them is made, and what can't be brought. */
import { useEffect, useState } from "react";
import type { Patching, Planned } from "#engine";
import { Frame } from "../dialogs/Frame.tsx";
import { app } from "../state/store.ts";
import { plural } from "../words/verdicts.ts";

const WORDS = {
  channels: {
    title: "Patch channels to their sources",
    one: "channel",
    many: "channels",
    none: "No channel has a source planned.",
    step: "patching channels to their sources",
  },
  wants: {
    title: "Patch what the wants say",
    one: "want",
    many: "wants",
    none: "No want says which tap it comes from.",
    step: "patching what the wants say",
  },
} as const;

interface Props {
  readonly what: Planned;
  readonly onClose: () => void;
}

/** Null while the engine works them out. */
function usePatching(what: Planned): Patching | null {
  const [found, setFound] = useState<Patching | null>(null);
  useEffect(() => {
    let wanted = true;
    void app
      .getState()
      .patch(what)
      .then((patching) => wanted && setFound(patching));
    return () => void (wanted = false);
  }, [what]);
  return found;
}

const takeKeys = (element: HTMLElement | null): void => element?.focus();

export function PatchDialog({ what, onClose }: Props) {
  const words = WORDS[what];
  const found = usePatching(what);
  const [takesModes, setTakesModes] = useState(false);
  if (found === null) {
    return (
      <Frame
        wide
        title={words.title}
        onClose={onClose}
        buttons={
          <>
            <span className="spring" />
            <button type="button" className="button" onClick={onClose}>
              Cancel
            </button>
          </>
        }
      >
        {/* It has the keys, so that an Enter too early doesn't cancel. */}
        <p role="status" className="wait" tabIndex={-1} ref={takeKeys}>
          Working out the settings…
        </p>
      </Frame>
    );
  }
  const { withModes } = found;
  const taken = withModes && takesModes ? withModes : found;
  const { edits, lines, brought, already, refused } = taken;
  const left = countOf(refused);
  const modes = withModes && takesModes ? withModes.modes.length : 0;
  const make = (): void => {
    app.getState().change({ kind: "edits", edits }, words.step);
    onClose();
  };
  return (
    <Frame
      wide
      title={words.title}
      onClose={onClose}
      buttons={
        <>
          <span className="spring" />
          <button type="button" className="button" onClick={onClose}>
            {edits.length > 0 ? "Cancel" : "Close"}
          </button>
          {edits.length > 0 && (
            <button type="button" className="button main" autoFocus={modes === 0} onClick={make}>
              {modes > 0 ? `Change ${plural(modes, "mode", "modes")}` : "Make "}
              {modes > 0 && lines.length > 0 && ", make "}
              {lines.length > 0 && plural(lines.length, "setting", "settings")}
            </button>
          )}
        </>
      }
    >
      <p role="status">{summary(taken, words)}</p>
      {withModes && (
        <label className="patch-modes">
          <input
            type="checkbox"
            checked={takesModes}
            onChange={(event) => setTakesModes(event.target.checked)}
            // Space ticks it; Enter is for what it is ticked for.
            onKeyDown={(event) => event.key === "Enter" && edits.length > 0 && make()}
          />
          <span>
            Also change {withModes.modes.length === 1 ? "a mode" : "modes"}:{" "}
            {plural(
              withModes.brought + withModes.already - found.brought - found.already,
              `more ${words.one}`,
              `more ${words.many}`,
            )}{" "}
            would arrive.
            {withModes.modes.map(({ device, name, was, mode }) => (
              <span key={device} className="patch-mode">
                <b>{name}</b>: “{mode}” <span className="soft">instead of “{was}”</span>
              </span>
            ))}
          </span>
        </label>
      )}
      {lines.length > 0 && (
        <>
          <h3 className="patch-title">Settings to make</h3>
          <div className="bad-cells patch-list" tabIndex={0} role="region" aria-label="Settings to make">
            <table>
              <thead>
                <tr>
                  <th scope="col">Device</th>
                  <th scope="col">Set to</th>
                  <th scope="col">Before</th>
                </tr>
              </thead>
              <tbody>
                {lines.map(({ device, reads, before }, index) => (
                  <tr key={index}>
                    <td>{device}</td>
                    <td className="number">{reads}</td>
                    <td className="soft">{before}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
      {refused.length > 0 && (
        <>
          <h3 className="patch-title">Left as {left === 1 ? "it is" : "they are"}</h3>
          <div className="bad-cells patch-list" tabIndex={0} role="region" aria-label="Left as they are">
            <table>
              <thead>
                <tr>
                  <th scope="col">{what === "channels" ? "Source" : "Want"}</th>
                  <th scope="col">At</th>
                  <th scope="col">Why not</th>
                </tr>
              </thead>
              <tbody>
                {refused.map(({ name, where, reason }, index) => (
                  <tr key={index}>
                    <td>{name}</td>
                    <td>{where}</td>
                    <td>{reason}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
      {brought > 0 && already === 0 && (
        <p className="soft patch-care">
          On a live rig, first mute whatever these settings feed: a patch can send full level.
        </p>
      )}
      {brought > 0 && already > 0 && (
        <p className="soft patch-care">
          What already arrives stays as it is. On a live rig, first mute whatever these settings feed.
        </p>
      )}
    </Frame>
  );
}

const countOf = (refused: Patching["refused"]): number => refused.reduce((sum, { count }) => sum + count, 0);

function summary(
  { brought, already, refused }: Pick<Patching, "brought" | "already" | "refused">,
  { one, many, none }: (typeof WORDS)[Props["what"]],
): string {
  const left = countOf(refused);
  if (brought + already + left === 0) return none;
  const parts = [
    brought > 0 ? `${plural(brought, one, many)} can be patched.` : "",
    already > 0 ? `${plural(already, one, many)} ${already === 1 ? "is" : "are"} already right.` : "",
    left > 0 ? `${plural(left, one, many)} can’t be: the reasons are below.` : "",
  ];
  return parts.filter(Boolean).join(" ");
}
