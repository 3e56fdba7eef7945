/** Every check: what it looks for and what to do about it. Loaded when it is asked for. */
import { CloseButton, Frame } from "../dialogs/Frame.tsx";
import { CHECK_PAGES } from "./checks.ts";
import { CheckText } from "./CheckHelp.tsx";

export default function ChecksDialog({ onClose }: { onClose: () => void }) {
  return (
    <Frame wide title="What is checked" onClose={onClose} buttons={<CloseButton onClose={onClose} />}>
      <div className="check-pages" tabIndex={0} role="document" aria-label="What is checked">
        {CHECK_PAGES.map((page) => (
          <section key={page.rule}>
            <h3>
              {checkName(page.check)} <span className="soft small">{page.severity}</span>
            </h3>
            <CheckText page={page} />
          </section>
        ))}
      </div>
    </Frame>
  );
}

/** `dark-feed`: `Dark feed`. */
const checkName = (check: string): string =>
  check.charAt(0).toUpperCase() + check.slice(1).replaceAll("-", " ");
