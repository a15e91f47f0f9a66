/** The address of elevation tiles, as a template with {z}, {x} and {y}: what may be one, and under which address all lie. */

const PLACEHOLDERS = ['{z}', '{x}', '{y}'];

/**
 * True for a plain http or https address that holds each placeholder once, in its path and after a slash, without user, query
 * or fragment: nothing secret is in it, and every tile lies under its base.
 */
export function isTerrainTemplate(text: string): boolean {
  const parts = text.match(/\{[^}]*\}/g) ?? [];
  if (parts.toSorted().join() !== PLACEHOLDERS.toSorted().join()) return false;
  const example = terrainTileUrl(text, { z: 9, x: 150, y: 190 });
  if (!URL.canParse(example) || !URL.canParse(terrainBaseUrl(text))) return false;
  const url = new URL(example);
  return (
    url.href === example &&
    /^https?:$/.test(url.protocol) &&
    [url.username, url.password, url.search, url.hash].every((part) => part === '') &&
    new URL(terrainBaseUrl(text)).href === terrainBaseUrl(text)
  );
}

/** Everything before the first placeholder, up to a slash. */
export function terrainBaseUrl(template: string): string {
  return template.slice(0, template.slice(0, template.indexOf('{')).lastIndexOf('/') + 1);
}

export function terrainTileUrl(
  template: string,
  tile: { readonly z: number; readonly x: number; readonly y: number },
): string {
  return template
    .replace('{z}', String(tile.z))
    .replace('{x}', String(tile.x))
    .replace('{y}', String(tile.y));
}
