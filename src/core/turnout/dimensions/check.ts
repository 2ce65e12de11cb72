import { pathNearest } from '../../geom/index.ts'
import type { GaugeLimit } from '../../standards/index.ts'
import type { CrossingGeometry } from '../crossing/types.ts'
import type { TurnoutRail, WorkFrog, WorkMeasures, WorkRoute } from '../types.ts'
import { steepRad } from '../work/steep.ts'
import { partOf } from './faces.ts'
import type { Measured } from './faces.ts'
import { elbowMeasure } from './elbow.ts'
import { frogMeasure } from './frog.ts'
import { gaugeWorst } from './gauge.ts'
import { openPoints } from './points.ts'
import { steepMeasure } from './steep.ts'
import type { CheckDimension, CheckDimensionKind, CheckStandard } from './types.ts'

/** Faces on the limit itself are within it: rounding of offsets and of inches. */
const roundingMm = 1e-6
/** Standards print their limits to a hundredth of a millimetre: what differs by less than half of one keeps them. */
const printedMm = 0.005

/** Laid special work: what can be measured. A movable elbow has nothing to measure; `throwMm` null: no points. */
export interface CheckedWork {
  readonly routes: readonly WorkRoute[]
  readonly rails: readonly TurnoutRail[]
  /** Rails of what is built in one with it, told as its own. */
  readonly beside?: readonly TurnoutRail[]
  readonly frogs: readonly WorkFrog[]
  readonly throwMm: number | null
  readonly measures: Pick<WorkMeasures, 'flangewayMm' | 'checkGaugeMm' | 'checkFlangewayMm' | 'railHeadMm' | 'ratio'>
  /** Over what length a wheel is held by its flange alone; absent: no elbow is fixed. */
  readonly guidedMm?: number
}

/** What is measured of a crossing: elbows only where they are fixed. */
export function crossingChecked({ routes, rails, beside = [], frogs, slips, request, guidedMm }: CrossingGeometry): CheckedWork {
  const fixed = request.elbow === 'fixed' ? { guidedMm } : {}
  return { routes, rails, beside, frogs, throwMm: slips[0]?.throwMm ?? null, measures: request, ...fixed }
}

/**
 * The check dimensions along each route where they are worst, measured between the faces of the rails as laid, against a standard.
 *
 * Units:      mm.
 * Domain:     work of any kind. Movable elbows are left out.
 * Exactness:  faces to 1e-6 mm; gauge at four places a gauge, points at sixty along their length, frogs at five behind the point, at nine
 *             behind the nose of what crosses steeply.
 *             A route of another gauge than the first is judged by the same limits, less the difference of the gauges.
 * Outcome:    a row a dimension; one without a value is a face that is missing, and fails. Never throws.
 */
export function checkDimensions(alone: CheckedWork, standard: CheckStandard): readonly CheckDimension[] {
  const work = { ...alone, rails: [...alone.rails, ...(alone.beside ?? [])] }
  const mainMm = work.routes[0]?.gaugeMm ?? 0
  return work.routes.flatMap((route) => {
    const less = mainMm - route.gaugeMm
    return [
      ...gaugeRows(route, work, standard, less),
      ...frogRows(route, work, standard, less),
      ...elbowRows(route, work, standard, less, mainMm),
      ...steepRows(route, work, standard, less),
      ...pointRows(route, work, standard, less),
    ]
  })
}

function gaugeRows(
  route: WorkRoute,
  { rails, frogs, measures }: CheckedWork,
  standard: CheckStandard,
  less: number,
): readonly CheckDimension[] {
  const worst = gaugeWorst(route, rails, frogs, measures.flangewayMm)
  return worst === null ? [] : [row('gauge', route, null, worst, between(standard.gauge, less))]
}

function frogRows(
  route: WorkRoute,
  { rails, frogs, measures }: CheckedWork,
  standard: CheckStandard,
  less: number,
): readonly CheckDimension[] {
  return frogs.flatMap((frog, index) => {
    const [a, b] = frog.lines
    const line = [a, b].find((candidate) => candidate.route === route.name)
    if (!line || frog.kind !== 'vee' || frog.angleRad > steepRad) return []
    const found = frogMeasure(frog, line, line === a ? b : a, rails, measures)
    const told = (kind: CheckDimensionKind, value: Measured | null, limit: Limit): CheckDimension =>
      row(kind, route, index, value ?? { mm: null, at: frog.actualPoint }, limit)
    const passes = { leastMm: standard.flangeWayMm, mostMm: null }
    return [
      told('check-gauge', found.checkGauge, between(standard.checkGauge, less)),
      told('span', found.span, { leastMm: null, mostMm: between(standard.span, less).mostMm }),
      told('guard-flangeway', found.guardFlangeway, passes),
      told('wing-flangeway', found.wingFlangeway, between(standard.flangeway, 0)),
      told('throat-flangeway', found.throatFlangeway, { leastMm: standard.flangeway.minMm, mostMm: null }),
    ]
  })
}

