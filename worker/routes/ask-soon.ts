/** After a write: what is due goes to the queue at once, and viewers hear of what was written. */
import type { Context } from 'hono';
import { askForDue } from '../board/watch.ts';
import { faultLine } from '../log.ts';
import { afterAnswer } from './after-answer.ts';
import type { AppEnv } from './app-env.ts';

/** What fails here is done by the next round of the schedule. */
export function askSoon(context: Context<AppEnv>): Promise<void> {
  const { deps, settings, board } = context.var;
  const work = async () => {
    try {
      await deps.publishBoard(board.id);
      await askForDue({
        ...deps,
        boardId: board.id,
        openOperators: settings.openOperators,
        send: deps.sendFlights,
      });
    } catch (error) {
      console.error(faultLine('flights-not-asked-for', error));
    }
  };
  return afterAnswer(context, work());
}

/** Viewers alone. */
export function tellSoon(context: Context<AppEnv>): Promise<void> {
  const { deps, board } = context.var;
  const work = async () => {
    try {
      await deps.publishBoard(board.id);
    } catch (error) {
      console.error(faultLine('viewers-not-told', error));
    }
  };
  return afterAnswer(context, work());
}
