import type { Migration } from '../migrate.ts'
import { isTable, recordsOf } from './fields.ts'

/**
 * Version 6 knows what helps to draw (guides, measurements that stay, pictures under the plan, locks), where north is, windows, and
 * what hangs over the floor. Before, every opening and every obstacle reached down to it.
 */
export const migration005: Migration = {
  from: 5,
  migrate: (plan) => ({
    guides: {},
    readings: {},
    underlays: {},
    locks: {},
    ...plan,
    ...recordsOf(plan, 'openings', (opening) => ({ sillMm: null, ...opening })),
    ...recordsOf(plan, 'obstacles', (obstacle) => ({ undersideMm: 0, ...obstacle })),
    ...(isTable(plan['railway']) ? { railway: { northRad: null, ...plan['railway'] } } : {}),
  }),
}
