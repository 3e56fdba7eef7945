/** Every key, from the command records. */
import { CloseButton, Frame } from "../dialogs/Frame.tsx";
import { COMMANDS, labelOf, MENUS, stateNow } from "../commands/commands.ts";
import { chordLabel, onMac, thisPlatform } from "../commands/keys.ts";

const IN_LISTS: readonly (readonly [string, string])[] = [
  ["↑ ↓", "next row"],
  ["← →", "close, open"],
  ["Enter", "look at it"],
  ["a … z", "go to the row that starts so"],
  ["Space", "in a table: yes or no; post, pre or nothing"],
  ["Alt+Shift+← →", "in a table: column narrower, wider"],
];

export function KeysDialog({ onClose }: { onClose: () => void }) {
  const mac = onMac(thisPlatform());
  const state = stateNow();
  return (
    <Frame wide title="Keys" onClose={onClose} buttons={<CloseButton onClose={onClose} />}>
      <div className="keys">
        {MENUS.map((menu) => {
          const commands = COMMANDS.filter((command) => command.menu === menu && command.keys);
          return commands.length === 0 ? null : (
            <section key={menu}>
              <h3>{menu}</h3>
              <dl>
                {commands.map((command) => (
                  <div key={command.id}>
                    <dt>{labelOf(command, state).replace("…", "")}</dt>
                    <dd>
                      {command.keys!.map((chord) => (
                        <kbd key={chord}>{chordLabel(chord, mac)}</kbd>
                      ))}
                    </dd>
                  </div>
                ))}
              </dl>
            </section>
          );
        })}
        <section>
          <h3>In lists</h3>
          <dl>
            {IN_LISTS.map(([key, what]) => (
              <div key={key}>
                <dt>{what}</dt>
                <dd>
                  <kbd>{key}</kbd>
                </dd>
              </div>
            ))}
          </dl>
        </section>
      </div>
    </Frame>
  );
}
