/** One field to go anywhere and to run any command; `>` first lists commands only. */
import { Command } from "cmdk";
import { useDeferredValue, useEffect, useMemo, useRef } from "react";
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
import { app, useApp } from "../state/store.ts";
import { ui, useUi } from "../state/ui.ts";
import { plain, search, searchIndex, type Entry } from "./search.ts";

const close = (): void => ui.setState({ search: null });

export function SearchField() {
  const text = useUi((state) => state.search);
  const isOpen = text !== null;
  const box = useRef<HTMLDivElement>(null);
  const input = useRef<HTMLInputElement>(null);
  const keys = chordLabel("Mod+K", onMac(thisPlatform()));

  useEffect(() => {
    if (isOpen) input.current?.focus();
  }, [isOpen]);

  return (
    <Command
      ref={box}
      className="search"
      label="Go to anything"
      shouldFilter={false}
      loop
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !isOpen) return;
        event.preventDefault();
        event.stopPropagation();
        close();
        input.current?.blur();
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
          onFocus={() => !isOpen && ui.setState({ search: "" })}
          placeholder="Go to anything"
        />
        <kbd>{keys}</kbd>
      </div>
      {isOpen && <Results text={text} onDone={() => input.current?.blur()} />}
    </Command>
  );
}

function Results({ text, onDone }: { text: string; onDone: () => void }) {
  const session = useSession();
  const analysis = useApp((state) => state.analysis);
  const deferred = useDeferredValue(text);
  const onlyCommands = deferred.startsWith(">");
  const typed = (onlyCommands ? deferred.slice(1) : deferred).trim();
  const entries = useMemo(
    () => (onlyCommands || typed === "" ? [] : search(searchIndex(analysis), typed)),
    [analysis, onlyCommands, typed],
  );
  const state = stateNow();
  const commands = COMMANDS.filter(
    (command) =>
      command.id !== "search" &&
      isEnabled(command, state) &&
      commandFits(command, labelOf(command, state), typed),
  ).slice(0, onlyCommands ? COMMANDS.length : 5);

  const done = (): void => {
    close();
    onDone();
  };

  return (
    <div className="search-results" onMouseDown={(event) => event.preventDefault()}>
      <Command.List aria-label="Results">
        {typed === "" && !onlyCommands ? (
          <p className="search-hint soft">
            Type a jack, source, mix, channel, device, cable tag or want. <kbd>&gt;</kbd> lists commands.
          </p>
        ) : (
          <Command.Empty className="search-hint soft">
            Nothing in this show is called “{typed}”.
          </Command.Empty>
        )}
        {entries.length > 0 && (
          <Command.Group heading="In this show">
            {entries.map((entry) => (
              <EntryItem
                key={entry.key}
                entry={entry}
                onSelect={() => {
                  app.getState().look(entry.focus, true);
                  done();
                }}
              />
            ))}
          </Command.Group>
        )}
        {(typed !== "" || onlyCommands) && commands.length > 0 && (
          <Command.Group heading="Commands">
            {commands.map((command) => (
              <Command.Item
                key={command.id}
                value={`command:${command.id}`}
                onSelect={() => {
                  done();
                  runCommand(command, { session });
                }}
              >
                <span className="cut keep">{labelOf(command, state)}</span>
                <span className="row-end soft small">{command.menu}</span>
                {command.keys?.[0] && <kbd>{chordLabel(command.keys[0], onMac(thisPlatform()))}</kbd>}
              </Command.Item>
            ))}
          </Command.Group>
        )}
      </Command.List>
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
