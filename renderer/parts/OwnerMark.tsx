/** The owner's swatch: colour and hatch, with the letter on it. */
import { memo } from "react";
import type { DeviceId } from "#engine";
import { useApp } from "../state/store.ts";
import { ownersOf, type OwnerLook } from "../theme/owners.ts";

export const useOwner = (device: DeviceId | null | undefined): OwnerLook | null =>
  useApp((state) => (device ? (ownersOf(state.analysis.show).get(device) ?? null) : null));

/** `decorative`: the name stands beside it. */
export const OwnerMark = memo(function OwnerMark({
  owner,
  decorative = false,
}: {
  owner: OwnerLook;
  decorative?: boolean;
}) {
  const width = owner.letter.length > 1 ? 22 : 16;
  return (
    <svg
      className="owner-mark"
      width={width}
      height="14"
      {...(decorative ? { "aria-hidden": true } : { role: "img", "aria-label": owner.name })}
    >
      <rect width={width} height="14" rx="2" fill={owner.pattern} />
      {/* The letter keeps a clear ground, or the hatch would run through it. */}
      <rect x="3" y="1" width={width - 6} height="12" rx="1" fill={owner.fill} />
      <text
        x={width / 2}
        y="11"
        textAnchor="middle"
        fill={owner.ink}
        fontSize="10.5"
        fontWeight="700"
        fontFamily="var(--font)"
      >
        {owner.letter}
      </text>
    </svg>
  );
});

export function OwnerTag({ device }: { device: DeviceId }) {
  const owner = useOwner(device);
  return owner ? <OwnerMark owner={owner} /> : null;
}