function elbowRows(
  route: WorkRoute,
  { rails, frogs, measures, guidedMm }: CheckedWork,
  standard: CheckStandard,
  less: number,
  mainMm: number,
): readonly CheckDimension[] {
  if (guidedMm === undefined) return []
  const measured = frogs.flatMap((frog, index) => {
    const line = frog.lines.find((candidate) => candidate.route === route.name)
    if (!line || frog.kind !== 'elbow' || frog.angleRad > steepRad) return []
    return [{ frog, index, ...elbowMeasure(frog, line, route, rails, measures, mainMm) }]
  })
  const [one, other] = measured.map(({ checkGauge }) => checkGauge)
  // Abreast of each other both check rails stand in the track at once.
  const spanMm = one && other ? one.mm + other.mm - route.gaugeMm : null
  return measured.flatMap(({ frog, index, flangeway, open, checkGauge }) => {
    const missing = { mm: null, at: frog.at }
    return [
      row('elbow-flangeway', route, index, flangeway ?? missing, { leastMm: standard.flangeWayMm, mostMm: null }),
      row('elbow-open', route, index, open ?? missing, { leastMm: null, mostMm: guidedMm }),
      row('check-gauge', route, index, checkGauge ?? missing, between(standard.checkGauge, less)),
      ...(spanMm === null
        ? []
        : [row('span', route, index, { mm: spanMm, at: frog.at }, { leastMm: null, mostMm: between(standard.span, less).mostMm })]),
    ]
  })
}

/** What crosses so steeply has neither wings nor bent rails: check rails on both sides all along, and rails cut square. */
function steepRows(
  route: WorkRoute,
  { routes, rails, frogs, measures }: CheckedWork,
  standard: CheckStandard,
  less: number,
): readonly CheckDimension[] {
  return frogs.flatMap((frog, index) => {
    const [a, b] = frog.lines
    const line = [a, b].find((candidate) => candidate.route === route.name)
    const across = line === a ? b : a
    const other = routes.find(({ name }) => name === across.route)
    if (!line || !other || frog.angleRad <= steepRad) return []
    const found = steepMeasure(frog, line, { route: other, side: across.side }, route, rails, measures.flangewayMm)
    const told = (kind: CheckDimensionKind, value: Measured | null, limit: Limit): CheckDimension =>
      row(kind, route, index, value ?? { mm: null, at: frog.at }, limit)
    return [
      told('check-gauge', found.checkGauge, between(standard.checkGauge, less)),
      // Where the check rails are not abreast of each other nothing is spanned.
      ...(found.span === null ? [] : [told('span', found.span, { leastMm: null, mostMm: between(standard.span, less).mostMm })]),
      told('guard-flangeway', found.guardFlangeway, { leastMm: standard.flangeWayMm, mostMm: null }),
      told('wing-flangeway', found.wingFlangeway, between(standard.flangeway, 0)),
    ]
  })
}

/** Points that are another route's stand open for this one. */
function pointRows(
  route: WorkRoute,
  { rails, throwMm, measures }: CheckedWork,
  standard: CheckStandard,
  less: number,
): readonly CheckDimension[] {
  if (throwMm === null) return []
  const own = rails.filter((rail) => {
    if (partOf(rail) !== 'point') return true
    const { offsetMm, distanceMm } = pathNearest(route.centre, rail.gaugeLine.end)
    const isAbreast = Math.abs(distanceMm - Math.abs(offsetMm)) < roundingMm
    const off = Math.abs(offsetMm) - route.gaugeMm / 2
    // Another route's point: its heel stands inside the gauge, by a heel spread.
    return isAbreast && off < -measures.flangewayMm / 2 && off > -4 * measures.flangewayMm
  })
  return openPoints(own, throwMm).flatMap(({ atTip, narrowest }) => [
    row(
      'points-spread',
      route,
      null,
      { ...atTip, mm: route.gaugeMm - atTip.mm },
      { leastMm: null, mostMm: between(standard.pointsSpread, less).mostMm },
    ),
    row('open-point', route, null, narrowest, { leastMm: standard.flangeWayMm, mostMm: null }),
  ])
}

interface Limit {
  readonly leastMm: number | null
  readonly mostMm: number | null
}

function between({ minMm, maxMm }: GaugeLimit, less: number): Limit {
  return { leastMm: minMm === null ? null : minMm - less, mostMm: maxMm === null ? null : maxMm - less }
}

function row(
  kind: CheckDimensionKind,
  route: WorkRoute,
  frog: number | null,
  { mm, at }: { readonly mm: number | null; readonly at: Measured['at'] },
  { leastMm, mostMm }: Limit,
): CheckDimension {
  const isWithin = mm !== null && (leastMm === null || mm >= leastMm - printedMm) && (mostMm === null || mm <= mostMm + printedMm)
  const { stationMm } = pathNearest(route.centre, at)
  return { kind, route: route.name, frog, valueMm: mm, stationMm, at, leastMm, mostMm, isWithin }
}
