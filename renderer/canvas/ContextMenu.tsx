/** What can be done to the thing under the pointer, or where the keyboard is. The entries are command records. */
import { ContextMenu } from "radix-ui";
import { useState, type ReactNode } from "react";
import type { CableId, DeviceId } from "#engine";
import { commandById, isEnabled, labelOf, runCommand, stateNow, type Command } from "../commands/commands.ts";
import { chordLabel, onMac, thisPlatform } from "../commands/keys.ts";
import { useSession } from "../files/session-context.ts";
import { Icon } from "../parts/Icon.tsx";
import { app } from "../state/store.ts";
import { moveToPlace, setMode, setPosition } from "./build.ts";
import { choose, chosen, chosenDevices, type Chosen } from "./chosen.ts";
import { placeOfNode } from "./node-ids.ts";
import { view } from "./view.ts";

const FOR_DEVICES = [
  ["plug-cable", "chain-box"],
  ["rename-thing", "power"],
  ["cut", "copy", "paste", "duplicate"],
] as const;
const FOR_MANY = [["power"], ["cut", "copy", "paste", "duplicate"]] as const;
const FOR_CABLE = [["rename-thing", "replug-start", "replug-end"]] as const;
const FOR_PLACE = [["rename-thing", "add-device"]] as const;
const FOR_CANVAS = [["add-device", "add-place", "places"], ["paste", "select-all"], ["tidy"]] as const;
const ALIGN = [
  "align-left",
  "align-centre",
  "align-right",
  "align-top",
  "align-middle",
  "align-bottom",
  "space-across",
  "space-down",
] as const;

/** Takes what the menu was opened on in hand, unless it is among what was gathered already. */
function aim(event: React.MouseEvent): void {
  if (!(event.target instanceof Element)) return;
  const { look, focus } = app.getState();
  const edge = event.target.closest(".react-flow__edge");
  const node = event.target.closest(".react-flow__node")?.getAttribute("data-id");
  if (edge) {
    look({ kind: "cable", cable: edge.getAttribute("data-id") as CableId });
  } else if (node) {
    const place = placeOfNode(node);
    if (place !== null) {
      look(null);
      view.setState({ place, selected: new Set() });
    } else if (!view.getState().selected.has(node)) {
      if (focus?.kind === "cable") look({ kind: "device", device: node as DeviceId });
      choose([node as DeviceId]);
    }
  } else if (event.target.closest(".react-flow__pane")) {
    look(null);
    view.setState({ selected: new Set(), place: null });
  }
  view.setState({ hovered: null });
}

export function CanvasMenu({ children }: { children: ReactNode }) {
  const [what, setWhat] = useState<Chosen | null>(null);
  return (
    <ContextMenu.Root onOpenChange={(open) => open && setWhat(chosen())}>
      <ContextMenu.Trigger asChild onContextMenu={aim}>
        {children}
      </ContextMenu.Trigger>
      <ContextMenu.Portal>
        <ContextMenu.Content className="menu" collisionPadding={8} aria-label="What can be done here">
          {what && <Entries what={what} />}
        </ContextMenu.Content>
      </ContextMenu.Portal>
    </ContextMenu.Root>
  );
}

function Entries({ what: { devices, cable, place } }: { what: Chosen }) {
  if (cable !== null) return <Groups groups={[...FOR_CABLE, ["delete"]]} />;
  if (place !== null) return <Groups groups={[...FOR_PLACE, ["delete"]]} />;
  if (devices.length === 0) return <Groups groups={FOR_CANVAS} />;
  return (
    <>
      {devices.length === 1 && <DeviceChoices device={devices[0]!} />}
      <Groups groups={devices.length === 1 ? FOR_DEVICES : FOR_MANY} />
      <Line />
      <MoveTo />
      {devices.length > 1 && (
        <>
          <Sub label="Line up">
            {ALIGN.map((id) => (
              <Entry key={id} command={commandById(id)!} />
            ))}
          </Sub>
          <Entry command={commandById("tidy")!} />
        </>
      )}
      <Line />
      <Entry command={commandById("delete")!} />
    </>
  );
}

