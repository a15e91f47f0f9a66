/** What room.ts uses of the platform beyond the standard web. */

declare module 'cloudflare:workers' {
  export abstract class DurableObject {
    protected readonly ctx: import('@cloudflare/workers-types').DurableObjectState;
    constructor(ctx: import('@cloudflare/workers-types').DurableObjectState, bindings: unknown);
  }
}

declare const WebSocketPair: typeof import('@cloudflare/workers-types').WebSocketPair;
declare const WebSocketRequestResponsePair: typeof import('@cloudflare/workers-types').WebSocketRequestResponsePair;
