import type { Alignment } from '../alignment/types.ts'
import { boxOfPoints, pathOffsetPoint, pointDistance, pointRotate } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import type { NetworkTurnout } from '../network/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { tieCorners } from '../track/index.ts'
import type { WorkTrack } from '../track/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import { frogNumberFormat } from '../units/index.ts'
import { crossingName } from './build/builtWork.ts'
import type { BuiltWorkSet } from './build/builtWork.ts'
import { roadbedContent } from './build/roadbedCard.ts'
import type { CautionKind } from './cautions.ts'
import type { SheetOptions, SheetSubject } from './types.ts'
import { angleWords, lengthWords } from './words.ts'

/** What the sheets of a subject must show, how it may lie on the paper and what is said of it. */
export interface SubjectView {
  readonly title: string
  /** Lines of small print: the numbers that the thing is built by. */
  readonly facts: readonly string[]
  readonly caution: CautionKind
  /** Points of the plan that must be on some sheet; a few millimetres apart. */
  readonly content: readonly Point[]
  /** Directions of the plan that may run across the page, the preferred first. */
  readonly anglesRad: readonly number[]
}

/** What is drawn at full size out of the plan; a cut list is not, and the cards of a roadbed and a tie jig are drawn alone. */
type DrawnSubject = Exclude<SheetSubject, { kind: 'cutList' | 'roadbed' | 'tieJig' }>

export type SubjectResult = { readonly ok: true; readonly view: SubjectView } | { readonly ok: false; readonly problem: string }

/**
 * Along the track. Between two points in kept cells the track can leave them by half a step; the windows reach half the
 * overlap, 3 mm or more, beyond their cells. So 6 mm would do; 2 mm costs little but on very long tracks.
 */
const CONTENT_STEP_MM = 2
const CONTENT_STEP_MAX_MM = 6
const CONTENT_STATIONS = 50_000

/** How much of the tangents a curve sheet shows: enough to lay a straightedge to. */
const TANGENT_SHOWN_MM = 100

const quarter = Math.PI / 2

/**
 * The view of a subject, or what is missing.
 *
 * `reachMm` is the longest track that the sheets could hold, corner to corner of each: longer ones are refused before
 * anything is computed for them.
 */
export function subjectView(derived: Derived, subject: DrawnSubject, units: SheetOptions['units'], reachMm: number): SubjectResult {
  const lengthMm = trackLength(derived, subject)
  if (lengthMm > reachMm) {
    return refuse(
      `${lengthWords(lengthMm, units)} of track is more than the sheets can hold. Choose larger paper, or print one curve or turnout at a time.`,
    )
  }
  switch (subject.kind) {
    case 'turnout':
      return turnoutView(derived, subject.id, units)
    case 'crossing':
      return crossingView(derived, subject.id, units)
    case 'curve':
      return curveView(derived, subject.track, subject.corner, units)
    case 'track':
      return trackView(derived, subject.id, units)
    case 'all':
      return allView(derived)
  }
}

/** Length of the solved track that a subject takes in, mm. */
function trackLength(derived: Derived, subject: DrawnSubject): number {
  if (subject.kind === 'turnout' || subject.kind === 'crossing') return 0
  const ids = subject.kind === 'all' ? [...derived.network.tracks.keys()] : [subject.kind === 'track' ? subject.id : subject.track]
  let lengthMm = 0
  for (const id of ids) {
    const alignment = derived.network.tracks.get(id)?.alignment
    if (!alignment?.ok) continue
    const corner = subject.kind === 'curve' ? alignment.corners.find((place) => place.cornerId === subject.corner) : undefined
    lengthMm += corner ? corner.stMm - corner.tsMm : alignment.path.lengthMm
  }
  return lengthMm
}

