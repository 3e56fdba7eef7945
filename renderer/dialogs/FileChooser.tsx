/** Our own file chooser, over the host's folder listings, for hosts without a native one. */
import { useEffect, useEffectEvent, useState, type ReactNode } from "react";
import type { FolderEntry, FolderListing, HostResult } from "#engine";
import { DemoList, RecentList, StarterList } from "../files/ShowLists.tsx";
import { useSession } from "../files/session-context.ts";
import { Icon } from "../parts/Icon.tsx";
import { Frame } from "./Frame.tsx";

interface Browsing {
  readonly listing: FolderListing | null;
  readonly problem: string | null;
  readonly goTo: (path: string | null) => void;
}

/** `answered` is told what came of every folder that was asked for. */
function useFolder(answered?: (found: HostResult<FolderListing>) => void): Browsing {
  const { host } = useSession();
  const [path, setPath] = useState<string | null>(null);
  const [listing, setListing] = useState<FolderListing | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const show = useEffectEvent((found: HostResult<FolderListing>): void => {
    setProblem(found.ok ? null : found.error.message);
    // A folder that can't be read leaves the one before in view, so there is always a way on.
    if (found.ok) setListing(found.value);
    answered?.(found);
  });
  useEffect(() => {
    let wanted = true;
    void host.listFolder(path).then((found) => wanted && show(found));
    return () => void (wanted = false);
  }, [host, path]);
  return { listing, problem, goTo: setPath };
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
  const take = (entry: FolderEntry): void => (entry.kind === "folder" ? goTo(entry.path) : onTake(entry));
  return (
    <div className="chooser">
      <div className="chooser-path">
        <button
          type="button"
          className="icon-button"
          aria-label="Up one folder"
          disabled={(listing?.parent ?? null) === null}
          onClick={() => goTo(listing?.parent ?? null)}
        >
          <Icon name="up" />
        </button>
        <input
          key={listing?.path}
          className="field"
          aria-label="Folder"
          defaultValue={listing?.path ?? ""}
          spellCheck={false}
          onKeyDown={(event) => {
            if (event.key !== "Enter") return;
            event.preventDefault();
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
              onClick={() => (entry.kind === "folder" ? take(entry) : onChoose(entry))}
              onDoubleClick={() => take(entry)}
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
          <RecentList before={leave} />
          <StarterList before={leave} />
          <DemoList before={leave} />
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
  const [name, setName] = useState(suggested);
  const [replacing, setReplacing] = useState<string | null>(null);
  /** Save was pressed before the folder was known; it is done when it is. */
  const [early, setEarly] = useState(false);
  const file = withExtension(name.trim(), extension);

  function saveIn(folder: FolderListing): void {
    const path = joinPath(folder.path, file);
    if (holds(folder, file) && replacing !== path) setReplacing(path);
    else onAnswer(path);
  }

  const browsing = useFolder((found) => {
    setEarly(false);
    if (early && found.ok) saveIn(found.value);
  });
  const { listing, problem } = browsing;
  const wrong = /[/\\]/.test(name) ? "A name can’t hold a slash. Choose the folder above." : null;
  const impossible = file === "" || wrong !== null || (listing === null && problem !== null);
  const path = listing && file !== "" ? joinPath(listing.path, file) : null;
  const taken = listing !== null && holds(listing, file);

  const save = (): void => {
    if (impossible) return;
    if (listing === null) setEarly(true);
    else saveIn(listing);
  };

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
          save();
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
            onChange={(event) => {
              setName(event.target.value);
              setEarly(false);
            }}
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

const holds = ({ entries }: FolderListing, name: string): boolean =>
  entries.some((entry) => entry.name === name);

const withExtension = (name: string, extension: string): string =>
  name === "" || name.toLowerCase().endsWith(extension) ? name : `${name}${extension}`;

function joinPath(folder: string, name: string): string {
  const separator = folder.includes("\\") ? "\\" : "/";
  return folder.endsWith(separator) ? `${folder}${name}` : `${folder}${separator}${name}`;
}
