/** The board's page on an invented board: what it says first, what it holds still, what it does, and what it never shows as known. */
import { createRequire } from 'node:module';
import type { Browser, Page, WebSocketRoute } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { BoardDelta, BoardFlight } from '../../worker/schema/board.ts';
import {
  INVENTED_BOARD_ID,
  INVENTED_KEY,
  inventedBoard,
  inventedFlight,
  utcAt,
} from '../support/invented-board.ts';
import { type BoardStage, OPERATOR_KEY, startBoardStage } from './board-stage.ts';
import { type Looks, launchBrowser, openPage, WITHOUT_MAP } from './open-page.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
let browser: Browser;
let stage: BoardStage;
let page: Page;
let complaints: string[];
let socket: WebSocketRoute | undefined;

beforeAll(async () => {
  browser = await launchBrowser(WITHOUT_MAP);
});
afterAll(async () => {
  await browser?.close();
});
beforeEach(async () => {
  stage = await startBoardStage(inventedBoard(40));
});
afterEach(async () => {
  await page?.close();
  await stage.stop();
});

interface Opening extends Looks {
  /** Behind the board's address. */
  readonly query?: string;
  readonly isWithoutKey?: boolean;
  /** What the device has kept of looking, and of a name. */
  readonly kept?: Readonly<Record<string, string>>;
}

/** A socket that answers pings and says what a test sends. */
async function openBoard({
  query = '',
  isWithoutKey = false,
  kept = {},
  ...looks
}: Opening = {}): Promise<void> {
  const opened = await openPage(browser, `${stage.baseUrl}/mark.svg`, looks);
  ({ page, complaints } = opened);
  socket = undefined;
  await page.routeWebSocket(/\/live$/, (route) => {
    socket = route;
    route.onMessage((text) => {
      if (text === 'ping') route.send('pong');
    });
  });
  await page.evaluate((entries) => {
    for (const [name, value] of Object.entries(entries)) localStorage.setItem(name, value);
  }, kept);
  const url = new URL(stage.link);
  url.search = query;
  if (isWithoutKey) url.hash = '';
  await page.goto(url.href);
}

const rows = () => page.locator('.list-rows .flight-row');
const labels = () => page.locator('.list-rows .leg-label').allTextContents();
/** Far behind while it is not drawn. */
const placeOf = async (label: string) => {
  const place = (await labels()).indexOf(label);
  return place < 0 ? 1000 : place;
};
const rowOf = (label: string) => rows().filter({ has: page.locator('.leg-label', { hasText: label }) });
const seenUpTo = (base: number) => ({
  'rimeway-board-seen': JSON.stringify({ [INVENTED_BOARD_ID]: { base, flights: {} } }),
});
const asRobin = { 'rimeway-board-person': 'Robin' };

function tell(flights: readonly BoardFlight[], changes: Partial<BoardDelta> = {}): void {
  const seq = Math.max(...flights.map((flight) => flight.seq));
  const delta = {
    sinceSeq: 150,
    seq,
    asOfUtc: stage.board.asOfUtc,
    flights,
    removed: [],
    tails: [],
    waiting: 0,
    isTooOld: false,
    ...changes,
  };
  socket!.send(JSON.stringify({ kind: 'delta', delta }));
}

const worsened = (index: number, seq = 151) =>
  inventedFlight(index, {
    seq,
    verdict: 'outside-limits',
    why: 'Severe icing reported at 9,000 ft.',
    departureUtc: utcAt(6),
    departed: null,
    arrived: null,
    cancelled: false,
    change: { seq, atUtc: utcAt(0), kind: 'worse', sentence: 'Outside limits, was no ice found.' },
  });

it('takes the key out of the address, keeps it on the device, and says the state of all legs', async () => {
  await openBoard();
  await rows().first().waitFor();
  expect(page.url()).toBe(`${stage.baseUrl}/board/${INVENTED_BOARD_ID}`);
  await expect.poll(() => page.locator('.hearing').textContent()).toBe('live');
  const counts = await page.locator('.board-counts').textContent();
  expect(counts).toMatch(/\d+Outside limits\d+Unknown\d+Within limits\d+No ice found\d+Overdue/);
  expect(await page.locator('.board-cautions').textContent()).toContain('Advice only');
  expect(await page.locator('.board-band').textContent()).toContain(
    'Training: this board stands at 14 Jan 2026 10:12 UTC',
  );
  expect(await page.locator('.board-hearing').textContent()).toContain(
    'oldest data 4 h 10 min, newest 1 h 12 min',
  );
  await page.reload();
  await rows().first().waitFor();
  expect(complaints).toEqual([]);
});

