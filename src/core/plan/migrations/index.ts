import type { Migration } from '../migrate.ts'
import { migration001 } from './001-makers.ts'

/** All steps from version 1 to the current one, in order. */
export const migrations: readonly Migration[] = [migration001]
