/** How to read what is on the screen. */
import { CloseButton, Frame } from "../dialogs/Frame.tsx";
import { OwnerMark } from "../parts/OwnerMark.tsx";
import { Pill } from "../parts/Pill.tsx";
import { useApp } from "../state/store.ts";
import { ownersOf } from "../theme/owners.ts";
import { GLOSSARY } from "../words/glossary.ts";

export function LegendDialog({ onClose }: { onClose: () => void }) {
  const owners = useApp((state) => ownersOf(state.analysis.show));
  return (
    <Frame title="How to read it" onClose={onClose} buttons={<CloseButton onClose={onClose} />}>
      <div className="help-legend">
        <section>
          <h3>Owners</h3>
          <p className="soft">{`Owner: ${GLOSSARY.owner.means} Colour, letter and hatch say the same.`}</p>
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
            <dd>{GLOSSARY["one owner"].means}</dd>
            <dt>
              <Pill tone="warn">shared</Pill>
            </dt>
            <dd>{GLOSSARY.shared.means}</dd>
            <dt>
              <Pill tone="quiet">3 of 8 fed</Pill>
            </dt>
            <dd>{GLOSSARY["partly fed"].means}</dd>
            <dt>
              <Pill tone="quiet">unfed</Pill>
            </dt>
            <dd>{GLOSSARY.unfed.means}</dd>
          </dl>
        </section>
        <section>
          <h3>Hop strip</h3>
          <dl>
            {(["set", "mode", "fixed"] as const).map((word) => (
              <div key={word} className="word">
                <dt>{GLOSSARY[word].name}</dt>
                <dd>{GLOSSARY[word].means}</dd>
              </div>
            ))}
            <dt>≈</dt>
            <dd>{GLOSSARY.assumed.means}</dd>
            <dt>smp</dt>
            <dd>{GLOSSARY.samples.means}</dd>
            <dt>gatekeepers</dt>
            <dd>{GLOSSARY.gatekeeper.means}</dd>
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