function turnoutView(derived: Derived, id: string, units: SheetOptions['units']): SubjectResult {
  const placed = derived.network.turnouts.get(id)
  if (!placed) return refuse(`There is no turnout "${id}" in the plan.`)
  const { turnout, result } = placed
  if (!result.ok) return refuse(`Turnout "${turnout.name}" could not be computed; its finding says what to change.`)
  const { geometry, pose } = result
  const words = (mm: number): string => lengthWords(mm, units)
  const numbers = [
    `frog angle ${angleWords(geometry.frogAngleRad)}`,
    `lead ${words(geometry.leadMm)}`,
    `closure radius ${words(geometry.closureRadiusMm)}`,
    `gauge ${words(geometry.request.gaugeMm)}`,
    `flangeway ${words(geometry.request.flangewayMm)}`,
    ...geometry.throwHoles.slice(0, 1).map((hole) => `throw hole ${words(hole.slotWidthMm)} × ${words(hole.slotLengthMm)}`),
    ...geometry.divergences.flatMap(({ widening }) => (widening ? [`gauge widened ${words(widening.byMm)}`] : [])),
  ]
  return {
    ok: true,
    view: {
      title: `${named('Turnout', turnout.name)}, ${turnoutWords(placed)}`,
      facts: [numbers.join(' · '), ordinateWords(geometry, units)],
      caution: 'turnout',
      content: workContent(derived.trackwork.turnouts.get(id)),
      anglesRad: [pose.headingRad, pose.headingRad + quarter],
    },
  }
}

function crossingView(derived: Derived, id: string, units: SheetOptions['units']): SubjectResult {
  const found = derived.network.crossings.get(id)
  if (!found) return refuse(`There is no crossing "${id}" in the plan.`)
  const { record, result, pose } = found
  const name = crossingName(record)
  if (!result.ok) return refuse(`Crossing "${name}" could not be computed; its finding says what to change.`)
  const { crossing } = result
  const words = (mm: number): string => lengthWords(mm, units)
  const numbers = [
    `angle ${angleWords(crossing.angleRad)}`,
    `gauge ${words(crossing.request.gaugeMm)}`,
    `flangeway ${words(crossing.request.flangewayMm)}`,
    `obtuse frogs ${crossing.request.elbow}`,
  ]
  const slips = crossing.slips.map(({ side, radiusMm, throwMm }) => `slip ${side}: radius ${words(radiusMm)}, throw ${words(throwMm)}`)
  return {
    ok: true,
    view: {
      title: `${name}, No. ${frogNumberFormat(Math.round(crossing.number * 100) / 100)}`,
      facts: [numbers.join(' · '), ...(slips.length === 0 ? [] : [slips.join(' · ')])],
      caution: 'turnout',
      content: workContent(derived.trackwork.crossings.get(id)),
      anglesRad: [pose.headingRad, pose.headingRad + quarter, pose.headingRad + crossing.angleRad / 2],
    },
  }
}

/** The cards that the roadbed of special work is cut along; or why there are none. */
export function roadbedView(work: BuiltWorkSet, units: SheetOptions['units']): SubjectResult {
  const content = roadbedContent(work)
  if (content.length === 0) return refuse(`${work.name}: no route leaves the roadbed of another, so there is no card to cut.`)
  const cards = work.made.roadbed.map(({ taperMm, crotchRad }) =>
    crotchRad === null
      ? `slip, ${lengthWords(taperMm, units)} long`
      : `taper ${lengthWords(taperMm, units)}, crotch ${angleWords(crotchRad)}`,
  )
  return {
    ok: true,
    view: {
      title: `Roadbed, ${work.name}`,
      facts: [cards.join(' · '), 'Full line: edge of the top. Broken line: edge of the foot, with the shoulder.'],
      caution: 'track',
      content,
      anglesRad: [work.pose.headingRad, work.pose.headingRad + quarter],
    },
  }
}

/** "Track Main", but "Track 1" and not "Track Track 1": names often begin with what they name. */
function named(word: string, name: string): string {
  return name.toLowerCase().startsWith(word.toLowerCase()) ? name : `${word} ${name}`
}

/** No. 6 left, straight points. */
function turnoutWords({ turnout }: NetworkTurnout): string {
  return `No. ${frogNumberFormat(turnout.frog)} ${turnout.hand}, ${turnout.build.points} points`
}

/** Where the curved closure rail stands: distance from the heel, and gauge line of the stock rail to its gauge line. */
function ordinateWords(geometry: TurnoutGeometry, units: SheetOptions['units']): string {
  const pairs = geometry.ordinates.map(({ xMm, yMm }) => `${lengthWords(xMm, units)}: ${lengthWords(yMm, units)}`)
  return `Stock to closure rail, gauge lines, from the heel on ${pairs.join(' · ')} · heavy stroke: gap · ring: wire, two joined: jumper · dashed: room below`
}

