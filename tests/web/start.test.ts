/** What the entry form asks for, and when. */
import { expect, test } from 'vitest';
import { nextSameTime } from '../../web/src/kept/next-same-time.ts';
import { departureAfter, departureWords } from '../../web/src/later/later-words.ts';
import { isWholeRoute } from '../../web/src/start/leg-fields.ts';

test('a route is whole with two places, none of them still being typed', () => {
  expect(['KBTV KBGR', 'kbtv dct kbgr ', '{"type":"LineString"}'].map(isWholeRoute)).toEqual([
    true,
    true,
    true,
  ]);
  expect(['', 'KBTV', 'KBTV DCT', 'KBTV KB', 'KBTV DCT DCT'].map(isWholeRoute)).toEqual([
    false,
    false,
    false,
    false,
    false,
  ]);
});

test('a leg of another day departs at the next instant of the same time of day', () => {
  const at = (now: string) => nextSameTime('2026-01-14T11:30:00Z', Date.parse(now));
  expect(at('2026-01-20T11:29:59Z')).toBe('2026-01-20T11:30Z');
  expect(at('2026-01-20T11:30:01Z')).toBe('2026-01-21T11:30Z');
  expect(at('2026-01-14T11:30:00Z')).toBe('2026-01-14T11:30Z');
  expect(at('2026-01-10T00:00:00Z')).toBe('2026-01-14T11:30Z');
});

test('the slider says how far it is from what was asked for', () => {
  const asked = '2026-01-14T23:30:00Z';
  expect(departureWords(asked, 0)).toBe('23:30 UTC, as asked');
  expect(departureWords(asked, 90)).toBe('01:00 UTC, 1:30 later');
  expect(departureWords(asked, -30)).toBe('23:00 UTC, 0:30 earlier');
  expect(departureAfter(asked, 90)).toBe('2026-01-15T01:00Z');
});
