/** What the description and the page of documentation say of every call alike. */
import { type AccessKind, type Call, limitOf } from '../schema/call.ts';

export const ACCESS_WORDS: Readonly<Record<AccessKind, string>> = {
  open: 'Anybody may call it; no key is looked at.',
  read: "Anybody may call it. With a key its operator's own data are read too; a wrong key is refused. A key of a board goes with the header X-Rimeway-Board, which names the board.",
  operator: "Needs an operator's key.",
  'board-view': "Needs a key of the board that lets look at it, or its operator's key.",
  'board-edit': "Needs a key of the board that lets change it, or its operator's key.",
  'board-own': "Needs the key of the board's operator.",
  'brief-key': 'Needs the key that was told when the brief was shared.',
};

/** Empty for a call that is not counted. */
export function limitWords(call: Call): string {
  switch (limitOf(call)) {
    case undefined:
      return '';
    case 'storing':
      return 'At most 60 from one address without a key within ten minutes, and 200 a day; 600 with a key. More answer 429.';
    case 'writing':
      return `At most ${mostWrites(call.access)} within ten minutes. More answer 429.`;
  }
}

function mostWrites(access: AccessKind): string {
  if (access === 'operator') return '6,000';
  return access.startsWith('board-')
    ? '600 by a link to the board or a sign-in, and 6,000 by the operator,'
    : '60 from one address without a key';
}

export const STATUS_WORDS: Readonly<Record<number, string>> = {
  101: 'The connection is a WebSocket now',
  200: 'Done',
  201: 'Stored',
  202: 'Asked for',
  204: 'Done; nothing to tell',
  304: 'The same as the caller has',
  422: 'Nothing could be kept; the reasons',
  503: 'The service is not well',
};

export const UNITS =
  'Times are UTC, ISO 8601. Altitudes are feet, speeds knots, distances nautical miles, temperatures degrees Celsius, durations minutes, fluid liters, as each field is named. Missing is not clear: what is not known is null or says unknown, and never counts as free of ice.';