describe('without a key that opens', () => {
  it('says that the address alone opens nothing, and takes a pasted link', async () => {
    await openBoard({ isWithoutKey: true });
    await expect.poll(() => page.locator('main').textContent()).toContain('The address alone opens nothing');
    expect(stage.asked).toEqual([]);
    await page.getByLabel('Link to the board').fill('https://rimeway.example/other');
    await page.getByRole('button', { name: 'Open' }).click();
    expect(await page.locator('main').textContent()).toContain('That is no link to a board');
    await page
      .getByLabel('Link to the board')
      .fill(`https://rimeway.example/board/${INVENTED_BOARD_ID}#${INVENTED_KEY}`);
    await page.getByRole('button', { name: 'Open' }).click();
    await rows().first().waitFor();
    expect(page.url()).not.toContain('#');
  });

  it('shows nothing of the board once the link is refused, not what was kept either', async () => {
    await openBoard();
    await rows().first().waitFor();
    await keptOnDevice();
    stage.isRefusing = true;
    await page.reload();
    await expect.poll(() => page.locator('main').textContent()).toContain('The link was refused');
    expect(await rows().count()).toBe(0);
    expect(
      await page.evaluate(
        async (id) => (await caches.open('rimeway-boards')).match(`/kept-board/${id}`),
        INVENTED_BOARD_ID,
      ),
    ).toBeUndefined();
  });
});

const keptOnDevice = () =>
  expect
    .poll(
      () =>
        page.evaluate(
          async (id) =>
            (await (await caches.open('rimeway-boards')).match(`/kept-board/${id}`)) !== undefined,
          INVENTED_BOARD_ID,
        ),
      { timeout: 15_000 },
    )
    .toBe(true);

describe('an address without a board', () => {
  const openNone = async (looks: Looks = {}) => {
    ({ page, complaints } = await openPage(browser, `${stage.baseUrl}/mark.svg`, looks));
    await page.goto(`${stage.baseUrl}/board`);
  };

  it('lists the boards that this device has keys of, by their names', async () => {
    await openNone();
    await expect
      .poll(() => page.locator('main').textContent())
      .toContain('This device has no link to a board');
    await openBoard();
    await rows().first().waitFor();
    await keptOnDevice();
    await page.goto(`${stage.baseUrl}/board`);
    const known = page.getByRole('link', { name: 'Invented winter network' });
    await known.waitFor();
    expect(await page.locator('body').textContent()).toContain('Advice only');
    await known.click();
    await rows().first().waitFor();
  });

  it('makes a board with an operator’s key that it does not keep, and shows both links once', async () => {
    const link = (access: 'edit' | 'view', key: string) => ({
      ...{ keyId: access, access, key },
      link: `/board/${INVENTED_BOARD_ID}#${key}`,
    });
    const links = [link('edit', INVENTED_KEY), link('view', 'invented-key-that-only-looks')];
    stage.answer = ({ path }) =>
      path === '/api/boards' ? { status: 201, body: { id: INVENTED_BOARD_ID, links } } : undefined;
    await openNone({ width: 360, height: 780 });
    const make = page.getByRole('button', { name: 'Make the board' });
    await page.getByLabel('Name').fill('Night cargo');
    const zone = page.getByLabel('Time zone');
    expect(await zone.inputValue()).toBe(
      await page.evaluate(() => Intl.DateTimeFormat().resolvedOptions().timeZone),
    );
    await page.getByLabel('Operator’s key').fill('no-key-of-anybody');
    await zone.fill('Nowhere/At_All');
    expect(await make.isDisabled()).toBe(true);
    await zone.fill('America/New_York');
    await make.click();
    await expect
      .poll(() => page.locator('main').textContent())
      .toContain('Not made: The key is no operator’s');
    await page.getByLabel('Operator’s key').fill(OPERATOR_KEY);
    await make.click();
    await page.getByText('The board is made.').waitFor();
    expect(stage.asked.at(-1)?.body).toEqual({ name: 'Night cargo', timeZone: 'America/New_York' });
    const shown = await page.locator('.make-link code').allTextContents();
    expect(shown).toEqual(links.map((one) => stage.baseUrl + one.link));
    expect(await page.getByRole('button', { name: 'Copy' }).count()).toBe(2);
    expect(await violations()).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
    const kept = await page.evaluate(() => JSON.stringify({ ...localStorage, ...sessionStorage }));
    expect(kept).toContain(INVENTED_KEY);
    expect(kept).not.toContain(OPERATOR_KEY);
    expect(kept).not.toContain('only-looks');
    await page.getByRole('link', { name: 'Open the board' }).click();
    await rows().first().waitFor();
    expect(page.url()).not.toContain('#');
  });
});

