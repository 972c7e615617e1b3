/** Text as it stands between tags and in attributes of HTML and XML. */
export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/** A coordinate of a drawing, two decimals at most. */
export const at2 = (value: number): string => String(Math.round(value * 100) / 100 + 0);
