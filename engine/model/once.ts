/** What several parts need of one show or rig is worked out once, and forgotten with it. */
export function once<Key extends object, Value>(make: (key: Key) => Value): (key: Key) => Value {
  const known = new WeakMap<Key, { readonly value: Value }>();
  return (key) => {
    let entry = known.get(key);
    if (!entry) known.set(key, (entry = { value: make(key) }));
    return entry.value;
  };
}

/** Adds to the list that a map holds under a key. */
export function gather<Key, Value>(lists: Map<Key, Value[]>, key: Key, value: Value): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}
