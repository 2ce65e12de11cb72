/** A byte order mark, by which spreadsheets know UTF-8. */
const BOM = '\uFEFF'

/**
 * Rows as comma-separated values (RFC 4180): every line ends in CR LF; a field with a comma, a quote or a line break stands in quotes,
 * its own quotes doubled. A text that a spreadsheet would take for a formula is kept from it by an apostrophe; numbers are left alone.
 */
export function csvWrite(rows: readonly (readonly string[])[]): string {
  return BOM + rows.map((row) => `${row.map(fieldText).join(',')}\r\n`).join('')
}

function fieldText(text: string): string {
  const plain = /^[=+\-@\t\r]/.test(text) && !Number.isFinite(Number(text)) ? `'${text}` : text
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain
}
