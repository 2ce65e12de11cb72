import { pathElementIndex, pathFromElements, pathPoseAt } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Vehicle } from '../plan/types.ts'
import { bodyPlaces, trainCarOf, trainCarTurned, trainStance } from '../vehicles/index.ts'
import type { TrainCar } from '../vehicles/index.ts'
import type { Run } from './run.ts'
import type { Finding } from './types.ts'

/** What one coupler hangs on: the body at an end of a vehicle, turned so that this end is its front. */
interface CarEnd {
  readonly vehicle: Vehicle
  readonly car: TrainCar
  /** From the front support to the pin, from support to support, over the axles of a truck. */
  readonly overhangMm: number
  readonly baseMm: number
  readonly axlesMm: number
}

/** Two ends that couple; the car ahead stands at the higher stations. */
interface EndPair {
  readonly ahead: CarEnd
  readonly behind: CarEnd
  readonly cars: readonly [TrainCar, TrainCar]
  readonly drawbarMm: number
  /** From the middle of the drawbar to the far end of what decides how the bodies stand. */
  readonly feelsMm: number
  /** From the middle of the drawbar to the front support of the car ahead. */
  readonly headMm: number
  readonly bound: SwingBound
}

/** By how much a coupler has to swing at a place, less how far it can. */
interface Swung {
  readonly atMm: number
  readonly overRad: number
  readonly angleRad: number
  readonly lateralMm: number
  readonly end: CarEnd
  readonly other: CarEnd
}

interface Stretch {
  readonly fromMm: number
  readonly toMm: number
  readonly worst: Swung
}

/** The bound on a swing is that of lines that turn little; this covers the rest. */
const boundSlack = 1.1
/** The way along a bend is longer than the cars on it. */
const wayLonger = 1.05
/** The worst place of a stretch is closed in on so far, mm. */
const placeMm = 0.01
/** A swing this much over what a coupler can do is rounding, rad. */
const swingRounding = 1e-9

/**
 * Places where the coupler of one of two coupled cars would have to swing farther than it can: reverse curves, the ends of bare curves,
 * curves sharp all along. All pairs of what runs on the class, either way round, stand on the true line with what they come from.
 *
 * Units:      rad. Measured is the swing of the worse coupler, limit what its vehicle's can do.
 * Exactness:  places half a drawbar's length apart, the worst of a stretch to 0.01 mm. Skipped is what a bound says is calm (a body's axis
 *             leaves a line of curvatures within two bounds by no more than it would leave either), or small angles do with a tenth and the
 *             square of the turn to spare. Play is not counted.
 * Outcome:    errors, one a corner or turnout; where a car cannot stand at all other rules speak.
 * Source:     derived; how far a coupler swings is for the vehicle to say.
 */
export function couplerSwing(run: Run, networkTrack: NetworkTrack | null): readonly Finding[] {
  const { vehicles, railway, mostCurvature } = run
  const ends = vehicles.flatMap((vehicle) => endsOf(vehicle, railway.ratio))
  const pairs = ends.flatMap((ahead) => ends.map((behind) => pairOf(ahead, behind)))
  const hot = pairs.filter((pair) => !isCalm(pair, -mostCurvature, mostCurvature) || run.isClosed || hasMore(run))
  if (hot.length === 0) return []
  const { path: placed, beforeMm } = run.whole()
  // Where the line lies is all one here, and what cars come from may be kept from where it once lay.
  const line = pathFromElements({ x: 0, y: 0, headingRad: 0 }, placed.elements)
  const worst = new Map<string, { readonly finding: Finding; readonly overRad: number }>()
  for (const pair of hot)
    for (const stretch of stretchesOver(pair, line, beforeMm, run.path.lengthMm)) {
      const finding = findingOf(run, networkTrack, stretch)
      const { overRad } = stretch.worst
      if (overRad > (worst.get(finding.id)?.overRad ?? -Infinity)) worst.set(finding.id, { finding, overRad })
    }
  return [...worst.values()].map(({ finding }) => finding)
}

/** What lies before and behind may be sharper than the run. */
const hasMore = ({ whole, path }: Run): boolean => whole().path.lengthMm > path.lengthMm

function endsOf(vehicle: Vehicle, ratio: number): readonly CarEnd[] {
  const car = trainCarOf(vehicle, ratio)
  const [front, rear] = [endOf(vehicle, car), endOf(vehicle, trainCarTurned(car))]
  const isSame =
    car.bodies.length === 1 && front.overhangMm === rear.overhangMm && front.axlesMm === rear.axlesMm && front.baseMm === rear.baseMm
  return isSame ? [front] : [front, rear]
}

