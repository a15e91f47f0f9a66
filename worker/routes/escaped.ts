/** Text within HTML: none of it becomes markup, within an attribute neither. */

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** The text with every sign that has a meaning in HTML written as a reference. */
export function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (sign) => ESCAPES[sign]!);
}
