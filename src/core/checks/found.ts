import type { Finding } from './types.ts'

/*
 * Most of a plan breaks no rule. What found nothing is null: of thousands of records only the few that found something are told from.
 */

/** What a rule found; null: nothing. */
export const foundOrNull = (found: readonly Finding[]): readonly Finding[] | null => (found.length === 0 ? null : found)

/** What rules found, by their names; null: none of them found anything. */
export const anyFoundOrNull = <F extends Readonly<Record<string, readonly Finding[]>>>(found: F): F | null =>
  Object.values(found).some((one) => one.length > 0) ? found : null
