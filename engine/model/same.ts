/** Whether two pieces of data say the same. */

/** Deep equality of plain data, whatever the order of keys; a key that is left out is as one that is undefined. */
export function sameData(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((each, n) => sameData(each, b[n]))
    );
  }
  const [left, right] = [a as Record<string, unknown>, b as Record<string, unknown>];
  return [...new Set([...Object.keys(left), ...Object.keys(right)])].every((key) =>
    sameData(left[key], right[key]),
  );
}
