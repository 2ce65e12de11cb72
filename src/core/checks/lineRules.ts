import type { Pose } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { alignmentFaults } from './alignmentFaults.ts'
import { carRadius, couplingRadius } from './carRadius.ts'
import { couplerSwing } from './couplerSwing.ts'
import { brokenBacks, reverseCurves } from './curvesInARow.ts'
import { easementFit } from './easementFit.ts'
import { easementsShort } from './easementShort.ts'
import { anyFoundOrNull } from './found.ts'
import { minimumRadiusOfTrack } from './minimumRadius.ts'
import type { TrackRun } from './runs.ts'
import { shortCurves } from './shortCurve.ts'

/** What the rules find that look at a track and at nothing but the poses of the legs it hangs on; null: nothing. */
export function trackRules(track: NetworkTrack, startLeg: Pose | null, endLeg: Pose | null) {
  return anyFoundOrNull({
    minimumRadius: minimumRadiusOfTrack(track, startLeg, endLeg),
    alignmentFaults: alignmentFaults(track),
    easementFit: easementFit(track, startLeg, endLeg),
    easementsShort: easementsShort(track, startLeg, endLeg),
    shortCurves: shortCurves(track, startLeg, endLeg),
  })
}

/** What the rules find that look at a track's run, with what its cars come from; null: nothing, or it is not solved. */
export function runRules({ run, track, startLeg, endLeg, start, end }: TrackRun) {
  if (run === null) return null
  return anyFoundOrNull({
    carRadius: carRadius(run, track, startLeg, endLeg),
    couplingRadius: couplingRadius(run, track, startLeg, endLeg, start, end),
    reverseCurves: reverseCurves(run, track, startLeg, endLeg, start, end),
    brokenBacks: brokenBacks(run, track),
    couplerSwing: couplerSwing(run, track),
  })
}
