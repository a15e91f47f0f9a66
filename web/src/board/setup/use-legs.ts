/** The legs of a board, asked for again after every change. */
import { useCallback, useEffect, useState } from 'preact/hooks';
import type { LegsAnswer, ScheduleLeg } from '../../../../worker/schema/board.ts';
import {
  deleteBoardLeg,
  getBoardLegs,
  postBoardLegs,
  putBoardLeg,
} from '../../../../worker/schema/calls-board.ts';
import type { Answer } from '../../client/answer.ts';
import { call } from '../../client/call.ts';
import { useWriting, type Writing } from './use-writing.ts';

export interface Legs {
  /** undefined while they are asked for first. */
  readonly answer: Answer<LegsAnswer> | undefined;
  readonly writing: Writing;
  readonly reload: () => void;
  readonly add: (leg: ScheduleLeg) => Promise<boolean>;
  readonly change: (id: string, leg: ScheduleLeg) => Promise<boolean>;
  readonly remove: (id: string, name: string) => void;
}

export function useLegs(boardId: string, boardKey: string): Legs {
  const [answer, setAnswer] = useState<Answer<LegsAnswer>>();
  const [turn, setTurn] = useState(0);
  const writing = useWriting();
  const options = { key: boardKey };
  const path = { board: boardId };
  useEffect(() => {
    const stop = new AbortController();
    call(getBoardLegs, { path: { board: boardId } }, { key: boardKey, signal: stop.signal }).then((found) => {
      if (!stop.signal.aborted) setAnswer(found);
    });
    return () => stop.abort();
  }, [boardId, boardKey, turn]);
  const reload = useCallback(() => setTurn((before) => before + 1), []);
  const reloaded = (isDone: boolean) => {
    if (isDone) reload();
    return isDone;
  };
  return {
    answer,
    writing,
    reload,
    add: async (leg) =>
      reloaded(
        await writing.write(
          () => call(postBoardLegs, { path, body: { replace: false, legs: [leg] } }, options),
          () => `Added: ${leg.label}. Its flights come onto the board within some minutes.`,
        ),
      ),
    change: async (id, leg) =>
      reloaded(
        await writing.write(
          () => call(putBoardLeg, { path: { ...path, leg: id }, body: leg }, options),
          () => `Changed: ${leg.label}. Flights that have departed stay as they are.`,
        ),
      ),
    remove: async (id, name) => {
      reloaded(
        await writing.write(
          () => call(deleteBoardLeg, { path: { ...path, leg: id } }, options),
          () => `Removed: ${name}.`,
        ),
      );
    },
  };
}
