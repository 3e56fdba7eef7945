/** A quiet line across the window: what others did to its file, and ways on. */
import { useEffect, useState } from "react";
import { useSession } from "../files/session-context.ts";
import { fileName } from "../files/session.ts";
import { hideNews, newsKey, useNews } from "../files/watch.ts";
import { Icon } from "../parts/Icon.tsx";
import { useApp } from "../state/store.ts";
import { agoText } from "../words/dates.ts";

export function FileNewsBar() {
  const news = useNews();
  const key = newsKey(news);
  const path = useApp((state) => state.file.path);
  return (
    // Always there, so that a screen reader hears of what comes into it.
    <div role="status" aria-label="News of the file" className="file-news-place">
      {key !== null && key !== news.hidden && path !== null && (
        <div className="file-news">
          <p>
            <NewsText name={fileName(path)} />
          </p>
          <Ways />
          <button type="button" className="icon-button" aria-label="Hide this" onClick={hideNews}>
            <Icon name="close" size={14} />
          </button>
        </div>
      )}
    </div>
  );
}

function NewsText({ name }: { name: string }) {
  const { others, onDisk } = useNews();
  const modified = useApp((state) => state.modified);
  switch (onDisk.kind) {
    case "changed":
      return (
        <>
          “{name}” was changed on disk{" "}
          <span className="number">
            <Ago at={onDisk.at} />
          </span>
          {modified ? ", and you have changes of your own." : "."}
        </>
      );
    case "gone":
      return <>“{name}” is no longer where it was. What you see is only in this window.</>;
    case "same":
      return others === 1 ? (
        <>This show is also open in another window. Whoever saves second is asked first.</>
      ) : (
        <>This show is also open in {others} other windows. Whoever saves second is asked first.</>
      );
  }
}

/** Not read out with every second: the text around it says what happened. */
function Ago({ at }: { at: number }) {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 1_000);
    return () => clearInterval(timer);
  }, []);
  return <span aria-live="off">{agoText(now - at)}</span>;
}

function Ways() {
  const session = useSession();
  const { onDisk } = useNews();
  const modified = useApp((state) => state.modified);
  const saveAs = (
    <button type="button" className="button small" onClick={() => void session.saveAs()}>
      Save as…
    </button>
  );
  switch (onDisk.kind) {
    case "changed":
      return (
        <>
          <button type="button" className="button small" onClick={() => void session.reload()}>
            {modified ? "Choose…" : "Reload"}
          </button>
          {!modified && saveAs}
        </>
      );
    case "gone":
    case "same":
      return saveAs;
  }
}
