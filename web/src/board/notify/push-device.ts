/** Push messages of a board on this device: what the browser allows, and the subscription that it keeps. */
import { deleteBoardPush, getPushKey, postBoardPush } from '../../../../worker/schema/calls-board.ts';
import type { Answer } from '../../client/answer.ts';
import { call } from '../../client/call.ts';
import { storedText, storeText } from '../../device-value.ts';

export interface BoardPerson {
  readonly boardId: string;
  readonly boardKey: string;
  readonly person: string;
}

/** fault: why it stays as it was. */
export type PushState =
  | { readonly kind: 'asking' | 'no-browser' | 'refused' | 'none-sent' | 'off' | 'on' }
  | { readonly kind: 'fault'; readonly isOn: boolean; readonly why: Exclude<Answer<unknown>, { kind: 'ok' }> }
  /** The browser made no subscription. */
  | { readonly kind: 'not-made'; readonly sentence: string };

const SERVICE_WORKER = '/service-worker.js';
const SUBSCRIBED = 'rimeway-board-push';

function canPush(): boolean {
  return 'serviceWorker' in navigator && 'PushManager' in window && 'Notification' in window;
}

/** Asks nobody for anything that they would see. */
export async function pushState(boardId: string, signal: AbortSignal): Promise<PushState> {
  if (!canPush()) return { kind: 'no-browser' };
  const answer = await call(getPushKey, {}, { signal });
  if (answer.kind === 'abandoned') return { kind: 'asking' };
  if (answer.kind !== 'ok') return { kind: 'fault', isOn: await isSubscribed(boardId), why: answer };
  if (answer.value.publicKey === null) return { kind: 'none-sent' };
  if (Notification.permission === 'denied') return { kind: 'refused' };
  return { kind: (await isSubscribed(boardId)) ? 'on' : 'off' };
}

/** Only at a touch: browsers refuse the question otherwise, and so do people. */
export async function switchOn({ boardId, boardKey, person }: BoardPerson): Promise<PushState> {
  if ((await Notification.requestPermission()) !== 'granted') return { kind: 'refused' };
  const answer = await call(getPushKey, {});
  if (answer.kind !== 'ok') return { kind: 'fault', isOn: false, why: answer };
  if (answer.value.publicKey === null) return { kind: 'none-sent' };
  let subscription: PushSubscription;
  try {
    subscription = await subscribed(answer.value.publicKey);
  } catch (error) {
    return { kind: 'not-made', sentence: error instanceof Error ? error.message : String(error) };
  }
  const { endpoint, keys } = subscription.toJSON();
  const body = {
    endpoint: endpoint ?? '',
    keys: { p256dh: keys?.p256dh ?? '', auth: keys?.auth ?? '' },
    by: person,
  };
  const told = await call(postBoardPush, { path: { board: boardId }, body }, { key: boardKey });
  if (told.kind !== 'ok') return { kind: 'fault', isOn: false, why: told };
  keepEndpoints({ ...keptEndpoints(), [boardId]: subscription.endpoint });
  return { kind: 'on' };
}

/** A browser has one subscription for all boards: it ends with the last of them. */
export async function switchOff({ boardId, boardKey }: BoardPerson): Promise<PushState> {
  const { [boardId]: endpoint, ...others } = keptEndpoints();
  if (endpoint !== undefined) {
    const input = { path: { board: boardId }, query: { endpoint } };
    const told = await call(deleteBoardPush, input, { key: boardKey });
    if (told.kind !== 'ok') return { kind: 'fault', isOn: true, why: told };
  }
  keepEndpoints(others);
  if (Object.keys(others).length === 0) await (await currentSubscription())?.unsubscribe();
  return { kind: 'off' };
}

/** One that was made with another key of the service serves no more, and stands in the way. */
async function subscribed(applicationServerKey: string): Promise<PushSubscription> {
  await navigator.serviceWorker.register(SERVICE_WORKER);
  const { pushManager } = await readyInTime();
  const options = { userVisibleOnly: true, applicationServerKey };
  try {
    return await pushManager.subscribe(options);
  } catch (error) {
    const old = await pushManager.getSubscription();
    if (old === null) throw error;
    await old.unsubscribe();
    return pushManager.subscribe(options);
  }
}

const READY_WITHIN_MS = 20_000;

/** A helper whose files cannot be fetched never becomes ready, and says nothing. */
function readyInTime(): Promise<ServiceWorkerRegistration> {
  const late = new Promise<never>((_resolve, reject) => {
    setTimeout(
      () => reject(new Error('the part of the page that shows messages did not start')),
      READY_WITHIN_MS,
    );
  });
  return Promise.race([navigator.serviceWorker.ready, late]);
}

async function currentSubscription(): Promise<PushSubscription | undefined> {
  const registration = await navigator.serviceWorker.getRegistration();
  return (await registration?.pushManager.getSubscription()) ?? undefined;
}

async function isSubscribed(boardId: string): Promise<boolean> {
  const endpoint = keptEndpoints()[boardId];
  return endpoint !== undefined && (await currentSubscription())?.endpoint === endpoint;
}

function keptEndpoints(): Readonly<Record<string, string>> {
  try {
    return Object(JSON.parse(storedText(SUBSCRIBED) ?? '{}')) as Record<string, string>;
  } catch {
    return {};
  }
}

function keepEndpoints(endpoints: Readonly<Record<string, string>>): void {
  storeText(SUBSCRIBED, JSON.stringify(endpoints));
}
