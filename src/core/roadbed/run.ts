import { pathBends, pathSlice, pathsJoined } from '../geom/index.ts'
import type { Bend } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { Stretch } from '../network/index.ts'
import type { CuttingRules } from '../plan/types.ts'
import { bandStrain, bendStrain, mostStrips, radiusForStrips, stripsThatBend } from './bend.ts'
import { jointsPlaced } from './joints.ts'
import { pathMeasured } from './measured.ts'
import type { MeasuredPath } from './measured.ts'
import type { Section } from './section.ts'
import { stripStretches, zonesJoined } from './stretches.ts'
import type { FanStrip, RoadbedPlace, RoadbedProblem, RoadbedRun, RunOwner, StripFan, StripPiece, StripStretch } from './types.ts'

/** A line to lay roadbed under, from end to end. */
export interface RunRequest {
  readonly id: string
  readonly owner: RunOwner
  readonly section: Section
  readonly path: Path
  readonly isClosed: boolean
  readonly originMm: number
  /** Along the path. */
  readonly forbidden: readonly Stretch[]
  readonly cutting: Pick<CuttingRules, 'roadbedStaggerMm'>
  /** The longest strip of a width to be had; Infinity: none, and then nothing is joined. */
  readonly longestMm: (widthMm: number) => number
}

export interface RunResult {
  readonly run: RoadbedRun
  readonly problems: readonly RoadbedProblem[]
}

/** Least length of a piece where a line is joined, in parts of the stagger and of the longest strip. Common practice, no source. */
const leastPart = 0.5

/**
 * The strips of a line: how many and how wide on each stretch, how long each is in each curve, and the pieces of each.
 *
 * Strips lie side by side across the whole foot; each is as long as its own offset of the line. Joints of a strip lie off those of the strip on
 * its right by the stagger at least, and out of throw bays. A closed line is laid round and round: its strips begin a stagger apart.
 *
 * Outcome: with problems the run is told as far as it goes: strips that tear as asked, joints with less stagger.
 */
export function runLaid(request: RunRequest): RunResult {
  const { section, path: line, cutting } = request
  const { footWidthMm, narrowestMm, roadbed, material } = section
  const staggerMm = cutting.roadbedStaggerMm
  const asStretches = (bends: readonly Bend[], forbidden: readonly Stretch[]): ReturnType<typeof stripStretches> =>
    stripStretches({
      bends,
      footWidthMm,
      strainLimit: material.strainLimit,
      strips: roadbed.strips,
      narrowestMm,
      leastMm: staggerMm,
      forbidden,
    })

  const flat = asStretches(pathBends(line), request.forbidden)
  const turned = request.isClosed ? closedFrom(line, flat.stretches) : { path: line, shiftMm: 0 }
  const forbidden = shifted(request.forbidden, turned.shiftMm, line.lengthMm, request.isClosed)
  const bends = pathBends(turned.path)
  const { stretches, tooTight } = asStretches(bends, forbidden)
  const place = (from: number, to: number): RoadbedPlace => ({
    owner: request.owner,
    fromMm: from + turned.shiftMm + request.originMm,
    toMm: to + turned.shiftMm + request.originMm,
  })
  const problems: RoadbedProblem[] = [
    ...tooTight.map((bend): RoadbedProblem => cannotBend(section, bend, place(bend.fromMm, bend.toMm))),
    ...(roadbed.strips === 'fit' ? [] : bends.flatMap((bend) => tearing(section, Number(roadbed.strips), bend, place))),
  ]

  const round = request.isClosed ? pathsJoined([turned.path, turned.path]) : turned.path
  const measured = pathMeasured(round)
  const isRing = request.isClosed && stretches.length === 1
  // Inside a curve's centre an offset has no length.
  const hasLengths = bends.every(({ radiusMm }) => radiusMm === null || radiusMm > footWidthMm / 2)
  const pieces = (hasLengths ? stretches : []).flatMap((stretch, n) => {
    const laid = stretchPieces(request, measured, stretch, isRing, line.lengthMm, forbidden)
    problems.push(...laid.problems.map((problem): RoadbedProblem => ({ ...problem, at: place(stretch.fromMm, stretch.toMm) })))
    return laid.pieces.map(
      ({ number, ...piece }): StripPiece => ({
        ...piece,
        id: `${request.id}.${n + 1}${stripLetter(piece.strip)}${number}`,
        run: request.id,
      }),
    )
  })
  return {
    run: {
      id: request.id,
      owner: request.owner,
      lineClass: section.lineClass,
      roadbed,
      path: round,
      lengthMm: line.lengthMm,
      isClosed: request.isClosed,
      originMm: request.originMm + turned.shiftMm,
      footWidthMm,
      stretches,
      curves: bends.flatMap((bend) => fansOf(bend, stretches, measured, footWidthMm)),
      forbidden,
      pieces,
    },
    problems,
  }
}

