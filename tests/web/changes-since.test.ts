/** What is said beside a shared brief of the leg as it would be briefed now: everything that matters, and no noise. */
import { describe, expect, it } from 'vitest';
import type { Brief, BriefMember, Candidate } from '../../web/src/contract.ts';
import { changesSince } from '../../web/src/share/changes-since.ts';

type Exposure = NonNullable<Candidate['exposure']>;

const EXPOSURE = {
  icingMinutes: { low: 4, middle: 10, high: 20 },
  worstIntensity: 'light',
  worstLargeDrops: 'none',
  largeDropChancePct: 10,
  unknownMinutes: 0,
  fluidL: { low: 10, middle: 20, high: 30 },
} as unknown as Exposure;

function candidate(altitudeFt: number, more: Partial<Candidate> = {}): Candidate {
  const profile = [{ fromNm: 0, altitudeFt }];
  const common = { altitudeFt, profile, verdict: 'within-limits', inWords: 'up to 20 min icing' };
  return { ...common, exposure: EXPOSURE, ...more } as Candidate;
}

type Feature = Brief['features'][number];

/** 11,000 ft is filed, 9,000 ft is there too. */
function brief(
  more: Partial<BriefMember> = {},
  high: Partial<Candidate> = {},
  features: readonly Feature[] = [],
): Brief {
  const alternatives = [candidate(11000, high), candidate(9000)];
  const member = {
    method: { version: '1' },
    data: [{ id: 'a', validUtc: '2026-01-14T12:00:00Z' }],
    verdict: { code: 'within-limits' },
    file: { altitudeFt: 11000 },
    alternatives,
    stepped: null,
    recommended: alternatives[0],
    ...more,
  };
  return { type: 'FeatureCollection', bbox: [], brief: member, features } as unknown as Brief;
}
const said = (kind: 'report' | 'warning', sentence: string) =>
  ({ type: 'Feature', geometry: null, properties: { kind, sentence } }) as unknown as Feature;
const low = candidate(9000);
const with11000 = (more: Partial<Exposure>) => brief({}, { exposure: { ...EXPOSURE, ...more } });

describe('what changed since', () => {
  it('is nothing for the same answer from the same data', () => {
    expect(changesSince(brief(), brief())).toEqual({ isOther: false, lines: [] });
  });

  it.each([
    [
      'another run',
      {
        data: [
          { id: 'a', validUtc: '2026-01-14T12:00:00Z' },
          { id: 'b', validUtc: '2026-01-14T12:00:00Z' },
        ],
      },
    ],
    ['another version of the method', { method: { version: '2' } }],
    ['data retired', { data: [] }],
    ['another ramp', { ground: { aerodrome: 'AAAA' } }],
    ['another reason', { verdict: { code: 'within-limits', reasons: ['x'] } }],
  ])('never says that all is the same with %s', (_, more) => {
    expect(changesSince(brief(), brief(more as unknown as Partial<BriefMember>))).toEqual({
      isOther: true,
      lines: [],
    });
  });

  it('tells another altitude to file, and that there is none', () => {
    const lower = brief({ file: { altitudeFt: 9000 } as BriefMember['file'], recommended: low });
    expect(changesSince(brief(), lower).lines).toEqual(['Altitude to file: 11,000 ft then, 9,000 ft now']);
    const none = brief({
      file: null,
      recommended: null,
      verdict: { code: 'unknown' } as BriefMember['verdict'],
    });
    expect(changesSince(brief(), none).lines).toEqual([
      'Altitude to file: 11,000 ft then, none now',
      'Verdict: Within limits then, Unknown now',
    ]);
  });

  it('tells what has become of the altitude that was shared, where another answers the brief as well', () => {
    const now = brief(
      { file: { altitudeFt: 9000 } as BriefMember['file'], recommended: low },
      { verdict: 'outside-limits', inWords: 'severe icing reported' },
    );
    expect(changesSince(brief(), now).lines).toContain(
      '11,000 ft: Within limits then, Outside limits now: severe icing reported',
    );
  });

  it.each<[string, Partial<Exposure>, string]>([
    [
      'longer in ice',
      { icingMinutes: { low: 4, middle: 10, high: 25 } },
      '11,000 ft: up to 20 min in ice then, up to 25 min in ice now',
    ],
    ['worse ice', { worstIntensity: 'moderate' }, '11,000 ft: light then, moderate now'],
    ['nobody knows how much', { worstIntensity: null }, '11,000 ft: light then, unknown now'],
    [
      'large drops',
      { worstLargeDrops: 'freezing-drizzle' as Exposure['worstLargeDrops'] },
      '11,000 ft: no large drops then, freezing drizzle now',
    ],
    ['more unknown air', { unknownMinutes: 12.2 }, '11,000 ft: 0 min unknown then, 13 min unknown now'],
    [
      'more fluid',
      { fluidL: { low: 10, middle: 20, high: 35 } },
      '11,000 ft: fluid up to 30 L then, fluid up to 35 L now',
    ],
    ['that there is no ice', { worstIntensity: 'none' }, '11,000 ft: light then, no ice now'],
    [
      'a larger chance of large drops',
      { largeDropChancePct: 30 },
      '11,000 ft: a chance of 10 % of large drops then, a chance of 30 % of large drops now',
    ],
  ])('tells %s at that altitude', (_, more, line) => {
    expect(changesSince(brief(), with11000(more)).lines).toEqual([line]);
    expect(changesSince(with11000(more), brief()).lines).toHaveLength(1);
  });

  it('leaves differences alone that are within what is known', () => {
    const now = with11000({
      icingMinutes: { low: 4, middle: 10, high: 24 },
      largeDropChancePct: 20,
    });
    expect(changesSince(brief(), now)).toEqual({ isOther: true, lines: [] });
    expect(changesSince(with11000({ unknownMinutes: 4 }), brief()).lines).toEqual([]);
  });

  it('tells any more unknown air, however little', () => {
    expect(changesSince(brief(), with11000({ unknownMinutes: 0.2 })).lines).toEqual([
      '11,000 ft: 0 min unknown then, 1 min unknown now',
    ]);
  });

  it('tells another reason of the same verdict', () => {
    expect(changesSince(brief(), brief({}, { inWords: 'up to 20 min icing, warned of' })).lines).toEqual([
      '11,000 ft: Within limits as then, but up to 20 min icing, warned of',
    ]);
  });

  it('tells every report and warning that is new, whatever follows from it, warnings first and some counted', () => {
    const old = said('report', 'old');
    const fresh = [1, 2, 3, 4].map((each) => said('report', `report ${each}`));
    const now = brief({}, {}, [old, ...fresh, said('warning', 'severe icing')]);
    expect(changesSince(brief({}, {}, [old]), now).lines).toEqual([
      'New: severe icing',
      'New: report 1',
      'New: report 2',
      'New: report 3',
      '1 more new report',
    ]);
  });

  it('tells that it is not flown now, and that it is not there', () => {
    expect(changesSince(brief(), brief({}, { exposure: null })).lines).toEqual(['11,000 ft: not flown now']);
    const gone = brief({
      alternatives: [low],
      recommended: low,
      file: { altitudeFt: 9000 } as BriefMember['file'],
    });
    expect(changesSince(brief(), gone).lines).toContain('11,000 ft: not flown now');
  });
});
