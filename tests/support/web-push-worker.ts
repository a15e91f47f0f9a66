/** A Worker that sends one push as it is told, with the platform's own fetch and cryptography. */
import type { PushMessage, PushSubscriber } from '../../worker/sources/boards.ts';
import type { PushKeys } from '../../worker/sources/push-keys.ts';
import { createPushSender } from '../../worker/sources/web-push.ts';

export interface PushErrand {
  readonly keys: PushKeys;
  readonly subscriber: PushSubscriber;
  readonly message: PushMessage;
}

export default {
  async fetch(request: Request): Promise<Response> {
    const { keys, subscriber, message } = (await request.json()) as PushErrand;
    const sender = createPushSender({
      keys,
      allowedHosts: ['push.example.net'],
      fetch: (url, init) => fetch(url, init),
      sleep: async () => {},
      deadline: () => AbortSignal.timeout(500),
    });
    return Response.json(await sender.send(subscriber, message));
  },
};
