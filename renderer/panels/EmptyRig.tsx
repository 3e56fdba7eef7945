/** What to do with an empty show. */
import { useSession } from "../files/session-context.ts";
import { ShowLists, useShowLists } from "../files/ShowLists.tsx";
import { ui } from "../state/ui.ts";
import { askForGear } from "./ask-for-gear.ts";

export function EmptyRig() {
  const session = useSession();
  const lists = useShowLists();
  // With them it is higher, and stands in the middle: its buttons would move.
  if (!lists) return null;
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
      <ShowLists lists={lists} order={["starters", "demos", "recent"]} />
    </div>
  );
}
