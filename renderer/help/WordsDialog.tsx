/** Every word of the trade that the window uses, and what it means here. */
import { CloseButton, Frame } from "../dialogs/Frame.tsx";
import { GLOSSARY, GLOSSARY_PARTS } from "../words/glossary.ts";

export function WordsDialog({ onClose }: { onClose: () => void }) {
  return (
    <Frame wide title="Words" onClose={onClose} buttons={<CloseButton onClose={onClose} />}>
      <div className="help-legend" tabIndex={0} role="document" aria-label="Words">
        {GLOSSARY_PARTS.map(({ title, words }) => (
          <section key={title}>
            <h3>{title}</h3>
            <dl>
              {words.map((id) => (
                <div key={id} className="word">
                  <dt>{GLOSSARY[id].name}</dt>
                  <dd>{GLOSSARY[id].means}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </Frame>
  );
}
