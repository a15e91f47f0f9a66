/** What the Worker logs, line by line. */
import { describe, expect, it } from 'vitest';
import { eventLine, faultLine, logLine } from '../worker/log.ts';

describe('a line of the log', () => {
  it('is one JSON object with the name of its event', () => {
    expect(JSON.parse(logLine('supply: gfs-0p25 2026-01-15T00Z +3 h: stored'))).toEqual({
      event: 'supply',
      text: 'gfs-0p25 2026-01-15T00Z +3 h: stored',
    });
    expect(JSON.parse(logLine('no colon'))).toEqual({ event: 'note', text: 'no colon' });
  });

  it('stays one line whatever is in it', () => {
    expect(eventLine('a', { text: 'one\ntwo "three"', count: 2 }).split('\n')).toHaveLength(1);
  });

  it.each([
    ['https://a.example/x?key=topsecret', 'https://a.example/x?…'],
    ['from https://a.example/x?key=topsecret: found', 'from https://a.example/x?… found'],
    ['(https://a.example/board/id#topsecret)', '(https://a.example/board/id?…'],
    ['wss://a.example?topsecret', 'wss://a.example?…'],
    ['https://a.example/x: found 500?', 'https://a.example/x: found 500?'],
  ])('shows no query and no fragment of %s', (text, expected) => {
    expect(JSON.parse(eventLine('a', { text })).text).toBe(expected);
  });

  it('tells an error with its cause and where it came from, and cuts what is long', () => {
    const cause = new TypeError('asked https://a.example/?topsecret');
    const line = faultLine('unexpected-error', new Error('x'.repeat(5000), { cause }), { report: 'r' });
    const told = JSON.parse(line) as Record<string, string>;
    expect(told).toMatchObject({ event: 'unexpected-error', report: 'r' });
    expect(told.cause).toBe('TypeError: asked https://a.example/?…');
    expect(told.at).toContain('log.test.ts');
    expect(line.length).toBeLessThan(3500);
  });

  it('tells what was thrown and is no error', () => {
    expect(JSON.parse(faultLine('a', 'words'))).toEqual({ event: 'a', fault: 'words' });
  });
});
