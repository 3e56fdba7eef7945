/** A type as a form: what it is, jacks, ports, mixer, modes and rules. */
import { useId, type ReactNode } from "react";
import {
  CABLE_KINDS,
  CABLES,
  CATEGORIES,
  ranges,
  numbersIn,
  type CableRule,
  type ClockDefault,
  type Connector,
  type DeviceType,
  type GroupId,
  type JackBank,
  type Level,
  type LinkPort,
  type MixSection,
  type Mode,
  type SectionRole,
  type SlotTable,
} from "#engine";
import {
  CheckField,
  DelayField,
  EntryTools,
  Field,
  NumberField,
  ProvenanceField,
  SelectField,
  TextField,
  Tool,
  withField,
} from "./fields.tsx";
import { editType, jumpTo } from "./editor.ts";
import {
  addBank,
  addMode,
  addPort,
  addSection,
  freeCable,
  moved,
  SECTION_NAMES,
  withSections,
  without,
} from "./parts.ts";
import { Rules } from "./RuleForm.tsx";

export function TypeForm({ type }: { type: DeviceType }) {
  return (
    <div className="type-form">
      <General type={type} />
      <Banks type={type} />
      <Ports type={type} />
      <Part
        title="Modes"
        path="modes"
        note="What the device is switched to. A mode’s own rules stand before those of every mode; the first rule that reaches a jack or slot decides it."
      >
        {type.modes.map((mode, n) => (
          <ModeForm key={mode.id} type={type} mode={mode} at={n} />
        ))}
        <button
          type="button"
          className="button small"
          onClick={() => {
            editType((now) => addMode(now, null), "adding a mode");
            jumpTo(`modes[${type.modes.length}].name`);
          }}
        >
          + Mode
        </button>
      </Part>
      <Part title="Rules of every mode" path="rules" note="They stand after the mode’s own.">
        <Rules type={type} place="every" />
      </Part>
      <Mixer type={type} />
    </div>
  );
}

function Part({
  title,
  path,
  note,
  children,
}: {
  title: string;
  path: string;
  note?: string;
  children: ReactNode;
}) {
  const id = useId();
  return (
    <section className="type-part" aria-labelledby={id} data-path={path} tabIndex={-1}>
      <h3 id={id}>{title}</h3>
      {note && <p className="soft small">{note}</p>}
      {children}
    </section>
  );
}

/** One bank, port, section or mode: a line of what it is, and its fields. */
function Entry({
  path,
  head,
  name,
  children,
}: {
  path: string;
  head: ReactNode;
  name: string;
  children: ReactNode;
}) {
  return (
    <div className="type-entry" role="group" aria-label={name} data-path={path} tabIndex={-1}>
      <div className="type-entry-head">{head}</div>
      <div className="type-fields">{children}</div>
    </div>
  );
}

const clockOptions = (type: DeviceType): readonly (readonly [string, string])[] => [
  ["internal", "its own"],
  ["none", "none, it is analogue"],
  ...type.ports.map(({ id, name }) => [id, `follows ${name}`] as const),
];

function General({ type }: { type: DeviceType }) {
  return (
    <Part title="What it is" path="">
      <div className="type-fields">
        <Field caption="Name">
          <TextField
            label="Name of the type"
            path="name"
            value={type.name}
            onCommit={(name) => editType((now) => ({ ...now, name }), "renaming the type")}
          />
        </Field>
        <Field caption="Sort">
          <SelectField
            label="Sort of device"
            path="category"
            value={type.category}
            options={CATEGORIES.map((each) => [each, each])}
            onCommit={(category) => editType((now) => ({ ...now, category }), "changing the sort of device")}
          />
        </Field>
        <Field caption="Word clock">
          <SelectField
            label="Word clock"
            path="clock"
            value={type.clock as string}
            options={clockOptions(type)}
            onCommit={(clock) =>
              editType((now) => ({ ...now, clock: clock as ClockDefault }), "changing the word clock")
            }
          />
        </Field>
        <Field caption="Most in a chain">
          <NumberField
            label="Most of them in one chain"
            path="chain"
            value={type.chain}
            least={1}
            most={64}
            onCommit={(chain) => editType((now) => ({ ...now, chain }), "changing the length of the chain")}
          />
        </Field>
        <CheckField
          label="Network switch: forwards streams"
          path="forwards"
          value={type.forwards ?? false}
          onCommit={(on) =>
            editType(
              (now) => withField(now, "forwards", on ? true : undefined),
              "changing whether it forwards",
            )
          }
        />
      </div>
    </Part>
  );
}

