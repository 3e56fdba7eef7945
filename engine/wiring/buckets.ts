/** Entries gathered by key in one array, which is how the engine keeps every table of many to one or many to many. */
export interface Buckets {
  /** The entries of key k stand at `list[start[k] … start[k + 1]]`. */
  readonly start: Int32Array;
  /** Numbers of entries; those of one key in ascending order. */
  readonly list: Int32Array;
}

/** `keys`: for each entry its key, below `size`; a negative one leaves the entry out. Linear. */
export function bucketsOf(keys: Int32Array, size: number): Buckets {
  const start = new Int32Array(size + 1);
  for (let n = 0; n < keys.length; n++) {
    const key = keys[n]!;
    if (key >= 0) start[key + 1]!++;
  }
  for (let key = 0; key < size; key++) start[key + 1]! += start[key]!;
  const next = start.slice();
  const list = new Int32Array(start[size]!);
  for (let n = 0; n < keys.length; n++) {
    const key = keys[n]!;
    if (key >= 0) list[next[key]!++] = n;
  }
  return { start, list };
}
