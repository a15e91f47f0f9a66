/** What a push message says: read with distrust, for whoever knows the address of a subscription may have sent it. */

export interface Notice {
  readonly title: string;
  readonly body: string;
  /** A later notice of the same topic takes an earlier one's place. */
  readonly topic: string;
  /** Of the board, to open at a touch; undefined where the message named none. */
  readonly path: string | undefined;
}

/** Something is shown whatever came: a browser takes the subscription back from a page that stays silent. */
export const UNREAD_NOTICE: Notice = {
  title: 'The board changed',
  body: 'Open the board to see what is another.',
  topic: 'board',
  path: undefined,
};

const LONGEST_TITLE = 120;
const LONGEST_BODY = 400;
const TOPIC = /^[A-Za-z0-9_-]{1,32}$/;

/** @param text  JSON of title, body, path and topic; anything else gives the notice that says only that something changed. */
export function noticeOf(text: string | undefined, origin: string): Notice {
  const message = membersOf(text);
  const [title, body, topic] = ['title', 'body', 'topic'].map((name) => message[name]);
  const path = boardPathOf(message.path, origin);
  const isWhole = isText(title, LONGEST_TITLE) && isText(body, LONGEST_BODY) && isText(topic, 32);
  if (!isWhole || path === undefined || !TOPIC.test(topic)) return UNREAD_NOTICE;
  return { title, body, topic, path };
}

/** A path of a board on this origin, as the address bar would show it; undefined for everything else. */
export function boardPathOf(path: unknown, origin: string): string | undefined {
  if (typeof path !== 'string' || !path.startsWith('/board/') || !URL.canParse(path, origin))
    return undefined;
  const address = new URL(path, origin);
  if (address.origin !== origin || !address.pathname.startsWith('/board/')) return undefined;
  return address.pathname + address.search;
}

function membersOf(text: string | undefined): Readonly<Record<string, unknown>> {
  try {
    const message: unknown = JSON.parse(text ?? '');
    return typeof message === 'object' && message !== null ? { ...message } : {};
  } catch {
    return {};
  }
}

function isText(value: unknown, longest: number): value is string {
  return typeof value === 'string' && value.trim() !== '' && value.length <= longest;
}
