/** Pasted reports before they are sent: what cannot be taken is said at once, and the text is not lost. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { operatorKey } from '../../web/src/flight/operator-key.ts';
import { addFiles, pastedText, pasteOutcome, sendPasted } from '../../web/src/ground/paste-reports.ts';

const DEPARTURE_MS = Date.UTC(2026, 0, 14, 12, 30);
const MIB = 1024 * 1024;
const calls: string[] = [];

beforeEach(() => {
  calls.length = 0;
  operatorKey.value = 'a-key-of-an-operator';
  pasteOutcome.value = undefined;
  vi.stubGlobal('fetch', async (url: string) => {
    calls.push(url);
    throw new TypeError('no connection');
  });
});
afterEach(() => vi.unstubAllGlobals());

it('a text of more than 4 MiB is refused before it is sent, counted in bytes', async () => {
  // Two bytes each in UTF-8.
  pastedText.value = 'é'.repeat(2 * MIB + 1);
  await sendPasted(DEPARTURE_MS);
  expect(pasteOutcome.value).toEqual({ kind: 'not-sent', why: 'More than 4 MiB: send it in parts' });
  expect(pastedText.value.length).toBe(2 * MIB + 1);
  expect(calls).toEqual([]);
});

it('a text that cannot be sent stays, and is read near the departure', async () => {
  pastedText.value = 'METAR KXXX 141220Z 02008KT 2SM -SN OVC009 M02/M03 A2980=';
  await sendPasted(DEPARTURE_MS);
  expect(calls).toEqual(['/api/reports?near=2026-01-14T12%3A30%3A00.000Z']);
  expect(pasteOutcome.value).toEqual({ kind: 'not-sent', why: 'The service was not reached' });
  expect(pastedText.value).toMatch(/^METAR KXXX/);
});

it.each([
  ['', 'a-key-of-an-operator', /no text/],
  ['METAR', '', /needs the key/],
  ['METAR', 'a key', /no key has/],
])('text %j with key %j is not sent, and says why', async (text, key, why) => {
  pastedText.value = text;
  operatorKey.value = key;
  await sendPasted(DEPARTURE_MS);
  expect(pasteOutcome.value).toMatchObject({ kind: 'not-sent', why: expect.stringMatching(why) });
  expect(calls).toEqual([]);
});

it('files go behind what was typed, of UTF-8 or of Latin-1; too large ones leave it as it is', async () => {
  pastedText.value = 'first';
  await addFiles([new File(['zweité'], 'a.txt'), new File([new Uint8Array([0x64, 0xe9])], 'b.txt')]);
  expect(pastedText.value).toBe('first\nzweité\ndé');
  await addFiles([new File([new Uint8Array(4 * MIB + 1)], 'c.txt')]);
  expect(pastedText.value).toBe('first\nzweité\ndé');
  expect(pasteOutcome.value).toEqual({ kind: 'not-sent', why: 'More than 4 MiB: send it in parts' });
});
