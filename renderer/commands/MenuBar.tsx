/** The menus, for hosts without a menu bar of their own. */
import { Menubar } from "radix-ui";
import { useRef, useState } from "react";
import type { FolderEntry, RecentFile } from "#engine";
import { fileName } from "../files/session.ts";
import { isStarter, shippedNames } from "../files/ShowLists.tsx";
import { useSession } from "../files/session-context.ts";
import { Icon } from "../parts/Icon.tsx";
import { groupsOf, isEnabled, labelOf, MENUS, runCommand, stateNow, type Command } from "./commands.ts";
import { chordLabel, onMac, thisPlatform } from "./keys.ts";

export function MenuBar() {
  const session = useSession();
  // Menus are drawn when they open, from the state of that moment; nothing changes under an open menu.
  const [lists, setLists] = useState<{ recent: readonly RecentFile[]; demos: readonly FolderEntry[] }>({
    recent: [],
    demos: [],
  });

  // A press on a menu takes the keys from what the command is about; they go back to it.
  const before = useRef<HTMLElement | null>(null);
  const isOpen = useRef(false);
  const load = async (): Promise<void> => {
    const [recent, demos] = await Promise.all([session.recent(), session.demos()]);
    setLists({ recent, demos });
  };

  return (
    <Menubar.Root
      className="menu-bar"
      aria-label="Menu"
      onPointerDownCapture={() => {
        const active = document.activeElement;
        if (!isMenu(active)) before.current = active instanceof HTMLElement ? active : null;
      }}
      onKeyDownCapture={({ target }) => {
        // By key the menu bar is a part of the window as any other, and Escape leads back to it.
        if (target instanceof Element && target.closest("[role=menubar]")) before.current = null;
      }}
      onValueChange={(value) => {
        isOpen.current = value !== "";
        if (value === "File") void load();
      }}
    >
      {MENUS.map((menu) => (
        <Menubar.Menu key={menu} value={menu}>
          <Menubar.Trigger className="menu-trigger">{menu}</Menubar.Trigger>
          <Menubar.Portal>
            <Menubar.Content
              className="menu"
              align="start"
              sideOffset={4}
              collisionPadding={8}
              onCloseAutoFocus={(event) => {
                const back = before.current;
                const active = document.activeElement;
                if (isOpen.current) return;
                // Somebody has taken the keys since, such as a dialog.
                if (active !== null && active !== document.body && !isMenu(active)) {
                  event.preventDefault();
                  return;
                }
                if (!back?.isConnected || back === document.body) return;
                event.preventDefault();
                back.focus({ preventScroll: true });
              }}
            >
              {groupsOf(menu).map((commands, index) => (
                <Group key={commands[0]!.id} commands={commands} first={index === 0}>
                  {menu === "File" && index === 0 && (
                    <>
                      <ShowMenu
                        label="Open lately"
                        entries={lists.recent.map(({ path, title }) => ({
                          path,
                          name: title,
                          detail: fileName(path),
                        }))}
                        onOpen={(path) => void session.openFile(path)}
                      />
                      <ShowMenu
                        label="Open a demo"
                        entries={shippedNames(lists.demos.filter(({ name }) => !isStarter(name)))}
                        onOpen={(path) => void session.openDemo(path)}
                      />
                      <ShowMenu
                        label="Start from a rig"
                        entries={shippedNames(lists.demos.filter(({ name }) => isStarter(name)))}
                        onOpen={(path) => void session.openDemo(path)}
                      />
                    </>
                  )}
                </Group>
              ))}
            </Menubar.Content>
          </Menubar.Portal>
        </Menubar.Menu>
      ))}
    </Menubar.Root>
  );
}

const isMenu = (element: Element | null): boolean =>
  (element?.closest("[role=menubar],[role=menu]") ?? null) !== null;

function Group({
  commands,
  first,
  children,
}: {
  commands: readonly Command[];
  first: boolean;
  children: React.ReactNode;
}) {
  const session = useSession();
  const state = stateNow();
  const mac = onMac(thisPlatform());
  return (
    <>
      {!first && <Menubar.Separator className="menu-line" />}
      {commands.map((command) => {
        const content = (
          <>
            <span className="menu-check">{command.checked?.(state) && <Icon name="check" size={14} />}</span>
            <span>{labelOf(command, state)}</span>
            {command.keys?.[0] && <kbd>{chordLabel(command.keys[0], mac)}</kbd>}
          </>
        );
        const common = {
          className: "menu-item",
          disabled: !isEnabled(command, state),
          onSelect: () => runCommand(command, { session }),
        };
        return command.checked ? (
          <Menubar.CheckboxItem key={command.id} checked={command.checked(state)} {...common}>
            {content}
          </Menubar.CheckboxItem>
        ) : (
          <Menubar.Item key={command.id} {...common}>
            {content}
          </Menubar.Item>
        );
      })}
      {children}
    </>
  );
}

function ShowMenu({
  label,
  entries,
  onOpen,
}: {
  label: string;
  entries: readonly { readonly path: string; readonly name: string; readonly detail: string }[];
  onOpen: (path: string) => void;
}) {
  return (
    <Menubar.Sub>
      <Menubar.SubTrigger className="menu-item" disabled={entries.length === 0}>
        <span className="menu-check" />
        <span>{label}</span>
        <Icon name="chevron" size={12} />
      </Menubar.SubTrigger>
      <Menubar.Portal>
        <Menubar.SubContent className="menu" collisionPadding={8}>
          {entries.map(({ path, name, detail }) => (
            <Menubar.Item key={path} className="menu-item" onSelect={() => onOpen(path)}>
              <span className="menu-check" />
              <span>{name}</span>
              {detail && <kbd>{detail}</kbd>}
            </Menubar.Item>
          ))}
        </Menubar.SubContent>
      </Menubar.Portal>
    </Menubar.Sub>
  );
}