describe('what went bad', () => {
  it('stands first, until it was looked at on this device', async () => {
    await openBoard({ kept: seenUpTo(150) });
    await rows().first().waitFor();
    expect(await page.locator('.bad-news h2').textContent()).toBe('No leg got worse since you last looked');
    tell([worsened(2)]);
    await expect
      .poll(() => page.locator('.bad-news h2').textContent())
      .toBe('1 leg got worse since you last looked');
    expect(await page.locator('.bad-news li').textContent()).toContain('Severe icing reported at 9,000 ft.');
    await page.locator('.bad-news li button').click();
    await expect
      .poll(() => page.locator('.bad-news h2').textContent())
      .toBe('No leg got worse since you last looked');
    expect(await page.locator('.beside h2').textContent()).toContain('ZZ-103');
    await page.reload();
    await rows().first().waitFor();
    expect(await page.evaluate(() => localStorage.getItem('rimeway-board-seen'))).toContain('151');
  });
});

it('says that legs got worse whose verdict went by failure alone, until they were looked at', async () => {
  const gone = {
    verdict: 'unknown',
    why: 'The last attempt failed.',
    departed: null,
    arrived: null,
  } as const;
  stage.board = { ...stage.board, flights: [inventedFlight(6), inventedFlight(8, gone)] };
  await openBoard({ kept: seenUpTo(150) });
  await rows().first().waitFor();
  const title = page.locator('.bad-news h2');
  await expect.poll(() => title.textContent()).toBe('1 leg got worse since you last looked');
  expect(await page.locator('.bad-news li').textContent()).toContain('The last attempt failed.');
  expect(await rowOf('ZZ-109').locator('.cell-file').textContent()).toBe('altitude unknown');
  expect(await rowOf('ZZ-109').locator('.radio').count()).toBe(0);
  expect(await page.locator('.row-unread .leg-label').allTextContents()).toEqual(['ZZ-109']);
  await page.getByRole('button', { name: 'I have looked at all' }).click();
  await expect.poll(() => title.textContent()).toBe('No leg got worse since you last looked');
  await page.reload();
  await rows().first().waitFor();
  expect(await title.textContent()).toBe('No leg got worse since you last looked');
});

describe('the order', () => {
  it('is worst first, and follows a change by itself', async () => {
    await openBoard();
    await rows().first().waitFor();
    await expect.poll(() => page.locator('.hearing').textContent()).toBe('live');
    const before = await labels();
    tell([worsened(2)]);
    await expect.poll(() => placeOf('ZZ-103')).toBeLessThan(4);
    expect(before.slice(0, 4)).not.toContain('ZZ-103');
    expect(await page.locator('.order-anew').count()).toBe(0);
  });

  const HOLDS: readonly (readonly [string, () => Promise<unknown>])[] = [
    ['a pointer is down on it', () => rows().nth(1).dispatchEvent('pointerdown')],
    ['a row has the focus', () => rows().nth(1).focus()],
    ['it is being scrolled', () => page.evaluate(() => dispatchEvent(new Event('scroll')))],
  ];

  it.each(HOLDS)('stays while %s, and is made anew by a press', async (_, hold) => {
    await openBoard();
    await rows().first().waitFor();
    await expect.poll(() => page.locator('.hearing').textContent()).toBe('live');
    const before = await labels();
    await hold();
    tell([worsened(2)]);
    await expect.poll(() => page.locator('.order-anew').textContent()).toBe('1 change: order anew');
    expect(await labels()).toEqual(before);
    await page.locator('.order-anew button').dispatchEvent('click');
    await expect.poll(() => placeOf('ZZ-103')).toBeLessThan(4);
    expect(before.slice(0, 4)).not.toContain('ZZ-103');
  });

  it('follows by itself once nothing holds it any more', async () => {
    await openBoard();
    await rows().first().waitFor();
    await expect.poll(() => page.locator('.hearing').textContent()).toBe('live');
    const before = await labels();
    await rows().nth(1).dispatchEvent('pointerdown');
    tell([worsened(2)]);
    await page.locator('.order-anew button').waitFor();
    await page.locator('body').dispatchEvent('pointerup');
    await expect.poll(() => placeOf('ZZ-103')).toBeLessThan(4);
    expect(before.slice(0, 4)).not.toContain('ZZ-103');
    expect(await page.locator('.order-anew').count()).toBe(0);
  });
});