/** A closed line begins where the count of strips changes, so that no strip ends for nothing. */
function closedFrom(path: Path, stretches: readonly StripStretch[]): { readonly path: Path; readonly shiftMm: number } {
  const [first, last] = [stretches[0], stretches.at(-1)]
  const shiftMm = first && last && stretches.length > 1 && first.strips === last.strips ? first.toMm : 0
  if (shiftMm === 0) return { path, shiftMm: 0 }
  return { path: pathsJoined([pathSlice(path, shiftMm, path.lengthMm), pathSlice(path, 0, shiftMm)]), shiftMm }
}

function shifted(zones: readonly Stretch[], byMm: number, lengthMm: number, isClosed: boolean): readonly Stretch[] {
  const moved = zones.map(({ fromMm, toMm }) => ({ fromMm: fromMm - byMm, toMm: toMm - byMm }))
  if (!isClosed) return moved
  const turns = [-1, 0, 1, 2]
  return moved
    .flatMap(({ fromMm, toMm }) => turns.map((n) => ({ fromMm: fromMm + n * lengthMm, toMm: toMm + n * lengthMm })))
    .filter(({ fromMm, toMm }) => toMm > 0 && fromMm < 2 * lengthMm)
    .toSorted((a, b) => a.fromMm - b.fromMm)
}

function cannotBend(section: Section, bend: Bend, at: RoadbedPlace): RoadbedProblem {
  const { footWidthMm, narrowestMm, material } = section
  const most = mostStrips(footWidthMm, narrowestMm)
  const radiusMm = bend.radiusMm ?? Infinity
  return {
    kind: 'cannotBend',
    at,
    radiusMm,
    narrowestMm: footWidthMm / most,
    radiusThatDoesMm: radiusForStrips(footWidthMm, most, material.strainLimit),
    strainThatDoes: bandStrain(footWidthMm, most, radiusMm),
  }
}

function tearing(
  { footWidthMm, narrowestMm, material: { strainLimit } }: Section,
  strips: number,
  { fromMm, toMm, radiusMm }: Bend,
  place: (from: number, to: number) => RoadbedPlace,
): readonly RoadbedProblem[] {
  const strain = bandStrain(footWidthMm, strips, radiusMm)
  if (radiusMm === null || (strain !== null && strain <= strainLimit * (1 + 1e-9))) return []
  return [
    {
      kind: 'stripsTear',
      at: place(fromMm, toMm),
      radiusMm,
      strips,
      widthMm: footWidthMm / strips,
      strain,
      limit: strainLimit,
      stripsThatDo: stripsThatBend(footWidthMm, radiusMm, strainLimit, narrowestMm),
    },
  ]
}

/** Middle of a strip, counted from the left. */
function stripOffset(footWidthMm: number, strips: number, strip: number): number {
  return footWidthMm * (0.5 - (strip + 0.5) / strips)
}

function fansOf(bend: Bend, stretches: readonly StripStretch[], measured: MeasuredPath, footWidthMm: number): readonly StripFan[] {
  const { radiusMm } = bend
  const at =
    stretches.find(({ fromMm, toMm }) => fromMm <= bend.fromMm && bend.toMm <= toMm) ?? stretches.find(({ toMm }) => toMm > bend.fromMm)
  if (radiusMm === null || radiusMm <= footWidthMm / 2 || !at) return []
  const turnRad = measured.turnAt(bend.toMm) - measured.turnAt(bend.fromMm)
  const lengthOf = (offsetMm: number): number => measured.alongAt(bend.toMm, offsetMm) - measured.alongAt(bend.fromMm, offsetMm)
  const widthMm = footWidthMm / at.strips
  const strips = Array.from({ length: at.strips }, (_, strip): FanStrip => {
    const offsetMm = stripOffset(footWidthMm, at.strips, strip)
    const ownMm = radiusMm - Math.sign(turnRad) * offsetMm
    return {
      strip,
      offsetMm,
      lengthMm: lengthOf(offsetMm),
      leftEdgeMm: lengthOf(offsetMm + widthMm / 2),
      rightEdgeMm: lengthOf(offsetMm - widthMm / 2),
      strain: bendStrain(widthMm, ownMm),
    }
  })
  return [{ fromMm: bend.fromMm, toMm: bend.toMm, radiusMm, turnRad, strips }]
}

type PieceOf = Omit<StripPiece, 'id' | 'run'> & { readonly number: number }
type JointProblem = Omit<Extract<RoadbedProblem, { kind: 'noJointPlace' }>, 'at'>

