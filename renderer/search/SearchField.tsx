/** One field to go anywhere and to run any command; `>` first lists commands only. */
import { Command } from "cmdk";
import { useEffect, useEffectEvent, useMemo, useRef, useState } from "react";
import {
  COMMANDS,
  isEnabled,
  labelOf,
  runCommand,
  stateNow,
  type Command as AppCommand,
} from "../commands/commands.ts";
import { chordLabel, onMac, thisPlatform } from "../commands/keys.ts";
import { useSession } from "../files/session-context.ts";
import { Icon } from "../parts/Icon.tsx";
import { useShowComing } from "../state/first-sight.ts";
import { app, useApp } from "../state/store.ts";
import { showStage, ui, useUi } from "../state/ui.ts";
import { bestFirst, plain, search, searchIndex, type Entry } from "./search.ts";

const close = (): void => ui.setState({ search: null });

export function SearchField() {
  const text = useUi((state) => state.search);
  const isOpen = text !== null;
  const box = useRef<HTMLDivElement>(null);
  const input = useRef<HTMLInputElement>(null);
  const found = useFound(text ?? "");
  const [moved, setMoved] = useState({ text: "", to: "" });
  const first = found.entries[0]?.key ?? (found.commands[0] ? commandKey(found.commands[0]) : "");
  const keys = chordLabel("Mod+K", onMac(thisPlatform()));
  // Enter takes the best result, unless the user has moved to another one of the same search.
  const chosen = moved.text === text && moved.to !== "" ? moved.to : first;

  useEffect(() => {
    if (isOpen) input.current?.focus();
  }, [isOpen]);

  const hasList = isOpen && found.entries.length + found.commands.length > 0;
  useEffect(() => input.current?.setAttribute("aria-expanded", String(hasList)), [hasList]);
  useListName(input, hasList);

  // Who had the keys before has them again, so that a dialog that a command opens can give them back in its turn.
  const before = useRef<Element | null>(null);
  const session = useSession();
  const done = (): void => {
    close();
    input.current?.blur();
    if (before.current instanceof HTMLElement && before.current.isConnected)
      before.current.focus({ preventScroll: true });
  };
  const go = (entry: Entry): void => {
    app.getState().look(entry.focus, true);
    // These are seen nowhere but there.
    if (entry.kind === "device" || entry.kind === "cable") showStage("canvas");
    done();
  };
  const run = (command: AppCommand): void => {
    done();
    runCommand(command, { session });
  };

  // Enter before what is typed can be found takes it once it can be.
  const isComing = useShowComing();
  const isBehind = useApp(({ analysis, show }) => analysis.show !== show);
  const mustWait = isComing || (isBehind && !found.onlyCommands);
  const early = useRef<string | null>(null);
  const takeEarly = useEffectEvent(() => {
    const asked = early.current;
    early.current = null;
    if (asked === null || asked !== text) return;
    const entry = found.entries.find(({ key }) => key === chosen);
    const command = found.commands.find((each) => commandKey(each) === chosen);
    if (entry) go(entry);
    else if (command) run(command);
  });
  useEffect(() => {
    if (!mustWait) takeEarly();
  }, [mustWait]);

  return (
    <Command
      ref={box}
      className="search"
      label="Go to anything"
      shouldFilter={false}
      loop
      value={chosen}
      onValueChange={(to) => setMoved({ text: text ?? "", to })}
      onKeyDown={(event) => {
        if (!isOpen) return;
        if (event.key === "Enter" && mustWait && !event.nativeEvent.isComposing) {
          event.preventDefault();
          early.current = text;
        }
        if (event.key !== "Escape") return;
        event.preventDefault();
        event.stopPropagation();
        done();
      }}
      onBlur={(event) => {
        if (!box.current?.contains(event.relatedTarget)) close();
      }}
    >
      <div className="search-field" role="search">
        <Icon name="search" size={14} />
        <Command.Input
          ref={input}
          value={text ?? ""}
          onValueChange={(value) => ui.setState({ search: value })}
          onFocus={({ relatedTarget }) => {
            before.current = relatedTarget;
            if (!isOpen) ui.setState({ search: "" });
          }}
          placeholder="Go to anything"
        />
        <kbd>{keys}</kbd>
      </div>
      {isOpen && <Results found={found} onGo={go} onRun={run} />}
    </Command>
  );
}