const Line = () => <ContextMenu.Separator className="menu-line" />;

function Groups({ groups }: { groups: readonly (readonly string[])[] }) {
  return groups.map((ids, n) => (
    <div key={ids[0]} role="presentation">
      {n > 0 && <Line />}
      {ids.map((id) => (
        <Entry key={id} command={commandById(id)!} />
      ))}
    </div>
  ));
}

function Entry({ command }: { command: Command }) {
  const session = useSession();
  const state = stateNow();
  return (
    <ContextMenu.Item
      className="menu-item"
      disabled={!isEnabled(command, state)}
      onSelect={() => runCommand(command, { session })}
    >
      <span className="menu-check" />
      <span>{labelOf(command, state)}</span>
      {command.keys?.[0] && <kbd>{chordLabel(command.keys[0], onMac(thisPlatform()))}</kbd>}
    </ContextMenu.Item>
  );
}

function Sub({ label, children }: { label: string; children: ReactNode }) {
  return (
    <ContextMenu.Sub>
      <ContextMenu.SubTrigger className="menu-item">
        <span className="menu-check" />
        <span>{label}</span>
        <Icon name="chevron" size={12} />
      </ContextMenu.SubTrigger>
      <ContextMenu.Portal>
        <ContextMenu.SubContent className="menu" collisionPadding={8} aria-label={label}>
          {children}
        </ContextMenu.SubContent>
      </ContextMenu.Portal>
    </ContextMenu.Sub>
  );
}

function Choices<Value extends string>({
  label,
  value,
  options,
  onChoose,
}: {
  label: string;
  value: Value | null;
  options: readonly (readonly [Value, string])[];
  onChoose: (value: Value) => void;
}) {
  return (
    <Sub label={label}>
      <ContextMenu.RadioGroup value={value ?? ""} onValueChange={(next) => onChoose(next as Value)}>
        {options.map(([id, name]) => (
          <ContextMenu.RadioItem key={id} value={id} className="menu-item">
            <span className="menu-check">{id === value && <Icon name="check" size={14} />}</span>
            <span>{name}</span>
          </ContextMenu.RadioItem>
        ))}
      </ContextMenu.RadioGroup>
    </Sub>
  );
}

/** Mode and chain position, where the type has a choice. */
function DeviceChoices({ device }: { device: DeviceId }) {
  const { show } = app.getState();
  const found = show.devices.find(({ id }) => id === device);
  const type = show.types.find(({ id }) => id === found?.type);
  if (!found || !type || (type.modes.length < 2 && type.chain < 2)) return null;
  const positions = Array.from({ length: Math.max(type.chain, found.position) }, (_, n) => String(n + 1));
  return (
    <>
      {type.modes.length > 1 && (
        <Choices
          label="Mode"
          value={found.mode}
          options={type.modes.map(({ id, name }) => [id, name])}
          onChoose={setMode}
        />
      )}
      {type.chain > 1 && (
        <Choices
          label="Chain position"
          value={String(found.position)}
          options={positions.map((position) => [position, position])}
          onChoose={(position) => setPosition(Number(position))}
        />
      )}
      <Line />
    </>
  );
}

function MoveTo() {
  const { show } = app.getState();
  const devices = new Set(chosenDevices());
  const places = new Set(show.devices.filter(({ id }) => devices.has(id)).map(({ place }) => place));
  const only = places.size === 1 ? [...places][0]! : null;
  if (show.places.length < 2) return null;
  return (
    <Choices
      label="Move to place"
      value={only}
      options={show.places.map(({ id, name }) => [id, name])}
      onChoose={(place) => place !== only && moveToPlace(place)}
    />
  );
}
