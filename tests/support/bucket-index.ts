/** Inventories of GRIB2 files in the two kinds that open buckets put beside them, made with our own reader of headers. */
import type { Grib2FieldHeader, Grib2Parameter } from '../../worker/formats/grib2/field.ts';
import { readGrib2 } from '../../worker/formats/grib2/read-grib2.ts';

const HOUR_MS = 3_600_000;

/** Names of colon inventories; any other parameter is called by its numbers. */
const COLON: Readonly<Record<string, string>> = {
  '0.0.0': 'TMP',
  '0.0.6': 'DPT',
  '0.1.0': 'SPFH',
  '0.1.1': 'RH',
  '0.1.22': 'CLMR',
  '0.1.195': 'CSNOW',
  '0.1.194': 'CICEP',
  '0.1.193': 'CFRZR',
  '0.1.192': 'CRAIN',
  '0.2.2': 'UGRD',
  '0.2.3': 'VGRD',
  '0.2.8': 'VVEL',
  '0.2.9': 'DZDT',
  '0.3.0': 'PRES',
  '0.3.5': 'HGT',
  '0.6.1': 'TCDC',
};

/** Short names of JSON inventories, with the height above ground, m, after an @. */
const JSON_NAMES: Readonly<Record<string, string>> = {
  '0.0.0': 't',
  '0.1.0': 'q',
  '0.1.1': 'r',
  '0.2.2': 'u',
  '0.2.3': 'v',
  '0.2.8': 'w',
  '0.3.0': 'sp',
  '0.3.5': 'gh',
  '0.0.0@2': '2t',
  '0.0.6@2': '2d',
  '0.2.2@10': '10u',
  '0.2.3@10': '10v',
};

const tripleOf = ({ discipline, category, number }: Grib2Parameter) => `${discipline}.${category}.${number}`;

/** Headers of a file's fields, in order; a rejected message has none. */
export async function headersOf(file: Uint8Array): Promise<Grib2FieldHeader[]> {
  const headers: Grib2FieldHeader[] = [];
  const chunks = (async function* () {
    yield file;
  })();
  for await (const item of readGrib2(chunks, { want: () => false })) {
    if (item.kind === 'skipped') headers.push(item.header);
  }
  return headers;
}

/** The `.idx` of a file: fields of one message share its offset and are numbered 12.1, 12.2. */
export async function colonIndex(file: Uint8Array): Promise<string> {
  const headers = await headersOf(file);
  const messages = [...new Set(headers.map(({ messageOffsetBytes }) => messageOffsetBytes))];
  const lines = messages.flatMap((offsetBytes, at) => {
    const fields = headers.filter((header) => header.messageOffsetBytes === offsetBytes);
    return fields.map((header, field) => {
      const number = fields.length === 1 ? `${at + 1}` : `${at + 1}.${field + 1}`;
      return `${number}:${offsetBytes}:d=${runWord(header)}:${colonName(header)}:${levelWords(header)}:${forecastWords(header)}:\n`;
    });
  });
  return lines.join('');
}

const runWord = ({ referenceTimeMs }: Grib2FieldHeader) =>
  new Date(referenceTimeMs).toISOString().replaceAll(/[-T]/g, '').slice(0, 10);

const colonName = ({ parameter }: Grib2FieldHeader) =>
  COLON[tripleOf(parameter)] ?? `var${tripleOf(parameter).replaceAll('.', '_')}`;

function levelWords({ level, secondLevel }: Grib2FieldHeader): string {
  if (secondLevel === undefined && level.type === 100) return `${level.value / 100} mb`;
  if (secondLevel === undefined && level.type === 103) return `${level.value} m above ground`;
  if (secondLevel === undefined && level.type === 1) return 'surface';
  return `level ${level.type} ${level.value}${secondLevel === undefined ? '' : ` to ${secondLevel.value}`}`;
}

function forecastWords({ referenceTimeMs, validTimeMs, productTemplate }: Grib2FieldHeader): string {
  const hours = (validTimeMs - referenceTimeMs) / HOUR_MS;
  if (productTemplate === 8) return `${hours - 6}-${hours} hour ave fcst`;
  return hours === 0 ? 'anl' : `${hours} hour fcst`;
}

/** The `.index` of a file: messages of one field, as ECMWF's are. */
export async function jsonIndex(file: Uint8Array): Promise<string> {
  const headers = await headersOf(file);
  return headers.map((header) => `${JSON.stringify(jsonMembers(file, header))}\n`).join('');
}

function jsonMembers(file: Uint8Array, header: Grib2FieldHeader): Readonly<Record<string, unknown>> {
  const { level, messageOffsetBytes, referenceTimeMs, validTimeMs } = header;
  const run = runWord(header);
  const triple = tripleOf(header.parameter);
  const height = level.type === 103 ? `@${level.value}` : '';
  return {
    domain: 'g',
    date: run.slice(0, 8),
    time: `${run.slice(8)}00`,
    step: String((validTimeMs - referenceTimeMs) / HOUR_MS),
    levtype: level.type === 100 ? 'pl' : 'sfc',
    ...(level.type === 100 ? { levelist: String(level.value / 100) } : {}),
    param: JSON_NAMES[triple + height] ?? `p${triple}`,
    _offset: messageOffsetBytes,
    _length: Number(new DataView(file.buffer, file.byteOffset + messageOffsetBytes + 8).getBigUint64(0)),
  };
}
