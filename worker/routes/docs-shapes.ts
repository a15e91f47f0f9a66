/** Schemas as people read them: each member in a row, with what it may be. */
import { escaped } from './escaped.ts';
import type { JsonSchema } from './openapi-schemas.ts';

const REF = '#/components/schemas/';
/** More words than this are not told one by one. */
const MOST_WORDS = 12;

/** A table of members, or one line for what has none. */
export function shapeHtml(schema: JsonSchema): string {
  const { properties, required = [] } = schema;
  if (properties === undefined || Object.keys(properties).length === 0)
    return `<p class="type">${typeHtml(schema)}</p>`;
  const rows = Object.entries(properties).map(
    ([name, member]) =>
      `<tr><th scope="row"><code>${escaped(name)}</code>${required.includes(name) ? '' : ' <i>may be left out</i>'}</th><td>${typeHtml(member)}</td></tr>`,
  );
  return `<table>${rows.join('')}</table>`;
}

/** What a value may be, in a line; named shapes are links. */
export function typeHtml(schema: JsonSchema): string {
  if (schema.$ref !== undefined) return linkHtml(schema.$ref);
  const words = [kindHtml(schema), ...limitWords(schema).map(escaped), ...formHtml(schema)];
  if (schema.description !== undefined) words.push(escaped(schema.description));
  return words.filter((word) => word !== '').join(', ');
}

function linkHtml(reference: string): string {
  const name = escaped(reference.slice(REF.length));
  return `<a href="#${name}">${name}</a>`;
}

function kindHtml(schema: JsonSchema): string {
  const choices = schema.anyOf ?? (schema.oneOf as readonly JsonSchema[] | undefined);
  if (choices !== undefined) return choices.map(typeHtml).join(' or ');
  if (Array.isArray(schema.enum)) return wordsHtml(schema.enum);
  if (schema.const !== undefined) return `<code>${escaped(JSON.stringify(schema.const))}</code>`;
  if (schema.type === 'array') return listHtml(schema);
  if (schema.type === 'object') return objectHtml(schema);
  return [schema.type ?? 'anything'].flat().map(escaped).join(' or ');
}

function wordsHtml(words: readonly unknown[]): string {
  const shown = words.slice(0, MOST_WORDS).map((word) => `<code>${escaped(String(word))}</code>`);
  const more = words.length - shown.length;
  return `${shown.join(' ')}${more > 0 ? ` and ${more} more` : ''}`;
}

function listHtml({ prefixItems, items }: JsonSchema): string {
  if (Array.isArray(prefixItems)) return `[${(prefixItems as JsonSchema[]).map(typeHtml).join('; ')}]`;
  return items === undefined || items === false ? 'list' : `list of ${typeHtml(items)}`;
}

/** Of a shape without a name what it holds stands in the line. */
function objectHtml({ properties, additionalProperties }: JsonSchema): string {
  if (properties === undefined) {
    const values = additionalProperties as JsonSchema | boolean | undefined;
    return typeof values === 'object' ? `object of ${typeHtml(values)} by name` : 'object';
  }
  const members = Object.entries(properties).map(
    ([name, member]) => `<code>${escaped(name)}</code>: ${typeHtml(member)}`,
  );
  return `{ ${members.join('; ')} }`;
}

function limitWords(schema: JsonSchema): string[] {
  const { minimum, maximum, exclusiveMinimum, minLength, maxLength, minItems, maxItems } = schema;
  const isList = schema.prefixItems === undefined;
  return [
    ...(typeof minimum === 'number' ? [`from ${minimum}`] : []),
    ...(typeof exclusiveMinimum === 'number' ? [`above ${exclusiveMinimum}`] : []),
    ...(typeof maximum === 'number' && maximum < Number.MAX_SAFE_INTEGER ? [`to ${maximum}`] : []),
    ...(typeof maxLength === 'number' ? [countWords(minLength, maxLength, 'characters')] : []),
    ...(isList && typeof maxItems === 'number' ? [countWords(minItems, maxItems, 'entries')] : []),
  ];
}

const countWords = (least: unknown, most: number, what: string) =>
  typeof least === 'number' && least > 0 ? `${least} to ${most} ${what}` : `at most ${most} ${what}`;

/** A format says what its pattern means. */
function formHtml({ format, pattern }: JsonSchema): string[] {
  if (typeof format === 'string') return [escaped(format)];
  return typeof pattern === 'string' ? [`like <code>${escaped(pattern)}</code>`] : [];
}
