/** Shows that can be opened with one press: demos, and those opened lately. */
import { useEffect, useState } from "react";
import type { FolderEntry } from "#engine";
import { Icon } from "../parts/Icon.tsx";
import { useSession } from "./session-context.ts";

interface Entry {
  readonly path: string;
  readonly name: string;
  readonly detail: string;
}

function useEntries(load: () => Promise<readonly Entry[]>): readonly Entry[] {
  const [entries, setEntries] = useState<readonly Entry[]>([]);
  useEffect(() => {
    let wanted = true;
    void load().then((found) => wanted && setEntries(found));
    return () => void (wanted = false);
    // Asked once, when the list comes up.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, []);
  return entries;
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

/** `before` runs once a show was chosen, such as closing the dialog that the list stands in. */
interface ListProps {
  readonly before?: () => void;
}

export function DemoList({ before }: ListProps) {
  return <ShippedList title="Demos" before={before} wants={({ name }) => !isStarter(name)} />;
}

/** Rigs without an input list, each opened as a new show. */
export function StarterList({ before }: ListProps) {
  return <ShippedList title="Rigs to start from" before={before} wants={({ name }) => isStarter(name)} />;
}

function ShippedList({
  title,
  before,
  wants,
}: {
  title: string;
  before: (() => void) | undefined;
  wants: (entry: FolderEntry) => boolean;
}) {
  const session = useSession();
  const entries = useEntries(async () => shippedNames((await session.demos()).filter(wants)));
  const open = (path: string): void => {
    before?.();
    void session.openDemo(path);
  };
  return <List title={title} entries={entries} onOpen={open} />;
}

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

export function RecentList({ before }: { before?: () => void }) {
  const session = useSession();
  const entries = useEntries(async () =>
    (await session.recent()).map(({ path, title }) => ({ path, name: title, detail: fileName(path) })),
  );
  const open = (path: string): void => {
    before?.();
    void session.openFile(path);
  };
  return <List title="Opened lately" entries={entries} onOpen={open} />;
}

export const fileName = (path: string): string => path.split(/[\\/]/).at(-1) ?? path;

/** `quayside.hopline` → `Quayside`, `starter-club.hopline` → `Club`. */
export const demoName = (file: string): string => {
  const bare = (isStarter(file) ? file.slice(STARTER.length) : file)
    .replace(/\.hopline$/i, "")
    .replace(/[-_]+/g, " ");
  return bare.charAt(0).toUpperCase() + bare.slice(1);
};