const CONNECTORS: readonly Connector[] = [
  "XLR",
  "TRS",
  "RCA",
  "BNC",
  "RJ45",
  "multipin",
  "speaker",
  "antenna",
  "none",
];
const LEVELS: readonly Level[] = ["mic", "line", "AES3", "loudspeaker", "phones", "radio"];

function Banks({ type }: { type: DeviceType }) {
  const { banks } = type;
  const set = (next: readonly JackBank[], label: string): void =>
    editType((now) => ({ ...now, banks: next }), label);
  const add = (direction: JackBank["direction"]): void => {
    editType((now) => addBank(now, direction), `adding ${direction === "in" ? "inputs" : "outputs"}`);
    jumpTo(`banks[${banks.length}].count`);
  };
  return (
    <Part title="Jacks" path="banks">
      {banks.map((bank, n) => {
        const path = `banks[${n}]`;
        const change = (more: Partial<JackBank>): void =>
          set(banks.with(n, { ...bank, ...more }), `changing ${bank.name}`);
        return (
          <Entry
            key={bank.id}
            path={path}
            name={`Jacks ${bank.name}`}
            head={
              <>
                <TextField
                  label={`Name of jacks ${n + 1}`}
                  path={`${path}.name`}
                  value={bank.name}
                  onCommit={(name) => change({ name })}
                />
                <EntryTools
                  name={bank.name}
                  at={n}
                  count={banks.length}
                  onMove={(by) => set(moved(banks, n, by), `moving ${bank.name}`)}
                  onRemove={() => set(without(banks, n), `taking out ${bank.name}`)}
                />
              </>
            }
          >
            <Field caption="Way">
              <SelectField
                label={`${bank.name}, way`}
                path={`${path}.direction`}
                value={bank.direction}
                options={[
                  ["in", "inputs"],
                  ["out", "outputs"],
                ]}
                onCommit={(direction) => change({ direction })}
              />
            </Field>
            <Field caption="Jacks">
              <NumberField
                label={`${bank.name}, number of jacks`}
                path={`${path}.count`}
                value={bank.count}
                least={1}
                most={1024}
                onCommit={(count) => change({ count })}
              />
            </Field>
            <Field caption="Connector">
              <SelectField
                label={`${bank.name}, connector`}
                path={`${path}.connector`}
                value={bank.connector}
                options={CONNECTORS.map((each) => [each, each === "none" ? "none, inside only" : each])}
                onCommit={(connector) => change({ connector })}
              />
            </Field>
            <Field caption="Level">
              <SelectField
                label={`${bank.name}, level`}
                path={`${path}.level`}
                value={bank.level}
                options={LEVELS.map((each) => [each, each])}
                onCommit={(level) => change({ level })}
              />
            </Field>
            <Field caption="In a jack">
              <SelectField
                label={`${bank.name}, signals in a jack`}
                path={`${path}.perJack`}
                value={String(bank.perJack)}
                options={[
                  ["1", "one signal"],
                  ["2", "a pair"],
                ]}
                onCommit={(each) => change({ perJack: each === "2" ? 2 : 1 })}
              />
            </Field>
            <Field caption="Block of">
              <NumberField
                label={`${bank.name}, block size`}
                path={`${path}.block`}
                value={bank.block}
                least={1}
                most={1024}
                onCommit={(block) => change({ block })}
              />
            </Field>
            <DelayField
              caption="Conversion"
              label={bank.name}
              path={`${path}.convert`}
              value={bank.convert}
              onCommit={(convert) =>
                set(banks.with(n, withField(bank, "convert", convert)), `changing ${bank.name}`)
              }
            />
            {(bank.level === "AES3" || bank.convertsRate) && (
              <CheckField
                label="Converts the sample rate"
                path={`${path}.convertsRate`}
                value={bank.convertsRate ?? false}
                onCommit={(on) =>
                  set(
                    banks.with(n, withField(bank, "convertsRate", on ? true : undefined)),
                    `changing ${bank.name}`,
                  )
                }
              />
            )}
            {(type.category === "split" || bank.leg) && bank.direction === "out" && (
              <Field caption="Leg of a split">
                <SelectField<"" | "direct" | "isolated">
                  label={`${bank.name}, leg of a split`}
                  path={`${path}.leg`}
                  value={bank.leg ?? ""}
                  options={[
                    ["", "none"],
                    ["direct", "direct"],
                    ["isolated", "isolated"],
                  ]}
                  onCommit={(leg) =>
                    set(
                      banks.with(n, withField(bank, "leg", leg === "" ? undefined : leg)),
                      `changing ${bank.name}`,
                    )
                  }
                />
              </Field>
            )}
          </Entry>
        );
      })}
      <div className="type-run">
        <button type="button" className="button small" onClick={() => add("in")}>
          + Inputs
        </button>
        <button type="button" className="button small" onClick={() => add("out")}>
          + Outputs
        </button>
      </div>
    </Part>
  );
}

