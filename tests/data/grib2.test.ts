/** Every GRIB file of the folder of real files: read and equal to ecCodes, or refused with a reason; none is lost. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { eccodesFields } from '../support/eccodes.ts';
import { differences, readAll } from '../support/grib2-compare.ts';

const folder = join(process.env.RIMEWAY_DATA_DIR ?? '', 'grib2');
const files = readdirSync(folder).filter((name) => /\.grib2?$/.test(name));
/** Grids and packings that are read. */
const GRIDS: ReadonlySet<number> = new Set([0, 30]);
const PACKINGS: ReadonlySet<number> = new Set([0, 2, 3]);

describe('every GRIB file of the folder', () => {
  it('is there in number', () => {
    expect(files.length).toBeGreaterThanOrEqual(28);
  });

  it.each(files.filter((name) => !name.startsWith('refuse-')))(
    '%s is read like ecCodes reads it, or refused by number',
    async (name) => {
      const items = await readAll(readFileSync(join(folder, name)));
      const truth = eccodesFields(join(folder, name));
      const fields = items.flatMap((item) => (item.kind === 'field' ? [item.field] : []));
      const byOffset = new Map<number, typeof fields>();
      for (const field of fields) {
        byOffset.set(field.messageOffsetBytes, [...(byOffset.get(field.messageOffsetBytes) ?? []), field]);
      }
      const rejectedAt = new Map(
        items.flatMap((item) =>
          item.kind === 'rejected' ? [[item.messageOffsetBytes, item.error] as const] : [],
        ),
      );
      const wrong: string[] = [];
      for (const each of truth) {
        const { header } = each;
        const isReadable =
          GRIDS.has(header.gridDefinitionTemplateNumber) &&
          PACKINGS.has(header.dataRepresentationTemplateNumber);
        const ours = byOffset.get(header.offset)?.shift();
        if (ours !== undefined) wrong.push(...differences(ours, each));
        else if (isReadable)
          wrong.push(`offset ${header.offset}: ${rejectedAt.get(header.offset)?.message ?? 'lost'}`);
        else if (rejectedAt.get(header.offset)?.kind !== 'unsupported')
          wrong.push(`offset ${header.offset} is lost`);
      }
      expect(wrong).toEqual([]);
      expect(truth.length).toBeGreaterThan(0);
    },
  );

  it.each(files.filter((name) => name.startsWith('refuse-')))(
    '%s is refused with a reason and gives no field',
    async (name) => {
      const items = await readAll(readFileSync(join(folder, name)));
      expect(items.length).toBeGreaterThan(0);
      expect(items.every((item) => item.kind === 'rejected' && item.error.message.length > 20)).toBe(true);
    },
  );
});