/** Only the body at the end decides how its coupler stands: it is taken for a car of its own. */
function endOf(vehicle: Vehicle, car: TrainCar): CarEnd {
  const body = car.bodies[0]
  const proudMm = body === undefined ? 0 : car.overCouplersMm / 2 - (bodyPlaces(car)[0] ?? 0) - (body.ribs.at(-1)?.xMm ?? 0)
  const lengthMm = body === undefined ? 0 : (body.ribs.at(-1)?.xMm ?? 0) - (body.ribs[0]?.xMm ?? 0)
  const alone: TrainCar = { bodies: car.bodies.slice(0, 1), overCouplersMm: lengthMm + 2 * proudMm, pinMm: car.pinMm }
  const pinAtMm = (body?.ribs.at(-1)?.xMm ?? 0) + proudMm - car.pinMm
  return {
    vehicle,
    car: alone,
    overhangMm: pinAtMm - (body?.front.xMm ?? 0),
    baseMm: body === undefined ? 0 : body.front.xMm - body.rear.xMm,
    axlesMm: Math.max(body?.front.wheelbaseMm ?? 0, body?.rear.wheelbaseMm ?? 0),
  }
}

function pairOf(ahead: CarEnd, behind: CarEnd): EndPair {
  const drawbarMm = ahead.car.pinMm + behind.car.pinMm
  const reach = ({ overhangMm, baseMm, axlesMm }: CarEnd): number => overhangMm + baseMm + axlesMm / 2
  return {
    ahead,
    behind,
    cars: [trainCarTurned(ahead.car), behind.car],
    drawbarMm,
    feelsMm: (drawbarMm / 2 + Math.max(reach(ahead), reach(behind))) * wayLonger,
    headMm: drawbarMm / 2 + ahead.overhangMm + ahead.baseMm,
    bound: boundOf(ahead, behind, drawbarMm),
  }
}

/**
 * Whether no coupler swings too far on a line whose curvature stays within two bounds. A pin that overhangs its supports by o, which are B apart,
 * leaves the line by k o (B + o) / 2, as a chord drawn on does; both pins do so to one side where both curvatures have one sign.
 */
function isCalm({ ahead, behind, drawbarMm, bound }: EndPair, lowK: number, highK: number): boolean {
  const { aheadMm2, behindMm2, axlesMm2, leverMm } = bound
  const apartMm = Math.max(
    Math.abs(lowK * aheadMm2 - lowK * behindMm2),
    Math.abs(lowK * aheadMm2 - highK * behindMm2),
    Math.abs(highK * aheadMm2 - lowK * behindMm2),
    Math.abs(highK * aheadMm2 - highK * behindMm2),
  )
  const mostK = Math.max(Math.abs(lowK), Math.abs(highK))
  const drawbarRad = Math.asin(Math.min(1, (apartMm + mostK * axlesMm2) / drawbarMm))
  const leastSwing = Math.min(ahead.vehicle.couplerSwingRad, behind.vehicle.couplerSwingRad)
  return boundSlack * (drawbarRad + mostK * leverMm) <= leastSwing
}

/** What a pair's swings are bounded by: offsets of both pins and of the trucks' pivots for a curvature, and how far from a body's middle its drawbar has its own. */
interface SwingBound {
  readonly aheadMm2: number
  readonly behindMm2: number
  readonly axlesMm2: number
  readonly leverMm: number
}

function boundOf(ahead: CarEnd, behind: CarEnd, drawbarMm: number): SwingBound {
  const offset = ({ overhangMm: o, baseMm }: CarEnd): number => (o * (baseMm + o)) / 2
  // A truck's pivot stands a little inside the curve.
  const axles = ({ axlesMm, overhangMm, baseMm }: CarEnd): number =>
    (axlesMm ** 2 / 8) * (1 + (2 * Math.abs(overhangMm)) / Math.max(baseMm, 1e-9))
  const lever = ({ baseMm, overhangMm }: CarEnd): number => baseMm / 2 + Math.abs(overhangMm) + drawbarMm / 2
  return {
    aheadMm2: offset(ahead),
    behindMm2: offset(behind),
    axlesMm2: axles(ahead) + axles(behind),
    leverMm: Math.max(lever(ahead), lever(behind)),
  }
}

/**
 * Whether no coupler swings too far at a station as far as small angles tell, with what they may be off for the turn of the line within reach.
 * Offsets of a line that turns little are its curvature summed twice.
 */
function isNearlyCalm({ ahead, behind, drawbarMm, feelsMm }: EndPair, line: Path, stationMm: number): boolean {
  const index = pathElementIndex(line, stationMm)
  axisInto(axisAhead, ahead, 1, drawbarMm, line, stationMm, index)
  axisInto(axisBehind, behind, -1, drawbarMm, line, stationMm, index)
  const [slopeA, pinA, slopeB, pinB] = [axisAhead[0] ?? 0, axisAhead[1] ?? 0, axisBehind[0] ?? 0, axisBehind[1] ?? 0]
  const drawbar = (pinA - pinB) / drawbarMm
  const turn = mostTurn(line, stationMm, feelsMm)
  const slack = boundSlack * (1 + turn * turn)
  return (
    Math.abs(drawbar - slopeA) * slack <= ahead.vehicle.couplerSwingRad &&
    Math.abs(drawbar - slopeB) * slack <= behind.vehicle.couplerSwingRad
  )
}

