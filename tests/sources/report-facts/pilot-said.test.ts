/** What pilots say beside ice that they met; the texts are invented. */
import { describe, expect, it } from 'vitest';
import { readBody, writtenBody } from '../../../worker/store/report-body.ts';
import { onlyReport } from '../../support/invented-reports.ts';

const UA = 'BBBB UA /OV CCC/TM 1150/FL080/TP ZZZZ';
const saidOf = (elements: string) => onlyReport(`${UA}${elements}=`).said;
const AT = 'Pilot report at 11:50 UTC:';

describe('a pilot who says that no ice was met', () => {
  it.each([
    ['/IC NEG', [8000, 8000], 'no ice met 8,000 ft'],
    ['/IC NEG 040-060', [4000, 6000], 'no ice met 4,000-6,000 ft'],
    ['/IC NEG BLO 060', [undefined, 6000], 'no ice met below 6,000 ft'],
  ])('%s is kept with its heights', (elements, [lowerFt, upperFt], words) => {
    expect(saidOf(elements)).toMatchObject({ noIce: true, clouds: [], sentence: `${AT} ${words}` });
    expect(saidOf(elements)!.lowerFt).toBe(lowerFt);
    expect(saidOf(elements)!.upperFt).toBe(upperFt);
  });

  it.each([
    ['that the report is silent about', '/TA M08'],
    ['of which one part was met', '/TA M08/IC NEG BLO 060 LGT 060-080'],
    ['that cannot be read', '/TA M08/IC XYZZY'],
    ['beside freezing rain', '/WX FZRA/TA M08/IC NEG'],
    ['beside ice pellets', '/WX PL/TA M08/IC NEG'],
    ['beside ice in the remarks', '/TA M08/IC NEG/RM PICKED UP LGT RIME ON CLIMB'],
  ])('is never made of ice %s', (_, elements) => {
    expect(saidOf(elements)).toMatchObject({ noIce: false });
  });

  it('adds no ice and takes none away in the report itself', () => {
    expect(onlyReport(`${UA}/IC NEG=`).ice).toEqual([]);
  });
});

describe('cloud and temperature', () => {
  it('layers come the highest first, each with what it states', () => {
    expect(saidOf('/SK BKN030-TOP060/OVC100')).toMatchObject({
      noIce: false,
      clouds: [
        { base: { lowerFt: 10000, upperFt: 10000 }, top: undefined },
        { base: { lowerFt: 3000, upperFt: 3000 }, top: { lowerFt: 6000, upperFt: 6000 } },
      ],
      sentence: `${AT} bases 10,000 ft, tops 6,000 ft`,
    });
  });

  it('tops that vary keep both ends', () => {
    expect(saidOf('/SK OVC040-TOP090-100')?.sentence).toBe(`${AT} tops 9,000-10,000 ft, bases 4,000 ft`);
  });

  it('a sky without a height says nothing, least of all that it is free of cloud', () => {
    expect(saidOf('/SK SKC')).toBeUndefined();
    expect(saidOf('/SK OVC')).toBeUndefined();
  });

  it('a temperature is kept in kelvin', () => {
    expect(saidOf('/TA M08')).toMatchObject({ temperatureK: 265.15, sentence: `${AT} -8 °C` });
  });

  it('cloud of a report of ice is kept too', () => {
    expect(saidOf('/SK OVC040-TOP095/IC LGT RIME 060-080')).toMatchObject({
      noIce: false,
      clouds: [{ top: { upperFt: 9500 } }],
    });
  });

  it('a sentence has fewer than 14 words however much was said', () => {
    const { sentence, clouds } = saidOf('/SK BKN030-TOP060/OVC100-TOP150/TA M08/IC NEG BLO 060')!;
    expect(sentence).toBe(`${AT} no ice met below 6,000 ft`);
    expect(clouds).toHaveLength(2);
    for (const one of [sentence, saidOf('/SK OVC040-TOP095/TA M08/IC NEG')!.sentence])
      expect(one.split(' ').length).toBeLessThan(14);
  });
});

it('a report without a time says nothing: nobody can tell how old it is', () => {
  expect(onlyReport('BBBB UA /OV CCC/FL080/TP ZZZZ/IC NEG=').said).toBeUndefined();
});

describe('the kept body', () => {
  it('reads back with everything that was said', () => {
    const report = onlyReport(`${UA}/SK BKN030-TOP060/OVC100/TA M08/IC NEG BLO 060=`);
    const read = readBody(writtenBody(report));
    expect(JSON.parse(JSON.stringify(read?.said))).toEqual(JSON.parse(JSON.stringify(report.said)));
  });

  it('of an older row, which has none of it, still reads', () => {
    const { areas, ice, isDoubtful } = onlyReport(`${UA}/IC SEV CLR=`);
    const old = JSON.stringify({ areas, ice, isDoubtful });
    expect(readBody(old)).toMatchObject({ isDoubtful: false, ice: [{ severity: 'severe' }] });
    expect(readBody(old)?.said).toBeUndefined();
  });
});
