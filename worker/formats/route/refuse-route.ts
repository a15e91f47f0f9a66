/** The one way to refuse a route. */
import { InvalidRequestError } from '../../errors.ts';

/** @throws InvalidRequestError, field route. */
export function refuseRoute(found: string, expected: string): never {
  throw new InvalidRequestError({ field: 'route', found, expected });
}
