/** Shows that can be opened with one press: demos, and those opened lately. */
import { useEffect, useState } from "react";
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
              <span className="cut">{name}</span>
              <span className="cut soft small">{detail}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** `before` runs once a show was chosen, such as closing the dialog that the list stands in. */
export function DemoList({ before }: { before?: () => void }) {
  const session = useSession();
  const entries = useEntries(async () =>
    (await session.demos())
      .map(({ path, name }) => ({ path, name: demoName(name), detail: "" }))
      .sort((a, b) => a.name.localeCompare(b.name, "en")),
  );
  const open = (path: string): void => {
    before?.();
    void session.openDemo(path);
  };
  return <List title="Demos" entries={entries} onOpen={open} />;
}

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

/** `quayside.hopline` → `Quayside`. */
export const demoName = (file: string): string => {
  const bare = file.replace(/\.hopline$/i, "").replace(/[-_]+/g, " ");
  return bare.charAt(0).toUpperCase() + bare.slice(1);
};
