/** A binary heap: what is least comes out first; of two that are alike, the one that went in first. */
export class Heap<Item> {
  readonly #items: { readonly item: Item; readonly rank: number; readonly turn: number }[] = [];
  #turn = 0;

  get size(): number {
    return this.#items.length;
  }

  push(item: Item, rank: number): void {
    const items = this.#items;
    const entry = { item, rank, turn: this.#turn++ };
    let at = items.length;
    items.push(entry);
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!before(entry, items[above]!)) break;
      items[at] = items[above]!;
      at = above;
    }
    items[at] = entry;
  }

  pop(): Item | undefined {
    const items = this.#items;
    const first = items[0];
    const last = items.pop();
    if (first === undefined || last === undefined) return undefined;
    const { length } = items;
    if (length > 0) {
      let at = 0;
      for (;;) {
        let below = 2 * at + 1;
        if (below >= length) break;
        if (below + 1 < length && before(items[below + 1]!, items[below]!)) below++;
        if (!before(items[below]!, last)) break;
        items[at] = items[below]!;
        at = below;
      }
      items[at] = last;
    }
    return first.item;
  }
}

interface Ranked {
  readonly rank: number;
  readonly turn: number;
}

const before = (a: Ranked, b: Ranked): boolean => a.rank < b.rank || (a.rank === b.rank && a.turn < b.turn);