const CLASSES: readonly (readonly [keyof SlotTable, string])[] = [
  ["single", "48 kHz"],
  ["double", "96 kHz"],
  ["quad", "192 kHz"],
];

function Ports({ type }: { type: DeviceType }) {
  const { ports } = type;
  const set = (next: readonly LinkPort[], label: string): void =>
    editType((now) => ({ ...now, ports: next }), label);
  return (
    <Part title="Link ports" path="ports">
      {ports.map((port, n) => (
        <PortForm
          key={port.id}
          port={port}
          at={n}
          count={ports.length}
          onChange={(next) => set(ports.with(n, next), `changing ${port.name}`)}
          onMove={(by) => set(moved(ports, n, by), `moving ${port.name}`)}
          onRemove={() => set(without(ports, n), `taking out ${port.name}`)}
        />
      ))}
      <button
        type="button"
        className="button small"
        onClick={() => {
          editType(addPort, "adding a port");
          jumpTo(`ports[${ports.length}].name`);
        }}
      >
        + Port
      </button>
    </Part>
  );
}

function PortForm({
  port,
  at,
  count,
  onChange,
  onMove,
  onRemove,
}: {
  port: LinkPort;
  at: number;
  count: number;
  onChange: (port: LinkPort) => void;
  onMove: (by: 1 | -1) => void;
  onRemove: () => void;
}) {
  const path = `ports[${at}]`;
  const { name, cables, network } = port;
  const slots = (way: "receive" | "send", caption: string): ReactNode => (
    <div
      className="type-field"
      role="group"
      aria-label={`${name}, ${caption.toLowerCase()}`}
      data-path={`${path}.${way}`}
    >
      <span className="soft small">{caption} at 48, 96, 192 kHz</span>
      <div className="type-run">
        {CLASSES.map(([rate, rateLabel]) => (
          <NumberField
            key={rate}
            label={`${name}, ${caption.toLowerCase()} at ${rateLabel}`}
            path={`${path}.${way}.${rate}`}
            value={port[way][rate]}
            least={0}
            most={4096}
            onCommit={(value) => onChange({ ...port, [way]: { ...port[way], [rate]: value } })}
          />
        ))}
      </div>
    </div>
  );
  const setCables = (next: readonly CableRule[]): void => onChange({ ...port, cables: next });
  const nextCable = freeCable(CABLE_KINDS, cables);
  return (
    <Entry
      path={path}
      name={`Port ${name}`}
      head={
        <>
          <TextField
            label={`Name of port ${at + 1}`}
            path={`${path}.name`}
            value={name}
            onCommit={(text) => onChange({ ...port, name: text })}
          />
          <EntryTools name={name} at={at} count={count} onMove={onMove} onRemove={onRemove} />
        </>
      }
    >
      <Field caption="Transport">
        <TextField
          label={`${name}, transport`}
          path={`${path}.transport`}
          value={port.transport}
          onCommit={(transport) => onChange({ ...port, transport })}
        />
      </Field>
      {slots("receive", "Slots in")}
      {slots("send", "Slots out")}
      <Field caption="Block of">
        <NumberField
          label={`${name}, block size`}
          path={`${path}.block`}
          value={port.block}
          least={1}
          most={1024}
          onCommit={(block) => onChange({ ...port, block })}
        />
      </Field>
      <div className="type-checks">
        <CheckField
          label="Carries word clock"
          path={`${path}.carriesClock`}
          value={port.carriesClock}
          onCommit={(carriesClock) => onChange({ ...port, carriesClock })}
        />
        <CheckField
          label="Carries preamp control"
          path={`${path}.carriesPreamp`}
          value={port.carriesPreamp}
          onCommit={(carriesPreamp) => onChange({ ...port, carriesPreamp })}
        />
        <CheckField
          label="Converts the sample rate"
          path={`${path}.convertsRate`}
          value={port.convertsRate}
          onCommit={(convertsRate) => onChange({ ...port, convertsRate })}
        />
        <CheckField
          label="Network port"
          path={`${path}.network`}
          value={network !== undefined}
          onCommit={(on) =>
            onChange(
              withField(
                port,
                "network",
                on ? { speed: 1000, share: 0.75, provenance: "assumed" } : undefined,
              ),
            )
          }
        />
      </div>
      {network && (
        <div className="type-field wide" role="group" aria-label={`${name}, network`}>
          <span className="soft small">Megabits a second, and the share for audio</span>
          <div className="type-run">
            <NumberField
              label={`${name}, speed in megabits a second`}
              path={`${path}.network.speed`}
              value={network.speed}
              least={1}
              most={1000000}
              whole={false}
              onCommit={(speed) => onChange({ ...port, network: { ...network, speed } })}
            />
            <NumberField
              label={`${name}, share for audio`}
              path={`${path}.network.share`}
              value={network.share}
              least={0}
              most={1}
              whole={false}
              onCommit={(share) => onChange({ ...port, network: { ...network, share } })}
            />
            <ProvenanceField
              label={`${name}, network`}
              path={`${path}.network.provenance`}
              value={network.provenance}
              onCommit={(provenance) => onChange({ ...port, network: { ...network, provenance } })}
            />
          </div>
        </div>
      )}
      <DelayField
        caption="Receiving takes"
        label={name}
        path={`${path}.receiveDelay`}
        value={port.receiveDelay}
        onCommit={(delay) => onChange(withField(port, "receiveDelay", delay))}
      />
      <DelayField
        caption="Sending takes"
        label={name}
        path={`${path}.sendDelay`}
        value={port.sendDelay}
        onCommit={(delay) => onChange(withField(port, "sendDelay", delay))}
      />
      <div
        className="type-field wide"
        role="group"
        aria-label={`${name}, cables`}
        data-path={`${path}.cables`}
      >
        <span className="soft small">Cables that it takes, and the longest run in metres</span>
        {cables.map((cable, n) => {
          const change = (more: Partial<CableRule>): void => setCables(cables.with(n, { ...cable, ...more }));
          const label = `${name}, cable ${n + 1}`;
          return (
            <div key={n} className="type-run" data-path={`${path}.cables[${n}]`}>
              <SelectField
                label={`${label}, kind`}
                path={`${path}.cables[${n}].kind`}
                value={cable.kind}
                options={CABLE_KINDS.map((kind) => [kind, CABLES[kind].name])}
                onCommit={(kind) => change({ kind })}
              />
              <NumberField
                label={`${label}, longest run in metres`}
                path={`${path}.cables[${n}].maxMetres`}
                value={cable.maxMetres}
                least={0}
                most={100000}
                whole={false}
                onCommit={(maxMetres) => change({ maxMetres })}
              />
              <ProvenanceField
                label={label}
                path={`${path}.cables[${n}].provenance`}
                value={cable.provenance}
                onCommit={(provenance) => change({ provenance })}
              />
              <Tool icon="close" label={`Take ${label} out`} onPress={() => setCables(without(cables, n))} />
            </div>
          );
        })}
        {nextCable && (
          <button
            type="button"
            className="button small"
            aria-label={`${name}: add a cable`}
            onClick={() => setCables([...cables, { kind: nextCable, maxMetres: 100, provenance: "assumed" }])}
          >
            + Cable
          </button>
        )}
      </div>
    </Entry>
  );
}

