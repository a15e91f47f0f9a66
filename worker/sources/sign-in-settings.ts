/** Sign-in through a provider of OpenID Connect: who it is, and which of its people may do what here. */
import * as z from 'zod/mini';
import { AppBug } from '../errors.ts';

export const BOARD_RIGHTS = ['view', 'edit', 'own'] as const;
/** What somebody may do on a board; each may do what those before it may. */
export type BoardRight = (typeof BOARD_RIGHTS)[number];

export interface Member {
  readonly operator: string;
  readonly access: BoardRight;
}

export interface SignInSettings {
  readonly issuer: string;
  readonly audience: string;
  readonly jwksUrl: string;
  /** Lower case. `authorization` has the token as Bearer; any other, which a proxy at the edge fills, has it alone. */
  readonly header: string;
  /** Member of the token that names a person. */
  readonly claim: string;
  /** By the value of the claim. */
  readonly members: ReadonlyMap<string, Member>;
}

const text = (most: number) => z.string().check(z.minLength(1), z.maxLength(most));

const settingsSchema = z.strictObject({
  issuer: text(500),
  audience: text(500),
  jwksUrl: z.string().check(z.maxLength(500), z.refine(isKeyAddress, 'a plain https address')),
  header: z._default(z.string().check(z.regex(/^[a-z][a-z0-9-]{0,60}$/)), 'authorization'),
  claim: z._default(z.string().check(z.regex(/^\w{1,60}$/)), 'email'),
  members: z.record(
    text(200),
    z.strictObject({
      operator: z.string().check(z.regex(/^[a-z0-9-]{1,40}$/)),
      access: z.enum(BOARD_RIGHTS),
    }),
  ),
});

/** This machine may do without a certificate: a rehearsal. */
function isKeyAddress(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const { protocol, hostname, username, password, hash } = new URL(address);
  const isSecret = protocol === 'https:' || (protocol === 'http:' && hostname === '127.0.0.1');
  return isSecret && username === '' && password === '' && hash === '';
}

/** @returns undefined for an empty setting: nobody signs in. @throws AppBug for one that does not fit; it tells none of its values. */
export function readSignIn(setting: string): SignInSettings | undefined {
  if (setting.trim() === '') return undefined;
  const { success, data, error } = settingsSchema.safeParse(jsonOf(setting));
  if (success) return { ...data, members: new Map(Object.entries(data.members)) };
  const issue = error.issues[0];
  // Of members not the name: it may be a person's.
  const place = issue?.path[0] === undefined ? 'the whole' : String(issue.path[0]);
  throw new AppBug(
    `setting SIGN_IN: ${place}: ${issue?.message ?? 'another shape'}, expected nothing or JSON { issuer, audience, jwksUrl, header?, claim?, members: { claim value: { operator, access: view, edit or own } } }`,
  );
}

function jsonOf(setting: string): unknown {
  try {
    return JSON.parse(setting);
  } catch {
    return undefined;
  }
}
