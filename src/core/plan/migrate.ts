import type { Data } from './data.ts'

/** A document as it was before the schema of today: plain data with keys. */
export type OldPlan = { readonly [key: string]: Data }

/**
 * One step between two versions of the document: pure, from `from` to `from + 1`. It lives in a file of its own,
 * migrations/NNN-what-changed.ts, with a fixture of the old version in the tests.
 */
export interface Migration {
  readonly from: number
  readonly migrate: (plan: OldPlan) => OldPlan
}

/** What is wrong with a list of migrations that should lead from the first version to `newest` without a gap; null: nothing. */
export function migrationGap(migrations: readonly Migration[], newest: number): { readonly missingFrom: number } | null {
  for (let from = 1; from < newest; from++) if (migrations[from - 1]?.from !== from) return { missingFrom: from }
  return migrations.length === newest - 1 ? null : { missingFrom: newest }
}

/**
 * A document of any known version, brought to `newest` step by step; the version number is written here and not in the steps.
 *
 * Domain:  a gapless list (tested); version a whole number from 1 to newest.
 * Outcome: null when no step leads on from a version on the way.
 */
export function planMigrate(plan: OldPlan, version: number, migrations: readonly Migration[], newest: number): OldPlan | null {
  let at = plan
  for (let from = version; from < newest; from++) {
    const step = migrations.find((migration) => migration.from === from)
    if (step === undefined) return null
    at = { ...step.migrate(at), version: from + 1 }
  }
  return at
}
