import { pathPoseAt, type Path, type PathElement } from '../../core/geom/index.ts'
import { cornerPlacePoints } from '../../core/alignment/index.ts'
import { angleDegrees, columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { planFromFile } from '../planFile.ts'
import { trackChosen } from '../records.ts'
import { lineSolved } from '../solvedLine.ts'
import { lengthOption } from '../values.ts'

export const lineSpec: VerbSpec = {
  name: 'line',
  about: 'a track of a plan: its elements, and poses at even stations',
  operand: 'PLAN',
  options: {
    track: { value: 'main', about: 'name or id of the track', isRequired: true },
    every: { value: '100mm', about: 'distance of the stations; 100 mm when left out' },
  },
  example: 'waybench line plan.json --track main --every 6in',
}

/** More rows than this are a slip of the pen: a kilometre at every millimetre. */
const MOST_STATIONS = 1_000_000

export function lineRun(args: Args): Answer {
  const everyMm = lengthOption(args, 'every') ?? 100
  const plan = planFromFile(args.operand ?? '')
  const track = trackChosen(plan, args.values.get('track') ?? '')
  const alignment = lineSolved(plan, track)
  const { path } = alignment
  if (path.lengthMm / everyMm > MOST_STATIONS)
    throw new BadInput(`--every ${args.values.get('every')}: that gives more than ${MOST_STATIONS} stations; take more.`)
  const stations = stationsEvery(path.lengthMm, everyMm).map((stationMm) => stationRow(path, stationMm))
  return {
    json: {
      track: track.id,
      name: track.name,
      isClosed: alignment.isClosed,
      lengthMm: path.lengthMm,
      elements: path.elements.map(elementRow),
      corners: alignment.corners.map((place) => ({
        corner: place.cornerId,
        radiusMm: place.solution.radiusMm,
        points: cornerPlacePoints(path, place),
      })),
      stations,
    },
    text: [
      `${track.name}: ${lengthBoth(path.lengthMm)}${alignment.isClosed ? ', a loop' : ''}`,
      '',
      columns([
        ['Element', 'from station mm', 'length mm', 'radius mm'],
        ...path.elements.map((element) => {
          const row = elementRow(element)
          return [row.kind, row.startStationMm.toFixed(2), row.lengthMm.toFixed(2), radiusText(element)]
        }),
      ]),
      '',
      columns([
        ['Station mm', 'x mm', 'y mm', 'heading', 'radius mm'],
        ...stations.map((row) => [
          row.stationMm.toFixed(2),
          row.xMm.toFixed(2),
          row.yMm.toFixed(2),
          angleDegrees(row.headingRad),
          row.curvaturePerMm === 0 ? 'straight' : (1 / row.curvaturePerMm).toFixed(1),
        ]),
      ]),
    ].join('\n'),
    exitCode: 0,
    files: [],
  }
}

/** 0, every, 2 every … and the end, which is never left out nor doubled. */
function stationsEvery(lengthMm: number, everyMm: number): readonly number[] {
  const whole = Math.floor(lengthMm / everyMm + 1e-9)
  const even = Array.from({ length: whole + 1 }, (_, i) => Math.min(i * everyMm, lengthMm))
  return lengthMm - (even.at(-1) ?? 0) > 1e-6 ? [...even, lengthMm] : even
}

/** The plan knows no profile yet: all track lies level at zero. */
function stationRow(path: Path, stationMm: number) {
  const pose = pathPoseAt(path, stationMm)
  return { stationMm, xMm: pose.x, yMm: pose.y, headingRad: pose.headingRad, curvaturePerMm: pose.curvature, elevationMm: 0, grade: 0 }
}

function elementRow({ lengthMm, k0, k1, startStationMm, start }: PathElement) {
  const kind = k0 === 0 && k1 === 0 ? 'line' : k0 === k1 ? 'arc' : 'easement'
  return {
    kind,
    startStationMm,
    lengthMm,
    curvatureStartPerMm: k0,
    curvatureEndPerMm: k1,
    start: { xMm: start.x, yMm: start.y, headingRad: start.headingRad },
  }
}

function radiusText({ k0, k1 }: PathElement): string {
  const one = (k: number): string => (k === 0 ? 'straight' : (1 / k).toFixed(1))
  return k0 === k1 ? one(k0) : `${one(k0)} to ${one(k1)}`
}
