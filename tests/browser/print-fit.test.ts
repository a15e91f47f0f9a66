/** The print: one page of A4 and of letter whatever the brief holds, legible, with a line for what is left out. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  demoLeg,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  WITHOUT_MAP,
  withFluid,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
const deck = demoLeg('over-the-deck');
const atUtc = deck.request.departure.atUtc;
const LEAST_TEXT_PT = 6.5;

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

/** Day, hour and minute so many minutes after the departure. */
function group(minutes: number): string {
  return new Date(Date.parse(atUtc) + minutes * 60_000).toISOString().replace(/[-:T]/g, '').slice(6, 12);
}

const PILOT_REPORTS = 16;

/** Invented texts. */
async function postManyReports(): Promise<void> {
  const kinds = ['LGT', 'MOD', 'SEV'];
  const text = [
    `METAR KBGR ${group(-10)}Z 09010KT 2SM -FZRA OVC010 M02/M03 A2990=`,
    ...Array.from(
      { length: PILOT_REPORTS },
      (_, at) =>
        `UA /OV KBGR/TM ${group(-20 - at).slice(2)}/FL0${40 + at * 3}/TP BE99/TA M05/IC ${kinds[at % 3]} RIME`,
    ),
  ].join('\n');
  const response = await fetch(`${instance.baseUrl}/api/reports?near=${atUtc}`, {
    method: 'POST',
    body: text,
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });
  expect(((await response.json()) as { stored: number }).stored).toBe(PILOT_REPORTS + 1);
}

const OTHER_ROUTES = ['4500N07100W', '4330N07100W', '4400N07000W', '4530N07200W'].map(
  (point) => `KBTV DCT ${point} DCT KBGR`,
);

/** Other routes, later departures, an alternate, an altitude that was given. */
function fullUrl(): string {
  const more = { routes: OTHER_ROUTES.join('\n'), later: '6', alternate: 'KPWM', hold: '45', given: '8000' };
  return `${legUrl(instance.baseUrl, deck)}&${new URLSearchParams(more)}`;
}

/** The full leg, with a stepped profile made of one of its altitudes. */
async function openFull(): Promise<Page> {
  const { page } = await openPage(browser, instance.baseUrl);
  await page.route('**/api/brief', async (route) => {
    const answer = (await (await route.fetch()).json()) as Brief;
    const base = answer.brief.alternatives.find((one) => one.exposure !== null)!;
    const profile = [
      { fromNm: 0, altitudeFt: 9000 },
      { fromNm: 80, altitudeFt: base.altitudeFt },
    ];
    answer.brief.stepped = { ...structuredClone(base), profile };
    await route.fulfill({ json: answer });
  });
  await page.goto(fullUrl());
  await page.locator('.row-stepped').waitFor();
  return page;
}

async function openDrawn(url: string): Promise<Page> {
  const { page } = await openPage(browser, url);
  await page.locator('.plan-land').waitFor({ state: 'attached' });
  return page;
}

async function pagesOf(page: Page, format: string, landscape = false): Promise<number> {
  const pdf = (await page.pdf({ format, landscape })).toString('latin1');
  return pdf.match(/\/Type\s*\/Page\b(?!s)/g)!.length;
}

/** The page as it is just before a browser prints it, on paper of A4 width. */
async function showPaper(page: Page): Promise<void> {
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: 733, height: 1062 });
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
}

/** Letters on the paper smaller than the least, each with its size in points. */
function tooSmall(page: Page): Promise<string[]> {
  return page.evaluate((leastPt) => {
    const walker = document.createTreeWalker(document.querySelector('#page')!, NodeFilter.SHOW_TEXT);
    const found = new Set<string>();
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const element = node.parentElement!;
      const isDrawn = element.checkVisibility() && element.closest('.for-ears') === null;
      if (!isDrawn || node.textContent!.trim() === '') continue;
      const zoom = (element as Element & { currentCSSZoom: number }).currentCSSZoom;
      const sizePt = Number.parseFloat(getComputedStyle(element).fontSize) * zoom * 0.75;
      if (sizePt < leastPt) found.add(`${element.tagName}.${element.getAttribute('class')} ${sizePt} pt`);
    }
    return [...found];
  }, LEAST_TEXT_PT);
}

describe.each(['A4', 'Letter'])('on %s', (format) => {
  it.each([deck, withFluid(deck, 30), demoLeg('out-of-data')])(
    'the brief of $id is one page, and keeps the phases and the first strips',
    async (leg) => {
      const page = await openDrawn(legUrl(instance.baseUrl, leg));
      expect(await pagesOf(page, format)).toBe(1);
      expect(await page.locator('[data-left-out], [data-left-out-line]').count()).toBe(0);
      await showPaper(page);
      expect(await page.locator('.phases').isVisible()).toBe(true);
      expect(await page.locator('.strip').nth(2).isVisible()).toBe(true);
      await page.close();
    },
  );
});

it('is upright also where the paper is laid across', async () => {
  const page = await openDrawn(legUrl(instance.baseUrl, deck));
  expect(await pagesOf(page, 'Letter', true)).toBe(1);
  await page.close();
});

describe('with reports, other routes, an alternate, a stepped profile and an altitude that was given', () => {
  beforeAll(postManyReports);

  it('is one page, with the answer, its ages, the cautions and the table whole, and says how much is left out', async () => {
    const page = await openFull();
    expect(await pagesOf(page, 'A4')).toBe(1);
    expect(await pagesOf(page, 'Letter')).toBe(1);
    await showPaper(page);
    const kept = '.masthead, .answer, .advice, .sheet-section, .altitudes, .cautions';
    expect(await page.locator(kept).count()).toBe(6);
    expect(await page.locator(`:is(${kept}) [data-left-out]`).count()).toBe(0);
    const reports = page.locator('.reports li');
    const hidden = await page.locator('.reports li[data-left-out]').count();
    expect(hidden).toBeGreaterThan(0);
    expect(hidden).toBeLessThan(await reports.count());
    expect(await page.locator('.reports').getAttribute('data-left-out-line')).toBe(
      `${hidden} further reports: see the link`,
    );
    const line = (part: Element) => getComputedStyle(part, '::after').content;
    expect(await page.locator('.reports').evaluate(line)).toContain('see the link');
    expect(await reports.first().isVisible()).toBe(true);
    await keepScreenshot(page, 'print-full');
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    expect(await page.locator('[data-left-out], [data-left-out-line]').count()).toBe(0);
    await page.close();
  });

  it('has no letter smaller than 6.5 pt', async () => {
    const unknown = legUrl(instance.baseUrl, demoLeg('out-of-data'));
    for (const page of [await openDrawn(unknown), await openFull()]) {
      await showPaper(page);
      expect(await tooSmall(page)).toEqual([]);
      await page.close();
    }
  });
});
