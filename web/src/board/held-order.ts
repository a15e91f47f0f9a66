/** The order of the list under the reader's finger: it stays while the list is held, and is made anew when it is not. */

export interface HeldOrder {
  readonly ids: readonly string[];
  /** Another order, or other legs, are wanted by now. */
  readonly isBehind: boolean;
}

/**
 * @param shown   The order at hand.
 * @param wanted  The order by now.
 * @param isHeld  Nothing may move: what is gone keeps its place, what is new goes to the end.
 */
export function heldOrder(shown: readonly string[], wanted: readonly string[], isHeld: boolean): HeldOrder {
  if (!isHeld) return { ids: isSame(shown, wanted) ? shown : wanted, isBehind: false };
  const present = new Set(shown);
  const added = wanted.filter((id) => !present.has(id));
  const ids = added.length === 0 ? shown : [...shown, ...added];
  return { ids, isBehind: !isSame(ids, wanted) };
}

function isSame(one: readonly string[], other: readonly string[]): boolean {
  return one.length === other.length && one.every((id, at) => id === other[at]);
}
