import type * as v from 'valibot'
import type { DataFault } from './data.ts'

/**
 * The first complaint of the schema as where, what and what would be right.
 * The messages of our schemas are the completion of "expected ..."; a key that is missing or too many has no message of its own.
 */
export function issueFault(issue: v.BaseIssue<unknown>): DataFault {
  // Of several that a value may be, the one that it is for most of the way says best where it fails.
  const inside = issue.type === 'union' ? issue.issues?.find(({ path }) => path !== undefined) : undefined
  if (inside !== undefined) {
    const fault = issueFault(inside)
    return { ...fault, where: `${pathText(issue)}.${fault.where}` }
  }
  const where = pathText(issue)
  const key = where.slice(where.lastIndexOf('.') + 1)
  if (issue.type.endsWith('object') && issue.path !== undefined && issue.input === undefined) {
    return { where, value: undefined, expected: `a value for ${key}` }
  }
  if (issue.type === 'strict_object' && issue.expected === 'never') return { where, value: issue.input, expected: `no key ${key} here` }
  return { where, value: issue.input, expected: issue.message }
}

function pathText(issue: v.BaseIssue<unknown>): string {
  return (issue.path ?? []).map((item) => String(item.key)).join('.')
}
