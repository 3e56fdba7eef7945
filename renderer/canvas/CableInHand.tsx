/** The cable that is being pulled or the block that is carried, and beside the pointer where it would go or why it can't. */
import { useView } from "./view.ts";

export function CableInHand() {
  const inHand = useView((state) => state.cabling ?? state.carrying);
  if (!inHand) return null;
  const { start, at, over } = inHand;
  const root = document.querySelector(".canvas")?.getBoundingClientRect();
  if (!root) return null;
  const [x1, y1, x2, y2] = [start.x - root.left, start.y - root.top, at.x - root.left, at.y - root.top];
  const right = x2 > root.width - 260;
  const low = y2 > root.height - 60;
  return (
    <>
      <svg
        className="cable-in-hand"
        aria-hidden="true"
        data-over={over ? (over.fits ? "fits" : "no") : undefined}
      >
        <path d={`M${x1} ${y1}L${x2} ${y2}`} />
        <circle cx={x1} cy={y1} r={4} />
        <circle cx={x2} cy={y2} r={5} />
      </svg>
      <div
        className="cable-says"
        role="status"
        data-fits={over?.fits}
        hidden={!over}
        style={{
          left: x2 + (right ? -14 : 14),
          top: y2 + (low ? -14 : 14),
          translate: `${right ? "-100%" : "0"} ${low ? "-100%" : "0"}`,
        }}
      >
        {over?.text}
      </div>
    </>
  );
}
