/** A file for the reader's disk, of what the service answered to a call with a key: a plain link carries none. */

export function saveFile(name: string, type: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser begins to read it after the click has been handled.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
