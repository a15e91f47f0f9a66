/** The altitude table at every width: level with the axis, nothing over anything else, for eye, finger, keyboard and ear. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  demoLeg,
  fetchBrief,
  launchBrowser,
  legUrl,
  openPage,
  WITHOUT_MAP,
  waitForBrief,
  withFluid,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
let made: Brief;
const deck = withFluid(demoLeg('over-the-deck'), 80);

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
  made = withEveryRow(await fetchBrief(instance.baseUrl, deck));
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

/** With a stepped profile, a row without a way out on a stretch, one of an unknown way, and one of an unknown temperature. */
function withEveryRow(brief: Brief): Brief {
  const flown = brief.brief.alternatives.filter((one) => one.exposure !== null);
  const [none, unknown, cold] = flown.filter(({ standing }) => standing !== 'recommended');
  none!.ways!.way.fill('none', 12, 16);
  unknown!.ways!.way.fill('unknown', 30);
  cold!.exposure!.staticTemperatureC = null;
  cold!.exposure!.gaugeTemperatureC = null;
  const stepped = structuredClone(flown.at(-1)!);
  stepped.profile = [
    { fromNm: 0, altitudeFt: 9000 },
    { fromNm: 80, altitudeFt: stepped.altitudeFt },
  ];
  brief.brief.stepped = stepped;
  return brief;
}

async function open(width: number, answer = made): Promise<Page> {
  const { page } = await openPage(browser, 'about:blank', { width, height: width > 2000 ? 1440 : 900 });
  await page.route('**/api/brief', (route) => route.fulfill({ json: answer }));
  await page.goto(legUrl(instance.baseUrl, deck));
  await page.locator('.altitudes').waitFor();
  return page;
}

