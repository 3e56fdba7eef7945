/** Entries gathered by key in one array, which is how the engine keeps every table of many to one or many to many. */
export interface Buckets {
  /** The entries of key k stand at `list[start[k] … start[k + 1]]`. */
  readonly start: Int32Array;
  /** Numbers of entries; those of one key in ascending order. */
  readonly list: Int32Array;
}

/** `keys`: for each entry its key, below `size`; a negative one leaves the entry out. Linear. */
export function bucketsOf(keys: Int32Array, size: number): Buckets {
  const start = startsOf(keys, size);
  const list = new Int32Array(start[size]!);
  for (let n = 0; n < keys.length; n++) {
    const key = keys[n]!;
    if (key >= 0) list[start[key]!++] = n;
  }
  return { start: filled(start), list };
}

/** Where the entries of each key start; last the number of all entries. */
function startsOf(keys: Int32Array, size: number): Int32Array {
  const start = new Int32Array(size + 1);
  for (let n = 0; n < keys.length; n++) {
    const key = keys[n]!;
    if (key >= 0) start[key]!++;
  }
  return countsToStarts(start);
}

/** How many entries each key has, made in place to where those of each key start; the last place is the number of all. */
export function countsToStarts(counts: Int32Array): Int32Array {
  let before = 0;
  for (let key = 0; key < counts.length; key++) {
    const count = counts[key]!;
    counts[key] = before;
    before += count;
  }
  return counts;
}

/** The starts, where each of them was moved on as its entries were put in place: it stands where the next key starts. */
export function filled(start: Int32Array): Int32Array {
  start.copyWithin(1, 0);
  start[0] = 0;
  return start;
}
