/** Rules, each as a form that reads as the sentence that it is. */
import {
  layoutOf,
  ruleWords,
  sideName,
  spanGroup,
  type DeviceType,
  type FabricRule,
  type GroupId,
  type Range,
  type RunStart,
  type WiredRule,
} from "#engine";
import { DelayField, EntryTools, NumberField, SelectField, Tool, withField } from "./fields.tsx";
import { editType, jumpTo } from "./editor.ts";
import {
  asKind,
  moved,
  newRule,
  ruleEnds,
  rulesAt,
  rulesPath,
  withRules,
  without,
  type RulePlace,
} from "./parts.ts";

const KINDS: readonly (readonly [FabricRule["kind"], string])[] = [
  ["wired", "wired"],
  ["patch", "assigned"],
  ["carry", "carried on"],
];

export function Rules({ type, place }: { type: DeviceType; place: RulePlace }) {
  const rules = rulesAt(type, place);
  const path = rulesPath(place);
  const where = place === "every" ? "every mode" : `mode ${type.modes[place]!.name}`;
  const set = (next: readonly FabricRule[], label: string): void =>
    editType((now) => withRules(now, place, next), label);
  const add = (kind: FabricRule["kind"]): void => {
    const rule = newRule(type, kind);
    if (!rule) return;
    set([...rules, rule], "adding a rule");
    jumpTo(`${path}[${rules.length}]`);
  };
  return (
    <div className="type-rules" data-path={path}>
      <ol aria-label={`Rules of ${where}`}>
        {rules.map((rule, n) => (
          <li key={n} className="type-rule" data-path={`${path}[${n}]`} tabIndex={-1}>
            <RuleForm
              type={type}
              rule={rule}
              path={`${path}[${n}]`}
              name={`Rule ${n + 1} of ${where}`}
              onChange={(next) => set(rules.with(n, next), "changing a rule")}
            />
            <EntryTools
              name={`rule ${n + 1} of ${where}`}
              at={n}
              count={rules.length}
              onMove={(by) => set(moved(rules, n, by), "moving a rule")}
              onRemove={() => set(without(rules, n), "taking out a rule")}
            />
          </li>
        ))}
      </ol>
      {rules.length === 0 && <p className="soft small">{place === "every" ? "None." : "None of its own."}</p>}
      <div className="type-run">
        {KINDS.map(([kind, name]) => (
          <button
            key={kind}
            type="button"
            className="button small"
            aria-label={`Add a rule to ${where}: ${name}`}
            disabled={newRule(type, kind) === null}
            onClick={() => add(kind)}
          >
            + {name}
          </button>
        ))}
      </div>
    </div>
  );
}

interface FormProps<Rule extends FabricRule> {
  readonly type: DeviceType;
  readonly rule: Rule;
  readonly path: string;
  readonly name: string;
  readonly onChange: (rule: FabricRule) => void;
}

function RuleForm(props: FormProps<FabricRule>) {
  const { type, rule, path, name, onChange } = props;
  return (
    <div className="type-sentence" role="group" aria-label={`${name}: ${ruleWords(type, rule)}`}>
      {rule.kind === "patch" ? (
        <PatchForm {...props} rule={rule} />
      ) : rule.kind === "wired" ? (
        <WiredForm {...props} rule={rule} />
      ) : (
        <CarryForm {...props} rule={rule} />
      )}
      <details className="type-more">
        <summary>{rule.delay ? `adds ${rule.delay.value} ${rule.delay.unit}` : "more"}</summary>
        {rule.kind === "wired" && !(rule.to.perPosition ?? rule.from.perPosition) && (
          <ChainSteps rule={rule} path={path} name={name} onChange={onChange} />
        )}
        <div className="type-run">
          <SelectField
            label={`${name}, kind`}
            path={`${path}.kind`}
            value={rule.kind}
            options={KINDS}
            onCommit={(kind) => onChange(asKind(type, rule, kind))}
          />
          <DelayField
            caption="Delay"
            label={name}
            path={`${path}.delay`}
            value={rule.delay}
            onCommit={(delay) => onChange(withField(rule, "delay", delay))}
          />
        </div>
      </details>
    </div>
  );
}

/** The ends that a rule may have; of ports for a carry. */
function endOptions(
  type: DeviceType,
  way: "to" | "from",
  portsOnly = false,
): readonly (readonly [GroupId, string])[] {
  const ends = way === "to" ? ruleEnds(type).to : ruleEnds(type).from;
  return ends
    .filter(({ side }) => !portsOnly || side === "send" || side === "receive")
    .map((span) => [spanGroup(span), sideName(span)] as const);
}

/** `Link A in 1 – 48` */
function RangeForm({
  type,
  way,
  range,
  path,
  countPath = `${path}.count`,
  name,
  onChange,
}: {
  type: DeviceType;
  way: "to" | "from";
  range: Range;
  path: string;
  countPath?: string;
  name: string;
  onChange: (range: Range) => void;
}) {
  const last = range.first + range.count - 1;
  const choose = (group: GroupId): void => {
    const layout = layoutOf(type);
    const count = (way === "to" ? layout.destinations : layout.sources).get(group)?.count ?? range.count;
    // The whole of another group is likelier than a part that the former one had.
    onChange({ group, first: 1, count });
  };
  return (
    <span className="type-words">
      <SelectField
        label={`${name}, group`}
        path={`${path}.group`}
        value={range.group}
        options={endOptions(type, way)}
        onCommit={choose}
      />
      <NumberField
        label={`${name}, first`}
        path={`${path}.first`}
        value={range.first}
        least={1}
        most={4096}
        // The end stays where it is, so that the number beside it doesn't change under the hand.
        onCommit={(first) => onChange({ ...range, first, count: Math.max(1, last - first + 1) })}
      />
      –
      <NumberField
        label={`${name}, last`}
        path={countPath}
        value={last}
        least={range.first}
        most={8191}
        onCommit={(end) => onChange({ ...range, count: end - range.first + 1 })}
      />
    </span>
  );
}

