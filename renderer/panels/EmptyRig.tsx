/** What to do with an empty show. */
import { useSession } from "../files/session-context.ts";
import { DemoList, RecentList } from "../files/ShowLists.tsx";

export function EmptyRig() {
  const session = useSession();
  return (
    <div className="empty-rig">
      <p>This show is empty.</p>
      <p className="soft">Open a show of yours, or a demo to look around in.</p>
      <button type="button" className="button main" onClick={() => void session.openFile(null)}>
        Open a show…
      </button>
      <DemoList />
      <RecentList />
    </div>
  );
}