/** The slope of a car's axis to the line, and how far its pin lies beside it. */
const [axisAhead, axisBehind] = [new Float64Array(2), new Float64Array(2)]

/** The axis of a car that stands to one side of its coupler's middle, from the offsets of its supports. */
function axisInto(
  axis: Float64Array,
  { overhangMm, baseMm, axlesMm }: CarEnd,
  side: 1 | -1,
  drawbarMm: number,
  line: Path,
  stationMm: number,
  index: number,
): void {
  const nearMm = supportOffset(line, stationMm, index, side * (drawbarMm / 2 + overhangMm), axlesMm)
  const farMm = supportOffset(line, stationMm, index, side * (drawbarMm / 2 + overhangMm + baseMm), axlesMm)
  const slope = (farMm - nearMm) / (side * baseMm)
  axis[0] = slope
  axis[1] = nearMm - side * overhangMm * slope
}

function supportOffset(line: Path, stationMm: number, index: number, atMm: number, axlesMm: number): number {
  if (axlesMm === 0) return offsetFrom(line, stationMm, index, atMm)
  return (offsetFrom(line, stationMm, index, atMm - axlesMm / 2) + offsetFrom(line, stationMm, index, atMm + axlesMm / 2)) / 2
}

/** Largest curvature within a distance of a station, times that distance. */
function mostTurn(line: Path, stationMm: number, withinMm: number): number {
  let most = 0
  for (let i = pathElementIndex(line, stationMm - withinMm); i < line.elements.length; i++) {
    const element = line.elements[i]
    if (element === undefined || element.startStationMm > stationMm + withinMm) break
    most = Math.max(most, Math.abs(element.k0), Math.abs(element.k1))
  }
  return most * withinMm
}

/**
 * Offset of a line from its tangent at a station, so far along it, as far as small angles tell; beyond its ends it is straight. index: of the
 * element that holds the station.
 */
function offsetFrom({ elements, lengthMm: lineMm }: Path, stationMm: number, index: number, alongMm: number): number {
  const side = alongMm < 0 ? -1 : 1
  let leftMm = Math.abs(alongMm)
  let offsetMm = 0
  let slope = 0
  for (let i = index; leftMm > 0; i += side) {
    const element = elements[i]
    if (element === undefined) return offsetMm + slope * leftMm
    const { k0, k1, lengthMm, startStationMm } = element
    const sharpness = lengthMm > 0 ? (k1 - k0) / lengthMm : 0
    const heldMm = Math.min(Math.min(stationMm, lineMm) - startStationMm, lengthMm)
    const enteredMm = i === index ? heldMm : side > 0 ? 0 : lengthMm
    const wayMm = Math.min(leftMm, side > 0 ? lengthMm - enteredMm : enteredMm)
    const k = k0 + sharpness * enteredMm
    const dk = sharpness * side
    offsetMm += wayMm * (slope + wayMm * (k / 2 + (wayMm * dk) / 6))
    slope += wayMm * (k + (wayMm * dk) / 2)
    leftMm -= wayMm
  }
  return offsetMm
}

/** Stretches of a run, on a line that begins before it, where a pair swings too far. */
function stretchesOver(pair: EndPair, line: Path, beforeMm: number, lengthMm: number): readonly Stretch[] {
  const stepMm = Math.max(pair.drawbarMm / 2, lengthMm / mostPlaces)
  const stretches: Stretch[] = []
  let open = null as Stretch | null
  let first = 0
  const at = (runMm: number): Swung | null => swungAt(pair, line, beforeMm, runMm)
  const close = (): void => {
    if (open !== null) stretches.push({ ...open, worst: closedIn(at, open.worst, stepMm, lengthMm) })
    open = null
  }
  for (let runMm = 0; ; ) {
    const lowMm = runMm + beforeMm - pair.feelsMm - stepMm
    const highMm = runMm + beforeMm + pair.feelsMm + stepMm
    while (first < line.elements.length - 1 && endOfElement(line, first) < lowMm) first++
    let lowK = Infinity
    let highK = -Infinity
    let last = first
    for (let i = first; i < line.elements.length; i++) {
      const element = line.elements[i]
      if (element === undefined || element.startStationMm > highMm) break
      last = i
      lowK = Math.min(lowK, element.k0, element.k1)
      highK = Math.max(highK, element.k0, element.k1)
    }
    const swung = isCalm(pair, lowK, highK) || isNearlyCalm(pair, line, runMm + beforeMm) ? null : at(runMm)
    if (swung !== null && swung.overRad > swingRounding) {
      if (open === null) open = { fromMm: runMm, toMm: runMm, worst: swung }
      else open = { ...open, toMm: runMm, worst: swung.overRad > open.worst.overRad ? swung : open.worst }
    } else close()
    if (runMm >= lengthMm) break
    // On one curvature all places are alike.
    const isSteady = last === first && lowK === highK
    const onMm = isSteady ? endOfElement(line, first) - beforeMm - pair.feelsMm - 2 * stepMm : runMm
    runMm = Math.min(lengthMm, Math.max(runMm + stepMm, onMm))
  }
  close()
  return stretches
}

