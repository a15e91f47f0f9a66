/** What the Worker logs: one JSON object a line, with the name of an event. Addresses lose their queries, whoever wrote them there. */

const LONGEST_TEXT = 1000;
const MOST_FRAMES = 8;

/** "supply: 3 hours asked for" as an event `supply` with its text. */
export function logLine(line: string): string {
  const at = line.indexOf(': ');
  const [event, text] = at === -1 ? ['note', line] : [line.slice(0, at), line.slice(at + 2)];
  return eventLine(event, { text });
}

/** An event with what belongs to it; texts are cut and without queries of addresses. */
export function eventLine(event: string, fields: Readonly<Record<string, string | number>>): string {
  const shown = Object.entries(fields).map(([name, value]) => [
    name,
    typeof value === 'string' ? withoutQueries(value).slice(0, LONGEST_TEXT) : value,
  ]);
  return JSON.stringify({
    event: withoutQueries(event).slice(0, LONGEST_TEXT),
    ...Object.fromEntries(shown),
  });
}

/** An error as an event: its words, those of its cause, and where it came from. */
export function faultLine(
  event: string,
  error: unknown,
  fields: Readonly<Record<string, string>> = {},
): string {
  if (!(error instanceof Error)) return eventLine(event, { ...fields, fault: String(error) });
  const { cause } = error;
  return eventLine(event, {
    ...fields,
    fault: `${error.name}: ${error.message}`,
    ...(cause instanceof Error ? { cause: `${cause.name}: ${cause.message}` } : {}),
    at: framesOf(error),
  });
}

/** Where it was thrown, without the message that stacks begin with. */
function framesOf({ stack = '' }: Error): string {
  const frames = stack.split('\n').filter((line) => /^\s+at /.test(line));
  return frames
    .slice(0, MOST_FRAMES)
    .map((line) => line.trim())
    .join(' < ');
}

/** Also what comes after a fragment's sign: some links carry their key there. */
function withoutQueries(text: string): string {
  return text.replace(/(\b[a-z][a-z0-9+.-]*:\/\/[^\s?#"'<>]*)[?#][^\s"'<>]*/gi, '$1?…');
}
