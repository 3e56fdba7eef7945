/** The settings that would bring what the lists plan, shown before any of them is made, and what can't be brought. */
import { useMemo } from "react";
import { patchChannels, patchWants, reanalyse, type Patching } from "#engine";
import { Frame } from "../dialogs/Frame.tsx";
import { app } from "../state/store.ts";
import { plural } from "../words/verdicts.ts";

const WORDS = {
  channels: {
    title: "Patch channels to their sources",
    one: "channel",
    many: "channels",
    none: "No channel is planned for a source.",
    step: "patching channels to their sources",
  },
  wants: {
    title: "Patch what the wants say",
    one: "want",
    many: "wants",
    none: "No want names the tap that it comes from.",
    step: "patching what the wants say",
  },
} as const;

interface Props {
  readonly what: "channels" | "wants";
  readonly onClose: () => void;
}

export function PatchDialog({ what, onClose }: Props) {
  const words = WORDS[what];
  const found = useMemo((): Patching => {
    // The analysis may be of the document before an edit.
    const { show, analysis } = app.getState();
    const now = reanalyse(show, analysis);
    return what === "channels" ? patchChannels(now) : patchWants(now);
  }, [what]);
  const { edits, lines, brought, already, refused } = found;
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
            {lines.length > 0 ? "Cancel" : "Close"}
          </button>
          {lines.length > 0 && (
            <button type="button" className="button main" autoFocus onClick={make}>
              Make {plural(lines.length, "setting", "settings")}
            </button>
          )}
        </>
      }
    >
      <p>{summary(found, words)}</p>
      {lines.length > 0 && (
        <>
          <h3 className="patch-title">Settings to make</h3>
          <div className="bad-cells patch-list" tabIndex={0} role="region" aria-label="Settings to make">
            <table>
              <thead>
                <tr>
                  <th scope="col">Device</th>
                  <th scope="col">Is to read</th>
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
          <h3 className="patch-title">Left as {refused.length === 1 ? "it is" : "they are"}</h3>
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
          On a live rig mute what hangs on these settings first: a patch can send full level.
        </p>
      )}
      {brought > 0 && already > 0 && (
        <p className="soft patch-care">
          What arrives already stays as it is. On a live rig mute what hangs on these settings first.
        </p>
      )}
    </Frame>
  );
}

function summary(
  { brought, already, refused }: Patching,
  { one, many, none }: (typeof WORDS)[Props["what"]],
): string {
  if (brought + already + refused.length === 0) return none;
  const parts = [
    brought > 0 ? `${plural(brought, one, many)} can be brought.` : "",
    already > 0 ? `${plural(already, one, many)} ${already === 1 ? "is" : "are"} right already.` : "",
    refused.length > 0 ? `${plural(refused.length, one, many)} can’t, for the reasons below.` : "",
  ];
  return parts.filter(Boolean).join(" ");
}
