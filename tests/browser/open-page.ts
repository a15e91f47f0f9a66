/** A real browser on the real page: opens it, and keeps what the console complained about. */
import { mkdirSync, readFileSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';
import { legTextFromRequest, queryFromLegText } from '../../web/src/url-state.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';

const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // Chromium draws the list below its own address bar as two more pages a window: they took a second core while ours loaded.
  '--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup',
];

/** For tests that are not about the map: drawn without a graphics card it takes most of a page's time. */
export const WITHOUT_MAP = ['--disable-3d-apis'];

export function launchBrowser(moreFlags: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
    args: [...FLAGS, ...moreFlags],
  });
}

export interface OpenPage {
  readonly page: Page;
  /** Errors and warnings of the console, and errors that nobody caught. */
  readonly complaints: string[];
}

/** Said where a test does not let the page keep itself. */
const BLOCKED = 'Service Worker registration blocked by Playwright';

export interface Looks {
  readonly width?: number;
  readonly height?: number;
  readonly theme?: 'light' | 'dark';
  /** Device pixels a CSS pixel. */
  readonly scale?: number;
  readonly isTouch?: boolean;
  /** The page may keep itself for later: its files then no longer come by the routes of a test. */
  readonly isKept?: boolean;
}

export async function openPage(browser: Browser, url: string, looks: Looks = {}): Promise<OpenPage> {
  const page = await browser.newPage({
    viewport: { width: looks.width ?? 1280, height: looks.height ?? 900 },
    colorScheme: looks.theme ?? 'light',
    deviceScaleFactor: looks.scale ?? 1,
    hasTouch: looks.isTouch === true,
    serviceWorkers: looks.isKept === true ? 'allow' : 'block',
  });
  const complaints: string[] = [];
  page.on('console', (message) => {
    const isComplaint = message.type() === 'error' || message.type() === 'warning';
    if (isComplaint && message.text() !== BLOCKED) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(url);
  return { page, complaints };
}

/** The brief of the page's address is there to its foot, the cards that come late included, and no older one in its place. */
export async function waitForBrief(page: Page): Promise<void> {
  await page.locator('main[aria-busy="false"] .cautions').waitFor();
  await page.locator('main .flight-cards').waitFor();
}

export interface DemoLeg {
  readonly id: string;
  readonly title: string;
  readonly request: BriefRequest;
}

/** One of the demo's own legs, as the page's build copies them. */
export function demoLeg(id: string): DemoLeg {
  const file = new URL('../../sample-soundings/legs.json', import.meta.url);
  const { legs } = JSON.parse(readFileSync(file, 'utf8')) as { legs: DemoLeg[] };
  const leg = legs.find((one) => one.id === id);
  if (leg === undefined) throw new Error(`legs.json: found no leg ${id}, expected one`);
  return leg;
}

/** The same leg with more in the tank. */
export function withFluid(leg: DemoLeg, fluidOnBoardL: number): DemoLeg {
  const { request } = leg;
  return { ...leg, request: { ...request, options: { ...request.options, fluidOnBoardL } } };
}

export function legUrl(baseUrl: string, { request }: DemoLeg): string {
  return `${baseUrl}/?${queryFromLegText(legTextFromRequest(request))}`;
}

/** The same brief, asked for without the page. */
export async function fetchBrief(baseUrl: string, { request }: DemoLeg): Promise<Brief> {
  const response = await fetch(`${baseUrl}/api/brief`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ ...request, options: { ...request.options, curtain: true } }),
  });
  return (await response.json()) as Brief;
}

/** Written only when SCREENSHOT_DIR names a folder. */
export async function keepScreenshot(page: Page, name: string): Promise<void> {
  const folder = process.env.SCREENSHOT_DIR;
  if (folder === undefined || folder === '') return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: `${folder}/${name}.png`, fullPage: true });
}

/** The picture of the README: answer, cross-section and table, without what follows them. */
export async function keepReadmePicture(page: Page): Promise<void> {
  const folder = process.env.SCREENSHOT_DIR;
  if (folder === undefined || folder === '') return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({
    path: `${folder}/readme.png`,
    fullPage: true,
    clip: { x: 0, y: 0, width: 1280, height: 1240 },
  });
}

export interface Clip {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Colors inside a rectangle of what is on the screen, as rrggbb, with how many pixels each has. */
export async function colorsOnScreen(page: Page, clip: Clip): Promise<Map<string, number>> {
  const { data } = await pixelsOnScreen(page, clip);
  const counts = new Map<string, number>();
  for (let at = 0; at < data.length; at += 4) {
    const color = [data[at]!, data[at + 1]!, data[at + 2]!]
      .map((part) => part.toString(16).padStart(2, '0'))
      .join('');
    counts.set(color, (counts.get(color) ?? 0) + 1);
  }
  return counts;
}

/** Four octets a pixel (red, green, blue, opacity), row by row, of a rectangle of what is on the screen. */
export async function pixelsOnScreen(
  page: Page,
  clip: Clip,
): Promise<{ readonly data: readonly number[]; readonly width: number; readonly height: number }> {
  const picture = (await page.screenshot({ clip })).toString('base64');
  return page.evaluate(async (base64) => {
    const image = new Image();
    image.src = `data:image/png;base64,${base64}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.width;
    canvas.height = image.height;
    const pen = canvas.getContext('2d')!;
    pen.drawImage(image, 0, 0);
    const { data } = pen.getImageData(0, 0, image.width, image.height);
    return { data: [...data], width: image.width, height: image.height };
  }, picture);
}
