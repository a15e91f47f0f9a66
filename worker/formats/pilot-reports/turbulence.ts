/** The turbulence element, /TB: AIM table 7-1-7 and the form's own key. */
import type { LayerWords } from './layers.ts';
import type { TurbulenceIntensity, TurbulenceKind } from './report.ts';

export const TURBULENCE_WORDS: LayerWords<
  Exclude<TurbulenceIntensity, 'unstated'>,
  Exclude<TurbulenceKind, 'unstated'>
> = {
  intensities: [
    ['none', ['NEG', 'NEGATIVE', 'NIL', 'NONE', 'SMTH', 'SMOOTH']],
    ['light', ['LGT', 'LT', 'LIGHT']],
    ['moderate', ['MOD', 'MDT', 'MODERATE']],
    ['severe', ['SEV', 'SVR', 'SEVERE']],
    ['extreme', ['EXTRM', 'EXTREME', 'XTRM']],
  ],
  kinds: new Map([
    ['CAT', 'clear-air'],
    ['CHOP', 'chop'],
    ['MTW', 'mountain-wave'],
  ]),
  plain: new Set(['TB', 'TURB', 'TURBC', 'TURBULENCE', 'INC', 'IN', 'CLD', 'CLDS']),
};
