import type { Migration } from '../migrate.ts'

/** All steps from version 1 to the current one, in order. Version 1 is the first there is: no step yet. */
export const migrations: readonly Migration[] = []
