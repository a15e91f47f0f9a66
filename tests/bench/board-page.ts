/**
 * The page of a board with 2,000 legs: its first drawing and the longest task while it scrolls, as CPU of the page's own thread times
 * four: what a phone four times as slow would spend, whatever else this machine does meanwhile. Argument: how many legs. Expects a build.
 */
import type { Browser, Page } from 'playwright-core';
import { startBoardStage } from '../browser/board-stage.ts';
import { launchBrowser, openPage, WITHOUT_MAP } from '../browser/open-page.ts';
import { inventedBoard } from '../support/invented-board.ts';

const LEGS = Number(process.argv[2] ?? 2000);
const SLOWER = 4;
const MOST_MS = 50;
const WIDTHS = [360, 1280, 2560];
const PHONE_PX = 360;
const TURNS = 60;
/** Loading and its late work are over. */
const SETTLED_MS = 8000;

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  /** CPU of the thread, microseconds. */
  readonly tdur?: number;
  readonly args?: { readonly name?: string };
}

/** CPU of each task of the page's thread, ms on a device four times as slow. */
async function tasksMs(browser: Browser): Promise<number[]> {
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as {
    traceEvents: TraceEvent[];
  };
  const thread = ({ pid, tid }: TraceEvent) => `${pid} ${tid}`;
  const isMain = ({ name, args }: TraceEvent) => name === 'thread_name' && args?.name === 'CrRendererMain';
  const mains = new Set(traceEvents.filter(isMain).map(thread));
  return traceEvents
    .filter((event) => event.name.endsWith('RunTask') && event.ph === 'X' && mains.has(thread(event)))
    .map(({ tdur = 0 }) => (tdur / 1000) * SLOWER)
    .sort((a, b) => b - a);
}

const trace = (browser: Browser, page: Page) =>
  browser.startTracing(page, { categories: ['toplevel', 'devtools.timeline', '__metadata'] });

async function measure(browser: Browser, link: string, width: number): Promise<void> {
  const isPhone = width === PHONE_PX;
  const looks = { width, height: isPhone ? 780 : 1300, isTouch: isPhone };
  const { page } = await openPage(browser, new URL('/mark.svg', link).href, looks);
  await page.routeWebSocket(/\/live$/, (route) =>
    route.onMessage((text) => {
      if (text === 'ping') route.send('pong');
    }),
  );
  await trace(browser, page);
  await page.goto(link);
  await page.locator('.flight-row').first().waitFor();
  const first = await tasksMs(browser);
  await page.waitForTimeout(SETTLED_MS);
  await page.mouse.move(200, 500);
  await trace(browser, page);
  for (let turn = 0; turn < TURNS; turn += 1) {
    await page.mouse.wheel(0, 300 + (turn % 5) * 120);
    await page.waitForTimeout(30);
  }
  const scroll = await tasksMs(browser);
  const over = scroll.filter((ms) => ms > MOST_MS).length;
  process.stdout.write(
    `${String(width).padStart(5)} px: first drawing ${first.reduce((sum, ms) => sum + ms, 0).toFixed(0)} ms in all; ` +
      `scrolling: longest ${scroll
        .slice(0, 3)
        .map((ms) => ms.toFixed(0))
        .join(', ')} ms, ${over} of ${scroll.length} tasks over ${MOST_MS}\n`,
  );
  await page.close();
}

const stage = await startBoardStage(inventedBoard(LEGS));
const browser = await launchBrowser(WITHOUT_MAP);
process.stdout.write(`${LEGS} legs, CPU of the page's thread times ${SLOWER}\n`);
for (const width of WIDTHS) await measure(browser, stage.link, width);
await browser.close();
await stage.stop();
