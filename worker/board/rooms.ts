/** The Worker's way to the live connections of a board: one room a board, named by it. */
import type { DurableObjectNamespace } from '@cloudflare/workers-types';
import { AccessError, AppBug, LiveError } from '../errors.ts';
import type { BoardRooms } from '../sources/boards.ts';

/** The subprotocol that is answered. The key comes in another one, which goes no further than the Worker. */
export const LIVE_PROTOCOL = 'rimeway-board';
/** Says to a room whose key opened a connection. */
export const KEY_ID_HEADER = 'x-rimeway-key-id';

/** What a room answers to; room.ts itself only runs in workerd. */
interface Room {
  fetch(url: string, init: RequestInit): Promise<Response>;
  publish(text: string): Promise<void>;
  close(keyId: string): Promise<void>;
  viewers(): Promise<number>;
}

/** @param namespace  Of BoardRoom. */
export function createBoardRooms(namespace: DurableObjectNamespace): BoardRooms {
  const room = (boardId: string) => namespace.get(namespace.idFromName(boardId)) as unknown as Room;
  return {
    connect: async (boardId, keyId, request) => {
      if (request.headers.get('upgrade')?.toLowerCase() !== 'websocket') throw new LiveError('upgrade');
      const answer = await room(boardId).fetch('https://room/', { headers: headersOf(request, keyId) });
      if (answer.status === 101) return answer;
      if (answer.status === 401) throw new AccessError('wrong');
      if (answer.status === 503) throw new LiveError('full');
      throw new AppBug(`room: found status ${answer.status}, expected 101`);
    },
    publish: async (boardId, message) => room(boardId).publish(JSON.stringify(message)),
    close: async (boardId, keyId) => room(boardId).close(keyId),
    viewers: async (boardId) => room(boardId).viewers(),
  };
}

function headersOf(request: Request, keyId: string): Record<string, string> {
  const offered = (request.headers.get('sec-websocket-protocol') ?? '').split(',').map((name) => name.trim());
  return {
    upgrade: 'websocket',
    [KEY_ID_HEADER]: keyId,
    ...(offered.includes(LIVE_PROTOCOL) ? { 'sec-websocket-protocol': LIVE_PROTOCOL } : {}),
  };
}
