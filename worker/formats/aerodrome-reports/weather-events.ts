/** Begin and end of weather: w'w'B(hh)mmE(hh)mm, several in one group (`RAB05E30SNB20E55`). */
import type { RemarksDraft, WeatherEvent } from './remarks.ts';
import { lastTimeUntil } from './report-time.ts';
import { readWeather } from './weather-group.ts';

const EVENT_TIME = /([BE])(\d{4}|\d{2})/y;
const EVENT_AHEAD = /^[BE]\d{2}/;

/** @returns  1 when the whole group was read, else 0 and the draft is as before. */
export function takeWeatherEvents(draft: RemarksDraft, group: string, reportMs: number): 0 | 1 {
  const events: WeatherEvent[] = [];
  for (let at = 0; at < group.length; ) {
    const timesAt = endOfWeather(group, at);
    const weather = timesAt > at ? readWeather(group.slice(at, timesAt)) : undefined;
    if (weather === undefined) return 0;
    const times = readTimes(group, timesAt, reportMs);
    if (times === undefined) return 0;
    events.push(...times.events.map((each) => ({ weather, ...each })));
    at = times.end;
  }
  if (events.length === 0) return 0;
  draft.weatherEvents.push(...events);
  return 1;
}

/** Where the letters of one weather end: at the first B or E with figures after it. */
function endOfWeather(group: string, from: number): number {
  let at = from;
  while (at < group.length && !EVENT_AHEAD.test(group.slice(at, at + 3))) at += 1;
  return at;
}

function readTimes(
  group: string,
  from: number,
  reportMs: number,
): { readonly events: Pick<WeatherEvent, 'event' | 'timeMs'>[]; readonly end: number } | undefined {
  const events: Pick<WeatherEvent, 'event' | 'timeMs'>[] = [];
  let end = from;
  EVENT_TIME.lastIndex = from;
  for (let match = EVENT_TIME.exec(group); match !== null; match = EVENT_TIME.exec(group)) {
    const timeMs = lastTimeUntil(match[2]!, reportMs);
    if (timeMs === undefined) return undefined;
    events.push({ event: match[1] === 'B' ? 'began' : 'ended', timeMs });
    end = EVENT_TIME.lastIndex;
  }
  return events.length === 0 ? undefined : { events, end };
}
