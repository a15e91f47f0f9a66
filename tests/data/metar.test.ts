import { describe, expect, test } from 'vitest';
import { type Conditions, isFreezing } from '../../worker/formats/aerodrome-reports/conditions.ts';
import {
  type AerodromeItem,
  readAerodromeText,
} from '../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { MetarReport } from '../../worker/formats/aerodrome-reports/report.ts';
import { CONTEXT, readCollective, say } from './metar-collective.ts';

const { file, items, reports, unique } = readCollective();

// biome-ignore lint/suspicious/noControlCharactersInRegex: the envelope is made of them
const CONTROL = /[\u0000-\u001f\u007f\u00a0]/g;

describe('no byte is lost', () => {
  test('the places of the items lie one behind the other, with nothing between them but the envelope', () => {
    let at = 0;
    let inItems = 0;
    const envelope: string[] = [];
    for (const { place } of items) {
      expect(place.offset).toBeGreaterThanOrEqual(at);
      envelope.push(file.slice(at, place.offset));
      at = place.offset + place.length;
      inItems += place.length;
    }
    envelope.push(file.slice(at));
    expect(at).toBeLessThanOrEqual(file.length);
    const outside = envelope.reduce((sum, each) => sum + each.length, 0);
    say(`bytes: ${file.length} = ${inItems} in reports and refusals + ${outside} of envelope`);
    expect(inItems + outside).toBe(1_614_303);
    const lines = envelope
      .flatMap((each) => each.replace(CONTROL, '\n').split(/[\n=]+/))
      .map((each) => each.trim());
    const isEnvelope =
      /^(?:|\d{3}|[A-Z]{4}\d{0,2} [A-Z]{4} \d{6}(?: [A-Z]{3})?|METAR|SPECI|METAR \d{6}|MTR[A-Z0-9]{3}|NNNN)$/;
    expect(lines.filter((line) => !isEnvelope.test(line))).toEqual([]);
    // Counted by grep over the file: its transmissions, each with one heading.
    expect(lines.filter((line) => /^[A-Z]{4}\d{0,2} [A-Z]{4} \d{6}/.test(line))).toHaveLength(2723);
  });

  test('the texts are those of a second cutting, in the same order', () => {
    expect(items.map((item) => (item.kind === 'report' ? item.report.text : item.text))).toEqual(
      cutAgain(file),
    );
  });

  test('every text is a report, or refused for a reason that is known', () => {
    const count = (isCounted: (item: AerodromeItem) => boolean) => items.filter(isCounted).length;
    const reason = (pattern: RegExp) => count((item) => item.kind === 'refused' && pattern.test(item.reason));
    const kinds = {
      metar: count((item) => item.kind === 'report' && item.report.kind === 'metar' && !item.report.isNil),
      speci: count((item) => item.kind === 'report' && item.report.kind === 'speci'),
      nil: count((item) => item.kind === 'report' && item.report.kind !== 'taf' && item.report.isNil),
      nilWithoutTime: reason(/found "NIL", expected ddhhmmZ; no report was made$/),
      nilBulletin: reason(/^bulletin: found NIL/),
      surfaceAirways: reason(/^code: found SA \(surface airways code\)/),
      noReport: reason(/^station: found|found the end of the report, expected ddhhmmZ$/),
    };
    say(`items: ${items.length}; ${JSON.stringify(kinds)}`);
    expect(Object.values(kinds).reduce((sum, each) => sum + each, 0)).toBe(items.length);
    expect(kinds).toEqual({
      metar: 16_708,
      speci: 1080,
      nil: 948,
      nilWithoutTime: 1540,
      nilBulletin: 43,
      surfaceAirways: 716,
      noReport: 10,
    });
  });

  test('what is refused for want of a station holds no report', () => {
    const refused = items.filter(
      (item) => item.kind === 'refused' && /^station|end of the report/.test(item.reason),
    );
    expect(refused.map((item) => item.kind === 'refused' && item.text).sort()).toEqual([
      '*',
      '/',
      '/',
      '20',
      '3D',
      'DUPE',
      'T00720033\u0090y0150 20072 53005',
      'TX_OPMET',
      'TX_OPMET',
      'WNW',
    ]);
  });
});

/** A second way to cut: bulletins, then lines, then equals signs, with its own rules for what a line is. */
function cutAgain(text: string): string[] {
  return text
    .split('\u0001')
    .flatMap((transmission) => {
      const [, , , ...lines] = transmission
        .replaceAll('\u0003', '')
        .split('\n')
        .map((line) => line.trim());
      const kept = lines.filter((line) => !/^(?:|METAR(?: \d{6})?|SPECI|MTR[A-Z0-9]{3}|NNNN)$/.test(line));
      // A line that names a report begins one, ended or not as the text before it is.
      return kept
        .map((line) => line.replace(/^(?=(?:METAR|SPECI) |[A-Z]{4} \d{6}Z )/, '='))
        .join(' ')
        .split('=');
    })
    .map((each) => each.replace(CONTROL, ' ').replace(/\s+/g, ' ').trim())
    .filter((each) => each !== '');
}

