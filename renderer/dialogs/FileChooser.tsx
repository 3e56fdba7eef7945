/** Our own file chooser, over the host's folder listings, for hosts without a native one. */
import { useEffect, useRef, useState, type ReactNode } from "react";
import type { FolderEntry, FolderListing, HostResult } from "#engine";
import { ShowLists, useShowLists } from "../files/ShowLists.tsx";
import { useSession } from "../files/session-context.ts";
import { Icon } from "../parts/Icon.tsx";
import { Frame } from "./Frame.tsx";

interface Browsing {
  readonly listing: FolderListing | null;
  readonly problem: string | null;
  readonly goTo: (path: string | null) => void;
  /** What was asked for last; `listing` follows when it is there. */
  readonly asked: Promise<HostResult<FolderListing>>;
  readonly isOnItsWay: boolean;
}

function useFolder(): Browsing {
  const { host } = useSession();
  const [asked, setAsked] = useState(() => host.listFolder(null));
  const [listing, setListing] = useState<FolderListing | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [answered, setAnswered] = useState<Browsing["asked"] | null>(null);
  useEffect(() => {
    let wanted = true;
    void asked.then((found) => {
      if (!wanted) return;
      setAnswered(asked);
      // A folder that can't be read leaves the one before in view, so there is always a way on.
      if (found.ok) setListing(found.value);
      setProblem(found.ok ? null : found.error.message);
    });
    return () => void (wanted = false);
  }, [asked]);
  return {
    asked,
    isOnItsWay: answered !== asked,
    listing,
    problem,
    goTo: (path) => setAsked(host.listFolder(path)),
  };
}

function Folder({
  browsing: { listing, problem, goTo },
  chosen,
  onChoose,
  onTake,
}: {
  browsing: Browsing;
  chosen: string | null;
  onChoose: (entry: FolderEntry) => void;
  onTake: (entry: FolderEntry) => void;
}) {
  /** What is typed as the folder; null: nothing is. */
  const [typed, setTyped] = useState<string | null>(null);
  const [sent, setSent] = useState<string | null>(null);
  // Another folder has come into view; what was typed on since it was asked for stays.
  const [seen, setSeen] = useState(listing);
  if (listing !== seen) {
    setSeen(listing);
    if (typed === sent) setTyped(null);
  }
  const go = (path: string | null): void => {
    setTyped(null);
    goTo(path);
  };
  return (
    <div className="chooser">
      <div className="chooser-path">
        <button
          type="button"
          className="icon-button"
          aria-label="Up one folder"
          disabled={(listing?.parent ?? null) === null}
          onClick={() => go(listing?.parent ?? null)}
        >
          <Icon name="up" />
        </button>
        <input
          className="field"
          aria-label="Folder"
          value={typed ?? listing?.path ?? ""}
          spellCheck={false}
          onChange={(event) => setTyped(event.target.value)}
          onKeyDown={(event) => {
            if (event.key !== "Enter") return;
            event.preventDefault();
            setSent(typed);
            goTo(event.currentTarget.value.trim() || null);
          }}
        />
      </div>
      {problem && (
        <p className="tone-danger" role="alert">
          {problem}
        </p>
      )}
      <ul className="chooser-list" aria-label="Folders and shows">
        {listing?.entries.map((entry) => (
          <li key={entry.path}>
            <button
              type="button"
              className="show-entry"
              aria-pressed={chosen === entry.path}
              // A folder opens at the first press, so the second of two is on what has come in its place.
              onClick={({ detail }) => {
                if (detail > 1) return;
                if (entry.kind === "folder") go(entry.path);
                else onChoose(entry);
              }}
              onDoubleClick={() => entry.kind === "show" && chosen === entry.path && onTake(entry)}
            >
              <Icon name={entry.kind === "folder" ? "folder" : "file"} />
              <span className="cut">{entry.name}</span>
            </button>
          </li>
        ))}
        {listing?.entries.length === 0 && <li className="soft chooser-none">No folder and no show here.</li>}
      </ul>
    </div>
  );
}

