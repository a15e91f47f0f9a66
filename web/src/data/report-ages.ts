/** How old a report is, for the lists of reports. */
import { ageAt } from '../age.ts';
import { instantText } from '../numbers.ts';

export function ageWords(
  { issuedUtc }: { readonly issuedUtc: string },
  departureMs: number,
  atMs: number,
): string {
  const issuedMs = Date.parse(issuedUtc);
  const atDeparture = ageAt(issuedMs, departureMs, 'at departure');
  const now = ageAt(issuedMs, atMs, 'now');
  return `${instantText(issuedUtc)}: ${departureMs < atMs ? `${now}, ${atDeparture}` : now}`;
}
