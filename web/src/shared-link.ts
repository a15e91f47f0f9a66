/** The address of a shared brief: few imports, since the first thing that the page does looks at it. */

const LINK = /^\/b\/([A-Za-z0-9_-]{22})$/;

/** Identifier of the shared brief that an address names; undefined for any other. */
export function sharedIdOf(pathname: string): string | undefined {
  return LINK.exec(pathname)?.[1];
}

export const sharedBriefPath = (id: string) => `/api/briefs/${id}`;
