import { easementByRule } from '../alignment/index.ts'
import { poseToPlan } from '../geom/index.ts'
import { deckUnderRail } from '../levels/index.ts'
import type { HelixNumbers } from '../plan/types.ts'
import { clearHeightOver, curveResistanceGrade } from '../standards/index.ts'
import { cornerOfClass, easementsOf, radiusOf } from './curves.ts'
import { freeEnd } from './loop.ts'
import { done, fail, signOf } from './site.ts'
import type { Site } from './site.ts'
import type { MakerFact, Outcome, PartCorner, Parts } from './types.ts'

const FULL_RAD = 2 * Math.PI

/** A corner turns about a right angle: so far out its PI can still be seen and dragged once the helix is taken apart. */
const CORNER_RAD = Math.PI / 2

/** More turns than this are a slip of the pen. */
const MOST_TURNS = 30

/** A turn of half a degree is no curve. */
const LEAST_RAD = 0.01

/** Past a limit by less than this is on it. */
const ROUNDING_MM = 1e-3
const ROUNDING_GRADE = 1e-6

/** Whole turns are whole within this. */
const ROUNDING_RAD = 1e-9

/** The helix in numbers: what its circle is, and what the climb makes of it. */
interface Winding {
  readonly radiusMm: number
  readonly easementMm: number
  readonly turnRad: number
  /** Along the centreline from tangent to tangent. */
  readonly lengthMm: number
}

/**
 * A helix behind the free end of a track.
 *
 *   It climbs evenly from tangent to tangent. An easement of length l turns l / 2R, so with one at each end a turn of T is
 *     L = R T + l         long, and its grade is         g = climb / L.
 *   Two places over each other lie one turn of arc apart, so a turn rises h = 2 pi R g; where an easement takes part in it the way between
 *   them is longer, and the rise no less. Of the rise h the deck and the rail take their heights, the rest is clear.
 *   With the way out at a given angle the turns are whole ones and a part: as many as leave at least the rise that was asked, or at most
 *   the grade.
 *
 * Outcome:  one track of corners without easement between; or the climb that would do.
 */
export function helixMake(site: Site, numbers: HelixNumbers): Outcome<Parts> {
  const host = site.host(numbers.track)
  if (!host.ok) return host
  const end = freeEnd(site, host.value, numbers.end)
  if (end === null) return fail({ kind: 'endNotFree', track: numbers.track, end: numbers.end })
  const wound = winding(site, numbers)
  if (!wound.ok) return wound
  const { radiusMm, turnRad } = wound.value
  const { size, hand, straightMm } = numbers

  const count = Math.max(1, Math.ceil(turnRad / CORNER_RAD - ROUNDING_RAD))
  const radius = size.kind === 'radius' ? size.radius : radiusMm
  const corners: PartCorner[] = []
  let [x, y] = [0, 0]
  for (let i = 0; i < count; i++) {
    const eased = { isIn: i === 0, isOut: i === count - 1 }
    const curve = cornerOfClass(site.lineClass, radiusMm, turnRad / count, eased)
    if (!curve.ok) return curve
    const { tangentInMm, tangentOutMm } = curve.value
    const [inRad, outRad] = [(i * turnRad) / count, ((i + 1) * turnRad) / count]
    x += tangentInMm * Math.cos(inRad)
    y += tangentInMm * Math.sin(inRad)
    corners.push({ ...poseToPlan(end, { x, y: signOf(hand) * y }), radius, ...easementsOf(eased) })
    const outMm = tangentOutMm + (eased.isOut ? straightMm : 0)
    x += outMm * Math.cos(outRad)
    y += outMm * Math.sin(outRad)
  }
  const last = poseToPlan(end, { x, y: signOf(hand) * y })
  return done({
    parts: [{ kind: 'track', word: '', start: { kind: 'free', x: end.x, y: end.y }, corners, end: { kind: 'free', ...last } }],
    facts: factsOf(site, numbers, wound.value),
  })
}