describe('the keyboard', () => {
  it('goes down the rows with the arrows, reaches the ticks, and opens with Enter', async () => {
    stage.board = inventedBoard(2000);
    await openBoard();
    await rows().first().waitFor();
    expect(await page.getByRole('grid').getAttribute('aria-rowcount')).toBe('2001');
    await rows().first().focus();
    for (let press = 0; press < 30; press += 1) await page.keyboard.press('ArrowDown');
    const active = page.locator('.flight-row:focus');
    expect(await active.getAttribute('aria-rowindex')).toBe('32');
    await page.keyboard.press('End');
    expect(await active.getAttribute('aria-rowindex')).toBe('2001');
    expect(await rows().count()).toBeLessThan(60);
    await page.keyboard.press('Home');
    await expect.poll(() => active.getAttribute('aria-rowindex')).toBe('2');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toMatch(
      /: mark (departed|arrived) now$/,
    );
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Enter');
    await page.locator('.beside').waitFor();
  });
});

describe('the filters', () => {
  it('outlast a load, and say what they keep from view', async () => {
    await openBoard();
    await rows().first().waitFor();
    await page.getByLabel('Station').fill('kbtv');
    await page.getByRole('button', { name: 'Next 6 h' }).click();
    const shown = await rows().count();
    const said = (await page.locator('.hidden-line').textContent())!;
    expect(said).toMatch(
      new RegExp(`^${shown} of 40 legs; \\d+ not listed outside limits, unknown or overdue`),
    );
    for (const way of await page.locator('.leg-way').allTextContents()) expect(way).toContain('KBTV');
    await page.reload();
    await rows().first().waitFor();
    expect(await rows().count()).toBe(shown);
    await page.getByRole('button', { name: 'List all' }).click();
    expect(await page.locator('.hidden-line').textContent()).toBe('All 40 legs');
  });

  it('list one verdict by its count', async () => {
    await openBoard();
    await rows().first().waitFor();
    await page
      .getByRole('button', { name: /Outside limits/ })
      .first()
      .click();
    const words = await page.locator('.cell-verdict').allTextContents();
    expect(words.length).toBeGreaterThan(1);
    expect(new Set(words)).toEqual(new Set(['Outside limits']));
  });
});

