/** Invented fixes on a grid of whole degrees, a reference time, and a reader of exactly one warning. */

import type { WarningContext } from '../../../worker/formats/warnings/icao-warning.ts';
import { readWarnings } from '../../../worker/formats/warnings/read-warnings.ts';
import type { AreaStatement, Warning } from '../../../worker/formats/warnings/warning.ts';
import type { Position } from '../../../worker/science/great-circle.ts';

const FIXES: Readonly<Record<string, Position>> = {
  AAA: { latDeg: 44, lonDeg: -90 },
  BBB: { latDeg: 45, lonDeg: -86 },
  CCC: { latDeg: 43, lonDeg: -85 },
  DDD: { latDeg: 41, lonDeg: -88 },
};

/** A region of four corners about the 180th meridian. */
const BORDER: readonly Position[] = [
  { latDeg: 50, lonDeg: 170 },
  { latDeg: 50, lonDeg: -170 },
  { latDeg: 60, lonDeg: -170 },
  { latDeg: 60, lonDeg: 170 },
];

export const CONTEXT: WarningContext = {
  referenceMs: Date.UTC(2026, 0, 15, 6, 30),
  fixes: (identifier) => (FIXES[identifier] === undefined ? [] : [FIXES[identifier]]),
  regions: (indicator) => (indicator === 'ZZYY' ? BORDER : undefined),
};

/** The one warning of a text; throws when it holds another count, or a refusal. */
export function readOne(text: string, context: WarningContext = CONTEXT): Warning {
  const [item, ...more] = readWarnings(text, context);
  if (item === undefined || more.length > 0) throw new Error(`${more.length + 1} warnings, expected one`);
  if (item.kind === 'refused') throw new Error(item.reason);
  return item;
}

/** A warning of the ICAO form around what stands after the word for the phenomenon. */
export function icao(rest: string): Warning {
  return readOne(`ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE FCST ${rest}=`);
}

/** An area in short: kind, then what it is made of. */
export function statedIn(statement: AreaStatement): string {
  const point = (each: { kind: string }) => {
    if ('latDeg' in each && 'lonDeg' in each)
      return `${Number(each.latDeg).toFixed(2)} ${Number(each.lonDeg).toFixed(2)}`;
    return 'identifier' in each ? String(each.identifier) : each.kind;
  };
  switch (statement.kind) {
    case 'polygon':
      return `polygon ${statement.points.map(point).join(', ')}`;
    case 'line':
      return `line ${(statement.halfWidthM / 1000).toFixed(2)} km ${statement.points.map(point).join(', ')}`;
    case 'circle':
      return `circle ${(statement.radiusM / 1000).toFixed(2)} km ${point(statement.center)}`;
    case 'point':
      return `point ${point(statement.point)}`;
    case 'sides':
      return statement.boundaries
        .map((boundary) => {
          if (boundary.kind === 'parallel') return `${boundary.side} of ${boundary.latDeg.toFixed(2)}`;
          if (boundary.kind === 'meridian') return `${boundary.side} of ${boundary.lonDeg.toFixed(2)}`;
          return `${boundary.side} of line ${boundary.points.map(point).join(', ')}`;
        })
        .join(' and ');
    case 'whole-region':
      return 'whole region';
    case 'unreadable':
      return `unreadable ${statement.text}`;
  }
}
