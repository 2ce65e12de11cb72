import type { Finding } from '../core/checks/types.ts'
import type { Stores } from './context.ts'
import { viewportFit, viewportShow } from './viewportShow.ts'

/** At this scale, px/mm, heads, gaps and joints of rails can be told apart. */
const jointPxPerMm = 2
/** What is seen about a joint, mm. */
const aboutJointMm = 150

/** Goes to the place of a finding: selects what is wrong, and brings it into sight where it is not. A rail joint is brought near as well: from afar there is none. */
export function findingShow(stores: Stores, finding: Finding): void {
  const session = stores.session.getState()
  if (session.hidden.includes('findings')) session.setHidden(session.hidden.filter((kind) => kind !== 'findings'))
  if (finding.table === 'tracks' && finding.corner !== null)
    session.select({ kind: 'corner', track: finding.record, corner: finding.corner })
  else session.select({ kind: 'record', table: finding.table, id: finding.record })
  const { x, y } = finding
  if (finding.table === 'railJoints' && session.viewport.pxPerMm < jointPxPerMm)
    viewportFit(stores, { minX: x - aboutJointMm, maxX: x + aboutJointMm, minY: y - aboutJointMm, maxY: y + aboutJointMm })
  else viewportShow(stores, { minX: x, maxX: x, minY: y, maxY: y })
}
