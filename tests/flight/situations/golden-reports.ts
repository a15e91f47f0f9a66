/** Golden situations: what somebody has seen against what the model says, and large drops where the approach is flown. */
import { DRY, layer } from '../make-curtain.ts';
import type { Situation } from './situation.ts';

export const GOLDEN_REPORTS: readonly Situation[] = [
  {
    title: 'A report of severe icing without a level outweighs a dry model at every altitude',
    argument:
      'The model is dry from the ground to the top. A pilot reports severe icing between 70 and 110 NM and gives no level: ' +
      '40 NM, 14 min at 175 kt, at an altitude that could be ours. What was met is better known than what was computed, and ' +
      'a model that missed severe ice there has no standing about the altitudes next to it. Not stated is every altitude, ' +
      'so there is none to file until the level is known, or a later report says it is gone.',
    air: DRY,
    hazards: [
      {
        kind: 'pilot-report',
        severity: 'severe',
        sentence: 'A pilot reported severe icing, level not stated',
        fromNm: 70,
        toNm: 110,
      },
    ],
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['reported-severe-icing'],
      notReasons: ['no-ice-found', 'fluid-short'],
      refusedFt: [3000, 5000, 9000, 11000, 13000, 17000],
    },
  },
  {
    title: 'Freezing rain reported at the destination stops a leg that the model shows dry',
    argument:
      'The model has no cloud at all, the station at the destination reports freezing rain. Freezing rain on the ground fell ' +
      'through the whole cold layer above it: early descent, vectors and approach, 25 min at 3,000 ft, are in it, and so is ' +
      'the last descent, 4,000 ft of it 6 min, from whatever altitude. Protection is certified for cloud drops, not for ' +
      'these. No altitude helps; another hour or another destination does.',
    air: DRY,
    hazards: [
      {
        kind: 'surface-report',
        severity: 'large-drops',
        sentence: 'Freezing rain is reported at the destination',
        fromNm: 170,
        toNm: 186,
      },
    ],
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['reported-large-drops'],
      notReasons: ['no-ice-found', 'fluid-short'],
      refusedFt: [3000, 5000, 9000, 11000, 13000],
    },
  },
  {
    title: 'Freezing drizzle in the approach layer alone refuses a leg that is dry everywhere else',
    argument:
      'Dry for 165 NM at every altitude. Over the destination freezing drizzle from 1,500 to 4,000 ft: 2,500 ft of ' +
      'descent at 700 ft/min is 3.6 min, and early descent, vectors, approach and missed approach are 25 min in it at 3,000 ' +
      'ft. Light by its rate, 0.3 mm/min, but these drops freeze behind the panels, where no fluid comes. That the cruise is ' +
      'dry is no comfort: the leg ends in it. There is fluid enough (priming 4, descent and approach 12.9, reserve 13.5, ' +
      '30 of 80 L), which is not the point.',
    air: layer(
      1500,
      4000,
      {
        icingProbability: 0.9,
        cloudProbability: 1,
        growthMmPerMin: 0.3,
        intensity: 2,
        largeDrops: 1,
        temperatureC: -4,
      },
      [34, 1e9],
    ),
    expected: {
      verdict: 'outside-limits',
      fileFt: 'none',
      reasons: ['large-drops-where-planned'],
      notReasons: ['no-ice-found', 'fluid-short', 'severe-icing'],
      refusedFt: [3000, 5000, 9000, 11000, 13000],
    },
  },
];
