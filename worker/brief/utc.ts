/** @returns ISO 8601 ending in Z, to the nearest second. @throws RangeError for an instant that is no number. */
export const utc = (instantMs: number): string => new Date(Math.round(instantMs / 1000) * 1000).toISOString();
