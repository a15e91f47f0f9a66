/** The last answer of a board, kept on this device for when nobody answers. Rows are written out a few at a time: 2,000 at once would hold the page. */
import { type BoardAnswer, boardAnswerSchema } from '../../../worker/schema/board.ts';
import { whenIdle } from '../when-idle.ts';

const CACHE = 'rimeway-boards';
const KEPT_AT = 'x-kept-at-ms';
const ROWS_AT_ONCE = 40;

const addressOf = (boardId: string) => `/kept-board/${boardId}`;

export interface KeptBoard {
  readonly answer: BoardAnswer;
  /** On this device's clock. */
  readonly keptMs: number;
}

const texts = new WeakMap<object, string>();

function textOf(row: object): string {
  let text = texts.get(row);
  if (text === undefined) {
    text = JSON.stringify(row);
    texts.set(row, text);
  }
  return text;
}

const idle = () => new Promise<void>((resolve) => whenIdle(resolve));

/** @returns  Whether it is kept: storage may be refused, or full. */
export async function keepBoard(answer: BoardAnswer, keptMs: number): Promise<boolean> {
  const { flights, ...rest } = answer;
  const parts: string[] = [`${JSON.stringify(rest).slice(0, -1)},"flights":[`];
  for (let at = 0; at < flights.length; at += ROWS_AT_ONCE) {
    await idle();
    const rows = flights.slice(at, at + ROWS_AT_ONCE).map(textOf);
    parts.push(`${at === 0 ? '' : ','}${rows.join(',')}`);
  }
  parts.push(']}');
  try {
    const headers = { [KEPT_AT]: String(keptMs), 'content-type': 'application/json' };
    await (await caches.open(CACHE)).put(
      addressOf(answer.board.id),
      new Response(new Blob(parts), { headers }),
    );
    return true;
  } catch {
    return false;
  }
}

/** undefined for none, and for one that does not keep to today's contract. */
export async function keptBoard(boardId: string): Promise<KeptBoard | undefined> {
  try {
    const response = await (await caches.open(CACHE)).match(addressOf(boardId));
    if (response === undefined) return undefined;
    const keptMs = Number(response.headers.get(KEPT_AT) ?? 'none');
    const { data } = boardAnswerSchema.safeParse(await response.json());
    return data === undefined || !Number.isFinite(keptMs) ? undefined : { answer: data, keptMs };
  } catch {
    return undefined;
  }
}

/** A link that is refused opens nothing that was kept either. */
export async function forgetBoard(boardId: string): Promise<void> {
  try {
    await (await caches.open(CACHE)).delete(addressOf(boardId));
  } catch {
    // Nothing is kept then.
  }
}