function ModeForm({ type, mode, at }: { type: DeviceType; mode: Mode; at: number }) {
  const { modes } = type;
  const path = `modes[${at}]`;
  const set = (next: readonly Mode[], label: string): void =>
    editType((now) => ({ ...now, modes: next }), label);
  const change = (next: Mode): void => set(modes.with(at, next), `changing mode ${mode.name}`);
  const positions = mode.positions ? ranges(mode.positions) : "";
  return (
    <Entry
      path={path}
      name={`Mode ${mode.name}`}
      head={
        <>
          <TextField
            label={`Name of mode ${at + 1}`}
            path={`${path}.name`}
            value={mode.name}
            onCommit={(name) => change({ ...mode, name })}
          />
          <EntryTools
            name={`mode ${mode.name}`}
            at={at}
            count={modes.length}
            onMove={(by) => set(moved(modes, at, by), `moving mode ${mode.name}`)}
            onRemove={() => set(without(modes, at), `taking out mode ${mode.name}`)}
          >
            <button
              type="button"
              className="button small"
              aria-label={`Copy mode ${mode.name}`}
              onClick={() => editType((now) => addMode(now, mode), `copying mode ${mode.name}`)}
            >
              Copy
            </button>
          </EntryTools>
        </>
      }
    >
      {(type.chain > 1 || mode.positions) && (
        <Field caption="Chain positions, such as 1, 3–4; empty: any">
          <TextField
            label={`Mode ${mode.name}, chain positions`}
            path={`${path}.positions`}
            value={positions}
            needs="Numbers from 1 to 64 are needed here, such as 1–4, 9"
            onCommit={(text) => {
              const numbers = numbersIn(text, 64);
              if (!numbers) return false;
              change(withField(mode, "positions", numbers.length > 0 ? numbers : undefined));
            }}
          />
        </Field>
      )}
      {type.clock !== "none" && (
        <Field caption="Word clock in this mode">
          <SelectField
            label={`Mode ${mode.name}, word clock`}
            path={`${path}.clock`}
            value={(mode.clock as string | undefined) ?? ""}
            options={[["", "as the type says"], ...clockOptions(type)]}
            onCommit={(clock) =>
              change(withField(mode, "clock", clock === "" ? undefined : (clock as ClockDefault)))
            }
          />
        </Field>
      )}
      <div className="type-field wide">
        <Rules type={type} place={at} />
      </div>
    </Entry>
  );
}

