import { describe, expect, it } from 'vitest';
import { boardPathOf, noticeOf, UNREAD_NOTICE } from '../../web/offline/push-notice.ts';

const origin = 'https://board.example';
const whole = {
  title: 'KBTV–KBGR outside limits',
  body: 'Outside limits, was within limits at 11,000 ft',
  path: '/board/abcdefghijklmnopqrstuv',
  topic: 'abcdefghijklmnopqrstuv',
};

describe('noticeOf', () => {
  it('takes a whole message as it is', () => {
    expect(noticeOf(JSON.stringify(whole), origin)).toEqual(whole);
  });

  it.each([
    ['no message', undefined],
    ['what is no JSON', 'oops'],
    ['a text', '"oops"'],
    ['null', 'null'],
    ['a title that is no text', JSON.stringify({ ...whole, title: 7 })],
    ['an empty title', JSON.stringify({ ...whole, title: ' ' })],
    ['a body too long', JSON.stringify({ ...whole, body: 'x'.repeat(401) })],
    ['no body', JSON.stringify({ ...whole, body: undefined })],
    ['a topic of other letters', JSON.stringify({ ...whole, topic: 'a b' })],
    ['a path elsewhere', JSON.stringify({ ...whole, path: 'https://elsewhere.example/board/x' })],
  ])('says only that the board changed of %s', (_what, text) => {
    expect(noticeOf(text, origin)).toEqual(UNREAD_NOTICE);
  });

  it('has words also for what it could not read', () => {
    expect(UNREAD_NOTICE.title).not.toBe('');
    expect(UNREAD_NOTICE.body).not.toBe('');
  });
});

describe('boardPathOf', () => {
  it('gives a board’s path without what follows a #', () => {
    expect(boardPathOf('/board/abc?flight=1#secret', origin)).toBe('/board/abc?flight=1');
  });

  it.each([
    'https://elsewhere.example/board/abc',
    '//elsewhere.example/board/abc',
    'javascript:alert(1)',
    '/',
    '/b/abc',
    '/boards/abc',
    '/board/../b/abc',
    '/board/..//elsewhere.example',
    'board/abc',
    '',
    7,
    undefined,
    null,
  ])('opens nothing for %s', (path) => {
    expect(boardPathOf(path, origin)).toBeUndefined();
  });
});