/** More places than the longest run has drawbars. */
const mostPlaces = 100_000

const endOfElement = ({ elements, lengthMm }: Path, index: number): number => elements[index + 1]?.startStationMm ?? lengthMm

function swungAt({ ahead, behind, cars, headMm }: EndPair, line: Path, beforeMm: number, runMm: number): Swung | null {
  const stance = trainStance(line, cars, runMm + beforeMm + headMm)
  const coupler = stance.ok ? stance.couplers[0] : undefined
  if (coupler === undefined) return null
  const [a, b] = [Math.abs(coupler.aheadRad), Math.abs(coupler.behindRad)]
  const [overA, overB] = [a - ahead.vehicle.couplerSwingRad, b - behind.vehicle.couplerSwingRad]
  const lateralMm = Math.abs(coupler.lateralMm)
  return overA >= overB
    ? { atMm: runMm, overRad: overA, angleRad: a, lateralMm, end: ahead, other: behind }
    : { atMm: runMm, overRad: overB, angleRad: b, lateralMm, end: behind, other: ahead }
}

/** The worst within a step of the worst place looked at, by thirds. */
function closedIn(at: (runMm: number) => Swung | null, worst: Swung, stepMm: number, lengthMm: number): Swung {
  let [low, high] = [Math.max(0, worst.atMm - stepMm), Math.min(lengthMm, worst.atMm + stepMm)]
  let best = worst
  while (high - low > placeMm) {
    const [one, two] = [low + (high - low) / 3, high - (high - low) / 3]
    const [a, b] = [at(one), at(two)]
    for (const found of [a, b]) if (found !== null && found.overRad > best.overRad) best = found
    if ((a?.overRad ?? -Infinity) < (b?.overRad ?? -Infinity)) low = one
    else high = two
  }
  return best
}

function findingOf(run: Run, networkTrack: NetworkTrack | null, { fromMm, toMm, worst }: Stretch): Finding {
  const stationMm = run.stationAt(worst.atMm)
  const corner = run.table === 'tracks' ? nearestCorner(networkTrack, stationMm, worst.end.baseMm) : null
  const leadMm = run.startTurnout?.routeMm ?? 0
  const isAtStart = worst.atMm <= leadMm
  const isAtEnd = worst.atMm >= run.path.lengthMm - (run.endTurnout?.routeMm ?? 0)
  const turnout = run.table === 'turnouts' ? null : isAtStart ? run.startTurnout : isAtEnd ? run.endTurnout : null
  const { x, y } = pathPoseAt(run.path, worst.atMm)
  return {
    id: `coupler-swing:${run.key}:${turnout?.turnout ?? corner ?? 'line'}`,
    rule: 'coupler-swing',
    severity: 'error',
    stage: run.table === 'turnouts' ? 'turnouts' : 'line',
    table: run.table,
    record: run.record,
    otherRecord: turnout?.turnout ?? null,
    corner: turnout === null ? corner : null,
    stationFromMm: run.stationAt(fromMm),
    stationToMm: run.stationAt(toMm),
    x,
    y,
    measured: worst.angleRad,
    limit: worst.end.vehicle.couplerSwingRad,
    unit: 'rad',
    source: `car:${worst.end.vehicle.id}`,
    problem: { kind: 'couplersSwing', other: worst.other.vehicle.id, lateralMm: worst.lateralMm },
    cure: null,
  }
}

/** The corner on whose curve a station lies, or the nearest one within a car. */
function nearestCorner(networkTrack: NetworkTrack | null, stationMm: number, withinMm: number): string | null {
  if (networkTrack?.alignment.ok !== true) return null
  let [found, leastMm]: [string | null, number] = [null, withinMm]
  for (const { cornerId, tsMm, stMm } of networkTrack.alignment.corners) {
    const awayMm = Math.max(tsMm - stationMm, stationMm - stMm, 0)
    if (tsMm < stMm && awayMm <= leastMm && (found === null || awayMm < leastMm)) [found, leastMm] = [cornerId, awayMm]
  }
  return found
}
