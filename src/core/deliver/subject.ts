import type { Alignment } from '../alignment/types.ts'
import { boxContains } from '../geom/index.ts'
import type { Box, Path, Point } from '../geom/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { frogNumberFormat } from '../units/index.ts'
import { crossingName } from './build/builtWork.ts'
import type { BuiltWorkSet } from './build/builtWork.ts'
import { roadbedContent } from './build/roadbedCard.ts'
import type { CautionKind } from './cautions.ts'
import { legFacts } from './legTexts.ts'
import { openAngles, stationOn, straightAngles, trackContent, workBeside, workContent, workStrands } from './tiling/content.ts'
import { strandAlong, strandIn, strandsJoined, type Beside } from './tiling/strand.ts'
import type { Strand } from './tiling/types.ts'
import type { SheetOptions, SheetSubject } from './types.ts'
import { angleWords, counted, fineWords, lengthWords } from './words.ts'
import { divergenceWords, LEGEND, ordinateWords, scaleWords, throwHoleWords, tieWords, turnoutWords } from './workWords.ts'

/** What the sheets of a subject must show, how it may lie on the paper and what is said of it. */
export interface SubjectView {
  readonly title: string
  /** Lines of small print: the numbers that the thing is built by. */
  readonly facts: readonly string[]
  readonly caution: CautionKind
  /** Points of the plan that must be on some sheet; a few millimetres apart. */
  readonly content: readonly Point[]
  /** The same as lines, for sheets that follow them; none for what has no line, such as a jig. */
  readonly strands: readonly Strand[]
  /** Directions of the plan that may run across the page, the preferred first. */
  readonly anglesRad: readonly number[]
  /** More directions, taken only where they save a sheet whichever way the paper lies. */
  readonly moreAnglesRad?: readonly number[]
}

/** What is drawn at full size out of the plan; a cut list is not, and the cards of a roadbed and a tie jig are drawn alone. */
type DrawnSubject = Exclude<SheetSubject, { kind: 'cutList' | 'roadbed' | 'tieJig' | 'bench' }>

export type SubjectResult = { readonly ok: true; readonly view: SubjectView } | { readonly ok: false; readonly problem: string }

/** A shorter stretch, or a narrower rectangle, is a slip of the hand. */
const STRETCH_MIN_MM = 1

/** How much of the tangents a curve sheet shows: enough to lay a straightedge to. */
const TANGENT_SHOWN_MM = 100

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
    case 'stretch':
      return stretchView(derived, subject, units)
    case 'region':
      return regionView(derived, subject.box, units)
    case 'all':
      return allView(derived)
  }
}

/** Length of the solved track that a subject takes in, mm; of a region at most all of it is looked at. */
function trackLength(derived: Derived, subject: DrawnSubject): number {
  switch (subject.kind) {
    case 'turnout':
    case 'crossing':
      return 0
    case 'all':
    case 'region':
      return [...derived.network.tracks.values()].reduce((sum, { alignment }) => sum + (alignment.ok ? alignment.path.lengthMm : 0), 0)
    case 'stretch':
      return subject.toMm === 'end' ? 0 : Math.abs(subject.toMm - subject.fromMm)
    case 'track':
    case 'curve': {
      const alignment = derived.network.tracks.get(subject.kind === 'track' ? subject.id : subject.track)?.alignment
      if (!alignment?.ok) return 0
      const corner = subject.kind === 'curve' ? alignment.corners.find((place) => place.cornerId === subject.corner) : undefined
      return corner ? corner.stMm - corner.tsMm : alignment.path.lengthMm
    }
  }
}