describe('a mark', () => {
  const marked = (body: unknown) => {
    const { atUtc, by } = body as { atUtc: string | null; by: string };
    return inventedFlight(7, { seq: 151, departed: atUtc === null ? null : { atUtc, by } });
  };

  it('is one tap at the present time, in a name that is asked for once, and can be undone', async () => {
    stage.answer = ({ path, body }) =>
      path.endsWith('/marks') ? { status: 200, body: marked(body) } : undefined;
    await openBoard();
    await rows().first().waitFor();
    await rowOf('ZZ-108').getByRole('button', { name: 'mark departed now' }).click();
    await page.getByLabel('Name').fill('Robin');
    await page.getByRole('button', { name: 'That is me' }).click();
    await expect.poll(() => rowOf('ZZ-108').textContent()).toContain('✓ left 10:12 Robin');
    const marks = () => stage.asked.filter(({ path }) => path.endsWith('/marks'));
    expect(marks()[0]).toEqual({
      method: 'POST',
      path: `/flights/${inventedFlight(7).id}/marks`,
      body: { mark: 'departed', atUtc: '2026-01-14T10:12:00Z', by: 'Robin' },
    });
    expect(await page.locator('.beside').count()).toBe(0);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => marks()[1]?.body).toEqual({ mark: 'departed', atUtc: null, by: 'Robin' });
    await expect.poll(() => rowOf('ZZ-108').textContent()).not.toContain('✓ left');
  });

  it('that was not taken is not shown, and says so', async () => {
    stage.answer = ({ path }) =>
      path.endsWith('/marks')
        ? {
            status: 503,
            body: { type: 'about:blank', title: 'Busy', status: 503, detail: 'Try again in a minute' },
          }
        : undefined;
    await openBoard({ kept: asRobin });
    await rows().first().waitFor();
    await rowOf('ZZ-108').getByRole('button', { name: 'mark departed now' }).click();
    await expect
      .poll(() => page.locator('.notice-bar').textContent())
      .toContain('Not done: Try again in a minute');
    expect(await rowOf('ZZ-108').textContent()).not.toContain('✓ left');
  });
});

it('a link that only reads has nothing that writes', async () => {
  stage.board = inventedBoard(40, { access: 'view' });
  await openBoard({ query: `leg=${inventedFlight(7).id}` });
  await page.locator('.leg-panel').waitFor({ state: 'attached' });
  expect(await page.locator('body').textContent()).toContain('This link only reads');
  const names = await page.locator('button').allTextContents();
  expect(names.length).toBeGreaterThan(10);
  expect(
    names.filter((name) =>
      /Mark departed|Mark arrived|Mark$|Cancel|Enter$|seen this|link to it|Work out|Schedule/.test(name),
    ),
  ).toEqual([]);
});

describe('a leg that is open', () => {
  it('has the main page at the very same leg beside it', async () => {
    await openBoard();
    await rows().first().waitFor();
    await rowOf('ZZ-108').click();
    const frame = page.locator('.leg-brief iframe');
    await frame.waitFor();
    const src = new URL((await frame.getAttribute('src'))!, stage.baseUrl);
    expect(src.pathname).toBe('/');
    expect(src.searchParams.get('route')).toBe('KPQI DCT KSYR');
    expect(src.searchParams.get('departure')).toBe(inventedFlight(7).departureUtc);
    expect(src.searchParams.get('board')).toBe(INVENTED_BOARD_ID);
    expect(await frame.getAttribute('title')).toBe('Brief of ZZ-108, KPQI to KSYR');
    expect(page.url()).toContain(`leg=${encodeURIComponent(inventedFlight(7).id)}`);
  });

  it('that was never worked out says what is known and why it is unknown', async () => {
    await openBoard({ query: `leg=${inventedFlight(31).id}` });
    await expect
      .poll(() => page.locator('.leg-brief').textContent())
      .toContain('Unknown: this leg was not worked out yet');
    expect(await page.locator('.leg-brief').textContent()).toContain(
      'No source of air could be read for the route.',
    );
    expect(await page.locator('iframe').count()).toBe(0);
  });

  it('takes an acknowledgement, what its aeroplane has, and a link to share', async () => {
    stage.answer = ({ path, body }) => {
      if (path === '/acknowledgements') {
        const { seq, by } = body as { seq: number; by: string };
        return { status: 201, body: { seq, by, atUtc: utcAt(0) } };
      }
      if (path.startsWith('/tails/'))
        return {
          status: 200,
          body: {
            ...{ fluidOnBoardL: 62.5, ...(body as object), tail: path.slice(7) },
            ...{ enteredUtc: utcAt(0), fluidEnteredUtc: utcAt(0) },
          },
        };
      return path.endsWith('/shared')
        ? { status: 201, body: { id: 'x', link: '/b/SharedInvented00000000' } }
        : undefined;
    };
    await openBoard({ kept: asRobin, query: `leg=${inventedFlight(16).id}` });
    await page.getByRole('button', { name: 'I have seen this' }).click();
    await expect
      .poll(() => page.locator('.leg-answer').textContent())
      .toContain('Acknowledged by Robin at 10:12 UTC');
    await page.getByRole('button', { name: 'Marks, share, aeroplane' }).click();
    await page.getByRole('button', { name: 'Make a link to it as it is now' }).click();
    await page.getByRole('link', { name: `${stage.baseUrl}/b/SharedInvented00000000` }).waitFor();
    await page.getByLabel('Fluid on board, L').fill('62.5');
    await page.getByLabel('pitot heat').check();
    await page.getByRole('button', { name: 'Enter', exact: true }).click();
    await expect
      .poll(() => page.locator('.leg-panel').textContent())
      .toContain('62.5 L on board, entered 14 Jan 10:12 UTC by Robin');
    const entered = () => stage.asked.filter(({ path }) => path.startsWith('/tails/'));
    expect(entered()[0]?.body).toEqual({
      fluidOnBoardL: 62.5,
      inoperative: ['pitot-heat'],
      note: '',
      by: 'Robin',
    });
    // What is known now stands beside an empty field: a box that is ticked sends no fluid along.
    await expect.poll(() => page.getByLabel('Fluid on board, L').inputValue()).toBe('');
    await page.getByLabel('ice light').check();
    await page.getByRole('button', { name: 'Enter', exact: true }).click();
    await expect
      .poll(() => entered()[1]?.body)
      .toEqual({
        inoperative: ['pitot-heat', 'ice-light'],
        note: '',
        by: 'Robin',
      });
  });

  it('is the whole screen of a phone, with a way back', async () => {
    await openBoard({ width: 360, height: 780, isTouch: true });
    await rows().first().waitFor();
    await rowOf('ZZ-108').click();
    const box = (await page.locator('.beside').boundingBox())!;
    expect([box.x, box.y, box.width]).toEqual([0, 0, 360]);
    await page.goBack();
    await expect.poll(() => page.locator('.beside').count()).toBe(0);
  });
});