/** The pieces of a stretch, strip by strip from the left; each keeps its stagger from the one before it. */
function stretchPieces(
  { section, cutting, longestMm: longestOf }: RunRequest,
  measured: MeasuredPath,
  { fromMm, toMm, strips, stripWidthMm }: StripStretch,
  isRing: boolean,
  roundMm: number,
  bays: readonly Stretch[],
): { readonly pieces: readonly PieceOf[]; readonly problems: readonly JointProblem[] } {
  const { footWidthMm } = section
  const longestMm = longestOf(stripWidthMm)
  const staggerMm = cutting.roadbedStaggerMm
  const leastMm = Math.min(staggerMm, longestMm) * leastPart
  const problems: JointProblem[] = []
  const pieces: PieceOf[] = []
  let beside: readonly number[] = []
  for (let strip = 0; strip < strips; strip++) {
    const offsetMm = stripOffset(footWidthMm, strips, strip)
    const startMm = isRing ? firstFree([...bays, ...around(beside, staggerMm, roundMm)]) : fromMm
    const endMm = isRing ? startMm + roundMm : toMm
    const originMm = measured.alongAt(startMm, offsetMm)
    const along = (station: number): number => measured.alongAt(station, offsetMm) - originMm
    const zonesOf = (staggered: number): readonly Stretch[] =>
      [...bays, ...(staggered > 0 ? around(beside, staggered, isRing ? roundMm : null) : [])].flatMap((zone) => {
        const [from, to] = [Math.max(zone.fromMm, startMm), Math.min(zone.toMm, endMm)]
        return to > from ? [{ fromMm: along(from), toMm: along(to) }] : []
      })
    const ask = { lengthMm: along(endMm), longestMm, leastMm }
    let joints = jointsPlaced({ ...ask, forbidden: zonesOf(staggerMm) })
    if (joints === null) {
      problems.push({ kind: 'noJointPlace', strip, longestMm, ...whatWouldDo(ask, zonesOf, staggerMm) })
      joints = jointsPlaced({ ...ask, forbidden: zonesOf(0) }) ?? jointsPlaced({ ...ask, leastMm: 0, forbidden: [] }) ?? []
    }
    const cuts = [0, ...joints, ask.lengthMm]
    const stations = cuts.map((cut, i) =>
      i === 0 ? startMm : i === cuts.length - 1 ? endMm : measured.stationAt(cut + originMm, offsetMm),
    )
    for (let i = 1; i < cuts.length; i++) {
      const [from, to] = [stations[i - 1] ?? startMm, stations[i] ?? endMm]
      pieces.push({
        number: i,
        strip,
        offsetMm,
        fromMm: from,
        toMm: to,
        lengthMm: (cuts[i] ?? 0) - (cuts[i - 1] ?? 0),
        widthMm: stripWidthMm,
        bevel: section.shoulderMm === 0 ? 'none' : bevelOf(strip, strips),
      })
    }
    beside = isRing ? stations.slice(0, -1) : stations.slice(1, -1)
  }
  return { pieces, problems }
}

/** The first station that lies in none of the zones. */
function firstFree(zones: readonly Stretch[]): number {
  return zonesJoined(zones).reduce((at, { fromMm, toMm }) => (fromMm < at && at < toMm ? toMm : at), 0)
}

function around(joints: readonly number[], staggerMm: number, roundMm: number | null): readonly Stretch[] {
  const all = roundMm === null ? joints : joints.flatMap((at) => [at - roundMm, at, at + roundMm])
  return all.map((at) => ({ fromMm: at - staggerMm, toMm: at + staggerMm }))
}

function bevelOf(strip: number, strips: number): StripPiece['bevel'] {
  if (strips === 1) return 'both'
  return strip === 0 ? 'left' : strip === strips - 1 ? 'right' : 'none'
}

/** 1 a, 2 b … 27 aa: the strips of a stretch, from the left. */
function stripLetter(strip: number): string {
  const letter = String.fromCodePoint(97 + (strip % 26))
  return strip < 26 ? letter : stripLetter(Math.floor(strip / 26) - 1) + letter
}

const halvings = 30
/** Longer stock than this nobody has: 100 m. */
const farMm = 1e5

/** The greatest stagger and the shortest stock, each alone, with which a strip could be joined; null: no such. */
function whatWouldDo(
  ask: { readonly lengthMm: number; readonly longestMm: number; readonly leastMm: number },
  zonesOf: (staggerMm: number) => readonly Stretch[],
  staggerMm: number,
): Pick<JointProblem, 'lengthThatDoesMm' | 'staggerThatDoesMm'> {
  const zones = zonesOf(staggerMm)
  return {
    lengthThatDoesMm: bisected(
      ask.longestMm,
      Math.min(ask.lengthMm, farMm),
      (longestMm) => jointsPlaced({ ...ask, longestMm, forbidden: zones }) !== null,
    ),
    staggerThatDoesMm: bisected(staggerMm, 0, (less) => jointsPlaced({ ...ask, forbidden: zonesOf(less) }) !== null),
  }
}

/** Between a value that will not do and one that should: the nearest to the first that does; null: not even the last. */
function bisected(bad: number, good: number, does: (value: number) => boolean): number | null {
  if (!does(good)) return null
  let [no, yes] = [bad, good]
  for (let i = 0; i < halvings; i++) {
    const middle = (no + yes) / 2
    if (does(middle)) yes = middle
    else no = middle
  }
  return yes
}