function turnoutView(derived: Derived, id: string, units: SheetOptions['units']): SubjectResult {
  const placed = derived.network.turnouts.get(id)
  if (!placed) return refuse(`There is no turnout "${id}" in the plan.`)
  const { turnout, result } = placed
  if (!result.ok) return refuse(`Turnout "${turnout.name}" could not be computed; its finding says what to change.`)
  const { geometry, pose } = result
  const fine = (mm: number): string => fineWords(mm, units)
  const { request } = geometry
  const numbers = [
    scaleWords(derived.plan.railway),
    ...geometry.divergences.map(divergenceWords(turnout, units)),
    `gauge ${fine(request.gaugeMm)}`,
    `flangeway ${fine(request.flangewayMm)}`,
    `check gauge ${fine(request.checkGaugeMm)}`,
    `throw ${fine(geometry.throwMm)}`,
    ...throwHoleWords('throw hole', geometry, units),
    ...geometry.divergences.flatMap(({ widening }) => (widening ? [`gauge widened ${fine(widening.byMm)}`] : [])),
    tieWords(geometry, units),
  ]
  return {
    ok: true,
    view: {
      title: `${named('Turnout', turnout.name)}, ${turnoutWords(placed)}`,
      facts: [[...numbers, ...legFacts(derived, placed, units)].join(' · '), ordinateWords(geometry, units), LEGEND],
      caution: 'turnout',
      content: workContent(derived.trackwork.turnouts.get(id)),
      strands: workStrands(derived.trackwork.turnouts.get(id), pose),
      ...straightAngles(pose.headingRad),
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
  const fine = (mm: number): string => fineWords(mm, units)
  const numbers = [
    scaleWords(derived.plan.railway),
    `angle ${angleWords(crossing.angleRad)}`,
    `gauge ${fine(crossing.request.gaugeMm)}`,
    `flangeway ${fine(crossing.request.flangewayMm)}`,
    `check gauge ${fine(crossing.request.checkGaugeMm)}`,
    `obtuse frogs ${crossing.request.elbow}`,
    ...throwHoleWords('throw holes', crossing, units),
    tieWords(crossing, units),
  ]
  const slips = crossing.slips.map(({ side, radiusMm, throwMm }) => `slip ${side}: radius ${words(radiusMm)}, throw ${fine(throwMm)}`)
  return {
    ok: true,
    view: {
      title: `${name}, No. ${frogNumberFormat(Math.round(crossing.number * 100) / 100)}`,
      facts: [numbers.join(' · '), ...(slips.length === 0 ? [] : [slips.join(' · ')]), LEGEND],
      caution: 'turnout',
      content: workContent(derived.trackwork.crossings.get(id)),
      strands: workStrands(derived.trackwork.crossings.get(id), pose),
      ...straightAngles(pose.headingRad, pose.headingRad + crossing.angleRad / 2),
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
      strands: [],
      ...straightAngles(work.pose.headingRad),
    },
  }
}

/** "Track Main", but "Track 1" and not "Track Track 1": names often begin with what they name. */
function named(word: string, name: string): string {
  return name.toLowerCase().startsWith(word.toLowerCase()) ? name : `${word} ${name}`
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
  const beforeStrand = before > 0 ? [strandAlong(path, path.lengthMm - before, path.lengthMm, solved.halfTieMm, [], false)] : []
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
      strands: [strandAlong(path, from, to, solved.halfTieMm, [], false), ...beforeStrand],
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
      facts: [
        `length ${lengthWords(path.lengthMm, units)}, ${counted(solved.alignment.corners.length, 'curve')}, ${counted(onIt.length, 'turnout')}`,
      ],
      caution: onIt.length > 0 ? 'turnout' : 'track',
      content,
      strands: [trackStrand(derived, id, path, solved.halfTieMm, solved.alignment.isClosed)],
      anglesRad: openAngles(content, path, 0, path.lengthMm),
    },
  }
}

/** A whole track with the turnouts and crossings on it. */
function trackStrand(derived: Derived, id: string, path: Path, halfTieMm: number, isClosed: boolean): Strand {
  return strandAlong(path, 0, path.lengthMm, halfTieMm, workOn(derived, id, path), isClosed)
}

/** Ties and rails of the special work on a track, at their stations. */
function workOn(derived: Derived, id: string, path: Path): readonly Beside[] {
  const station = stationOn(path)
  return (derived.network.turnoutsOn.get(id) ?? []).flatMap(({ turnout }) =>
    workBeside(derived.trackwork.turnouts.get(turnout.id), station),
  )
}

