/** The fields of the type editor. Each bears the path of what it edits, so that a problem can lead to it. */
import { useState, type ReactNode } from "react";
import type { Delay, Provenance } from "#engine";
import { Icon, type IconName } from "../parts/Icon.tsx";

export const PROVENANCES: readonly Provenance[] = ["standard", "maker's sheet", "measured", "assumed"];

interface Common {
  /** What it is called aloud, such as `Bank In, jacks`. */
  readonly label: string;
  readonly path: string;
}

/** A caption over a control. */
export function Field({ caption, children }: { caption: string; children: ReactNode }) {
  return (
    <label className="type-field">
      <span className="soft small">{caption}</span>
      {children}
    </label>
  );
}

/**
 * Text that becomes an edit when it is left or Enter is pressed, so that one edit is one step of undo. Escape takes back
 * what was typed.
 */
export function TextField({
  label,
  path,
  value,
  needs = null,
  onCommit,
}: Common & {
  readonly value: string;
  /** What it may be, where not every text is taken. */
  readonly needs?: string | null;
  /** False: what was typed can't be taken. */
  readonly onCommit: (value: string) => boolean | void;
}) {
  return (
    <Typed
      label={label}
      path={path}
      shown={value}
      needs={needs}
      onCommit={(text) => onCommit(text.trim()) !== false}
    />
  );
}

export function NumberField({
  label,
  path,
  value,
  least,
  most,
  whole = true,
  onCommit,
}: Common & {
  readonly value: number;
  /** What a file can hold; beyond it nothing could be laid out. */
  readonly least: number;
  readonly most: number;
  readonly whole?: boolean;
  readonly onCommit: (value: number) => void;
}) {
  return (
    <Typed
      label={label}
      path={path}
      shown={String(value)}
      numeric
      needs={`${whole ? "A whole number" : "A number"} from ${least} to ${most} is needed here`}
      onCommit={(text) => {
        const number = Number(text.trim().replace(",", ".").replace("−", "-"));
        if (text.trim() === "" || !Number.isFinite(number) || (whole && !Number.isInteger(number)))
          return false;
        if (number < least || number > most) return false;
        onCommit(number);
        return true;
      }}
    />
  );
}

function Typed({
  label,
  path,
  shown,
  numeric = false,
  needs = null,
  onCommit,
}: Common & {
  readonly shown: string;
  readonly numeric?: boolean;
  /** What it may be, where not everything is taken. */
  readonly needs?: string | null;
  /** False: what was typed can't be taken. */
  readonly onCommit: (text: string) => boolean;
}) {
  const [draft, setDraft] = useState({ over: shown, text: shown, wrong: false });
  if (draft.over !== shown) setDraft({ over: shown, text: shown, wrong: false });
  const commit = (): void => {
    if (draft.text === shown) return;
    if (!onCommit(draft.text)) setDraft({ ...draft, wrong: true });
    // What was taken shows as it is told: without outer space, as a number.
    else setDraft({ over: shown, text: shown, wrong: false });
  };
  return (
    <input
      type="text"
      className={numeric ? "field numeric" : "field"}
      inputMode={numeric ? "decimal" : undefined}
      aria-label={label}
      aria-invalid={draft.wrong || undefined}
      title={draft.wrong ? (needs ?? undefined) : undefined}
      data-path={path}
      spellCheck={false}
      value={draft.text}
      onChange={(event) => setDraft({ over: shown, text: event.target.value, wrong: false })}
      onFocus={(event) => numeric && event.target.select()}
      onBlur={commit}
      onKeyDown={(event) => {
        if (event.key === "Enter") commit();
        else if (event.key === "Escape" && draft.text !== shown) {
          setDraft({ over: shown, text: shown, wrong: false });
          event.stopPropagation();
          event.preventDefault();
        }
      }}
    />
  );
}

export function SelectField<Value extends string>({
  label,
  path,
  value,
  options,
  onCommit,
}: Common & {
  readonly value: Value;
  readonly options: readonly (readonly [value: Value, name: string])[];
  readonly onCommit: (value: Value) => void;
}) {
  const known = options.some(([each]) => each === value);
  return (
    <select
      className="field"
      aria-label={label}
      aria-invalid={!known || undefined}
      data-path={path}
      value={value}
      onChange={(event) => onCommit(event.target.value as Value)}
    >
      {!known && <option value={value}>missing: {value}</option>}
      {options.map(([each, name]) => (
        <option key={each} value={each}>
          {name}
        </option>
      ))}
    </select>
  );
}

