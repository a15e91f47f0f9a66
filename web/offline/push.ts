/** Shows what a board tells while nobody looks at it, and opens the board at a touch. */
import { boardPathOf, noticeOf } from './push-notice.ts';

declare const self: ServiceWorkerGlobalScope;

/** Replaces an earlier notice aloud; not every browser's list of options names it. */
type NoticeOptions = NotificationOptions & { readonly renotify: boolean };

/** Has the service worker listen to push messages and to touches of their notices. */
export function listenToPush(): void {
  self.addEventListener('push', (event) => {
    const { title, body, topic, path } = noticeOf(event.data?.text(), self.location.origin);
    const options: NoticeOptions = { body, tag: topic, renotify: true, icon: '/mark.svg', data: { path } };
    event.waitUntil(self.registration.showNotification(title, options));
  });
  self.addEventListener('notificationclick', (event) => {
    event.notification.close();
    const { path } = Object(event.notification.data) as { path?: unknown };
    event.waitUntil(openBoard(boardPathOf(path, self.location.origin)));
  });
}

/** The tab that has it open already, or else a new one; without a path any board that is open. */
async function openBoard(path: string | undefined): Promise<void> {
  const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  const wanted = path === undefined ? undefined : new URL(path, self.location.origin).pathname;
  const open = windows.find(({ url }) => {
    const { pathname } = new URL(url);
    return wanted === undefined ? pathname.startsWith('/board/') : pathname === wanted;
  });
  if (open === undefined) await self.clients.openWindow(path ?? '/');
  else await open.focus();
}