function curveView(derived: Derived, trackId: string, cornerId: string, units: SheetOptions['units']): SubjectResult {
  const solved = solvedTrack(derived, trackId)
  if (!solved.ok) return solved
  const corner = solved.alignment.corners.find((place) => place.cornerId === cornerId)
  if (!corner) return refuse(`Track "${solved.name}" has no corner "${cornerId}".`)
  const { path, isClosed } = solved.alignment
  const { solution } = corner
  const from = Math.max(0, corner.tsMm - TANGENT_SHOWN_MM)
  const to = Math.min(path.lengthMm, corner.stMm + TANGENT_SHOWN_MM)
  const before = isClosed ? Math.max(0, TANGENT_SHOWN_MM - corner.tsMm) : 0
  const content = [
    ...trackContent(path, from, to, solved.halfTieMm),
    ...trackContent(path, path.lengthMm - before, path.lengthMm, solved.halfTieMm),
  ]
  const words = (mm: number): string => lengthWords(mm, units)
  const turn = `turns ${angleWords(Math.abs(solution.deflectionRad))} ${solution.deflectionRad > 0 ? 'left' : 'right'}`
  const eases = `easements ${words(solution.easementInMm)} and ${words(solution.easementOutMm)}`
  const radii = solution.arcs.map(({ radiusMm }) => words(radiusMm)).join(', ')
  const tangents = `tangents ${words(solution.tangentInMm)} and ${words(solution.tangentOutMm)} from the PI`
  return {
    ok: true,
    view: {
      title: `Curve ${solved.alignment.corners.indexOf(corner) + 1} of ${solved.name}, R ${radii}`,
      facts: [[turn, eases, `arc ${words(solution.arcLengthMm)}`].join(' · '), tangents],
      caution: 'track',
      content,
      anglesRad: openAngles(content, path, from, to),
    },
  }
}

function trackView(derived: Derived, id: string, units: SheetOptions['units']): SubjectResult {
  const solved = solvedTrack(derived, id)
  if (!solved.ok) return solved
  const { path } = solved.alignment
  const onIt = derived.network.turnoutsOn.get(id) ?? []
  const content = [
    trackContent(path, 0, path.lengthMm, solved.halfTieMm),
    ...onIt.map(({ turnout }) => workContent(derived.trackwork.turnouts.get(turnout.id))),
  ].flat()
  if (content.length === 0) return refuse(`Track "${solved.name}" has no length.`)
  return {
    ok: true,
    view: {
      title: named('Track', solved.name),
      facts: [`length ${lengthWords(path.lengthMm, units)}, ${solved.alignment.corners.length} curves, ${onIt.length} turnouts`],
      caution: onIt.length > 0 ? 'turnout' : 'track',
      content,
      anglesRad: openAngles(content, path, 0, path.lengthMm),
    },
  }
}

function allView(derived: Derived): SubjectResult {
  const content = [
    ...[...derived.network.tracks.values()].map(({ alignment, railway }) =>
      alignment.ok ? trackContent(alignment.path, 0, alignment.path.lengthMm, railway.tieLengthMm / 2) : [],
    ),
    ...[...derived.network.turnouts.keys()].map((id) => workContent(derived.trackwork.turnouts.get(id))),
  ].flat()
  if (content.length === 0) return refuse('The plan has no track that could be computed; there is nothing to print.')
  return {
    ok: true,
    view: {
      title: 'All track',
      facts: [`${derived.network.tracks.size} tracks, ${derived.network.turnouts.size} turnouts`],
      caution: derived.network.turnouts.size > 0 ? 'turnout' : 'track',
      content,
      // As the plan lies on the screen, so that sheets and room are read together.
      anglesRad: [0, quarter],
    },
  }
}

type SolvedTrack =
  | { readonly ok: true; readonly name: string; readonly halfTieMm: number; readonly alignment: Extract<Alignment, { ok: true }> }
  | { readonly ok: false; readonly problem: string }

