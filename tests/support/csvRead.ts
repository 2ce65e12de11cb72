/** Reads comma-separated values by the grammar of RFC 4180, section 2, and no more leniently; throws where a text breaks it. */
export function csvRead(text: string): readonly (readonly string[])[] {
  const rows: string[][] = []
  let at = 0
  const fail = (what: string): never => {
    throw new Error(`${what} at ${at}: ${JSON.stringify(text.slice(at, at + 20))}`)
  }
  while (at < text.length) {
    const row: string[] = []
    for (;;) {
      if (text[at] === '"') {
        let field = ''
        at += 1
        for (;;) {
          if (at >= text.length) fail('a quoted field that is not closed')
          if (text[at] !== '"') field += text[at]
          else if (text[at + 1] === '"') {
            field += '"'
            at += 1
          } else break
          at += 1
        }
        at += 1
        row.push(field)
      } else {
        const plain = /[^",\r\n]*/y
        plain.lastIndex = at
        const field = plain.exec(text)?.[0] ?? ''
        at += field.length
        row.push(field)
      }
      if (text[at] !== ',') break
      at += 1
    }
    if (text.slice(at, at + 2) !== '\r\n') fail('a line that does not end in CR LF')
    at += 2
    rows.push(row)
  }
  return rows
}
