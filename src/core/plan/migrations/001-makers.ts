import type { Migration } from '../migrate.ts'

/** Version 2 has a table of makers. A plan from before has none: all its tracks were drawn by hand. */
export const migration001: Migration = {
  from: 1,
  // A key of that name that another program had put there would be taken for the table: the reader then says what is wrong with it.
  migrate: (plan) => ({ makers: {}, ...plan }),
}
