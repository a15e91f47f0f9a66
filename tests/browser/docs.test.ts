/** The page of documentation in a browser: nothing too wide, nothing refused by its own policy, usable by everybody. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { keepScreenshot, launchBrowser, openPage, WITHOUT_MAP } from './open-page.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let instance: TestInstance;
let browser: Browser;
beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance({ demo: false }), launchBrowser(WITHOUT_MAP)]);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

interface AxeResults {
  readonly passes: readonly unknown[];
  readonly violations: readonly { id: string; nodes: readonly { target: unknown }[] }[];
}

/** The page lets no script in: it is run from outside. */
async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe);
  const results = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
  );
  expect(results.passes.length).toBeGreaterThan(10);
  return results.violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${String(target)}`));
}

describe.each([
  [360, 'light'],
  [820, 'dark'],
  [1280, 'light'],
] as const)('at %i px, %s', (width, theme) => {
  it('it fits, complains of nothing and has no violation', async () => {
    const { page, complaints } = await openPage(browser, `${instance.baseUrl}/api/docs`, { width, theme });
    await keepScreenshot(page, `docs-${width}-${theme}`);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    expect(await violations(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.close();
  });
});

it('a link to a shape opens it', async () => {
  const { page } = await openPage(browser, `${instance.baseUrl}/api/docs`, { width: 820 });
  const shape = page.locator('#PutTail');
  expect(await shape.isVisible()).toBe(false);
  await page.locator('#putBoardTail a[href="#PutTail"]').click();
  expect(await shape.isVisible()).toBe(true);
  await page.close();
});