function winding({ railway, lineClass }: Site, { size, climbMm, rise, deckMm, exit }: HelixNumbers): Outcome<Winding> {
  const radiusMm = size.kind === 'radius' ? radiusOf(size.radius, lineClass) : size.acrossMm / 2 - railway.edgeMarginMm
  if (!(radiusMm > railway.gaugeMm)) {
    const leastMm = 2 * (lineClass.minRadiusMm + railway.edgeMarginMm)
    return fail({ kind: 'acrossTooSmall', acrossMm: size.kind === 'across' ? size.acrossMm : 2 * radiusMm, leastMm })
  }
  const easement = easementByRule(lineClass.easement, radiusMm)
  if (!easement.ok)
    return fail({ kind: 'badNumber', where: 'size', value: radiusMm, expected: 'a radius that the easement of the class can lead into' })
  const easementMm = easement.lengthMm
  const roundMm = FULL_RAD * radiusMm
  const underMm = deckUnderRail(railway, deckMm)
  const riseMm = rise.kind === 'perTurn' ? rise.riseMm : rise.kind === 'clear' ? rise.clearMm + underMm : rise.grade * roundMm
  if (riseMm <= underMm) return fail({ kind: 'riseTooLow', riseMm, leastMm: underMm + clearHeightOver(railway.ratio) })

  const lengthOf = (turnRad: number): number => radiusMm * turnRad + easementMm
  const climbFor = (turnRad: number): number => (riseMm * lengthOf(turnRad)) / roundMm
  const freeRad = ((climbMm / riseMm) * roundMm - easementMm) / radiusMm
  // Both easements must lie in it; a turn that leaves nearly straight on has to come round first.
  const roomRad = Math.max(easementMm / radiusMm, LEAST_RAD)
  const leastRad = exit.kind === 'asClimb' ? roomRad : exit.angleRad < roomRad ? exit.angleRad + FULL_RAD : exit.angleRad
  const turnRad = exit.kind === 'asClimb' ? freeRad : turnsTo(exit.angleRad, freeRad, rise.kind === 'grade' ? leastRad : null)
  if (turnRad < leastRad - ROUNDING_RAD) return fail({ kind: 'climbTooLow', climbMm, leastMm: climbFor(leastRad) })
  if (turnRad > MOST_TURNS * FULL_RAD)
    return fail({ kind: 'tooManyTurns', turns: turnRad / FULL_RAD, mostTurns: MOST_TURNS, mostClimbMm: climbFor(MOST_TURNS * FULL_RAD) })
  return done({ radiusMm, easementMm, turnRad, lengthMm: lengthOf(turnRad) })
}

/**
 * Whole turns and this angle: as many as the climb has room for, so that a turn rises no less than asked. With a least turn it is the grade that
 * must hold: then one more.
 */
function turnsTo(angleRad: number, freeRad: number, leastRad: number | null): number {
  const turns = (freeRad - angleRad) / FULL_RAD
  if (leastRad !== null) return Math.max(leastRad, angleRad + FULL_RAD * Math.ceil(turns - ROUNDING_RAD))
  return angleRad + FULL_RAD * Math.max(0, Math.floor(turns + ROUNDING_RAD))
}

function factsOf({ railway, lineClass }: Site, numbers: HelixNumbers, { radiusMm, turnRad, lengthMm }: Winding): readonly MakerFact[] {
  const grade = numbers.climbMm / lengthMm
  const risePerTurnMm = grade * FULL_RAD * radiusMm
  const outsideMm = 2 * radiusMm
  const clearMm = risePerTurnMm - deckUnderRail(railway, numbers.deckMm)
  const isLow = turnRad >= FULL_RAD && clearMm < clearHeightOver(railway.ratio) - ROUNDING_MM
  return [
    { name: 'radiusMm', value: radiusMm },
    { name: 'turns', value: turnRad / FULL_RAD },
    { name: 'helixMm', value: lengthMm },
    { name: 'risePerTurnMm', value: risePerTurnMm },
    { name: 'clearMm', value: clearMm, isOver: isLow },
    { name: 'grade', value: grade, isOver: grade > lineClass.maxGrade + ROUNDING_GRADE },
    { name: 'effectiveGrade', value: grade + curveResistanceGrade(radiusMm, railway.ratio) },
    { name: 'classGrade', value: lineClass.maxGrade },
    { name: 'outsideMm', value: outsideMm },
    { name: 'secondOutsideMm', value: outsideMm + 2 * lineClass.trackCentresMm },
  ]
}
