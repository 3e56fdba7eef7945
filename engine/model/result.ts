/** An outcome that is expected to fail now and then is data. Exceptions are for bugs. */
export type Result<Value, Failure> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly error: Failure };

export const ok = <Value>(value: Value): { readonly ok: true; readonly value: Value } => ({
  ok: true,
  value,
});
export const err = <Failure>(error: Failure): { readonly ok: false; readonly error: Failure } => ({
  ok: false,
  error,
});

/** Ends a `switch` over a union: the compiler refuses it while a member is left out. */
export function never(value: never): never {
  throw new Error(`unexpected value: ${JSON.stringify(value)}`);
}
