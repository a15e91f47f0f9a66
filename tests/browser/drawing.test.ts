/** What is drawn: unknown never like no ice, one set of features in both views, rows level with the axis. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  colorsOnScreen,
  demoLeg,
  fetchBrief,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  waitForBrief,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
const gap = demoLeg('out-of-data');
const deck = demoLeg('over-the-deck');

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser()]);
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

const bandsOf = (brief: Brief) =>
  brief.features.flatMap((feature) =>
    feature.properties.kind === 'icing-band' ? [{ id: feature.id, ...feature.properties }] : [],
  );

/** Identities and paints of the bands drawn inside an element, in drawing order. */
function drawnBands(page: Page, inside: string): Promise<{ id: string; paints: string }[]> {
  return page.locator(`${inside} [data-feature-id^="band-"]`).evaluateAll((groups) =>
    groups.map((group) => ({
      id: group.getAttribute('data-feature-id') ?? '',
      paints: [...group.children]
        .map((path) => path.getAttribute('fill') ?? path.getAttribute('class'))
        .join(' '),
    })),
  );
}

describe.each(['light', 'dark'] as const)('unknown in the %s theme', (theme) => {
  it('is hatched in the cross-section, never paper, and its word stands in it', async () => {
    const brief = await fetchBrief(instance.baseUrl, gap);
    const { page } = await openPage(browser, legUrl(instance.baseUrl, gap), { theme });
    await waitForBrief(page);
    const drawn = new Map((await drawnBands(page, '.section')).map((band) => [band.id, band.paints]));
    const unknown = bandsOf(brief).filter((band) => band.state !== 'known' && band.state !== 'below-ground');
    const paper = bandsOf(brief).filter((band) => drawn.get(band.id) === 'fill-paper');
    expect(unknown.length).toBeGreaterThan(0);
    expect(paper.length).toBeGreaterThan(0);
    for (const band of unknown) expect(drawn.get(band.id)).toBe('url(#paint-unknown)');
    for (const band of paper) expect(band).toMatchObject({ state: 'known', largeDrops: 'none' });
    expect(await page.locator('.band-labels').textContent()).toContain('unknown');
    await keepScreenshot(page, `unknown-1280-${theme}`);
    await page.close();
  });

  it('shows at least two colors on the screen where no ice shows one, and none of the same', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, gap), { theme });
    await waitForBrief(page);
    await page.addStyleTag({
      content: '.axes, .band-labels, .line-labels, .cursor, .cloud-outline { display: none }',
    });
    const hatched = await colorsOnScreen(page, await middleOf(page, 'unknown'));
    const bare = await colorsOnScreen(page, await middleOf(page, 'no-ice'));
    expect(bare.size).toBe(1);
    expect(hatched.size).toBeGreaterThan(1);
    const [paper] = [...bare.keys()];
    expect([...hatched.keys()]).not.toContain(paper);
    await page.close();
  });
});

/** A square in the largest drawn band of one look. */
async function middleOf(page: Page, look: string) {
  const boxes = await page
    .locator(`.section .bands [data-look="${look}"]`)
    .evaluateAll((groups) => groups.map((group) => group.getBoundingClientRect().toJSON() as DOMRect));
  const largest = boxes.sort((a, b) => b.width * b.height - a.width * a.height)[0]!;
  const [x, y] = [largest.x + largest.width / 2, largest.y + largest.height / 2];
  return { x: Math.round(x) - 15, y: Math.round(y) - 15, width: 30, height: 30 };
}

