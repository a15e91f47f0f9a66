/**
 * Keeps the page itself readable without a connection. What the service answers about the air is never kept here: the page keeps
 * its last briefs itself and says how old they are.
 */

import { listenToPush } from './push.ts';

declare const self: ServiceWorkerGlobalScope;

/** Every file of this build, put in by it. */
declare const PAGE_FILES: readonly string[];
/** Changes with any of them. */
declare const BUILD_NAME: string;

const CACHE_NAME = `rimeway-page-${BUILD_NAME}`;
const OLD_CACHES = /^rimeway-page-/;
/** A connection that is too slow for the page is none. */
const PAGE_TIMEOUT_MS = 4000;
/** Lists that hold no weather: those of the last time will do without a connection. */
const KEPT_LISTS = ['/api/aircraft', '/demo-legs.json'];
const PAGE = '/';
/** Links of shared briefs open the same page: it keeps those that were opened. */
const LINKS = /^\/b\/[A-Za-z0-9_-]{22}$/;
/** Whatever board is asked for, the page is the same. */
const BOARD_PAGE = '/board';

self.addEventListener('install', (event) => {
  event.waitUntil(install());
});

self.addEventListener('activate', (event) => {
  event.waitUntil(activate());
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return;
  const page = request.mode === 'navigate' ? pageOf(pathname) : undefined;
  if (page !== undefined) event.respondWith(newestPage(request, page));
  else if (KEPT_LISTS.includes(pathname)) event.respondWith(newestList(request));
  else if (PAGE_FILES.includes(pathname)) event.respondWith(keptFile(request));
});

listenToPush();

async function install(): Promise<void> {
  const cache = await caches.open(CACHE_NAME);
  await cache.addAll([PAGE, ...PAGE_FILES]);
  // The page asked for them before it was kept. Without them it still opens.
  await Promise.allSettled([...KEPT_LISTS.map((path) => newestList(new Request(path))), keepBoardPage()]);
  await self.skipWaiting();
}

async function activate(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(
    names.filter((name) => OLD_CACHES.test(name) && name !== CACHE_NAME).map((name) => caches.delete(name)),
  );
  await self.clients.claim();
}

function pageOf(pathname: string): string | undefined {
  if (pathname === PAGE || LINKS.test(pathname)) return PAGE;
  return pathname === BOARD_PAGE || pathname.startsWith(`${BOARD_PAGE}/`) ? BOARD_PAGE : undefined;
}

/** An instance without boards answers it with none. */
async function keepBoardPage(): Promise<void> {
  const response = await fetch(BOARD_PAGE);
  if (response.ok && response.headers.get('content-type')?.includes('html'))
    await (await caches.open(CACHE_NAME)).put(BOARD_PAGE, response);
}

/** The address's query belongs to the page, not to the file. */
async function newestPage(request: Request, page: string): Promise<Response> {
  try {
    const response = await fetch(request.url, { signal: AbortSignal.timeout(PAGE_TIMEOUT_MS) });
    if (response.ok) return response;
  } catch {
    // Not reached: the kept one.
  }
  return (await kept(page)) ?? Response.error();
}

/** Only an answer that is a list takes the place of the kept one: not an error, nor the page of a proxy. */
async function newestList(request: Request): Promise<Response> {
  let response: Response | undefined;
  try {
    response = await fetch(request.url, { signal: AbortSignal.timeout(PAGE_TIMEOUT_MS) });
  } catch {
    // Not reached: the kept one.
  }
  if (response?.ok && response.headers.get('content-type')?.includes('json')) {
    await keep(request, response.clone());
    return response;
  }
  return (await kept(request)) ?? response ?? Response.error();
}

/** Without room for it the page goes on with what it was answered. */
async function keep(request: Request, response: Response): Promise<void> {
  try {
    await (await caches.open(CACHE_NAME)).put(request.url, response);
  } catch {
    // No room.
  }
}

async function keptFile(request: Request): Promise<Response> {
  return (await kept(request)) ?? fetch(request);
}

async function kept(request: Request | string): Promise<Response | undefined> {
  return (await caches.open(CACHE_NAME)).match(request, { ignoreVary: true });
}
