/** Shows that can be opened with one press: demos, and those opened lately. */
import { useEffect, useState } from "react";
import type { FolderEntry } from "#engine";
import { Icon } from "../parts/Icon.tsx";
import { fileName } from "./session.ts";
import { useSession } from "./session-context.ts";

interface Entry {
  readonly path: string;
  readonly name: string;
  readonly detail: string;
}

interface Lists {
  readonly recent: readonly Entry[];
  /** Rigs without an input list. */
  readonly starters: readonly Entry[];
  readonly demos: readonly Entry[];
}

/** All of them at once: one that came later would push away what somebody is about to press. Null: not known yet. */
export function useShowLists(): Lists | null {
  const session = useSession();
  const [lists, setLists] = useState<Lists | null>(null);
  useEffect(() => {
    let wanted = true;
    void Promise.all([session.recent(), session.demos()]).then(([recent, shipped]) => {
      if (!wanted) return;
      setLists({
        recent: recent.map(({ path, title }) => ({ path, name: title, detail: fileName(path) })),
        starters: shippedNames(shipped.filter(({ name }) => isStarter(name))),
        demos: shippedNames(shipped.filter(({ name }) => !isStarter(name))),
      });
    });
    return () => void (wanted = false);
  }, [session]);
  return lists;
}

function List({
  title,
  entries,
  onOpen,
}: {
  title: string;
  entries: readonly Entry[];
  onOpen: (path: string) => void;
}) {
  if (entries.length === 0) return null;
  return (
    <section className="show-list">
      <h3>{title}</h3>
      <ul>
        {entries.map(({ path, name, detail }) => (
          <li key={path}>
            <button type="button" className="show-entry" title={path} onClick={() => onOpen(path)}>
              <Icon name="file" />
              <span className="show-entry-text">
                <span className="cut">{name}</span>
                <span className="cut soft small">{detail}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/**
 * The lists in the order in which they are to stand. Rigs to start from and demos open as a new show each. `before` runs once
 * a show was chosen, such as closing the dialog that the lists stand in.
 */
export function ShowLists({
  lists,
  order,
  before,
}: {
  lists: Lists;
  order: readonly (keyof Lists)[];
  before?: () => void;
}) {
  const session = useSession();
  return order.map((list) => (
    <List
      key={list}
      title={TITLES[list]}
      entries={lists[list]}
      onOpen={(path) => {
        before?.();
        void (list === "recent" ? session.openFile(path) : session.openDemo(path));
      }}
    />
  ));
}

const TITLES: Readonly<Record<keyof Lists, string>> = {
  recent: "Opened lately",
  starters: "Rigs to start from",
  demos: "Demos",
};

/** What is in a show that comes with the app, for who chooses one. */
const ABOUT: Readonly<Record<string, string>> = {
  "quayside.hopline": "a whole concert, three consoles",
  "quayside-faults.hopline": "the same with eight faults to find",
  "starter-club.hopline": "two consoles",
  "starter-festival.hopline": "three consoles, risers",
  "starter-theatre.hopline": "house and broadcast",
};

/** Shows that come with the app, by the names that people read. */
export const shippedNames = (files: readonly FolderEntry[]): readonly Entry[] =>
  files
    .map(({ path, name }) => ({ path, name: demoName(name), detail: ABOUT[name] ?? "" }))
    .sort((a, b) => a.name.localeCompare(b.name, "en"));

/** What is to be started from, and no show to look around in. */
export const isStarter = (file: string): boolean => file.startsWith(STARTER);

const STARTER = "starter-";

/** `quayside.hopline` → `Quayside`, `starter-club.hopline` → `Club`. */
export const demoName = (file: string): string => {
  const bare = (isStarter(file) ? file.slice(STARTER.length) : file)
    .replace(/\.hopline$/i, "")
    .replace(/[-_]+/g, " ");
  return bare.charAt(0).toUpperCase() + bare.slice(1);
};
