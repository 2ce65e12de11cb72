import type { Migration } from '../migrate.ts'
import { migration001 } from './001-makers.ts'
import { migration002 } from './002-turnout-kinds.ts'
import { migration003 } from './003-cars-and-room.ts'
import { migration004 } from './004-laying.ts'
import { migration005 } from './005-aids.ts'

/** All steps from version 1 to the current one, in order. */
export const migrations: readonly Migration[] = [migration001, migration002, migration003, migration004, migration005]
