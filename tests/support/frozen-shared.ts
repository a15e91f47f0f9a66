/** Shared briefs as services answered them that were released: see tests/fixtures/shared-briefs/README.md. */
import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';

export interface FrozenShared {
  /** As it was answered, to the byte. */
  readonly brief: string;
  readonly about: { readonly id: string; readonly sha256: string; readonly request: object };
}

export function frozenShared(version: 'v1'): FrozenShared {
  const read = (name: string) =>
    readFileSync(new URL(`../fixtures/shared-briefs/${version}/${name}`, import.meta.url));
  return {
    brief: gunzipSync(read('brief.json.gz')).toString(),
    about: JSON.parse(read('about.json').toString()) as FrozenShared['about'],
  };
}
