import { trackPicture } from '../deliver/index.ts'
import { editApply, patchApply } from '../edit/index.ts'
import { poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import { crossoverFigures, ladderFigures, makerCure, makerExpand, shapeOf } from '../makers/index.ts'
import type { Shape } from '../makers/index.ts'
import type { MakerProblem } from '../makers/types.ts'
import { standardBuild } from '../network/index.ts'
import { pipelineCreate } from '../pipeline/index.ts'
import type { Derived } from '../pipeline/types.ts'
import { railwayOfClass } from '../plan/index.ts'
import type { LineClass, Maker, MakerNumbers, Plan, Track } from '../plan/types.ts'
import { tieCorners } from '../track/index.ts'
import { turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import type { WorkFrog } from '../turnout/index.ts'
import { galleryFrog } from './turnouts.ts'
import type { GalleryFigure, GalleryKey, GalleryPiece, GalleryProblem } from './types.ts'

export type MadeKey = 'crossover' | 'scissors' | 'ladder'

/** Hosts are laid so long at first, in gauges, and cut to what the maker takes then. */
const roomGauges = 400
/** Body tracks of the ladder, and the straight of the shortest in track centres. */
const ladderTracks = 3
const bodyCentres = 3
/** A maker's problem may name a number that leads to another. */
const mostCures = 4
const host = 'host'
const beside = 'beside'

type Laid =
  | { readonly ok: true; readonly derived: Derived; readonly numbers: MakerNumbers }
  | { readonly ok: false; readonly problem: MakerProblem }

/** A piece that a maker makes, on a plan of its own: nothing but straight tracks of the railway's main. */
export function madePiece(key: MadeKey, plan: Plan, lineClass: LineClass): GalleryPiece {
  const { railway } = plan
  const request = turnoutRequest(railwayOfClass(railway, lineClass), lineClass, { hand: 'left', frog: galleryFrog, build: standardBuild })
  const solved = turnoutSolve(request)
  if (!solved.ok) return { ok: false, problem: { kind: 'turnout', problem: solved.problem } }
  const shape = shapeOf(solved.turnout)
  const roomMm = roomGauges * railway.gaugeMm
  const roughAt = (mm: number): Laid => laid(plan, lineClass, 0, roomMm, mm, numbersOf(key, roomMm / 2, mm))
  const usual = roughAt(lineClass.trackCentresMm)
  // Where there is no room at the usual centres it is drawn at the least, to the next full millimetre.
  const leastMm = !usual.ok && usual.problem.kind === 'centresTooSmall' ? Math.ceil(usual.problem.leastMm) : null
  const centresMm = leastMm ?? lineClass.trackCentresMm
  const rough = leastMm === null ? usual : roughAt(leastMm)
  if (!rough.ok) return failed(rough.problem)
  const [fromMm, toMm] = reach(rough.derived, lineClass.tieSpacingMm)
  const stationMm = roomMm / 2 - fromMm
  const cut = laid(plan, lineClass, fromMm, toMm, centresMm, numbersAt(rough.numbers, stationMm))
  if (!cut.ok) return failed(cut.problem)
  return { ok: true, picture: pictureOf(cut.derived, key), figures: figuresOf(key, cut.numbers, railway.gaugeMm, centresMm, shape) }
}

const failed = (problem: MakerProblem): { readonly ok: false; readonly problem: GalleryProblem } => ({
  ok: false,
  problem: { kind: 'maker', problem },
})

function numbersOf(key: MadeKey, stationMm: number, centresMm: number): MakerNumbers {
  if (key !== 'ladder')
    return {
      kind: 'crossover',
      track: host,
      otherTrack: beside,
      stationMm,
      hand: 'left',
      frog: galleryFrog,
      layout: key === 'scissors' ? 'scissors' : 'single',
    }
  return {
    kind: 'yard',
    track: host,
    stationMm,
    facing: 'rising',
    side: 'left',
    frog: galleryFrog,
    tracks: ladderTracks,
    leadCentresMm: centresMm,
    centresMm,
    bodyMm: bodyCentres * centresMm,
    ladder: 'straight',
    ends: 'stub',
  }
}

/** The same numbers at another station. */
function numbersAt(numbers: MakerNumbers, stationMm: number): MakerNumbers {
  return numbers.kind === 'crossover' || numbers.kind === 'yard' ? { ...numbers, stationMm } : numbers
}

/** The maker laid on straight tracks from `fromMm` to `toMm`, with the numbers that its own problems say would do. */
function laid(plan: Plan, lineClass: LineClass, fromMm: number, toMm: number, centresMm: number, asked: MakerNumbers): Laid {
  const trackAt = (id: string, y: number): Track => ({
    id,
    name: id,
    lineClass: lineClass.id,
    start: { kind: 'free', x: fromMm, y },
    corners: [],
    end: { kind: 'free', x: toMm, y },
  })
  const tracks = { [beside]: trackAt(beside, centresMm), [host]: trackAt(host, 0) }
  const bare: Plan = {
    ...plan,
    walls: {},
    obstacles: {},
    benchworks: {},
    turnouts: {},
    crossings: {},
    makers: {},
    tracks: asked.kind === 'crossover' ? tracks : { [host]: tracks[host] },
  }
  const { network } = pipelineCreate().derive(bare)
  const makerOf = (numbers: MakerNumbers): Maker => ({
    id: 'maker',
    name: 'maker',
    lineClass: lineClass.id,
    numbers,
    made: { tracks: [], turnouts: [] },
  })
  let numbers = asked
  let made = makerExpand(bare, network, makerOf(numbers))
  for (let i = 0; i < mostCures && !made.ok; i++) {
    const cured = makerCure(numbers, made.problem)
    if (cured === null) break
    numbers = cured
    made = makerExpand(bare, network, makerOf(numbers))
  }
  if (!made.ok) return made
  const edit = editApply(bare, made.command)
  return { ok: true, derived: pipelineCreate().derive(edit.ok ? patchApply(bare, edit.patch) : bare), numbers }
}

/** From the first to the last of turnouts and what was made, and a few ties on. */
function reach({ network, trackwork }: Derived, tieSpacingMm: number): readonly [number, number] {
  const ends = [...network.tracks.values()].flatMap(({ track, alignment }) =>
    track.id === host || track.id === beside || !alignment.ok ? [] : [alignment.path.end.x],
  )
  const xs = [...[...trackwork.turnouts.values()].flatMap(({ ties }) => ties.flatMap(tieCorners)).map(({ x }) => x), ...ends]
  return [Math.min(...xs) - 4 * tieSpacingMm, Math.max(...xs) + 4 * tieSpacingMm]
}

function pictureOf({ network, trackwork }: Derived, key: GalleryKey): ReturnType<typeof trackPicture> {
  const parts = [...trackwork.tracks.values(), ...trackwork.turnouts.values(), ...trackwork.crossings.values()]
  const works = [...trackwork.turnouts.values(), ...trackwork.crossings.values()]
  const frogs = [
    ...[...network.turnouts.values()].flatMap(({ result }) => (result.ok ? frogsInPlan(result.geometry.frogs, result.pose) : [])),
    ...[...network.crossings.values()].flatMap(({ pose, result }) => (result.ok ? frogsInPlan(result.crossing.frogs, pose) : [])),
  ]
  return trackPicture(
    {
      rails: parts.flatMap(({ rails }) => rails),
      ties: parts.flatMap(({ ties }) => ties),
      gaps: works.flatMap(({ gaps }) => gaps),
      centres: [...network.tracks.values()].flatMap(({ alignment }) => (alignment.ok ? [alignment.path] : [])),
      frogs,
    },
    key,
  )
}

function frogsInPlan(frogs: readonly WorkFrog[], pose: Pose): readonly Pose[] {
  return frogs.map(({ at, headingRad }) => ({ ...poseToPlan(pose, at), headingRad: pose.headingRad + headingRad }))
}

function figuresOf(key: MadeKey, numbers: MakerNumbers, gaugeMm: number, centresMm: number, shape: Shape): readonly GalleryFigure[] {
  const { frogAngleRad, leadMm } = shape
  const frogs: GalleryFigure = { kind: 'frogs', numbers: [galleryFrog] }
  if (numbers.kind === 'yard') {
    const { pitchAlongLadderMm } = ladderFigures({ centresMm: numbers.centresMm, frogAngleRad })
    return [frogs, { kind: 'centres', mm: numbers.centresMm }, { kind: 'pitch', mm: pitchAlongLadderMm }]
  }
  const { pointsToPointsMm } = crossoverFigures({ gaugeMm, centresMm, frogAngleRad, leadMm })
  const lengthMm = pointsToPointsMm - 2 * shape.fromMm
  return [
    frogs,
    { kind: 'centres', mm: centresMm },
    { kind: 'pointsToPoints', mm: pointsToPointsMm },
    { kind: 'length', mm: key === 'scissors' ? Math.max(lengthMm, 2 * (shape.toMm - shape.fromMm)) : lengthMm },
  ]
}