function PatchForm({ type, rule, path, name, onChange }: FormProps<Extract<FabricRule, { kind: "patch" }>>) {
  const [first] = endOptions(type, "from");
  const { from } = rule;
  const set = (next: readonly Range[]): void => onChange({ ...rule, from: next });
  return (
    <>
      <RangeForm
        type={type}
        way="to"
        range={rule.to}
        path={`${path}.to`}
        name={`${name}, destination`}
        onChange={(to) => onChange({ ...rule, to })}
      />
      <span>{rule.to.count > 1 ? "take" : "takes"} from</span>
      {from.map((range, n) => (
        <span key={n} className="type-words" data-path={`${path}.from[${n}]`}>
          {n > 0 && "or"}
          <RangeForm
            type={type}
            way="from"
            range={range}
            path={`${path}.from[${n}]`}
            name={`${name}, source ${n + 1}`}
            onChange={(next) => set(from.with(n, next))}
          />
          {from.length > 1 && (
            <Tool
              icon="close"
              label={`${name}: take source ${n + 1} out`}
              onPress={() => set(without(from, n))}
            />
          )}
        </span>
      ))}
      <button
        type="button"
        className="button small"
        data-path={`${path}.from`}
        aria-label={`${name}: add a source`}
        disabled={!first}
        onClick={() => {
          const span = layoutOf(type).sources.get(first![0]);
          set([...from, { group: first![0], first: 1, count: span?.count ?? 1 }]);
        }}
      >
        or…
      </button>
      <span className="type-words">
        in blocks of
        <NumberField
          label={`${name}, block size`}
          path={`${path}.run`}
          value={rule.run}
          least={1}
          most={1024}
          onCommit={(run) => onChange({ ...rule, run })}
        />
      </span>
    </>
  );
}

function WiredForm({ type, rule, path, name, onChange }: FormProps<WiredRule>) {
  const { to, from, count } = rule;
  return (
    <>
      <RangeForm
        type={type}
        way="to"
        range={{ ...to, count }}
        path={`${path}.to`}
        countPath={`${path}.count`}
        name={`${name}, destination`}
        onChange={({ group, first, count: length }) =>
          onChange({ ...rule, to: { ...to, group, first }, count: length })
        }
      />
      <span className="type-words">
        {count > 1 ? "are" : "is"} wired from
        <SelectField
          label={`${name}, source, group`}
          path={`${path}.from.group`}
          value={from.group}
          options={endOptions(type, "from")}
          onCommit={(group) => onChange({ ...rule, from: { ...from, group } })}
        />
        <NumberField
          label={`${name}, source, first`}
          path={`${path}.from.first`}
          value={from.first}
          least={1}
          most={4096}
          onCommit={(first) => onChange({ ...rule, from: { ...from, first } })}
        />
        – {from.first + count - 1}
      </span>
      {Boolean(to.perPosition ?? from.perPosition) && (
        <ChainSteps rule={rule} path={path} name={name} onChange={onChange} />
      )}
    </>
  );
}

/** How a run moves down a chain; out of the way where it doesn't. */
function ChainSteps({
  rule,
  path,
  name,
  onChange,
}: Pick<FormProps<WiredRule>, "rule" | "path" | "name" | "onChange">) {
  const { to, from } = rule;
  const move = (start: RunStart, step: number): RunStart =>
    withField<RunStart, "perPosition">(start, "perPosition", step === 0 ? undefined : step);
  return (
    <span className="type-words">
      each place down the chain
      <NumberField
        label={`${name}, later at the source for each chain position`}
        path={`${path}.from.perPosition`}
        value={from.perPosition ?? 0}
        least={-4096}
        most={4096}
        onCommit={(step) => onChange({ ...rule, from: move(from, step) })}
      />
      later at the source,
      <NumberField
        label={`${name}, later at the destination for each chain position`}
        path={`${path}.to.perPosition`}
        value={to.perPosition ?? 0}
        least={-4096}
        most={4096}
        onCommit={(step) => onChange({ ...rule, to: move(to, step) })}
      />
      at the destination
    </span>
  );
}

function CarryForm({ type, rule, path, name, onChange }: FormProps<Extract<FabricRule, { kind: "carry" }>>) {
  return (
    <>
      <SelectField
        label={`${name}, destination`}
        path={`${path}.to`}
        value={rule.to}
        options={endOptions(type, "to", true)}
        onCommit={(to) => onChange({ ...rule, to })}
      />
      <span className="type-words">
        carries on what comes in at
        <SelectField
          label={`${name}, source`}
          path={`${path}.from`}
          value={rule.from}
          options={endOptions(type, "from", true)}
          onCommit={(from) => onChange({ ...rule, from })}
        />
      </span>
      <span className="type-words">
        shifted by
        <NumberField
          label={`${name}, shift in slots`}
          path={`${path}.shift`}
          value={rule.shift}
          least={-4096}
          most={4096}
          onCommit={(shift) => onChange({ ...rule, shift })}
        />
        slots
      </span>
    </>
  );
}