interface Word {
  readonly text: string;
  readonly row: number;
  readonly fontPx: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Every piece of text that the table shows, with the box of its letters. */
function wordsOf(page: Page): Promise<Word[]> {
  return page.locator('.altitudes').evaluate((table) => {
    const words: Word[] = [];
    const walker = document.createTreeWalker(table, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const parent = node.parentElement!;
      const text = node.textContent!.trim();
      if (text === '' || parent.closest('.for-ears, caption') !== null) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const { left, right, top, bottom, width } = range.getBoundingClientRect();
      const style = getComputedStyle(parent);
      if (width === 0 || style.display === 'none') continue;
      const row = [...table.querySelectorAll('tr')].indexOf(parent.closest('tr')!);
      // Letters without the room over and under them.
      const middle = (top + bottom) / 2;
      const half = style.webkitLineClamp === 'none' ? Number.parseFloat(style.fontSize) * 0.36 : 0;
      const [upper, lower] = half === 0 ? [top + 2, bottom - 2] : [middle - half, middle + half];
      words.push({
        ...{ text, row, left, right, fontPx: Number.parseFloat(style.fontSize) },
        ...{ top: upper, bottom: lower },
      });
    }
    return words;
  });
}

const isOver = (a: Word, b: Word) =>
  a.left < b.right - 0.5 && b.left < a.right - 0.5 && a.top < b.bottom - 0.5 && b.top < a.bottom - 0.5;

describe.each([360, 720, 820, 1024, 1280, 1600, 1900, 2560])('at %i px', (width) => {
  it('no text is over another, leaves the table, or is smaller than 11 px', async () => {
    const page = await open(width);
    const words = await wordsOf(page);
    expect(words.length).toBeGreaterThan(80);
    for (const { text, fontPx } of words) expect(fontPx, text).toBeGreaterThanOrEqual(11);
    const over = words.flatMap((a, index) =>
      words.slice(index + 1).flatMap((b) => (isOver(a, b) ? [`${a.text} | ${b.text}`] : [])),
    );
    expect(over).toEqual([]);
    const table = (await page.locator('.altitudes').boundingBox())!;
    const outside = words.filter(
      ({ left, right }) => left < table.x - 1 || right > table.x + table.width + 1,
    );
    expect(outside.map(({ text }) => text)).toEqual([]);
    await page.close();
  });

  it('each row is a target for a finger, and stands level with its altitude where it stands beside the section', async () => {
    const page = await open(width);
    const rows = page.locator('.row[data-altitude-ft]:not([data-altitude-ft="stepped"])');
    const isLevel = (await page.locator('.altitudes-level').count()) === 1;
    expect(isLevel).toBe(width >= 760);
    for (const row of [rows.first(), rows.nth(5), rows.nth(12)]) {
      await row.locator('button').click();
      const box = (await row.boundingBox())!;
      expect(box.height).toBeGreaterThanOrEqual(isLevel ? 24 : 44);
      if (!isLevel) continue;
      // Both at one time: the page is scrolled by what the answer above grows.
      const apart = () =>
        page.evaluate(() => {
          const [row, handle] = ['.row-considered', '.handle-altitude'].map((selector) =>
            document.querySelector(selector)!.getBoundingClientRect(),
          );
          return Math.abs(row!.y + row!.height / 2 - handle!.y - handle!.height / 2);
        });
      await expect.poll(apart).toBeLessThan(1);
    }
    await page.close();
  });

  it('each row has a header and a cell for each column, by their roles', async () => {
    const page = await open(width);
    const table = page.getByRole('table', { name: /^Altitude table/ });
    const heads = await table.getByRole('columnheader').allTextContents();
    expect(heads.slice(0, 1)).toEqual(['altitude ft']);
    for (const needed of ['ice min', 'unknown min', 'built mm', 'fluid L', 'time h:min'])
      expect(heads).toContain(needed);
    const row = table.getByRole('row', { name: /the altitude to file/ });
    expect(await row.getByRole('rowheader').count()).toBe(1);
    expect(await row.getByRole('cell').count()).toBe(heads.length - 1);
    await page.close();
  });
});

describe('what a row holds', () => {
  it('at 1280 px: static and gauge temperature, wind, fuel and way out, with the recovery under the table', async () => {
    const page = await open(1280);
    const filed = made.brief.alternatives.find(({ standing }) => standing === 'recommended')!;
    const row = page.locator('.row-recommended');
    const whole = (celsius: number | null) => String(Math.round(celsius!)).replace('-', '−');
    expect(await row.locator('.cell-temperature').textContent()).toBe(
      `${whole(filed.exposure!.staticTemperatureC)}/${whole(filed.exposure!.gaugeTemperatureC)}`,
    );
    expect(await row.locator('.cell-wind').textContent()).toMatch(/^[+−]\d+$/);
    expect(await row.locator('.out-word').textContent()).toMatch(/^(stay level|up|down|back|land)$/);
    expect(await page.locator('.table-note').textContent()).toContain('85 % of the heating by speed');
    expect(await page.locator('.cruise-figures').count()).toBe(0);
    await page.close();
  });

  it('at 2560 px also why it lost, and of one that cannot be flown, why not', async () => {
    const page = await open(2560);
    for (const { altitudeFt, reasons, exposure } of made.brief.alternatives) {
      const row = page.locator(`tr[data-altitude-ft="${altitudeFt}"]`);
      if ((await row.count()) === 0) continue;
      const cell = row.locator(exposure === null ? '.row-standing' : '.cell-why');
      expect(await cell.textContent()).toBe(reasons[0]!.sentence);
    }
    await page.close();
  });

  it.each([360, 820])('at %i px the rest stands with the considered altitude', async (width) => {
    const page = await open(width);
    const figures = page.locator('.cruise-figures');
    expect(await figures.textContent()).toMatch(/−\d+\/−\d+.*[+−]\d+.*\d+.*85 % of the heating by speed/);
    await page.locator('tr:has(.out-none), tr.row:nth-child(3)').first().locator('button').click();
    expect(await figures.locator('dd').count()).toBe(3);
    await page.close();
  });

  it('a way out that is none or unknown says so, looks so, and says where', async () => {
    const page = await open(2560);
    const none = page.locator('td.out-none').first();
    expect(await none.locator('.out-word').textContent()).toBe('none');
    expect((await none.locator('.out-place').textContent())?.replaceAll('\u2060', '')).toMatch(/\d+–\d+/);
    expect(await none.locator('.for-ears').textContent()).toContain('none');
    const unknown = page.locator('td.out-unknown').first();
    expect(await unknown.locator('.out-word').textContent()).toBe('unknown');
    const painted = (one: Element) => getComputedStyle(one).backgroundImage;
    expect(await unknown.locator('.out-word').evaluate(painted)).toContain('repeating-linear-gradient');
    await page.close();
  });

  it('a temperature that is not known is hatched, and said to the ear', async () => {
    const page = await open(1280);
    const cell = page.locator('.cell-temperature.has-unknown');
    expect(await cell.allTextContents()).toEqual(['?unknown']);
    await page.close();
  });
});

describe('the pictures', () => {
  it('are for the eye alone, one a row that can be flown', async () => {
    const page = await open(1280);
    const flown = made.brief.alternatives.filter(({ exposure }) => exposure !== null);
    const pictures = page.locator('.path-picture');
    expect(await pictures.count()).toBe(flown.length + 1);
    expect(await page.locator('.path-picture:not([aria-hidden="true"])').count()).toBe(0);
    const looks = (row: string) =>
      page
        .locator(`${row} .path-picture [data-look]`)
        .evaluateAll((parts) => parts.map((part) => part.getAttribute('data-look')));
    expect(await looks('.row-recommended')).toContain('no-ice');
    expect(await looks('.row-recommended')).toContain('ice');
    await page.close();
  });

  it('are hatched where the air is not known', async () => {
    const brief = await fetchBrief(instance.baseUrl, demoLeg('out-of-data'));
    const page = await open(1280, brief);
    for (const picture of await page.locator('.path-picture').all())
      expect(await picture.locator('[data-look="unknown"]').count()).toBeGreaterThan(0);
    await page.close();
  });

  it('are not drawn without values along the leg, and a path of another length is not shown at all', async () => {
    const { curtain: _dropped, ...member } = made.brief;
    const without = await open(1280, { ...made, brief: member });
    expect(await without.locator('.path-picture').count()).toBe(0);
    await without.close();
    const short = structuredClone(made);
    short.brief.alternatives.find(({ flownFt }) => flownFt !== null)!.flownFt!.pop();
    const { page } = await openPage(browser, 'about:blank');
    await page.route('**/api/brief', (route) => route.fulfill({ json: short }));
    await page.goto(legUrl(instance.baseUrl, deck));
    expect(await page.getByRole('alert').textContent()).toContain('does not keep to the contract');
    await page.close();
  });
});

it('the arrow keys go from row to row, and the altitude to file is named and tagged', async () => {
  const page = await open(1280);
  const filed = page.locator('.row-recommended');
  expect(await filed.locator('.tag-file').textContent()).toBe('file');
  expect(await page.locator('.tag-file').count()).toBe(1);
  await filed.locator('button').focus();
  await page.keyboard.press('ArrowUp');
  await page.locator('.row-considered:not(.row-recommended) button:focus').waitFor();
  await page.keyboard.press('ArrowDown');
  await page.locator('.row-considered.row-recommended button:focus').waitFor();
  await page.close();
});

it('on a phone a row that the keyboard reaches is not under the head that stays', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg('over-the-deck')), {
    width: 360,
    height: 640,
  });
  await waitForBrief(page);
  await page.locator('.row-considered button').focus();
  const hidden: string[] = [];
  for (let press = 0; press < 8; press += 1) {
    await page.keyboard.press('ArrowUp');
    await page.waitForTimeout(60);
    const [head, button] = await page.evaluate(() => [
      document.querySelector('.altitudes thead')!.getBoundingClientRect().bottom,
      document.activeElement!.getBoundingClientRect().top,
    ]);
    if (button! < head! - 1) hidden.push(`${button} under ${head}`);
  }
  expect(await page.locator('.altitudes thead').evaluate((head) => getComputedStyle(head).position)).toBe(
    'sticky',
  );
  expect(hidden).toEqual([]);
  await page.close();
});
