/** The network address of a sender, as far as it tells senders apart. */

const GROUPS = 8;

/**
 * Of IPv6 the first 64 bits, since whoever has one address of them has all; IPv4 as it is, also where it is written as IPv6. What is no
 * address is one sender, whoever sends it.
 */
export function senderBlock(text: string): string {
  const address = text.trim().toLowerCase();
  if (/^\d{1,3}(\.\d{1,3}){3}$/.test(address)) return address;
  const groups = groupsOf(address);
  if (groups === undefined) return 'unknown';
  const isMapped = groups.slice(0, 5).every((group) => group === 0) && groups[5] === 0xffff;
  if (isMapped)
    return groups
      .slice(6)
      .flatMap((group) => [group >> 8, group & 0xff])
      .join('.');
  return groups
    .slice(0, 4)
    .map((group) => group.toString(16))
    .join(':');
}

/** undefined for what is no IPv6 address. */
function groupsOf(address: string): number[] | undefined {
  const [head = '', tail, ...more] = withoutDots(address).split('::');
  if (more.length > 0) return undefined;
  const before = numbersOf(head);
  const after = numbersOf(tail ?? '');
  if (before === undefined || after === undefined) return undefined;
  const missing = GROUPS - before.length - after.length;
  if (tail === undefined ? missing !== 0 : missing < 1) return undefined;
  return [...before, ...Array<number>(missing).fill(0), ...after];
}

/** The last 32 bits may be written as IPv4. */
function withoutDots(address: string): string {
  return address.replace(/(\d{1,3})\.(\d{1,3})\.(\d{1,3})\.(\d{1,3})$/, (...parts: string[]) => {
    const [a = 0, b = 0, c = 0, d = 0] = parts.slice(1, 5).map(Number);
    return `${(a * 256 + b).toString(16)}:${(c * 256 + d).toString(16)}`;
  });
}

function numbersOf(text: string): number[] | undefined {
  if (text === '') return [];
  const groups = text.split(':');
  return groups.every((group) => /^[0-9a-f]{1,4}$/.test(group))
    ? groups.map((group) => Number.parseInt(group, 16))
    : undefined;
}
