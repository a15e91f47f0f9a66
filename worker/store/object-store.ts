/** Bytes on R2. */
import type { R2Bucket } from '@cloudflare/workers-types';
import type { ObjectStore } from '../sources/ports.ts';

/** R2 deletes at most this many keys a call. */
const DELETE_BATCH = 1000;

export function createObjectStore(bucket: R2Bucket): ObjectStore {
  return {
    async get(key) {
      const object = await bucket.get(key);
      return object === null ? undefined : object.arrayBuffer();
    },
    async put(key, bytes) {
      await bucket.put(key, bytes);
    },
    async delete(keys) {
      for (let from = 0; from < keys.length; from += DELETE_BATCH) {
        await bucket.delete(keys.slice(from, from + DELETE_BATCH));
      }
    },
  };
}