describe('one set of features', () => {
  it('draws the cross-section: every band of the answer, once', async () => {
    const brief = await fetchBrief(instance.baseUrl, deck);
    const { page } = await openPage(browser, legUrl(instance.baseUrl, deck));
    await waitForBrief(page);
    expect((await drawnBands(page, '.section')).map((band) => band.id)).toEqual(
      bandsOf(brief).map((band) => band.id),
    );
    await page.close();
  });

  it('draws the plan view: the bands at the considered altitude, painted as in the cross-section', async () => {
    const brief = await fetchBrief(instance.baseUrl, deck);
    const { page } = await openPage(browser, legUrl(instance.baseUrl, deck));
    const rows = page.locator('tr.row:not(.row-unflyable)');
    await rows.last().click();
    const altitudeFt = Number(await rows.last().getAttribute('data-altitude-ft'));
    const inSection = new Map((await drawnBands(page, '.section')).map((band) => [band.id, band.paints]));
    const inPlan = await drawnBands(page, '.plan-svg');
    const expected = bandsOf(brief).filter((band) => band.lowerFt <= altitudeFt && altitudeFt < band.upperFt);
    expect(inPlan.map((band) => band.id)).toEqual(expected.map((band) => band.id));
    expect(inPlan.length).toBeGreaterThan(1);
    for (const band of inPlan) expect(band.paints).toBe(inSection.get(band.id));
    await page.close();
  });

  it('fills a gap between bands with hatching, in both views', async () => {
    const brief = await fetchBrief(instance.baseUrl, deck);
    const torn = {
      ...brief,
      features: brief.features.filter((feature) => feature.properties.kind !== 'icing-band'),
    };
    const { page } = await openPage(browser, instance.baseUrl);
    await page.route('**/api/brief', (route) => route.fulfill({ json: torn }));
    await page.getByRole('button', { name: deck.title }).click();
    await waitForBrief(page);
    await page.addStyleTag({ content: '.axes, .line-labels, .cursor, .terrain { display: none }' });
    expect(await page.locator('.plan-corridor [data-look="unknown"]').count()).toBe(1);
    const section = (await page.locator('svg.section').boundingBox())!;
    const clip = {
      x: Math.round(section.x + section.width / 3),
      y: Math.round(section.y + section.height / 5),
      width: 30,
      height: 30,
    };
    expect((await colorsOnScreen(page, clip)).size).toBeGreaterThan(1);
    await page.close();
  });
});

/** Identities that the map says it shows, once it rests. */
async function mapFeatures(page: Page): Promise<string[]> {
  const names = await page.locator('.plan-map[data-feature-ids]').getAttribute('data-feature-ids');
  return (names ?? '').split(' ').sort();
}

describe('the map', () => {
  it('shows the features of the cross-section: flat those of the altitude, standing all that are in view', async () => {
    const brief = await fetchBrief(instance.baseUrl, deck);
    const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, deck));
    await page.locator('.plan-has-map').waitFor();
    const drawn = await drawnBands(page, '.plan-svg');
    const altitudeFt = Number(await page.locator('.handle-altitude').getAttribute('aria-valuenow'));
    expect(drawn.map(({ id }) => id)).toEqual(
      bandsOf(brief)
        .filter((band) => band.lowerFt <= altitudeFt && altitudeFt < band.upperFt)
        .map(({ id }) => id),
    );
    await expect.poll(() => mapFeatures(page)).toEqual(drawn.map(({ id }) => id).sort());
    const height = (await page.locator('.plan').boundingBox())!.height;
    const tilt = page.getByRole('button', { name: 'Tilt' });
    await tilt.focus();
    await page.keyboard.press('Enter');
    expect(await tilt.getAttribute('aria-pressed')).toBe('true');
    expect(await page.locator('.wall-words').textContent()).toMatch(/heights \d+-fold/);
    expect((await page.locator('.plan').boundingBox())!.height).toBe(height);
    const inView = await bandsInView(page);
    expect(inView.length).toBeGreaterThan(drawn.length);
    await expect.poll(() => mapFeatures(page), { timeout: 10_000 }).toEqual(inView);
    await page.keyboard.press('Enter');
    await expect.poll(() => mapFeatures(page), { timeout: 10_000 }).toEqual(drawn.map(({ id }) => id).sort());
    expect(complaints).toEqual([]);
    await page.close();
  });

  it.each(['light', 'dark'] as const)(
    'hatches unknown on the standing curtain, never as paper, %s',
    async (theme) => {
      const { page } = await openPage(browser, legUrl(instance.baseUrl, gap), { theme });
      await page.locator('.plan-has-map').waitFor();
      await page.getByRole('button', { name: 'Tilt' }).click();
      await page.locator('.plan-frame').scrollIntoViewIfNeeded();
      await page.addStyleTag({ content: '.plan-marks { display: none }' });
      const frame = (await page.locator('.plan-map canvas').boundingBox())!;
      const at = (share: number) => ({
        x: Math.round(frame.x + frame.width * share),
        y: Math.round(frame.y + frame.height * 0.42),
        width: 24,
        height: 24,
      });
      const unknownInks = await page.evaluate(() =>
        ['--unknown-ground', '--unknown-line'].map((name) =>
          getComputedStyle(document.documentElement).getPropertyValue(name).trim().slice(1),
        ),
      );
      await expect
        .poll(async () => [...(await colorsOnScreen(page, at(0.74))).keys()], { timeout: 20_000 })
        .toEqual(expect.arrayContaining(unknownInks));
      const clear = [...(await colorsOnScreen(page, at(0.3))).keys()];
      for (const color of unknownInks) expect(clear).not.toContain(color);
      await keepScreenshot(page, `standing-${theme}`);
      await page.close();
    },
  );

  it('stands up at once where less motion is asked for', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, gap));
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await page.reload();
    await page.locator('.plan-has-map').waitFor();
    const fixes = () =>
      page
        .locator('.plan-marks .mark-fix circle')
        .evaluateAll((circles) => circles.map((circle) => Number(circle.getAttribute('cx'))));
    const flat = await fixes();
    await page.getByRole('button', { name: 'Tilt' }).click();
    const atOnce = await fixes();
    expect(atOnce).not.toEqual(flat);
    await page.waitForTimeout(1000);
    expect(await fixes()).toEqual(atOnce);
    await page.close();
  });

  it('is offered with buttons beside it that cover nothing of it', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, deck), { width: 360 });
    await page.locator('.plan-has-map').waitFor();
    const frame = (await page.locator('.plan-frame').boundingBox())!;
    for (const name of ['Zoom in', 'Zoom out', 'Tilt']) {
      const box = (await page.getByRole('button', { name }).boundingBox())!;
      expect(box.y + box.height).toBeLessThanOrEqual(frame.y);
    }
    await page.close();
  });
});

