/** How to read what is on the screen. */
import { CloseButton, Frame } from "../dialogs/Frame.tsx";
import { OwnerMark } from "../parts/OwnerMark.tsx";
import { Pill } from "../parts/Pill.tsx";
import { useApp } from "../state/store.ts";
import { ownersOf } from "../theme/owners.ts";

export function LegendDialog({ onClose }: { onClose: () => void }) {
  const owners = useApp((state) => ownersOf(state.analysis.show));
  return (
    <Frame title="How to read it" onClose={onClose} buttons={<CloseButton onClose={onClose} />}>
      <div className="help-legend">
        <section>
          <h3>Owners</h3>
          <p className="soft">
            The owner of an output jack is the console, or other mixer, whose tap its trace ends at. Colour,
            letter and hatch say the same.
          </p>
          <ul className="legend-owners">
            {[...owners.values()].map((owner) => (
              <li key={owner.device} className="with-mark">
                <OwnerMark owner={owner} decorative />
                <span className="cut">{owner.name}</span>
              </li>
            ))}
          </ul>
        </section>
        <section>
          <h3>Blocks</h3>
          <dl>
            <dt>a name alone</dt>
            <dd>one owner feeds the whole block</dd>
            <dt>
              <Pill tone="warn">shared</Pill>
            </dt>
            <dd>two or more consoles feed jacks of one block</dd>
            <dt>
              <Pill tone="quiet">3 of 8 fed</Pill>
            </dt>
            <dd>the other jacks get nothing</dd>
            <dt>
              <Pill tone="quiet">unfed</Pill>
            </dt>
            <dd>nothing arrives at any jack</dd>
          </dl>
        </section>
        <section>
          <h3>Hop strip</h3>
          <dl>
            <dt>set</dt>
            <dd>somebody assigned this on the device; it can be changed there</dd>
            <dt>mode</dt>
            <dd>the device’s mode decides; another mode wires it otherwise</dd>
            <dt>fixed</dt>
            <dd>the device is built so; nothing to set</dd>
            <dt>≈</dt>
            <dd>the delay rests on an assumed value, not on a sheet, a standard or a measurement</dd>
            <dt>smp</dt>
            <dd>samples at the show’s rate, from where the signal starts</dd>
            <dt>gatekeepers</dt>
            <dd>every device on the way: a changed setting on any of them can break the signal</dd>
          </dl>
        </section>
        <section>
          <h3>Care</h3>
          <p>
            Re-patching a live rig can send full level into loudspeakers and ears: mute and turn down the
            destination first, in-ears out of ears, bring up slowly. Hopline plans; it never claims that a rig
            is safe.
          </p>
        </section>
      </div>
    </Frame>
  );
}
