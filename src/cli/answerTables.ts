/** A table of an answer: its name, its heads, its rows. */
export interface AnswerTable {
  readonly name: string
  readonly heads: readonly string[]
  readonly rows: readonly (readonly string[])[]
}

type Cells = ReadonlyMap<string, string>
interface Things {
  readonly [key: string]: unknown
}

/** By these a thing is told from its kin; one without is told by its number. */
const nameKeys = ['name', 'title', 'id', 'track', 'turnout', 'number', 'kind']

const isThing = (value: unknown): value is Things => typeof value === 'object' && value !== null && !Array.isArray(value)
const isThings = (value: unknown): value is readonly Things[] => Array.isArray(value) && value.length > 0 && value.every(isThing)

/**
 * An answer's JSON as tables, with the same names and numbers: what stands alone is one table of names and values, each list of things is one with
 * a row for each, and lists within them are tables that begin with whose they are.
 */
export function answerTables(json: object): readonly AnswerTable[] {
  const found = new Map<string, Cells[]>()
  // A list stands ahead of the lists within it.
  const rowsOf = (name: string): Cells[] => {
    const rows = found.get(name) ?? []
    found.set(name, rows)
    return rows
  }
  const alone = gather(json as Things, '', [], rowsOf)
  const filled = [...found].filter(([, rows]) => rows.length > 0)
  const tables = filled.map(([name, all]): AnswerTable => {
    const heads = [...new Set(all.flatMap((cells) => [...cells.keys()]))]
    return { name, heads, rows: all.map((cells) => heads.map((head) => cells.get(head) ?? '')) }
  })
  return alone.size === 0 ? tables : [{ name: 'values', heads: ['name', 'value'], rows: [...alone] }, ...tables]
}

/** One table is written plainly, several one below the other under their names. */
export function answerTableRows(tables: readonly AnswerTable[]): readonly (readonly string[])[] {
  const [only] = tables
  if (only !== undefined && tables.length === 1) return [only.heads, ...only.rows]
  return tables.flatMap(({ name, heads, rows }, i) => [...(i === 0 ? [] : [[]]), [name], heads, ...rows])
}

/** The cells of a thing; its lists go to tables of their own, which lead with whose they are. */
function gather(
  thing: Things,
  path: string,
  whose: readonly (readonly [string, string])[],
  rowsOf: (name: string) => Cells[],
  before = '',
): Cells {
  const cells = new Map<string, string>()
  for (const [key, value] of Object.entries(thing)) {
    const name = `${before}${key}`
    const place = path === '' ? name : `${path} ${name}`
    if (isThings(value)) {
      const rows = rowsOf(place)
      for (const [i, one] of value.entries()) {
        const inner = gather(one, place, [...whose, [key, nameOf(one, i)]], rowsOf)
        if (inner.size > 0) rows.push(new Map([...whose, ...inner]))
      }
    } else if (isThing(value)) for (const [inner, text] of gather(value, path, whose, rowsOf, `${name}.`)) cells.set(inner, text)
    else if (!Array.isArray(value)) cells.set(name, cellText(value))
    else if (value.length > 0) cells.set(name, value.map((one) => (isThing(one) ? JSON.stringify(one) : cellText(one))).join('; '))
  }
  return cells
}

function nameOf(thing: Things, index: number): string {
  const key = nameKeys.find((known) => typeof thing[known] === 'string' || typeof thing[known] === 'number')
  return key === undefined ? String(index + 1) : String(thing[key])
}

function cellText(value: unknown): string {
  if (value === null || value === undefined) return ''
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return Array.isArray(value) ? value.map(cellText).join(' ') : String(value as string | number)
}
