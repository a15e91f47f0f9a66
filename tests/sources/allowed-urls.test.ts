import { describe, expect, test } from 'vitest';
import { allowedUrl, redirectedUrl } from '../../worker/sources/allowed-urls.ts';
import { OPEN_MODELS } from '../../worker/sources/open-models.ts';
import { sourceErrorOf } from '../support/source-errors.ts';

const HOST = OPEN_MODELS['gfs-0p25'].host;
const BUCKETS = { hosts: Object.values(OPEN_MODELS).map(({ host }) => host) };
const REHEARSAL = { ...BUCKETS, rehearsalBaseUrl: 'http://127.0.0.1:8790/bucket/' };

describe('allowedUrl', () => {
  test('takes https on a listed host', () => {
    expect(allowedUrl(`https://${HOST}/gfs.20260114/a.idx`, BUCKETS).pathname).toBe('/gfs.20260114/a.idx');
  });

  test.each([
    ['http', `http://${HOST}/a`],
    ['another scheme', `ftp://${HOST}/a`],
    ['a file', 'file:///etc/passwd'],
    ['data', 'data:text/plain,GRIB'],
    ['another host', 'https://example.org/a'],
    ['a longer host', `https://${HOST}.example.org/a`],
    ['a host that ends the same', `https://x${HOST}/a`],
    ['a subdomain', `https://a.${HOST}/a`],
    ['a trailing dot', `https://${HOST}./a`],
    ['a port', `https://${HOST}:8443/a`],
    ['the default port, written', `https://${HOST}:443/a`],
    ['a user', `https://user@${HOST}/a`],
    ['a user and a password', `https://user:secret@${HOST}/a`],
    ['the host as a user', `https://${HOST}@example.org/a`],
    ['the host as a user, escaped', `https://${HOST}%40example.org/a`],
    ['the host behind a backslash', `https://example.org\\@${HOST}/a`],
    ['an IPv4 literal', 'https://127.0.0.1/a'],
    ['an IPv4 literal as one number', 'https://2130706433/a'],
    ['an IPv4 literal in octal', 'https://0177.0.0.1/a'],
    ['an IPv6 literal', 'https://[::1]/a'],
    ['the link-local address of metadata', 'https://169.254.169.254/latest/meta-data/'],
    ['an escaped host', `https://${HOST.replace('noaa', '%6eoaa')}/a`],
    ['an escaped dot', `https://${HOST}%2eexample.org/a`],
    ['a full-width dot', `https://${HOST}．example.org/a`],
    ['upper case', `https://${HOST.toUpperCase()}/a`],
    ['a tab inside', `https://${HOST.replace('noaa', 'no\taa')}/a`],
    ['a space before', ` https://${HOST}/a`],
    ['steps up', `https://${HOST}/a/../b`],
    ['a fragment', `https://${HOST}/a#b`],
    ['no path', `https://${HOST}`],
    ['no scheme', `//${HOST}/a`],
    ['nothing', ''],
    ['a rehearsal that no setting names', 'http://127.0.0.1:8790/bucket/a'],
  ])('refuses %s: %s', async (_, url) => {
    const error = await sourceErrorOf(() => allowedUrl(url, BUCKETS));
    expect(error).toMatchObject({ kind: 'source', fault: 'outside', retryable: false });
    expect(error.found).not.toBe('');
    expect(error.expected).toContain(HOST);
    expect(error.message).not.toContain('secret');
  });

  test('takes what lies under the rehearsal address, http and port included', () => {
    expect(allowedUrl('http://127.0.0.1:8790/bucket/a', REHEARSAL).port).toBe('8790');
    expect(allowedUrl(`https://${HOST}/a`, REHEARSAL).host).toBe(HOST);
  });

  test.each([
    'http://127.0.0.1:8791/bucket/a',
    'https://127.0.0.1:8790/bucket/a',
    'http://127.0.0.1:8790/other',
    'http://127.0.0.1:8790/bucket/../other',
    'http://user@127.0.0.1:8790/bucket/a',
    'http://localhost:8790/bucket/a',
  ])('refuses %s beside the rehearsal address', async (url) => {
    expect((await sourceErrorOf(() => allowedUrl(url, REHEARSAL))).fault).toBe('outside');
  });
});

describe('redirectedUrl', () => {
  const from = new URL(`https://${HOST}/a/b`);

  test('follows within the list, relative addresses included', () => {
    expect(redirectedUrl('/c', from, BUCKETS).href).toBe(`https://${HOST}/c`);
    const other = OPEN_MODELS['hrrr-prs'].host;
    expect(redirectedUrl(`https://${other}/c`, from, BUCKETS).host).toBe(other);
  });

  test.each([
    'https://example.org/',
    '//example.org/',
    `http://${HOST}/a`,
    `https://u:p@${HOST}/`,
    'http://[',
  ])('refuses %s', async (location) => {
    expect((await sourceErrorOf(() => redirectedUrl(location, from, BUCKETS))).fault).toBe('outside');
  });
});
