/** Bytes on R2. */
import type { R2Bucket } from '@cloudflare/workers-types';
import type { ByteRange, ObjectStore } from '../sources/ports.ts';

/** R2 deletes at most this many keys a call. */
const DELETE_BATCH = 1000;
const LIST_LIMIT = 1000;

export function createObjectStore(bucket: R2Bucket): ObjectStore {
  return {
    async get(key) {
      const object = await bucket.get(key);
      return object === null ? undefined : object.arrayBuffer();
    },
    async getRange(key, range) {
      const object = await rangeOf(bucket, key, range);
      if (object === undefined || object === null) return undefined;
      const bytes = await object.arrayBuffer();
      return bytes.byteLength === range.lengthBytes ? bytes : undefined;
    },
    async put(key, bytes) {
      await bucket.put(key, bytes);
    },
    async delete(keys) {
      for (let from = 0; from < keys.length; from += DELETE_BATCH) {
        await bucket.delete(keys.slice(from, from + DELETE_BATCH));
      }
    },
    async list(prefix) {
      const { objects } = await bucket.list({ prefix, limit: LIST_LIMIT });
      return objects.map(({ key }) => key);
    },
    async listBehind(prefix, afterKey, limit) {
      const after = afterKey === '' ? {} : { startAfter: afterKey };
      const { objects } = await bucket.list({ prefix, limit: Math.min(limit, LIST_LIMIT), ...after });
      return objects.map(({ key, uploaded }) => ({ key, writtenMs: uploaded.getTime() }));
    },
  };
}

/** R2 fails on a range that begins past the object's end: only an object that is long enough has a failure of its own. */
async function rangeOf(bucket: R2Bucket, key: string, { offsetBytes, lengthBytes }: ByteRange) {
  try {
    return await bucket.get(key, { range: { offset: offsetBytes, length: lengthBytes } });
  } catch (cause) {
    const head = await bucket.head(key);
    if (head === null || head.size < offsetBytes + lengthBytes) return undefined;
    throw cause;
  }
}
