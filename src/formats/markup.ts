// What SVG and other XML share.

/** Text within an element or an attribute. */
export function markupText(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;')
}

/** A number with at most so many decimals, and no zeros behind its last digit. */
export function markupNumber(value: number, decimals: number): string {
  const text = value
    .toFixed(decimals)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '')
  return text === '-0' ? '0' : text
}