it('has its other parts when they are asked for', async () => {
  await openBoard();
  await rows().first().waitFor();
  await page.getByRole('button', { name: 'Plan of the network' }).click();
  await page.locator('.beside .network').waitFor();
  await page.getByRole('button', { name: 'Handover' }).click();
  await expect.poll(() => page.locator('.beside').textContent()).not.toContain('loading');
  expect(await page.locator('.beside .complaint').count()).toBe(0);
  await page.getByRole('button', { name: 'Schedule and links' }).click();
  await expect.poll(() => page.locator('.beside').textContent()).not.toContain('loading');
  expect(await page.locator('.beside').textContent()).not.toContain('not loaded');
});

describe('without a connection', () => {
  const verdicts = async () => new Set(await page.locator('.cell-verdict').allTextContents());

  it('shows what was kept under its age, and after an hour no verdict of it', async () => {
    await openBoard();
    await rows().first().waitFor();
    await keptOnDevice();
    stage.isDown = true;
    await page.reload();
    await expect
      .poll(() => page.locator('.board-band-strong').textContent())
      .toMatch(/^From this device, as of 10:12 UTC, \d min old; what changed since is unknown\.$/);
    expect(await page.locator('.hearing').textContent()).toMatch(/^no connection since \d\d:\d\d UTC$/);
    expect((await verdicts()).size).toBeGreaterThan(2);
    await page.evaluate(async (id) => {
      const cache = await caches.open('rimeway-boards');
      const kept = (await cache.match(`/kept-board/${id}`))!;
      const headers = {
        'x-kept-at-ms': String(Date.now() - 61 * 60_000),
        'content-type': 'application/json',
      };
      await cache.put(`/kept-board/${id}`, new Response(await kept.text(), { headers }));
    }, INVENTED_BOARD_ID);
    await page.reload();
    await expect.poll(() => page.locator('.board-band-strong').textContent()).toContain('1 h 1 min old');
    const open = rows().filter({ hasNot: page.locator('.mark-done') });
    await expect
      .poll(async () => new Set(await open.locator('.cell-verdict').allTextContents()))
      .toEqual(new Set(['Unknown']));
    stage.isDown = false;
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await expect.poll(() => page.locator('.board-band-strong').count(), { timeout: 10_000 }).toBe(0);
    expect((await verdicts()).size).toBeGreaterThan(2);
  });

  it('opens from the device alone', async () => {
    await openBoard({ isKept: true });
    await rows().first().waitFor();
    await page.evaluate(() => navigator.serviceWorker.ready);
    await expect
      .poll(() => page.evaluate(async () => (await caches.match('/board')) !== undefined), {
        timeout: 20_000,
      })
      .toBe(true);
    await keptOnDevice();
    stage.isGone = true;
    await page.reload();
    await expect
      .poll(() => page.locator('.board-band-strong').textContent(), { timeout: 20_000 })
      .toContain('From this device');
    expect(await rows().count()).toBeGreaterThan(5);
  });

  it('and without anything kept says that nothing is known', async () => {
    stage.isDown = true;
    await openBoard();
    await expect.poll(() => page.locator('main').textContent()).toContain('Nothing is known of any leg');
    expect(await rows().count()).toBe(0);
  });
});

