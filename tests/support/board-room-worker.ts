/** A Worker that has rooms and does with them as it is told; its middleware is that of the service. */
import type { DurableObjectNamespace } from '@cloudflare/workers-types';
import { Hono } from 'hono';
import { BoardRoom } from '../../worker/board/room.ts';
import { createBoardRooms } from '../../worker/board/rooms.ts';
import { problemResponse, toProblem } from '../../worker/routes/problem.ts';
import type { LiveMessage } from '../../worker/schema/board.ts';

export { BoardRoom };

/** One that is full soon. */
export class SmallRoom extends BoardRoom {
  protected override readonly mostViewers = 2;
}

interface Bindings {
  readonly ROOMS: DurableObjectNamespace;
  readonly SMALL_ROOMS: DurableObjectNamespace;
}

const app = new Hono<{ Bindings: Bindings }>();
app.use(async (context, next) => {
  await next();
  context.header('x-content-type-options', 'nosniff');
});
app.onError((error) => problemResponse(toProblem(error)));

const roomsOf = ({ ROOMS, SMALL_ROOMS }: Bindings, board: string) =>
  createBoardRooms(board.startsWith('small') ? SMALL_ROOMS : ROOMS);

app.get('/live/:board/:key', ({ env, req }) =>
  roomsOf(env, req.param('board')).connect(req.param('board'), req.param('key'), req.raw),
);
app.post('/publish/:board', async ({ env, req, body }) => {
  await roomsOf(env, req.param('board')).publish(req.param('board'), (await req.json()) as LiveMessage);
  return body(null, 204);
});
app.post('/close/:board/:key', async ({ env, req, body }) => {
  await roomsOf(env, req.param('board')).close(req.param('board'), req.param('key'));
  return body(null, 204);
});
app.get('/viewers/:board', async ({ env, req, json }) =>
  json(await roomsOf(env, req.param('board')).viewers(req.param('board'))),
);

export default app;