function solvedTrack(derived: Derived, id: string): SolvedTrack {
  const found = derived.network.tracks.get(id)
  if (!found) return { ok: false, problem: `There is no track "${id}" in the plan.` }
  if (!found.alignment.ok)
    return { ok: false, problem: `Track "${found.track.name}" could not be computed; its finding says what to change.` }
  return { ok: true, name: found.track.name, halfTieMm: found.railway.tieLengthMm / 2, alignment: found.alignment }
}

/** Points across the ties every CONTENT_STEP_MM. */
function trackContent(path: Path, fromMm: number, toMm: number, halfTieMm: number): Point[] {
  const points: Point[] = []
  if (path.elements.length === 0 || !(toMm > fromMm)) return points
  const stepMm = Math.min(CONTENT_STEP_MAX_MM, Math.max(CONTENT_STEP_MM, (toMm - fromMm) / CONTENT_STATIONS))
  const steps = Math.max(1, Math.ceil((toMm - fromMm) / stepMm))
  const across = Math.max(1, Math.ceil(halfTieMm / (2 * CONTENT_STEP_MM)))
  for (let i = 0; i <= steps; i++) {
    const station = fromMm + ((toMm - fromMm) * i) / steps
    for (let j = -across; j <= across; j++) points.push(pathOffsetPoint(path, station, (j * halfTieMm) / across))
  }
  return points
}

/** Points along every tie and gauge line of special work. */
function workContent(work: WorkTrack | undefined): readonly Point[] {
  if (!work) return []
  const points: Point[] = []
  for (const tie of work.ties) {
    const [a, b, c, d] = tieCorners(tie)
    points.push(...pointsBetween(a, b), ...pointsBetween(d, c))
  }
  for (const { gaugeLine } of work.rails) {
    const count = Math.max(1, Math.ceil((gaugeLine.toMm - gaugeLine.fromMm) / CONTENT_STEP_MM))
    for (let i = 0; i <= count; i++) {
      const station = gaugeLine.fromMm + ((gaugeLine.toMm - gaugeLine.fromMm) * i) / count
      points.push(pathOffsetPoint(gaugeLine.path, station, gaugeLine.offsetMm))
    }
  }
  return points
}

function pointsBetween(a: Point, b: Point): readonly Point[] {
  const count = Math.max(1, Math.ceil(pointDistance(a, b) / CONTENT_STEP_MM))
  return Array.from({ length: count + 1 }, (_, i) => ({ x: a.x + ((b.x - a.x) * i) / count, y: a.y + ((b.y - a.y) * i) / count }))
}

/**
 * Ways to lay something that is not straight: along its long chord, along the narrowest box round it, then all round in
 * steps, since a few degrees may save a sheet.
 */
function openAngles(content: readonly Point[], path: Path, fromMm: number, toMm: number): readonly number[] {
  const start = pathOffsetPoint(path, fromMm, 0)
  const end = pathOffsetPoint(path, toMm, 0)
  const chord = pointDistance(start, end) > 1 ? Math.atan2(end.y - start.y, end.x - start.x) : 0
  const steps = Array.from({ length: 18 }, (_, i) => (i * Math.PI) / 18)
  let narrowest = chord
  let area = Infinity
  const few = content.filter((_, i) => i % Math.ceil(content.length / 800) === 0)
  for (const angle of Array.from({ length: 90 }, (_, i) => (i * Math.PI) / 180)) {
    const box = boxOfPoints(few.map((p) => pointRotate(p, -angle)))
    if (!box) continue
    const size = (box.maxX - box.minX) * (box.maxY - box.minY)
    if (size < area) [area, narrowest] = [size, angle]
  }
  // A chord that runs to the left is read from the right: turned by half a turn it means the same sheets.
  const readable = (angle: number): number => {
    const half = Math.atan2(Math.sin(angle), Math.cos(angle))
    return half > quarter ? half - Math.PI : half <= -quarter ? half + Math.PI : half
  }
  return [chord, chord + quarter, narrowest, narrowest + quarter, ...steps].map(readable)
}

function refuse(problem: string): { readonly ok: false; readonly problem: string } {
  return { ok: false, problem }
}
