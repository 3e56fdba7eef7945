/** What to do with an empty show. */
import { useSession } from "../files/session-context.ts";
import { DemoList, RecentList, StarterList } from "../files/ShowLists.tsx";
import { ui } from "../state/ui.ts";
import { askForGear } from "./ask-for-gear.ts";

export function EmptyRig() {
  const session = useSession();
  return (
    <div className="empty-rig">
      <p>This show is empty.</p>
      <p className="soft">
        Drag a device from the gear list onto the canvas, or choose one there and press Enter.
        <br />
        Then pull cables from port to port: what fits lights up.
      </p>
      <div className="button-row">
        <button type="button" className="button main" onClick={askForGear}>
          Add a device…
        </button>
        <button
          type="button"
          className="button"
          onClick={() => ui.setState({ dialog: { kind: "add-place" } })}
        >
          Add a place…
        </button>
        <button type="button" className="button" onClick={() => void session.openFile(null)}>
          Open a show…
        </button>
      </div>
      <StarterList />
      <DemoList />
      <RecentList />
    </div>
  );
}