/** What a row must show whole, and did not: cut at its foot, at its side, or within itself. */
const cutInRows = () =>
  page.evaluate(() => {
    const parts =
      '.cell-marks button, .mark-done, .tag-inoperative, .tag-overdue, .tag-unread, .word, .leg-name, .leg-way, .changed-when, .cell-verdict b, .cell-departs > *';
    const found: string[] = [];
    for (const row of document.querySelectorAll('.flight-row')) {
      const { bottom, right } = row.getBoundingClientRect();
      for (const part of row.querySelectorAll<HTMLElement>(parts)) {
        const box = part.getBoundingClientRect();
        const cell = part.closest('[role="gridcell"]')!.getBoundingClientRect();
        const isCut =
          box.bottom > Math.min(bottom, cell.bottom) + 1.5 ||
          box.right > Math.min(right, cell.right) + 1.5 ||
          (part.scrollWidth > part.clientWidth + 1 && !part.matches('.cell-changed *'));
        if (isCut && part.getClientRects().length > 0)
          found.push(
            `${row.querySelector('.leg-label')?.textContent}: ${part.className} ${part.textContent}`,
          );
      }
    }
    return found;
  });

/** What is on the screen: a picture of the whole page would scroll past rows that are drawn as they are reached. */
async function keepScreen(name: string): Promise<void> {
  const folder = process.env.SCREENSHOT_DIR;
  if (folder !== undefined && folder !== '') await page.screenshot({ path: `${folder}/${name}.png` });
}

const sizes = [360, 820, 1280, 2560];
const looks = sizes.flatMap((width) => (['light', 'dark'] as const).map((theme) => ({ width, theme })));

describe.each(looks)('at $width px, $theme', ({ width, theme }) => {
  const height = { 360: 780, 820: 1180, 1280: 900, 2560: 1300 }[width]!;

  it('the list cuts nothing that matters, and it and a leg that is open have no violation', async () => {
    stage.board = inventedBoard(60);
    await openBoard({ width, height, theme, isTouch: width < 1000, kept: { ...seenUpTo(120), ...asRobin } });
    await rows().first().waitFor();
    await keepScreen(`board-${width}-${theme}`);
    for (let screen = 0; screen < 4; screen += 1) {
      expect(await cutInRows()).toEqual([]);
      await page.evaluate(() => scrollBy(0, innerHeight * 0.9));
      await page.waitForTimeout(100);
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
    expect(await violations()).toEqual([]);
    await page.evaluate(() => scrollTo(0, 0));
    await rows().nth(3).click();
    await page.locator('.leg-answer').waitFor();
    await keepScreen(`board-leg-${width}-${theme}`);
    expect(await violations()).toEqual([]);
  });
});

interface AxeResults {
  readonly passes: readonly unknown[];
  readonly violations: readonly {
    id: string;
    nodes: readonly { target: unknown; failureSummary?: string }[];
  }[];
}

/** The frame of the brief is the main page's own matter. */
async function violations(): Promise<string[]> {
  await page.addScriptTag({ path: axePath });
  const results = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run(context: object): Promise<AxeResults> } }).axe.run({
      exclude: ['iframe'],
    }),
  );
  expect(results.passes.length).toBeGreaterThan(12);
  return results.violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${JSON.stringify(node.target)} ${node.failureSummary}`),
  );
}
