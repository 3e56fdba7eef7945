/** Small checks for what arrives from the page. A page is not trusted to keep to the types it was compiled with. */

export type Check<Value> = (value: unknown) => value is Value;

/** Text without NUL: no path, name or document has one, and the system's calls would cut the text there. */
export const text =
  (maxLength: number): Check<string> =>
  (value): value is string =>
    typeof value === "string" && value.length <= maxLength && !value.includes("\0");

/** Whole numbers from 0 on. */
export const whole =
  (most: number): Check<number> =>
  (value): value is number =>
    Number.isInteger(value) && (value as number) >= 0 && (value as number) <= most;

/** Lengths above 0. */
export const length =
  (most: number): Check<number> =>
  (value): value is number =>
    typeof value === "number" && value > 0 && value <= most;

/** A day as `2026-11-26` that the calendar has. */
export const day: Check<string> = (value): value is string =>
  typeof value === "string" &&
  /^\d{4}-\d\d-\d\d$/.test(value) &&
  new Date(`${value}T00:00:00Z`).toJSON()?.slice(0, 10) === value;

export const flag: Check<boolean> = (value): value is boolean => typeof value === "boolean";

export const bytes: Check<Uint8Array> = (value): value is Uint8Array => value instanceof Uint8Array;

export const nullable =
  <Value>(check: Check<Value>): Check<Value | null> =>
  (value): value is Value | null =>
    value === null || check(value);

export const oneOf =
  <const Value extends string>(...values: readonly Value[]): Check<Value> =>
  (value): value is Value =>
    (values as readonly unknown[]).includes(value);

/** An object with exactly these fields. */
export const record =
  <Value extends object>(fields: { readonly [Key in keyof Value]-?: Check<Value[Key]> }): Check<Value> =>
  (value): value is Value => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) return false;
    const checks = Object.entries<Check<unknown>>(fields);
    return (
      Object.keys(value).length === checks.length &&
      checks.every(
        ([key, check]) => Object.hasOwn(value, key) && check((value as Record<string, unknown>)[key]),
      )
    );
  };

export const list =
  <Value>(check: Check<Value>, maxLength: number): Check<readonly Value[]> =>
  (value): value is readonly Value[] =>
    Array.isArray(value) && value.length <= maxLength && value.every(check);
