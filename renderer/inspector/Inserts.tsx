/** Which inserts of a console are in: for each row of returns the numbers, as they are said on the phone. */
import {
  gather,
  numbersIn,
  ranges,
  runsIn,
  type Device,
  type GroupId,
  type Range,
  type WiredDevice,
} from "#engine";
import { app, latest } from "../state/store.ts";
import { Commit, Fact, Facts, Section } from "./parts.tsx";

export function Inserts({ wired }: { wired: WiredDevice }) {
  const { device, fabric } = wired;
  const returns = (fabric.layout.type.mixer?.sections ?? []).filter(({ role }) => role === "return");
  if (returns.length === 0) return null;
  const inUse = new Map<GroupId, number[]>();
  for (const { group, first, count } of device.inserts ?? []) {
    for (let n = 0; n < count; n++) gather(inUse, group, first + n);
  }
  return (
    <Section title="Inserts that are in" word="insert">
      <Facts>
        {returns.map(({ id, name, count }) => (
          <Fact key={id} name={name}>
            <Commit
              label={`${name}s that are in, such as 1–4, 9`}
              value={ranges(inUse.get(id) ?? [])}
              placeholder="none"
              onCommit={(text) => {
                const numbers = numbersIn(text, count);
                if (!numbers) return `Numbers from 1 to ${count} are needed, such as 1–4, 9.`;
                setInserts(device, id, numbers, name);
              }}
            />
          </Fact>
        ))}
      </Facts>
    </Section>
  );
}

function setInserts(drawn: Device, group: GroupId, numbers: readonly number[], name: string): void {
  const device = latest(({ devices }) => devices, drawn);
  const others = (device.inserts ?? []).filter((range) => range.group !== group);
  const inserts: readonly Range[] = [...others, ...runsIn(numbers).map((run) => ({ group, ...run }))];
  const { inserts: _before, ...bare } = device;
  const record: Device = inserts.length === 0 ? bare : { ...bare, inserts };
  app
    .getState()
    .change(
      { kind: "edits", edits: [{ kind: "put", list: "devices", record }] },
      `${name.toLowerCase()}s of ${device.name}`,
    );
}
