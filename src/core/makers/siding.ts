import { parallelSolve } from '../alignment/index.ts'
import type { ParallelAnswer } from '../alignment/index.ts'
import type { TraverseCorner } from '../alignment/types.ts'
import { poseToPlan } from '../geom/index.ts'
import type { SidingNumbers } from '../plan/types.ts'
import { arcTangent } from './curves.ts'
import type { Shape } from './shape.ts'
import { done, fail, handOf, hostPose, nearestIn, signOf, stationOn, stretchOf } from './site.ts'
import type { Host, Range, Site } from './site.ts'
import type { MakerProblem, Outcome, PartCorner, Parts } from './types.ts'

type Beside = Extract<ParallelAnswer, { readonly ok: true }>

/** What an end of the siding wants: of its turnout, and along the parallel from the points to where the curve behind its leg ends. */
interface Ramp {
  readonly shape: Shape
  /** Points to the PI at which the leg's line meets the parallel: crossX + c / tan F. */
  readonly piMm: number
  readonly tangentMm: number
}

/**
 * A passing siding: the line beside its host at the centres asked, joined to it by a turnout at each end.
 *
 *   Beside a straight host the leg's line meets the parallel at crossX + c / tan F from the points; there the siding turns back by F with the
 *   usual radius of its class and no easement, as behind any turnout. Between those two PIs it has the PIs of the parallel.
 *
 * Outcome:  turnouts that stand on straights, whose ramps end before the parallel's first curve begins; else the nearest stations that
 *           would do.
 */
export function sidingMake(site: Site, numbers: SidingNumbers): Outcome<Parts> {
  const opened = site.host(numbers.track)
  if (!opened.ok) return opened
  const host = opened.value
  const { fromMm, side, centresMm, frogFrom, frogTo } = numbers
  const { path, isClosed } = host.alignment
  const toMm = isClosed && numbers.toMm <= fromMm ? numbers.toMm + path.lengthMm : numbers.toMm
  const ramps = rampsOf(site, numbers, host)
  if (!ramps.ok) return ramps
  const [into, out] = ramps.value
  for (const { shape, tangentMm } of [into, out]) {
    const leastMm = shape.legY + tangentMm * Math.sin(shape.frogAngleRad)
    if (centresMm < leastMm) return fail({ kind: 'centresTooSmall', where: 'centresMm', centresMm, leastMm })
  }
  const order = orderProblem(host, fromMm, toMm, into, out)
  if (order !== null) return fail(order)

  const answer = beside(site, numbers, host, fromMm, toMm)
  // Stations in curves move to tangents there; such an end is refused below, so nothing is lost.
  if (!answer.ok) {
    const [problem] = answer.problems
    if (problem !== undefined) return fail({ kind: 'beside', track: host.id, problem })
    return fail({ kind: 'hostUnsolved', track: host.id })
  }
  const placed = endProblem(site, numbers, host, toMm, into, out, answer)
  if (placed !== null) return fail(placed)

  const rising = hostPose(host, fromMm, 'rising')
  const falling = hostPose(host, toMm, 'falling')
  const sign = signOf(side)
  const ramp = (x: number, y: number): PartCorner => ({ x, y, radius: 'class', easementIn: 0, easementOut: 0 })
  const first = poseToPlan(rising, { x: into.piMm, y: sign * centresMm })
  const last = poseToPlan(falling, { x: out.piMm, y: -sign * centresMm })
  const corners = [ramp(first.x, first.y), ...answer.traverse.corners.map(cornerPart), ramp(last.x, last.y)]
  return done({
    parts: [
      {
        kind: 'turnout',
        word: 'A',
        host: { kind: 'plan', id: numbers.track },
        stationMm: stationOn(host, fromMm),
        facing: 'rising',
        hand: side,
        frog: frogFrom,
      },
      {
        kind: 'turnout',
        word: 'B',
        host: { kind: 'plan', id: numbers.track },
        stationMm: stationOn(host, toMm),
        facing: 'falling',
        hand: handOf(side, 'falling'),
        frog: frogTo,
      },
      { kind: 'track', word: '', start: { kind: 'leg', turnout: 0 }, corners, end: { kind: 'leg', turnout: 1 } },
    ],
    facts: [{ name: 'pointsToPointsMm', value: toMm - fromMm }],
  })
}

function rampsOf(site: Site, numbers: SidingNumbers, host: Host): Outcome<readonly [Ramp, Ramp]> {
  const ramp = (index: number, frog: number): Outcome<Ramp> => {
    const shape = site.shape(index, host.lineClass, frog)
    if (!shape.ok) return shape
    const { crossX, frogAngleRad } = shape.value
    const piMm = crossX + numbers.centresMm / Math.tan(frogAngleRad)
    return done({ shape: shape.value, piMm, tangentMm: arcTangent(site.lineClass.usualRadiusMm, frogAngleRad) })
  }
  const into = ramp(0, numbers.frogFrom)
  if (!into.ok) return into
  const out = ramp(1, numbers.frogTo)
  return out.ok ? done([into.value, out.value]) : out
}

