import type { Cure, Finding } from '../core/checks/types.ts'
import type { PlanCommand } from '../core/edit/types.ts'
import type { Stores } from './context.ts'
import { makerNumbersSet } from './makers/makerSteps.ts'
import { planEdit } from './planEdit.ts'
import { viewportCentre } from './viewportShow.ts'

/** The edit that a cure stands for; other numbers of a maker write all that it makes, on the plan as it then is. */
export function cureCommand(cure: Exclude<Cure, { readonly kind: 'setNumbers' }>): PlanCommand {
  switch (cure.kind) {
    case 'setRadius':
      return { kind: 'corner.set', track: cure.track, corner: cure.corner, change: { radius: cure.radiusMm } }
    case 'scaleEasements':
      return {
        kind: 'corner.set',
        track: cure.track,
        corner: cure.corner,
        change: { easementIn: cure.easementInMm, easementOut: cure.easementOutMm },
      }
    case 'setFrog':
      return { kind: 'turnout.set', id: cure.turnout, change: { frog: cure.frog } }
    case 'moveTurnout':
      return { kind: 'turnout.set', id: cure.turnout, change: { stationMm: cure.stationMm } }
  }
}

/** Goes to the place of a finding: selects what is wrong and brings it to the middle. */
export function findingShow(stores: Stores, finding: Finding): void {
  const session = stores.session.getState()
  if (finding.table === 'tracks' && finding.corner !== null)
    session.select({ kind: 'corner', track: finding.record, corner: finding.corner })
  else session.select({ kind: 'record', table: finding.table, id: finding.record })
  viewportCentre(stores, finding)
}

/** Cures a finding as one step, and shows where. */
export function findingCure(stores: Stores, finding: Finding): void {
  if (finding.cure === null) return
  findingShow(stores, finding)
  if (finding.cure.kind === 'setNumbers') makerNumbersSet(stores, finding.cure.maker, finding.cure.numbers)
  else planEdit(stores, cureCommand(finding.cure))
}
