/** Where a text stops being JSON. Lines and columns count from 1, as editors do. */
export interface JsonFault {
  readonly offset: number
  readonly line: number
  readonly column: number
  /** The character that stands there, one that cannot be seen as U+ and its number; null: the text ends. */
  readonly found: string | null
  readonly expected: string
}

/**
 * The first place where a text is not JSON (RFC 8259); null when it is.
 *
 * Engines word their own errors differently, and some give no place; this scanner gives the same one everywhere. It keeps a list of
 * open brackets instead of calling itself, so no depth of nesting exhausts the stack.
 */
export function jsonFaultFind(text: string): JsonFault | null {
  const open: ('{' | '[')[] = []
  let at = skipSpace(text, 0)
  // What may stand next: a value, a key, what follows a value, or a value or key that an empty list or object lacks.
  let next: 'value' | 'firstItem' | 'firstKey' | 'key' | 'after' = 'value'
  for (;;) {
    const char = text[at]
    if (next === 'after') {
      const top = open.at(-1)
      if (top === undefined) return at === text.length ? null : fault(text, at, 'the end of the file')
      if (char === ',') next = top === '{' ? 'key' : 'value'
      else if (char === closer[top]) open.pop()
      else return fault(text, at, `',' or '${closer[top]}'`)
      at += 1
    } else if (next === 'firstItem' && char === ']') {
      open.pop()
      next = 'after'
      at += 1
    } else if (next === 'firstKey' && char === '}') {
      open.pop()
      next = 'after'
      at += 1
    } else if (next === 'key' || next === 'firstKey') {
      const end = stringEnd(text, at)
      if (typeof end !== 'number') return end
      at = skipSpace(text, end)
      if (text[at] !== ':') return fault(text, at, "':'")
      at += 1
      next = 'value'
    } else if (char === '{' || char === '[') {
      open.push(char)
      next = char === '{' ? 'firstKey' : 'firstItem'
      at += 1
    } else {
      const end = scalarEnd(text, at)
      if (typeof end !== 'number') return end
      at = end
      next = 'after'
    }
    at = skipSpace(text, at)
  }
}

const closer = { '{': '}', '[': ']' } as const

function fault(text: string, offset: number, expected: string): JsonFault {
  const before = text.slice(0, offset)
  const lineStart = before.lastIndexOf('\n') + 1
  let line = 1
  for (let i = before.indexOf('\n'); i >= 0; i = before.indexOf('\n', i + 1)) line += 1
  return { offset, line, column: offset - lineStart + 1, found: characterShown(text.codePointAt(offset)), expected }
}

/** What a screen or a terminal can show without obeying it. */
function characterShown(code: number | undefined): string | null {
  if (code === undefined) return null
  const char = String.fromCodePoint(code)
  return /[\p{C}\p{Z}]/u.test(char) ? `U+${code.toString(16).toUpperCase().padStart(4, '0')}` : char
}

function skipSpace(text: string, from: number): number {
  let at = from
  while (text[at] === ' ' || text[at] === '\n' || text[at] === '\r' || text[at] === '\t') at += 1
  return at
}

/** A word, or a number that wants a digit more, up to the end of the text. */
const brokenOff = /^(?:t|tr|tru|f|fa|fal|fals|n|nu|nul|-|-?(?:0|[1-9]\d*)(?:\.|(?:\.\d+)?[eE][+-]?))$/
/** No number that is written anywhere is longer. */
const LONGEST_START = 400

const numberPattern = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y

function scalarEnd(text: string, at: number): number | JsonFault {
  if (text[at] === '"') return stringEnd(text, at)
  for (const word of ['true', 'false', 'null']) if (text.startsWith(word, at)) return at + word.length
  // A word or number at which the text breaks off is no damage by itself.
  if (text.length - at < LONGEST_START && brokenOff.test(text.slice(at))) return fault(text, text.length, 'a value')
  numberPattern.lastIndex = at
  const match = numberPattern.exec(text)
  return match === null ? fault(text, at, 'a value') : at + match[0].length
}

function stringEnd(text: string, start: number): number | JsonFault {
  if (text[start] !== '"') return fault(text, start, 'a key in double quotes')
  let at = start + 1
  for (;;) {
    const char = text[at]
    if (char === undefined) return fault(text, at, "the closing '\"'")
    if (char === '"') return at + 1
    if (char < ' ') return fault(text, at, 'no line break or control character in a text')
    if (char === '\\') {
      const escape = text[at + 1]
      const hex = text.slice(at + 2, at + 6)
      if (at + (escape === 'u' ? 6 : 2) > text.length && /^(?:u[0-9a-fA-F]{0,3})?$/.test(text.slice(at + 1)))
        return fault(text, text.length, 'an escape character')
      if (escape === undefined || !'"\\/bfnrtu'.includes(escape)) return fault(text, at + 1, 'an escape character')
      if (escape === 'u' && !/^[0-9a-fA-F]{4}$/.test(hex)) return fault(text, at + 2, 'four hexadecimal digits')
      at += escape === 'u' ? 6 : 2
    } else at += 1
  }
}