const ROLES: readonly SectionRole[] = [
  "channel",
  "mix",
  "main",
  "matrix",
  "direct",
  "send",
  "return",
  "join",
];

function Mixer({ type }: { type: DeviceType }) {
  const sections = type.mixer?.sections ?? [];
  const set = (next: readonly MixSection[], label: string): void =>
    editType((now) => withSections(now, next), label);
  return (
    <Part
      title="Mixer"
      path="mixer"
      note={sections.length === 0 ? "None. A console has channels, mixes and mains." : ""}
    >
      {type.mixer && (
        <DelayField
          caption="From a channel to any tap"
          label="Mixer"
          path="mixer.processing"
          always
          value={type.mixer.processing}
          onCommit={(processing) =>
            processing &&
            editType(
              (now) => (now.mixer ? { ...now, mixer: { ...now.mixer, processing } } : now),
              "changing the processing time",
            )
          }
        />
      )}
      {sections.map((section, n) => (
        <SectionForm
          key={section.id}
          type={type}
          section={section}
          at={n}
          count={sections.length}
          onChange={(next) => set(sections.with(n, next), `changing ${section.name}`)}
          onMove={(by) => set(moved(sections, n, by), `moving ${section.name}`)}
          onRemove={() => set(without(sections, n), `taking out ${section.name}`)}
        />
      ))}
      <div className="type-run">
        {ROLES.map((role) => (
          <button
            key={role}
            type="button"
            className="button small"
            onClick={() => {
              editType((now) => addSection(now, role), `adding ${SECTION_NAMES[role].toLowerCase()}`);
              jumpTo(`mixer.sections[${sections.length}].count`);
            }}
          >
            + {SECTION_NAMES[role]}
          </button>
        ))}
      </div>
    </Part>
  );
}

/** What a section of a role may name; a section that names something else shows that too. */
function feedersOf(
  type: DeviceType,
  { id, role, from }: MixSection,
): readonly { readonly id: GroupId; readonly name: string }[] {
  const sections = type.mixer?.sections ?? [];
  const takes = (other: MixSection): boolean => {
    switch (role) {
      case "channel":
        return false;
      case "direct":
      case "join":
        return other.role === "channel";
      case "send":
      case "return":
        return ["channel", "mix", "main", "matrix"].includes(other.role);
      case "mix":
      case "main":
      case "matrix":
        return ["channel", "mix", "main", "matrix", "direct"].includes(other.role) && other.id !== id;
    }
  };
  const banks = role === "join" ? type.banks.filter(({ direction }) => direction === "in") : [];
  const fitting = [...banks, ...sections.filter(takes)];
  const known = new Map<GroupId, string>(
    [...type.banks, ...type.ports, ...sections].map((part) => [part.id, part.name]),
  );
  const others = from.filter((group) => !fitting.some((part) => part.id === group));
  return [
    ...fitting.map((part) => ({ id: part.id, name: part.name })),
    ...[...new Set(others)].map((group) => ({ id: group, name: known.get(group) ?? `missing: ${group}` })),
  ];
}

