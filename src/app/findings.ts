import type { Finding } from '../core/checks/types.ts'
import type { Stores } from './context.ts'
import { viewportShow } from './viewportShow.ts'

/** Goes to the place of a finding: selects what is wrong, and brings it into sight where it is not. */
export function findingShow(stores: Stores, finding: Finding): void {
  const session = stores.session.getState()
  if (session.hidden.includes('findings')) session.setHidden(session.hidden.filter((kind) => kind !== 'findings'))
  if (finding.table === 'tracks' && finding.corner !== null)
    session.select({ kind: 'corner', track: finding.record, corner: finding.corner })
  else session.select({ kind: 'record', table: finding.table, id: finding.record })
  viewportShow(stores, { minX: finding.x, maxX: finding.x, minY: finding.y, maxY: finding.y })
}
