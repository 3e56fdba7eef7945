/** A few of many, always the same ones for one seed. */

/** Mulberry32: numbers from 0 up to 1, from a 32-bit seed. */
function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** `count` of the items, in the items' order. */
export function sample<Item>(items: readonly Item[], count: number, seed: number): readonly Item[] {
  const roll = dice(seed);
  return items
    .map((item, n) => ({ item, n, key: roll() }))
    .sort((a, b) => a.key - b.key)
    .slice(0, count)
    .sort((a, b) => a.n - b.n)
    .map(({ item }) => item);
}