function orderProblem({ id, alignment }: Host, fromMm: number, toMm: number, into: Ramp, out: Ramp): MakerProblem | null {
  const { path, isClosed } = alignment
  for (const [where, stationMm] of [
    ['fromMm', fromMm],
    ['toMm', isClosed && toMm > path.lengthMm ? toMm - path.lengthMm : toMm],
  ] as const) {
    if (stationMm >= 0 && stationMm <= path.lengthMm) continue
    const nearestMm = [Math.min(Math.max(stationMm, 0), path.lengthMm)]
    return { kind: 'station', where, track: id, stationMm, nearestMm, needMm: 0, haveMm: path.lengthMm }
  }
  const needMm = into.piMm + into.tangentMm + out.piMm + out.tangentMm
  return toMm - fromMm < needMm ? { kind: 'tooShort', what: 'siding', haveMm: toMm - fromMm, needMm } : null
}

function beside(site: Site, numbers: SidingNumbers, { alignment }: Host, fromMm: number, toMm: number): ParallelAnswer {
  const sign = signOf(numbers.side)
  return parallelSolve({
    alignment,
    stretch: { kind: 'between', fromMm, toMm },
    offsetMm: sign * numbers.centresMm,
    curveOffsetMm: sign * numbers.curveCentresMm,
    minRadiusMm: site.lineClass.minRadiusMm,
  })
}

/** Straight of the parallel from its start to its first curve, and from its last curve to its end. */
function straightEnds({ alignment }: Beside): readonly [number, number] {
  const curves = alignment.corners.filter(({ solution }) => solution.totalLengthMm > 0)
  const { lengthMm } = alignment.path
  return [curves[0]?.tsMm ?? lengthMm, lengthMm - (curves.at(-1)?.stMm ?? 0)]
}

const ROUNDING_MM = 1e-6

/**
 * Why an end cannot stand where it is: its turnout is not on a straight, or its ramp runs into the parallel's first curve. With the nearest
 * stations that would do, tried on every straight of the host.
 */
function endProblem(
  site: Site,
  numbers: SidingNumbers,
  host: Host,
  toMm: number,
  into: Ramp,
  out: Ramp,
  answer: Beside,
): MakerProblem | null {
  const { fromMm } = numbers
  const [first, last] = straightEnds(answer)
  const ends = [
    { where: 'fromMm', stationMm: fromMm, ramp: into, freeMm: first },
    { where: 'toMm', stationMm: toMm, ramp: out, freeMm: last },
  ] as const
  const { lengthMm } = host.alignment.path
  const shifts = host.alignment.isClosed ? [0, -lengthMm, lengthMm, -2 * lengthMm] : [0]
  for (const { where, stationMm, ramp, freeMm } of ends) {
    const facing = where === 'fromMm' ? 'rising' : 'falling'
    const [before, behind] = stretchOf(ramp.shape, facing)
    const isStraight = host.straights.some((straight) =>
      shifts.some(
        (shift) => stationMm + shift + before >= straight.fromMm - ROUNDING_MM && stationMm + shift + behind <= straight.toMm + ROUNDING_MM,
      ),
    )
    const wantMm = ramp.piMm + ramp.tangentMm
    if (isStraight && freeMm >= wantMm - ROUNDING_MM) continue
    const ranges = host.straights.flatMap((straight): Range[] => {
      const low = straight.fromMm - before
      const high = straight.toMm - behind
      if (low > high) return []
      return where === 'fromMm' ? rangeInto(low, high) : rangeOut(low, high)
    })
    const haveMm = Math.max(0, ...host.straights.map((straight) => straight.toMm - straight.fromMm))
    return {
      kind: 'station',
      where,
      track: host.id,
      stationMm: stationOn(host, stationMm),
      nearestMm: nearestIn(ranges, stationMm).map((station) => stationOn(host, station)),
      needMm: behind - before,
      haveMm,
    }
  }
  return null

  /** Of the stations from which the turnout is straight those from which the ramp ends before the first curve; likewise at the far end. */
  function rangeInto(low: number, high: number): Range[] {
    if (low >= toMm || low < 0) return []
    const trial = beside(site, numbers, host, low, toMm)
    if (!trial.ok) return []
    const latest = low + straightEnds(trial)[0] - into.piMm - into.tangentMm
    return low <= Math.min(high, latest) ? [{ fromMm: low, toMm: Math.min(high, latest) }] : []
  }
  function rangeOut(low: number, high: number): Range[] {
    if (high <= fromMm || high > lengthMm) return []
    const trial = beside(site, numbers, host, fromMm, high)
    if (!trial.ok) return []
    const earliest = high - straightEnds(trial)[1] + out.piMm + out.tangentMm
    return Math.max(low, earliest) <= high ? [{ fromMm: Math.max(low, earliest), toMm: high }] : []
  }
}

/** A solved corner of the parallel as it stands in a record. */
function cornerPart({ x, y, radiusMm, easementInMm, easementOutMm }: TraverseCorner): PartCorner {
  const radius =
    radiusMm === null
      ? 'easement-only'
      : typeof radiusMm === 'number'
        ? radiusMm
        : {
            first: { radius: radiusMm.first.radiusMm, turn: radiusMm.first.turn },
            next: radiusMm.next.map((arc) => ({ easement: arc.easementMm, radius: arc.radiusMm, turn: arc.turn })),
          }
  return { x, y, radius, easementIn: easementInMm, easementOut: easementOutMm }
}