describe('no group is lost', () => {
  test('every group that is left out changes what the report says', () => {
    const said = (text: string) => {
      const [item] = readAerodromeText(`${text}=`, CONTEXT);
      return item?.kind === 'report'
        ? JSON.stringify({ ...item.report, text: '' }, keepMinusZero)
        : item?.kind;
    };
    let groups = 0;
    const lost: string[] = [];
    for (const { text } of unique) {
      const whole = said(text);
      const words = text.split(' ');
      words.forEach((word, index) => {
        // The code's name says no more than the heading.
        if (index === 0 && /^\*?(?:METAR|SPECI)$/.test(word)) return;
        groups += 1;
        if (said(words.toSpliced(index, 1).join(' ')) === whole) lost.push(`${word} of ${text}`);
      });
    }
    say(
      `groups left out one by one: ${groups} of ${unique.length} reports of different text, ${lost.length} lost`,
    );
    expect(groups).toBeGreaterThan(140_000);
    expect(lost).toEqual([]);
  });

  test('of the groups of the bodies all but one in five hundred are understood', () => {
    const unread = unique.flatMap((each) => [
      ...each.unread,
      ...each.trends.flatMap((trend) => trend.unread),
    ]);
    const all = unique.reduce((sum, { text }) => sum + text.replace(/ RMK.*/, '').split(' ').length, 0);
    const remarks = unique.flatMap((each) => each.remarks?.unread ?? []).length;
    say(`not understood: ${unread.length} of ${all} groups of the bodies, ${remarks} words of remarks`);
    expect(unread.length).toBeLessThan(all / 500);
  });
});

function keepMinusZero(_name: string, value: unknown): unknown {
  return Object.is(value, -0) ? '-0' : value;
}

describe('freezing weather', () => {
  /** Freezing rain, drizzle, fog or unknown precipitation; not the word for a sensor that is out. */
  const FREEZING = /FZ(?:RA(?!NO)|DZ|FG|UP)/;

  test('lines of the file that name it, counted by plain search', () => {
    const lines = file.split('\n');
    const named = lines.filter((line) => /FZ(?:RA|DZ|FG)/.test(line));
    const weather = lines.filter((line) => /FZ(?:RA(?!NO)|DZ|FG)/.test(line));
    say(
      `lines with FZRA, FZDZ, FZFG: ${named.length}, of which ${named.length - weather.length} only FZRANO`,
    );
    expect(named).toHaveLength(558);
    expect(weather).toHaveLength(158);
  });

  test('each occurrence in the text of a report stands in its weather, recent weather, a trend or the remarks', () => {
    let occurrences = 0;
    const placesSeen = { present: 0, recent: 0, trend: 0, remarks: 0 };
    for (const report of reports) {
      const found = freezingTexts(report);
      const inText = report.text.split(' ').filter((word) => FREEZING.test(word));
      expect(found.all.sort(), report.text).toEqual(
        inText.map((word) => word.replace(/[BE]\d.*/, '')).sort(),
      );
      occurrences += inText.length;
      for (const name of ['present', 'recent', 'trend', 'remarks'] as const)
        placesSeen[name] += found[name].length;
    }
    say(`freezing groups: ${occurrences} by plain search; found ${JSON.stringify(placesSeen)}`);
    expect(occurrences).toBe(file.match(new RegExp(FREEZING, 'g'))!.length);
    expect(Object.values(placesSeen).reduce((sum, each) => sum + each, 0)).toBe(occurrences);
  });

  test('FZRANO is told by every report that has it', () => {
    const telling = reports.filter(({ notObserved }) => notObserved.includes('freezing-rain'));
    expect(telling.length).toBe(file.match(/FZRANO/g)!.length);
  });

  test('icing that the remarks tell', () => {
    const count = (isCounted: (report: MetarReport) => boolean | undefined) =>
      reports.filter(isCounted).length;
    // By plain search: lines with ` ICG `, and I groups.
    expect(count(({ remarks }) => remarks?.isIceDetected)).toBe(
      file.match(/[\s]ICG(?=\s)(?! MISG)/g)!.length,
    );
    const groups = reports.reduce((sum, { remarks }) => sum + (remarks?.iceAccretion.length ?? 0), 0);
    expect(groups).toBe(file.match(/\sI[136](?:\d{3}|\/\/\/)(?=[\s=])/g)!.length);
    say(`ice accretion groups: ${groups}; ICG: ${count(({ remarks }) => remarks?.isIceDetected)}`);
  });

  function freezingTexts(report: MetarReport) {
    const of = (conditions: Pick<Conditions, 'weather'>) =>
      conditions.weather.filter(isFreezing).map(({ text }) => text);
    const present = of(report);
    const recent = of({ weather: report.recentWeather });
    const trend = report.trends.flatMap(of);
    const { weatherEvents = [], weatherMentioned = [] } = report.remarks ?? {};
    // An event group gives its begin and its end: once a group.
    const events = report.text.split(' ').filter((word) => FREEZING.test(word) && /[BE]\d/.test(word));
    const toldEvents = events.filter((word) =>
      weatherEvents.some(({ weather }) => isFreezing(weather) && word.includes(weather.text)),
    );
    const remarks = [
      ...of({ weather: weatherMentioned }),
      ...toldEvents.map((word) => word.replace(/[BE]\d.*/, '')),
    ];
    return { present, recent, trend, remarks, all: [...present, ...recent, ...trend, ...remarks] };
  }
});
