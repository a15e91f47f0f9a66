/** Notices to browsers (Web Push): the service's own pair of keys, whom a push service may write to about it, and where it may send. */
import { AppBug } from '../errors.ts';

export interface PushSettings {
  readonly keys: {
    /** Uncompressed point of P-256 (RFC 8292), base64url. */
    readonly publicKey: string;
    /** A secret. */
    readonly privateKey: string;
    /** mailto: or https: address of whoever runs the service. */
    readonly subject: string;
  };
  /** Hosts of push services; one that begins with "*." stands for all below it. */
  readonly allowedHosts: readonly string[];
}

interface PushBindings {
  readonly PUSH_PUBLIC_KEY: string;
  readonly PUSH_PRIVATE_KEY: string;
  readonly PUSH_SUBJECT: string;
  readonly PUSH_HOSTS: string;
}

const HOST = /^(\*\.)?[a-z0-9-]+(\.[a-z0-9-]+)+$/;

/** @returns undefined without keys: no notices are sent. @throws AppBug for what does not fit; it tells no value. */
export function readPush(bindings: Partial<PushBindings>): PushSettings | undefined {
  const text = (name: keyof PushBindings) => (bindings[name] ?? '').trim();
  const [publicKey, privateKey, subject] = [
    text('PUSH_PUBLIC_KEY'),
    text('PUSH_PRIVATE_KEY'),
    text('PUSH_SUBJECT'),
  ];
  if (publicKey === '' && privateKey === '') return undefined;
  refuseUnless(/^B[A-Za-z0-9_-]{86}$/.test(publicKey), 'PUSH_PUBLIC_KEY', '87 characters of base64url');
  refuseUnless(/^[A-Za-z0-9_-]{43}$/.test(privateKey), 'PUSH_PRIVATE_KEY', '43 characters of base64url');
  refuseUnless(
    /^(mailto:|https:\/\/)\S{3,200}$/.test(subject),
    'PUSH_SUBJECT',
    'a mailto: or https: address',
  );
  const allowedHosts = text('PUSH_HOSTS')
    .split(',')
    .map((host) => host.trim())
    .filter((host) => host !== '');
  const areHosts = allowedHosts.length > 0 && allowedHosts.every((host) => HOST.test(host));
  refuseUnless(areHosts, 'PUSH_HOSTS', 'names of hosts, separated by commas');
  return { keys: { publicKey, privateKey, subject }, allowedHosts };
}

function refuseUnless(isFit: boolean, name: keyof PushBindings, expected: string): void {
  if (!isFit) throw new AppBug(`setting ${name}: found another text, expected ${expected}`);
}
