import { describe, expect, test } from 'vitest';
import type { AerodromeItem } from '../../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { MetarReport, TafReport } from '../../../worker/formats/aerodrome-reports/report.ts';
import { damaged, seededRandom } from '../../support/text-damage.ts';
import { metar, read, textsOf } from './read-one.ts';

const SOUND =
  'METAR KZZZ 151453Z 02012G20KT 350V060 1 1/2SM R24/1100U -FZDZ OVC008 M02/M03 A2990 RMK AO2 PK WND 02030/1432 FZDZB05 SLP132 P0001 60003 4/012 T10221028 I1001=';
const FORECAST =
  'TAF KZZZ 151130Z 1512/1612 02012KT 9999 -FZRA OVC008 FM151800 VRB03KT 0800 FZFG VV002 TEMPO 1600/1604 SN=';

/** Every group of the text of an item, for the rule that none is lost: told or kept. */
const groupsOf = (item: AerodromeItem) => (item.kind === 'report' ? item.report.text : item.text).split(' ');

/** What a report says, its text apart. */
function said(item: AerodromeItem | undefined): string {
  if (item?.kind !== 'report') return JSON.stringify(item?.kind === 'refused' ? item.reason : undefined);
  return JSON.stringify({ ...item.report, text: '' });
}

describe('a report cut off anywhere', () => {
  test.each([SOUND, FORECAST])('%s', (text) => {
    for (let length = 0; length < text.length; length += 1) {
      const cut = text.slice(0, length);
      const items = read(cut);
      // Nothing, a refusal with its reason, or a report whose groups are those of the text.
      const isCodeLine = ['', 'METAR', 'TAF'].includes(cut.trim());
      expect(items).toHaveLength(isCodeLine ? 0 : 1);
      if (isCodeLine) continue;
      const [item] = items;
      expect(groupsOf(item!)).toEqual(cut.trim().split(' '));
      if (item!.kind === 'refused')
        expect(item!.reason).toMatch(/: found .+, expected |no reports were sent/);
      else expect((item!.report as MetarReport | TafReport).station).toBe('KZZZ');
    }
  });

  test('a report cut inside a group never gives the value of the whole group', () => {
    const whole = metar(SOUND);
    const cut = metar(`${SOUND.slice(0, SOUND.indexOf('A2990') + 4)}=`);
    expect([whole.altimeterInHg, cut.altimeterInHg, textsOf(cut.unread)]).toEqual([29.9, null, ['A299']]);
  });
});

describe('one wrong character in each group', () => {
  const body = SOUND.slice(0, -1).split(' ').slice(3);
  const sound = said(read(SOUND)[0]);

  test.each(body.map((group, index) => [group, index] as const).filter(([group]) => group !== 'RMK'))(
    '%s with a hash for a character is not what it was',
    (group, index) => {
      for (let at = 0; at < group.length; at += 1) {
        const broken = body.with(index, `${group.slice(0, at)}#${group.slice(at + 1)}`);
        const [item] = read(`METAR KZZZ 151453Z ${broken.join(' ')}=`);
        expect(said(item)).not.toBe(sound);
        const report = (item as Extract<AerodromeItem, { kind: 'report' }>).report as MetarReport;
        const kept = [...textsOf(report.unread), ...(report.remarks?.unread ?? [])];
        expect(kept.some((each) => each.includes('#'))).toBe(true);
      }
    },
  );

  test('every group left out changes what the report says', () => {
    for (let index = 0; index < body.length; index += 1) {
      const fewer = body.toSpliced(index, 1);
      expect(said(read(`METAR KZZZ 151453Z ${fewer.join(' ')}=`)[0]), body[index]).not.toBe(sound);
    }
  });
});

describe('random damage', () => {
  test('is read or refused, never thrown, and no group is lost', () => {
    const random = seededRandom(15);
    const file = `SAUS70 KWBC 150000\nMETAR\n${SOUND}\nSPECI KYYY 151500Z 00000KT CAVOK M01/M02 Q1013 NOSIG=\nFTUS41 KWBC 151130\n${FORECAST}\n`;
    let reports = 0;
    let refused = 0;
    for (let turn = 0; turn < 3000; turn += 1) {
      const text = damaged(file, random);
      const items = read(text);
      let at = 0;
      for (const item of items) {
        const { offset, length } = item.place;
        expect(offset).toBeGreaterThanOrEqual(at);
        const slice = text.slice(offset, offset + length);
        const plain = slice.replace(/\s+/g, ' ').replace(/=$/, '').trim();
        expect(groupsOf(item).join(' ')).toBe(plain);
        at = offset + length;
        if (item.kind === 'report') reports += 1;
        else refused += 1;
      }
      expect(at).toBeLessThanOrEqual(text.length);
    }
    expect(reports).toBeGreaterThan(5000);
    expect(refused).toBeGreaterThan(500);
  });
});
