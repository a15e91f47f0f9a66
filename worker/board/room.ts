/// <reference path="./cloudflare-workers.d.ts" />
/**
 * The live connections of one board, in a Durable Object that sleeps between messages while its sockets stay open. It keeps nothing:
 * what a viewer missed, the viewer asks for.
 */
import { DurableObject } from 'cloudflare:workers';
import type { DurableObjectState, WebSocket } from '@cloudflare/workers-types';
import { KEY_ID_HEADER, LIVE_PROTOCOL } from './rooms.ts';

const MOST_VIEWERS = 2000;
/** Viewers have nothing to say but "ping", which is answered without waking the room. */
const LONGEST_MESSAGE = 64;
const MOST_MESSAGES = 4;
const POLICY_VIOLATION = 1008;
const NORMAL = 1000;
const OPEN = 1;

export class BoardRoom extends DurableObject {
  protected readonly mostViewers: number = MOST_VIEWERS;
  /** An upgrade that was on its way when its key was revoked comes too late. */
  readonly #revoked = new Set<string>();

  constructor(ctx: DurableObjectState, bindings: unknown) {
    super(ctx, bindings);
    ctx.setWebSocketAutoResponse(new WebSocketRequestResponsePair('ping', 'pong'));
  }

  /** Only the Worker calls, with an upgrade; see rooms.ts. */
  fetch(request: Request): Response {
    const keyId = request.headers.get(KEY_ID_HEADER) ?? '';
    if (this.#revoked.has(keyId)) return new Response(null, { status: 401 });
    if (this.viewers() >= this.mostViewers) return new Response(null, { status: 503 });
    const { 0: client, 1: server } = new WebSocketPair();
    this.ctx.acceptWebSocket(server, [keyId]);
    const isOffered = request.headers.get('sec-websocket-protocol') === LIVE_PROTOCOL;
    const headers = isOffered ? { 'sec-websocket-protocol': LIVE_PROTOCOL } : undefined;
    // The platform's own member of a response, which the standard types do not know.
    return new Response(null, { status: 101, headers, webSocket: client } as ResponseInit);
  }

  publish(text: string): void {
    for (const socket of this.ctx.getWebSockets()) send(socket, text);
  }

  /** Ends the connections that a key opened. */
  close(keyId: string): void {
    this.#revoked.add(keyId);
    for (const socket of this.ctx.getWebSockets(keyId)) end(socket, POLICY_VIOLATION, 'link revoked');
  }

  viewers(): number {
    return this.ctx.getWebSockets().filter(({ readyState }) => readyState === OPEN).length;
  }

  webSocketMessage(socket: WebSocket, message: string | ArrayBuffer): void {
    const length = typeof message === 'string' ? message.length : message.byteLength;
    const messages = Number(socket.deserializeAttachment() ?? 0) + 1;
    if (length > LONGEST_MESSAGE || messages > MOST_MESSAGES) {
      end(socket, POLICY_VIOLATION, 'nothing but "ping" is expected');
    } else socket.serializeAttachment(messages);
  }
}

/** One that died throws; the others are still to be told. */
function send(socket: WebSocket, text: string): void {
  try {
    socket.send(text);
  } catch {
    end(socket, NORMAL, '');
  }
}

function end(socket: WebSocket, code: number, reason: string): void {
  try {
    socket.close(code, reason);
  } catch {
    // It is closed already.
  }
}
