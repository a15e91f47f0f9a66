/** Icing and turbulence of a PIREP together: words of ice are at times typed under turbulence. */
import { tokensOf } from './altitudes.ts';
import { holdsIcing, ICING_WORDS } from './icing.ts';
import { type Phase, readLayers } from './layers.ts';
import type { AltitudeBand, IcingElement, LayerElement, TurbulenceElement, UnreadText } from './report.ts';
import { TURBULENCE_WORDS } from './turbulence.ts';

export interface PirepLayers {
  readonly icing: IcingElement;
  readonly turbulence: TurbulenceElement;
  /** The words of turbulence were read as icing. */
  readonly isMistyped: boolean;
  readonly phase: Phase | undefined;
  readonly unread: readonly UnreadText[];
}

/**
 * @param icingText       text of /IC; undefined when the report has none.
 * @param turbulenceText  text of /TB; undefined when the report has none.
 * @param reportBand      the report's own altitude, which holds where an element gives none.
 * @checked               tests/formats/pilot-reports/pirep.test.ts
 */
export function readPirepLayers(
  icingText: string | undefined,
  turbulenceText: string | undefined,
  reportBand: AltitudeBand,
): PirepLayers {
  const isMistyped = icingText === undefined && holdsIcing(tokensOf(turbulenceText ?? ''));
  const icing = readElement(
    isMistyped ? turbulenceText : icingText,
    isMistyped ? 'TB' : 'IC',
    (text) => readLayers(text, ICING_WORDS, reportBand),
    'an intensity (NEG, TRACE, LGT, MOD, SEV), a kind (RIME, CLR, MX) or altitudes',
  );
  const turbulence = readElement(
    isMistyped ? undefined : turbulenceText,
    'TB',
    (text) => readLayers(text, TURBULENCE_WORDS, reportBand),
    'an intensity (NEG, LGT, MOD, SEV, EXTRM), a kind (CAT, CHOP, MTW) or altitudes',
  );
  const mistyped: readonly UnreadText[] = isMistyped
    ? [{ element: 'TB', text: turbulenceText!, reason: 'turbulence: found words of icing, read as icing' }]
    : [];
  return {
    icing: icing.element,
    turbulence: turbulence.element,
    isMistyped,
    phase: icing.phase ?? turbulence.phase,
    unread: [...mistyped, ...icing.unread, ...turbulence.unread],
  };
}

interface ReadElement<Layer> {
  readonly element: LayerElement<Layer>;
  readonly phase: Phase | undefined;
  readonly unread: readonly UnreadText[];
}

/** An empty element, or one that says UNKN, reports nothing. */
export function readElement<Layer>(
  text: string | undefined,
  code: string,
  read: (text: string) => {
    readonly layers: readonly Layer[];
    readonly phase: Phase | undefined;
    readonly unread: readonly string[];
  },
  expected: string,
): ReadElement<Layer> {
  if (text === undefined || text === '' || text === 'UNKN') {
    return { element: { kind: 'not-reported' }, phase: undefined, unread: [] };
  }
  const { layers, phase, unread } = read(text);
  const rest = unread.join(' ');
  const reason = `${code}: found ${JSON.stringify((layers.length > 0 ? rest : text).slice(0, 40))}, expected ${expected}`;
  if (layers.length === 0) {
    return { element: { kind: 'unreadable', text }, phase, unread: [{ element: code, text, reason }] };
  }
  return {
    element: { kind: 'reported', element: code, layers },
    phase,
    unread: rest === '' ? [] : [{ element: code, text: rest, reason }],
  };
}
