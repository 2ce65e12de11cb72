import { angleWrap } from '../../geom/index.ts'
import type { CouplerEnd, CouplerOffsets } from './types.ts'

/**
 * How two coupled ends stand to each other: how far sideways their faces lie apart when neither coupler swings, and how far both swing
 * when the faces meet, for then face, face and both pins lie on one line.
 *
 * Units:      mm on the model, rad; left positive, looking along the train.
 * Exactness:  to rounding. Play in the couplers is not counted. Source: derived.
 */
export function couplerOffsets(ahead: CouplerEnd, behind: CouplerEnd): CouplerOffsets {
  const drawbarRad = Math.atan2(ahead.pin.y - behind.pin.y, ahead.pin.x - behind.pin.x)
  const turn = angleWrap(ahead.headingRad - behind.headingRad)
  const middleRad = behind.headingRad + turn / 2
  const [cos, sin] = [Math.cos(middleRad), Math.sin(middleRad)]
  const dx = ahead.pin.x - ahead.reachMm * Math.cos(ahead.headingRad) - behind.pin.x - behind.reachMm * Math.cos(behind.headingRad)
  const dy = ahead.pin.y - ahead.reachMm * Math.sin(ahead.headingRad) - behind.pin.y - behind.reachMm * Math.sin(behind.headingRad)
  return {
    lateralMm: dy * cos - dx * sin,
    aheadRad: angleWrap(drawbarRad - ahead.headingRad),
    behindRad: angleWrap(drawbarRad - behind.headingRad),
  }
}