function SectionForm({
  type,
  section,
  at,
  count,
  onChange,
  onMove,
  onRemove,
}: {
  type: DeviceType;
  section: MixSection;
  at: number;
  count: number;
  onChange: (section: MixSection) => void;
  onMove: (by: 1 | -1) => void;
  onRemove: () => void;
}) {
  const path = `mixer.sections[${at}]`;
  const { name, role, from, trim } = section;
  const feeders = feedersOf(type, section);
  return (
    <Entry
      path={path}
      name={`Section ${name}`}
      head={
        <>
          <TextField
            label={`Name of section ${at + 1}`}
            path={`${path}.name`}
            value={name}
            onCommit={(text) => onChange({ ...section, name: text })}
          />
          <EntryTools name={name} at={at} count={count} onMove={onMove} onRemove={onRemove} />
        </>
      }
    >
      <Field caption="Sort">
        <SelectField
          label={`${name}, sort`}
          path={`${path}.role`}
          value={role}
          options={ROLES.map((each) => [each, SECTION_NAMES[each].toLowerCase()])}
          onCommit={(next) => onChange({ ...section, role: next })}
        />
      </Field>
      <Field caption="How many">
        <NumberField
          label={`${name}, how many`}
          path={`${path}.count`}
          value={section.count}
          least={1}
          most={1024}
          onCommit={(value) => onChange({ ...section, count: value })}
        />
      </Field>
      <Field caption="Block of">
        <NumberField
          label={`${name}, block size`}
          path={`${path}.block`}
          value={section.block}
          least={1}
          most={1024}
          onCommit={(block) => onChange({ ...section, block })}
        />
      </Field>
      {feeders.length > 0 && (
        <fieldset className="type-field wide" data-path={`${path}.from`}>
          <legend className="soft small">
            {role === "send" || role === "return" ? "Insert of" : "May take"}
          </legend>
          <div className="type-checks">
            {feeders.map((feeder) => (
              <CheckField
                key={feeder.id}
                label={feeder.name}
                path={
                  from.includes(feeder.id)
                    ? `${path}.from[${from.indexOf(feeder.id)}]`
                    : `${path}.from.${feeder.id}`
                }
                value={from.includes(feeder.id)}
                onCommit={(on) =>
                  onChange({
                    ...section,
                    from: on ? [...from, feeder.id] : from.filter((group) => group !== feeder.id),
                  })
                }
              />
            ))}
          </div>
        </fieldset>
      )}
      {(role === "channel" || trim) && (
        <div
          className="type-field wide"
          role="group"
          aria-label={`${name}, digital trim`}
          data-path={`${path}.trim`}
        >
          <span className="soft small">Digital trim, from and to in dB</span>
          <div className="type-run">
            {trim ? (
              <>
                <NumberField
                  label={`${name}, trim from`}
                  path={`${path}.trim.from`}
                  value={trim.from}
                  least={-200}
                  most={200}
                  whole={false}
                  onCommit={(low) => onChange({ ...section, trim: { ...trim, from: low } })}
                />
                <NumberField
                  label={`${name}, trim to`}
                  path={`${path}.trim.to`}
                  value={trim.to}
                  least={-200}
                  most={200}
                  whole={false}
                  onCommit={(high) => onChange({ ...section, trim: { ...trim, to: high } })}
                />
                <ProvenanceField
                  label={`${name}, trim`}
                  path={`${path}.trim.provenance`}
                  value={trim.provenance}
                  onCommit={(provenance) => onChange({ ...section, trim: { ...trim, provenance } })}
                />
                <Tool
                  icon="close"
                  label={`${name}: leave the trim open`}
                  onPress={() => onChange(withField(section, "trim", undefined))}
                />
              </>
            ) : (
              <button
                type="button"
                className="button small"
                onClick={() => onChange({ ...section, trim: { from: -18, to: 18, provenance: "assumed" } })}
              >
                + Trim
              </button>
            )}
          </div>
        </div>
      )}
    </Entry>
  );
}
