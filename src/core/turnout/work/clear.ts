import { pathNearest, pathPoseAt, pathSlice } from '../../geom/index.ts'
import type { TurnoutRail } from '../types.ts'
import { sideSign } from './side.ts'
import type { GaugeLine, WorkMeasures } from './types.ts'

/** Steps in which a guard rail is looked over, as part of a rail head. */
const stepHeads = 0.25
/** A head may stand in a flangeway by this part of it: rounding, and the wing that lies exactly one flangeway off. */
const slackFlangeways = 0.02

/**
 * A guard or check rail cut to where no other wheel runs: its head must not lie in the flangeway of any line. What is kept is the
 * stretch round `keyMm` of its face; lostMm is what was cut off.
 */
export function railClear(
  rail: TurnoutRail,
  keyMm: number,
  lines: readonly GaugeLine[],
  measures: WorkMeasures,
  gaugeMm: number,
): { readonly rail: TurnoutRail | null; readonly lostMm: number } {
  const { lengthMm } = rail.gaugeLine
  // A guard rail stands the check gauge off the other line: what that leaves beside its own rail is a flangeway too.
  const flangewayMm = Math.min(measures.flangewayMm, gaugeMm - measures.checkGaugeMm)
  const count = Math.max(2, Math.ceil(lengthMm / (stepHeads * measures.railHeadMm)))
  const stations = Array.from({ length: count + 1 }, (_, i) => (lengthMm * i) / count)
  const isClear = stations.map((station) => lines.every((line) => !standsIn(rail, station, line, { flangewayMm, railHeadMm: measures.railHeadMm })))
  if (isClear.every(Boolean)) return { rail, lostMm: 0 }
  const key = Math.min(count, Math.max(0, Math.round((keyMm / lengthMm) * count)))
  if (!isClear[key]) return { rail: null, lostMm: lengthMm }
  let first = key
  let last = key
  while (first > 0 && isClear[first - 1]) first--
  while (last < count && isClear[last + 1]) last++
  const [from, to] = [stations[first] ?? 0, stations[last] ?? lengthMm]
  if (to <= from) return { rail: null, lostMm: lengthMm }
  return { rail: { ...rail, gaugeLine: pathSlice(rail.gaugeLine, from, to) }, lostMm: lengthMm - (to - from) }
}

type Flangeway = Pick<WorkMeasures, 'flangewayMm' | 'railHeadMm'>

/** Whether the head at a station lies where a line's flanges run: on the side without its head, nearer than a flangeway. */
function standsIn(rail: TurnoutRail, stationMm: number, line: GaugeLine, { flangewayMm, railHeadMm }: Flangeway): boolean {
  const face = pathPoseAt(rail.gaugeLine, stationMm)
  const reach = rail.headSide * railHeadMm
  const far = { x: face.x - reach * Math.sin(face.headingRad), y: face.y + reach * Math.cos(face.headingRad) }
  const flange = -sideSign(line.side)
  const offsets = [face, far].map((point) => {
    const near = pathNearest(line.path, point)
    // Abreast of the line only: beyond its ends there is none.
    return Math.abs(near.distanceMm - Math.abs(near.offsetMm)) < 1e-6 ? flange * near.offsetMm : null
  })
  const [a, b] = offsets
  if (a === null || b === null || a === undefined || b === undefined) return false
  const slack = slackFlangeways * flangewayMm
  return Math.min(a, b) < flangewayMm - slack && Math.max(a, b) > slack
}
