/** One value that this device keeps under a name. Storage may be refused: it then lasts as long as the page. */

export function storedText(key: string): string | undefined {
  try {
    return localStorage.getItem(key) ?? undefined;
  } catch {
    return undefined;
  }
}

/** undefined forgets it. */
export function storeText(key: string, text: string | undefined): void {
  try {
    if (text === undefined) localStorage.removeItem(key);
    else localStorage.setItem(key, text);
  } catch {
    // Refused, or no room.
  }
}
