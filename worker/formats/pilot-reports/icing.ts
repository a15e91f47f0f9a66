/** The icing element, /IC: AIM table 7-1-7 and the form's own key (intensity, kind, altitudes where they differ). */
import type { LayerWords } from './layers.ts';
import type { IceKind, IcingIntensity } from './report.ts';

export const ICING_WORDS: LayerWords<Exclude<IcingIntensity, 'unstated'>, Exclude<IceKind, 'unstated'>> = {
  intensities: [
    ['none', ['NEG', 'NEGATIVE', 'NIL', 'NONE']],
    ['trace', ['TRC', 'TRACE']],
    ['light', ['LGT', 'LT', 'LIGHT']],
    ['moderate', ['MOD', 'MDT', 'MODERATE']],
    ['severe', ['SEV', 'SVR', 'SEVERE']],
  ],
  kinds: new Map([
    ['RIME', 'rime'],
    ['CLR', 'clear'],
    ['CLEAR', 'clear'],
    ['GLAZE', 'clear'],
    ['MX', 'mixed'],
    ['MXD', 'mixed'],
    ['MIXED', 'mixed'],
  ]),
  plain: new Set(['IC', 'ICE', 'ICG', 'ICING', 'IN', 'INC', 'CLD', 'CLDS']),
};

/** Words of the icing element that no turbulence element holds; `CLR` is left out, since it may be clear air. */
const ICING_ONLY = new Set(['RIME', 'MX', 'MXD', 'ICE', 'ICG', 'ICING', 'IC']);

/** True for an element that tells of ice, under whatever code it is typed. */
export function holdsIcing(tokens: readonly string[]): boolean {
  return tokens.some((token) => ICING_ONLY.has(token));
}