/** The library names its list in the field at all times; while there is no list the name would lead nowhere. */
function useListName(input: React.RefObject<HTMLInputElement | null>, hasList: boolean): void {
  const name = useRef<string | null>(null);
  useEffect(() => {
    name.current ??= input.current?.getAttribute("aria-controls") ?? null;
    if (hasList && name.current !== null) input.current?.setAttribute("aria-controls", name.current);
    else input.current?.removeAttribute("aria-controls");
  }, [input, hasList]);
}

interface Found {
  readonly typed: string;
  readonly onlyCommands: boolean;
  readonly entries: readonly Entry[];
  readonly commands: readonly AppCommand[];
}

/** Commands take up little room among what the show holds, unless they were asked for. */
const FEW_COMMANDS = 5;

function useFound(text: string): Found {
  const analysis = useApp((state) => state.analysis);
  return useMemo(() => {
    const onlyCommands = text.startsWith(">");
    const typed = (onlyCommands ? text.slice(1) : text).trim();
    if (typed === "" && !onlyCommands) return { typed, onlyCommands, entries: [], commands: [] };
    const state = stateNow();
    const commands = bestFirst(
      COMMANDS.filter(({ id }) => id !== "search")
        .filter((command) => isEnabled(command, state))
        .map((command) => ({ command, label: labelOf(command, state) }))
        .filter(({ command, label }) => commandFits(command, label, typed)),
      typed,
    ).map(({ command }) => command);
    return {
      typed,
      onlyCommands,
      entries: onlyCommands ? [] : search(searchIndex(analysis), typed),
      commands: onlyCommands ? commands : commands.slice(0, FEW_COMMANDS),
    };
  }, [analysis, text]);
}

const commandKey = ({ id }: AppCommand): string => `command:${id}`;

function Results({
  found: { typed, onlyCommands, entries, commands },
  onGo,
  onRun,
}: {
  found: Found;
  onGo: (entry: Entry) => void;
  onRun: (command: AppCommand) => void;
}) {
  const state = stateNow();
  return (
    <div className="search-results" onMouseDown={(event) => event.preventDefault()}>
      {typed === "" && !onlyCommands ? (
        <p className="search-hint soft">
          Type a jack, source, mix, channel, device, cable tag or want. <kbd>&gt;</kbd> lists commands.
        </p>
      ) : (
        entries.length + commands.length === 0 && (
          <p className="search-hint soft">
            {onlyCommands ? "No command is" : "Nothing in this show is"} called “{typed}”.
          </p>
        )
      )}
      {entries.length + commands.length > 0 && (
        <Command.List aria-label="Results">
          {entries.length > 0 && (
            <Command.Group heading="In this show">
              {entries.map((entry) => (
                <EntryItem key={entry.key} entry={entry} onSelect={() => onGo(entry)} />
              ))}
            </Command.Group>
          )}
          {commands.length > 0 && (
            <Command.Group heading="Commands">
              {commands.map((command) => (
                <Command.Item key={command.id} value={commandKey(command)} onSelect={() => onRun(command)}>
                  <span className="cut keep">{labelOf(command, state)}</span>
                  <span className="row-end soft small">{command.menu}</span>
                  {command.keys?.[0] && <kbd>{chordLabel(command.keys[0], onMac(thisPlatform()))}</kbd>}
                </Command.Item>
              ))}
            </Command.Group>
          )}
        </Command.List>
      )}
    </div>
  );
}

const KIND_NAMES: Readonly<Record<Entry["kind"], string>> = {
  device: "device",
  source: "source",
  mix: "mix",
  channel: "channel",
  want: "want",
  jack: "jack",
  cable: "cable",
};

function EntryItem({ entry, onSelect }: { entry: Entry; onSelect: () => void }) {
  return (
    <Command.Item value={entry.key} onSelect={onSelect}>
      <span className="search-kind soft small">{KIND_NAMES[entry.kind]}</span>
      <span className="cut keep">{entry.label}</span>
      <span className="cut soft small">{entry.detail}</span>
    </Command.Item>
  );
}

function commandFits(command: AppCommand, label: string, typed: string): boolean {
  const text = plain(`${label} ${command.also ?? ""} ${command.menu}`);
  return plain(typed)
    .split(/\s+/)
    .every((word) => text.includes(word));
}
