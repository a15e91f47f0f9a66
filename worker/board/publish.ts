/** TEMPORARY */
import type { Board } from '../sources/boards.ts';
import type { Dependencies } from '../sources/ports.ts';
import { boardDelta } from './board-answer.ts';

type D = Pick<Dependencies, 'boards' | 'live' | 'push' | 'nowMs'> & { log: (l: string) => void };
export async function publishBoard({ boards, live, nowMs }: D, board: Board): Promise<number> {
  if (board.seq <= board.publishedSeq) return 0;
  const delta = await boardDelta(boards, board, board.publishedSeq, { nowMs: nowMs() });
  await live.publish(board.id, { kind: 'delta', delta });
  await boards.published(board.id, board.seq);
  return 1;
}
export async function publishAll(d: D): Promise<void> {
  for (const board of await d.boards.unpublished()) await publishBoard(d, board);
}
