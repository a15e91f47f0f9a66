import { describe, expect, it } from 'vitest';
import { InvalidRequestError } from '../../worker/errors.ts';
import { parseRequest } from '../../worker/routes/parse-request.ts';
import { toProblem } from '../../worker/routes/problem.ts';
import { columnRequestSchema } from '../../worker/schema/column.ts';
import { briefRequestSchema } from '../../worker/schema/request.ts';

const LEG = {
  route: 'KBTV KBGR',
  departure: { atUtc: '2026-01-14T11:30:00Z' },
  aircraft: 'generic-fluid-turboprop',
};

function faultOf(schema: Parameters<typeof parseRequest>[0], value: unknown): InvalidRequestError {
  try {
    parseRequest(schema, value);
  } catch (error) {
    if (error instanceof InvalidRequestError) return error;
    throw error;
  }
  throw new Error('the request was accepted');
}

describe('parseRequest', () => {
  it('returns a request that fits', () => {
    expect(parseRequest(briefRequestSchema, LEG)).toEqual(LEG);
  });

  it.each([
    [{ ...LEG, options: { corridorHalfWidthNm: -1 } }, 'options.corridorHalfWidthNm', '-1'],
    [{ ...LEG, extra: 1 }, 'extra', '1'],
    [{ ...LEG, departure: {} }, 'departure.atUtc', 'nothing'],
    [[], 'body', 'a list of 0'],
  ])('names the member and what was found: %j', (value, field, found) => {
    expect(faultOf(briefRequestSchema, value)).toMatchObject({ field, found });
  });

  it('looks inside a union for the member that does not fit', () => {
    const aircraft = { id: 'x', name: 'x', ceilingFt: -5 };
    expect(faultOf(briefRequestSchema, { ...LEG, aircraft }).field).toMatch(/^aircraft\./);
  });

  it('wants exactly one of dew point and relative humidity', () => {
    const levels = [
      { pressureHPa: 850, temperatureC: -5 },
      { pressureHPa: 700, temperatureC: -9, dewPointC: -9 },
    ];
    expect(faultOf(columnRequestSchema, { levels, aircraft: 'x' }).field).toBe('levels.0');
  });
});

describe('toProblem', () => {
  it('tells nothing of an unexpected error but that it happened', () => {
    const problem = toProblem(new Error('secret path /etc/thing'));
    expect(problem.status).toBe(500);
    expect(JSON.stringify(problem)).not.toContain('secret');
  });
});