export function OpenDialog({ onAnswer }: { onAnswer: (path: string | null) => void }) {
  const browsing = useFolder();
  const lists = useShowLists();
  const [chosen, setChosen] = useState<string | null>(null);
  // Leaving through one of the lists answers the question with nothing; the list opens its show itself.
  const leave = (): void => onAnswer(null);
  return (
    <Frame
      wide
      title="Open a show"
      onClose={() => onAnswer(null)}
      buttons={
        <>
          <span className="spring" />
          <button type="button" className="button" onClick={() => onAnswer(null)}>
            Cancel
          </button>
          <button
            type="button"
            className="button main"
            disabled={chosen === null}
            onClick={() => onAnswer(chosen)}
          >
            Open
          </button>
        </>
      }
    >
      <div className="open-dialog">
        <Folder
          browsing={browsing}
          chosen={chosen}
          onChoose={(entry) => setChosen(entry.path)}
          onTake={(entry) => onAnswer(entry.path)}
        />
        <aside className="open-lists">
          {lists && <ShowLists lists={lists} order={["recent", "starters", "demos"]} before={leave} />}
        </aside>
      </div>
    </Frame>
  );
}

export function SaveDialog({
  purpose,
  suggested,
  extension,
  onAnswer,
}: {
  purpose: string;
  suggested: string;
  extension: string;
  onAnswer: (path: string | null) => void;
}) {
  const browsing = useFolder();
  const [name, setName] = useState(suggested);
  const [replacing, setReplacing] = useState<string | null>(null);
  const isOpen = useIsMounted();
  const { listing, problem, isOnItsWay } = browsing;
  const file = withExtension(name.trim(), extension);
  const wrong = /[/\\]/.test(name) ? "A name can’t hold a slash. Choose the folder above." : null;
  const impossible = file === "" || wrong !== null || (listing === null && problem !== null && !isOnItsWay);
  const path = listing && file !== "" ? joinPath(listing.path, file) : null;
  const taken = listing !== null && holds(listing, file);

  /** Pressed before the folder is there, it saves when it is. */
  async function save(): Promise<void> {
    if (impossible) return;
    const found = await browsing.asked;
    // One that isn't there after all leaves the one before in view, which nobody asked to save in.
    const folder = found.ok ? found.value : isOnItsWay ? null : listing;
    if (folder === null || !isOpen()) return;
    const to = joinPath(folder.path, file);
    if (holds(folder, file) && replacing !== to) setReplacing(to);
    else onAnswer(to);
  }

  let remark: ReactNode = null;
  if (wrong) remark = <p className="tone-danger">{wrong}</p>;
  else if (replacing !== null && replacing === path)
    remark = (
      <p className="tone-danger" role="alert">
        “{file}” is there already. Press Replace to write over it, or choose another name.
      </p>
    );

  return (
    <Frame
      wide
      title={purpose}
      onClose={() => onAnswer(null)}
      buttons={
        <>
          {remark}
          <span className="spring" />
          <button type="button" className="button" onClick={() => onAnswer(null)}>
            Cancel
          </button>
          <button type="submit" form="save-file" className="button main" disabled={impossible}>
            {replacing !== null && replacing === path ? "Replace" : "Save"}
          </button>
        </>
      }
    >
      <form
        id="save-file"
        className="save-dialog"
        onSubmit={(event) => {
          event.preventDefault();
          void save();
        }}
      >
        <label className="save-name">
          <span>Name</span>
          <input
            className="field"
            autoFocus
            value={name}
            spellCheck={false}
            onFocus={(event) =>
              event.target.setSelectionRange(0, event.target.value.replace(/\.[^.]*$/, "").length)
            }
            onChange={(event) => setName(event.target.value)}
          />
        </label>
        <Folder
          browsing={browsing}
          chosen={taken ? path : null}
          onChoose={(entry) => setName(entry.name)}
          onTake={(entry) => setName(entry.name)}
        />
      </form>
    </Frame>
  );
}

function useIsMounted(): () => boolean {
  const mounted = useRef(false);
  useEffect(() => {
    mounted.current = true;
    return () => void (mounted.current = false);
  }, []);
  return () => mounted.current;
}

const holds = ({ entries }: FolderListing, name: string): boolean =>
  entries.some((entry) => entry.name === name);

const withExtension = (name: string, extension: string): string =>
  name === "" || name.toLowerCase().endsWith(extension) ? name : `${name}${extension}`;

function joinPath(folder: string, name: string): string {
  const separator = folder.includes("\\") ? "\\" : "/";
  return folder.endsWith(separator) ? `${folder}${name}` : `${folder}${separator}${name}`;
}