export function CheckField({
  label,
  path,
  value,
  onCommit,
}: Common & { readonly value: boolean; readonly onCommit: (value: boolean) => void }) {
  return (
    <label className="check">
      <input
        type="checkbox"
        data-path={path}
        checked={value}
        onChange={(event) => onCommit(event.target.checked)}
      />
      {label}
    </label>
  );
}

export const ProvenanceField = ({
  label,
  path,
  value,
  onCommit,
}: Common & { readonly value: Provenance; readonly onCommit: (value: Provenance) => void }) => (
  <SelectField
    label={`${label}, where the number is from`}
    path={path}
    value={value}
    options={PROVENANCES.map((each) => [each, each])}
    onCommit={onCommit}
  />
);

/** A delay with its unit and where its number comes from; without one where the device adds nothing there. */
export function DelayField({
  caption,
  label,
  path,
  value,
  always = false,
  onCommit,
}: Common & {
  readonly caption: string;
  readonly value: Delay | undefined;
  /** It can't be left out. */
  readonly always?: boolean;
  readonly onCommit: (value: Delay | undefined) => void;
}) {
  const name = `${label}, ${caption.toLowerCase()}`;
  return (
    <div className="type-field wide" role="group" aria-label={name}>
      <span className="soft small">{caption}</span>
      <div className="type-run">
        {value && (
          <NumberField
            label={`${name}, time`}
            path={`${path}.value`}
            value={value.value}
            least={0}
            most={10000}
            whole={false}
            onCommit={(time) => onCommit({ ...value, value: time })}
          />
        )}
        <SelectField<Delay["unit"] | "none">
          label={`${name}, unit`}
          path={value ? `${path}.unit` : path}
          value={value?.unit ?? "none"}
          options={[...(always ? [] : [["none", "none"] as const]), ["ms", "ms"], ["samples", "samples"]]}
          onCommit={(unit) =>
            onCommit(unit === "none" ? undefined : { value: 0, provenance: "assumed", ...value, unit })
          }
        />
        {value && (
          <ProvenanceField
            label={name}
            path={`${path}.provenance`}
            value={value.provenance}
            onCommit={(provenance) => onCommit({ ...value, provenance })}
          />
        )}
      </div>
    </div>
  );
}

export function Tool({
  icon,
  label,
  disabled = false,
  flip = false,
  onPress,
}: {
  icon: IconName;
  label: string;
  disabled?: boolean;
  /** Upside down. */
  flip?: boolean;
  onPress: () => void;
}) {
  return (
    <button
      type="button"
      className={flip ? "icon-button flip" : "icon-button"}
      aria-label={label}
      title={label}
      disabled={disabled}
      onClick={onPress}
    >
      <Icon name={icon} size={14} />
    </button>
  );
}

/** Up, down, take out: what every entry of a list has. */
export function EntryTools({
  name,
  at,
  count,
  onMove,
  onRemove,
  children,
}: {
  name: string;
  at: number;
  count: number;
  onMove: (by: 1 | -1) => void;
  onRemove: () => void;
  children?: ReactNode;
}) {
  return (
    <span className="type-tools">
      {children}
      <Tool icon="up" label={`Move ${name} up`} disabled={at === 0} onPress={() => onMove(-1)} />
      <Tool
        icon="up"
        flip
        label={`Move ${name} down`}
        disabled={at === count - 1}
        onPress={() => onMove(1)}
      />
      <Tool icon="close" label={`Take ${name} out`} onPress={onRemove} />
    </span>
  );
}

/** An optional field that is left out goes from the type. */
export function withField<Target extends object, Key extends keyof Target>(
  target: Target,
  key: Key,
  value: Target[Key] | undefined,
): Target {
  if (value !== undefined) return { ...target, [key]: value };
  const { [key]: _gone, ...rest } = target;
  return rest as Target;
}