function stretchView(
  derived: Derived,
  { track, fromMm, toMm: toTyped }: Extract<SheetSubject, { kind: 'stretch' }>,
  units: SheetOptions['units'],
): SubjectResult {
  const solved = solvedTrack(derived, track)
  if (!solved.ok) return solved
  const { path, isClosed } = solved.alignment
  const toMm = toTyped === 'end' ? path.lengthMm : toTyped
  const words = (mm: number): string => lengthWords(mm, units)
  const range = `${solved.name} runs from ${words(0)} to ${words(path.lengthMm)}`
  for (const station of [fromMm, toMm]) {
    if (!Number.isFinite(station)) return refuse(`A stretch needs two stations. ${range}.`)
    if (station < -1e-6 || station > path.lengthMm + 1e-6) return refuse(`${words(station)} is not on the track: ${range}.`)
  }
  if (Math.abs(toMm - fromMm) < STRETCH_MIN_MM) {
    return refuse(`The stretch from ${words(fromMm)} to ${words(toMm)} has no length. Give two stations that are apart: ${range}.`)
  }
  if (toMm < fromMm && !isClosed) {
    return refuse(`The stretch ends at ${words(toMm)}, before its start at ${words(fromMm)}. Give the lower station first: ${range}.`)
  }
  // Round a loop a stretch may run over the place where stations begin.
  const parts: readonly (readonly [number, number])[] =
    toMm > fromMm
      ? [[Math.max(0, fromMm), Math.min(path.lengthMm, toMm)]]
      : (
          [
            [fromMm, path.lengthMm],
            [0, toMm],
          ] as const
        ).filter(([a, b]) => b - a > 1e-6)
  const beside = workOn(derived, track, path)
  const within = (a: number, b: number): readonly Beside[] => beside.filter(({ stationMm }) => stationMm >= a && stationMm <= b)
  const content = parts.flatMap(([a, b]) => [
    ...trackContent(path, a, b, solved.halfTieMm),
    ...within(a, b).flatMap(({ points }) => points),
  ])
  const lengthMm = parts.reduce((sum, [a, b]) => sum + b - a, 0)
  return {
    ok: true,
    view: {
      title: `${named('Track', solved.name)}, ${words(fromMm)} to ${words(toMm)}`,
      facts: [`length ${words(lengthMm)}`],
      caution: beside.length > 0 ? 'turnout' : 'track',
      content,
      strands: [strandsJoined(parts.map(([a, b]) => strandAlong(path, a, b, solved.halfTieMm, within(a, b), false)))],
      anglesRad: openAngles(content, path, parts[0]?.[0] ?? 0, parts.at(-1)?.[1] ?? 0),
    },
  }
}

interface AllTrack {
  readonly content: readonly Point[]
  readonly strands: readonly Strand[]
}

function allTrack(derived: Derived): AllTrack {
  const solved = [...derived.network.tracks].flatMap(([id, { alignment, railway }]) =>
    alignment.ok ? [{ id, alignment, halfTieMm: railway.tieLengthMm / 2 }] : [],
  )
  return {
    content: [
      ...solved.map(({ alignment: { path }, halfTieMm }) => trackContent(path, 0, path.lengthMm, halfTieMm)),
      ...[...derived.network.turnouts.keys()].map((id) => workContent(derived.trackwork.turnouts.get(id))),
    ].flat(),
    strands: solved.map(({ id, alignment: { path, isClosed }, halfTieMm }) => trackStrand(derived, id, path, halfTieMm, isClosed)),
  }
}

function regionView(derived: Derived, box: Box, units: SheetOptions['units']): SubjectResult {
  const words = (mm: number): string => lengthWords(mm, units)
  const [wideMm, highMm] = [box.maxX - box.minX, box.maxY - box.minY]
  if (!(wideMm >= STRETCH_MIN_MM && highMm >= STRETCH_MIN_MM) || !Number.isFinite(wideMm) || !Number.isFinite(highMm)) {
    return refuse(`The rectangle is ${words(wideMm)} by ${words(highMm)}; it needs a width and a height. Give two corners that are apart.`)
  }
  const all = allTrack(derived)
  const content = all.content.filter((p) => boxContains(box, p))
  const place = `${words(box.minX)}, ${words(box.minY)} to ${words(box.maxX)}, ${words(box.maxY)}`
  if (content.length === 0) {
    return refuse(`No track lies in the rectangle from ${place}. Draw it over the track that is to be printed.`)
  }
  return {
    ok: true,
    view: {
      title: `Part of the plan, ${words(wideMm)} by ${words(highMm)}`,
      facts: [`from ${place}`],
      caution: derived.network.turnouts.size > 0 ? 'turnout' : 'track',
      content,
      strands: all.strands.flatMap((strand) => strandIn(strand, box)),
      ...straightAngles(0),
    },
  }
}

function allView(derived: Derived): SubjectResult {
  const { content, strands } = allTrack(derived)
  if (content.length === 0) return refuse('The plan has no track that could be computed; there is nothing to print.')
  return {
    ok: true,
    view: {
      title: 'All track',
      facts: [`${counted(derived.network.tracks.size, 'track')}, ${counted(derived.network.turnouts.size, 'turnout')}`],
      caution: derived.network.turnouts.size > 0 ? 'turnout' : 'track',
      content,
      strands,
      // First as the plan lies on the screen, so that sheets and room are read together.
      ...straightAngles(0),
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

function refuse(problem: string): { readonly ok: false; readonly problem: string } {
  return { ok: false, problem }
}
