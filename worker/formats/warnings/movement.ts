/** Movement and change of intensity: `MOV NE 20KT`, `STNR`, `INTSF`, and `MOV FROM 24045KT` of the United States. */
import { mpsFromKt } from '../../science/units.ts';
import { COMPASS_PATTERN, compassDeg } from '../pilot-reports/compass.ts';
import type { Scanner } from './scanner.ts';
import type { Movement, Warning } from './warning.ts';

const STATIONARY = /(?:QUASI[ -]|Q)?STNR(?![A-Z])/y;
const LITTLE = /MOV LTL(?![A-Z])|LTL MOV(?:MT)?(?![A-Z])/y;
const FROM = /MOV FROM (\d{3})(\d{2,3})KT(?![A-Z])/y;
const TOWARD = new RegExp(
  `MOV (?:TO )?(${COMPASS_PATTERN})(?![A-Z])(?: (\\d{1,3}) ?(KT|KMH|KPH|MPS)(?![A-Z])| SLW(?![A-Z]))?`,
  'y',
);
const CHANGE = /(INTSF|WKN|NC)(?![A-Z])/y;
const MPS_PER_KMH = 1000 / 3600;

/** Takes a movement; undefined, without moving, when none starts here. @checked tests/formats/warnings/movement.test.ts */
export function takeMovement(scanner: Scanner): Movement | undefined {
  if (scanner.take(STATIONARY) !== undefined) return { kind: 'stationary' };
  if (scanner.take(LITTLE) !== undefined) return { kind: 'little' };
  const start = scanner.offset;
  const from = scanner.take(FROM);
  if (from !== undefined && Number(from[1]) <= 360) {
    return { kind: 'moving', towardDeg: (Number(from[1]) + 180) % 360, speedMps: mpsFromKt(Number(from[2])) };
  }
  scanner.offset = start;
  const toward = scanner.take(TOWARD);
  if (toward === undefined) return undefined;
  const [, point, figures, unit] = toward;
  const speedMps = figures === undefined ? undefined : Number(figures) * unitMps(unit!);
  return { kind: 'moving', towardDeg: compassDeg(point!)!, speedMps };
}

function unitMps(unit: string): number {
  if (unit === 'KT') return mpsFromKt(1);
  return unit === 'MPS' ? 1 : MPS_PER_KMH;
}

/** Takes a word of change of intensity. */
export function takeChange(scanner: Scanner): Warning['change'] {
  const words = { INTSF: 'intensifying', WKN: 'weakening', NC: 'none' } as const;
  const match = scanner.take(CHANGE);
  return match === undefined ? undefined : words[match[1] as keyof typeof words];
}
