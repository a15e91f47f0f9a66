/** "?, ?, ?": the places of so many values to be bound in a list of SQL. */
export function marks(count: number): string {
  return Array.from({ length: count }, () => '?').join(', ');
}
