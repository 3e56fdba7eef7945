/** SVG patterns that `OwnerLook.pattern` names. Stands once in the page. */
import { memo } from "react";
import { HATCHES, hatchOf, OWNER_COLOURS } from "#engine";
import { patternId, PATTERNS } from "./owners.ts";

export const OwnerPatterns = memo(function OwnerPatterns() {
  return (
    <svg className="owner-patterns" width="0" height="0" aria-hidden="true" focusable="false">
      <defs>
        {Array.from({ length: PATTERNS }, (_, index) => {
          const colour = (index % OWNER_COLOURS) + 1;
          return (
            <pattern key={index} id={patternId(index)} width="6" height="6" patternUnits="userSpaceOnUse">
              <rect width="6" height="6" fill={`var(--owner-${colour})`} />
              <path
                d={HATCHES[hatchOf(index)]}
                stroke={`var(--owner-${colour}-ink)`}
                strokeWidth="1"
                strokeOpacity="0.55"
                fill="none"
              />
            </pattern>
          );
        })}
      </defs>
    </svg>
  );
});
