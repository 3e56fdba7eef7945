/** Menu, what is open and whether it is safe, search, scheme, findings. */
import { DropdownMenu } from "radix-ui";
import { useEffect, useState } from "react";
import { COMMANDS, runCommand } from "../commands/commands.ts";
import { MenuBar } from "../commands/MenuBar.tsx";
import { useSession } from "../files/session-context.ts";
import { Icon, type IconName } from "../parts/Icon.tsx";
import { Tip } from "../parts/Tip.tsx";
import { SearchField } from "../search/SearchField.tsx";
import type { FileState, SchemeChoice } from "../state/contract.ts";
import { findingCounts } from "../state/derived.ts";
import { useFirstSight } from "../state/first-sight.ts";
import { app, useApp } from "../state/store.ts";
import { showPanel } from "../state/ui.ts";
import { agoText } from "../words/dates.ts";
import { plural } from "../words/verdicts.ts";
import { severityTone } from "./FindingsPanel.tsx";

export function TopBar() {
  const session = useSession();
  const first = useFirstSight() !== null;
  return (
    <header className="top-bar">
      {session.host.kind === "browser" && <MenuBar />}
      <ShowTitle />
      {!first && <SaveState />}
      <SearchField />
      <div className="top-end">
        <SchemeSwitch />
        {first ? <span className="findings-count" /> : <FindingsCount />}
      </div>
    </header>
  );
}

function ShowTitle() {
  const sight = useFirstSight();
  const title = useApp((state) => (sight ?? state.show).title);
  const modified = useApp((state) => state.modified);
  const session = useSession();
  const rename = COMMANDS.find(({ id }) => id === "rename-show")!;
  return (
    <h1 className="show-title">
      <button
        type="button"
        className="cut"
        title={`${title}: rename`}
        onClick={() => runCommand(rename, { session })}
      >
        {title}
      </button>
      {modified && (
        <span className="modified" role="img" aria-label="has unsaved changes" title="Has unsaved changes" />
      )}
    </h1>
  );
}

/** Often enough that the text is never wrong by more than it says. */
const TICK_MS = 1_000;

function SaveState() {
  const session = useSession();
  const file = useApp((state) => state.file);
  const modified = useApp((state) => state.modified);
  const now = useNow(file.savedAt !== null);
  const { text, tone } = saveText(file, modified, now);
  const save = COMMANDS.find(({ id }) => id === "save")!;
  return (
    <Tip text={file.path ?? "This show has no file yet. Press to save it."}>
      <button
        type="button"
        className={`save-state number tone-${tone}`}
        onClick={() => runCommand(save, { session })}
      >
        <span aria-live={tone === "danger" ? "assertive" : "off"}>{text}</span>
      </button>
    </Tip>
  );
}

function useNow(ticking: boolean): number {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    if (!ticking) return;
    const timer = setInterval(() => setNow(Date.now()), TICK_MS);
    return () => clearInterval(timer);
  }, [ticking]);
  return now;
}

/** What can be relied on, said plainly. */
export function saveText(
  { path, savedAt, saving, trouble }: FileState,
  modified: boolean,
  now: number,
): { readonly text: string; readonly tone: "danger" | "warn" | "quiet" } {
  if (saving) return { text: "saving…", tone: "quiet" };
  if (trouble !== null) return { text: trouble, tone: "danger" };
  if (path === null) return { text: "never saved", tone: modified ? "warn" : "quiet" };
  if (savedAt === null)
    return { text: modified ? "changes not saved" : "as in the file", tone: modified ? "warn" : "quiet" };
  return { text: `saved ${agoText(now - savedAt)}`, tone: modified ? "warn" : "quiet" };
}

const SCHEMES: readonly { readonly id: SchemeChoice; readonly name: string; readonly icon: IconName }[] = [
  { id: "system", name: "As the system", icon: "system" },
  { id: "light", name: "Light", icon: "light" },
  { id: "dark", name: "Dark", icon: "dark" },
  { id: "dim", name: "Dim red, for show dark", icon: "dim" },
];

function SchemeSwitch() {
  const scheme = useApp((state) => state.scheme);
  const current = SCHEMES.find(({ id }) => id === scheme)!;
  return (
    <DropdownMenu.Root>
      {/* A tip of ours would come up again as the menu closes and hands the focus back. */}
      <DropdownMenu.Trigger
        className="icon-button scheme"
        aria-label={`Colours: ${current.name}`}
        title={`Colours: ${current.name.toLowerCase()}`}
      >
        <Icon name={current.icon} />
      </DropdownMenu.Trigger>
      <DropdownMenu.Portal>
        <DropdownMenu.Content className="menu" align="end" sideOffset={4} collisionPadding={8}>
          <DropdownMenu.RadioGroup
            value={scheme}
            onValueChange={(value) => app.getState().setScheme(value as SchemeChoice)}
          >
            {SCHEMES.map(({ id, name, icon }) => (
              <DropdownMenu.RadioItem key={id} value={id} className="menu-item">
                <span className="menu-check">
                  <DropdownMenu.ItemIndicator>
                    <Icon name="check" size={14} />
                  </DropdownMenu.ItemIndicator>
                </span>
                <span>{name}</span>
                <Icon name={icon} size={14} />
              </DropdownMenu.RadioItem>
            ))}
          </DropdownMenu.RadioGroup>
        </DropdownMenu.Content>
      </DropdownMenu.Portal>
    </DropdownMenu.Root>
  );
}

function FindingsCount() {
  const counts = useApp((state) => findingCounts(state.analysis));
  const all = counts.error + counts.warning + counts.note;
  const gravest = counts.error > 0 ? "error" : counts.warning > 0 ? "warning" : "note";
  const words = [
    plural(counts.error, "error", "errors"),
    plural(counts.warning, "warning", "warnings"),
    plural(counts.note, "note", "notes"),
  ].join(", ");
  return (
    <Tip text={all === 0 ? "No findings" : words}>
      <button
        type="button"
        className="findings-count number"
        aria-label={all === 0 ? "Findings: none" : `Findings: ${words}`}
        onClick={() => showPanel("findings")}
      >
        {all === 0 ? (
          <span className="tone-ok">
            <Icon name="check" />
          </span>
        ) : (
          <>
            <span className={severityTone(gravest)}>
              <Icon name={gravest} />
            </span>
            {/* Of that sort: notes beside one error are no more errors. */}
            {counts[gravest]}
          </>
        )}
      </button>
    </Tip>
  );
}
