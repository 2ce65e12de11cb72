/**
 * How a value of a table is known: `read` in the print named, `derived` from read values by the rule stated beside it,
 * or `from-memory`, not confirmed. The screen may show it, so that a builder sees which limit is a standard and which a habit.
 */
export type SourceStatus = 'read' | 'derived' | 'from-memory'

/** Where a value comes from; `source` is a key of REFERENCES.md. */
export interface Sourced {
  readonly source: string
  readonly clause: string
  readonly status: SourceStatus
}
