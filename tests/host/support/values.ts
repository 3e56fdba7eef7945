import type { HostErrorCode, HostResult } from "#engine";

/** The value of an outcome that a test counts on; the error's own line where there is none. */
export function valueOf<Value>(result: HostResult<Value>): Value {
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return result.value;
}

/** The code of a failure that a test counts on. */
export function codeOf(result: HostResult<unknown>): HostErrorCode {
  if (result.ok) throw new Error(`expected a failure, got ${JSON.stringify(result.value)}`);
  return result.error.code;
}

/** The line of a failure that a test counts on. Every one is one line, and ends like a sentence. */
export function lineOf(result: HostResult<unknown>): string {
  if (result.ok) throw new Error(`expected a failure, got ${JSON.stringify(result.value)}`);
  const { message } = result.error;
  if (!/^[^\n]{20,400}[.)]$/.test(message)) throw new Error(`not one plain line: ${message}`);
  return message;
}
