/** "?, ?, ?": the places of so many values to be bound in a list of SQL. */
export function marks(count: number): string {
  return Array.from({ length: count }, () => '?').join(', ');
}

/** "?3, ?4" after two others: the same by number, so that a statement may name them more than once. */
export function numberedMarks(count: number, after: number): string {
  return Array.from({ length: count }, (_, at) => `?${after + at + 1}`).join(', ');
}