/** Bands of which the cross-section shows a part: it draws all of them, some beyond its own edges. */
async function bandsInView(page: Page): Promise<string[]> {
  return page.locator('.section').evaluate((section) => {
    const axis = [...section.querySelectorAll('.grid-line')].map((one) => one.getBoundingClientRect());
    const whole = section.getBoundingClientRect();
    const bottom = Math.max(...axis.map((box) => box.bottom));
    return [...section.querySelectorAll('[data-feature-id^="band-"]')]
      .filter((band) => {
        const box = band.getBoundingClientRect();
        return Math.min(box.bottom, bottom) - Math.max(box.top, whole.top) > 1;
      })
      .map((band) => band.getAttribute('data-feature-id')!)
      .sort();
  });
}

describe('the table', () => {
  it.each([820, 1280, 2560])(
    'has each row level with its altitude in the cross-section at %i px',
    async (width) => {
      const { page } = await openPage(browser, legUrl(instance.baseUrl, deck), { width, height: 1200 });
      await waitForBrief(page);
      const middles = (selector: string, attribute: string) =>
        page.locator(selector).evaluateAll(
          (elements, name) =>
            elements.map((element) => {
              const box = element.getBoundingClientRect();
              return [Number(element.getAttribute(name)), (box.top + box.bottom) / 2] as const;
            }),
          attribute,
        );
      const rows = await middles('tr.row', 'data-altitude-ft');
      const lines = new Map(
        await page.locator('[data-axis-ft]').evaluateAll((groups) =>
          groups.map((group) => {
            const box = group.querySelector('.grid-line')!.getBoundingClientRect();
            return [Number(group.getAttribute('data-axis-ft')), (box.top + box.bottom) / 2] as const;
          }),
        ),
      );
      expect(rows.length).toBeGreaterThan(5);
      const compared = rows.filter(([feet]) => lines.has(feet));
      expect(compared.length).toBe(rows.length);
      for (const [feet, middle] of compared)
        expect(Math.abs(middle - lines.get(feet)!)).toBeLessThanOrEqual(1);
      await page.close();
    },
  );

  it.each([360, 820, 1280, 2560])(
    'and nothing else makes the page wider than the screen at %i px',
    async (width) => {
      for (const leg of [deck, gap]) {
        const { page } = await openPage(browser, legUrl(instance.baseUrl, leg), { width });
        await waitForBrief(page);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        await page.close();
      }
    },
  );
});

describe('the plan view', () => {
  it('becomes a map that can be moved where there is WebGL', async () => {
    const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, deck));
    await page.locator('.plan-has-map canvas').waitFor();
    const canvas = (await page.locator('.plan-map canvas').boundingBox())!;
    await page.locator('.plan-frame').scrollIntoViewIfNeeded();
    const shown = (await page.locator('.plan-map canvas').boundingBox())!;
    expect(canvas.width).toBeGreaterThan(200);
    expect((await colorsOnScreen(page, shown)).size).toBeGreaterThan(4);
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('stays a drawing without WebGL, and the page is complete', async () => {
    const bare = await launchBrowser(['--disable-3d-apis']);
    const { page, complaints } = await openPage(bare, legUrl(instance.baseUrl, deck));
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.locator('.plan-land').waitFor({ state: 'attached' });
    await page.waitForLoadState('networkidle');
    expect(await page.locator('.plan-svg').isVisible()).toBe(true);
    expect(await page.locator('.plan-has-map').count()).toBe(0);
    expect(asked.filter((url) => url.includes('map-plan'))).toEqual([]);
    expect((await drawnBands(page, '.plan-svg')).length).toBeGreaterThan(0);
    expect(complaints).toEqual([]);
    await bare.close();
  });
});
