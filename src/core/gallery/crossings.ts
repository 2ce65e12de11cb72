import { workPicture } from '../deliver/index.ts'
import { pathMove } from '../geom/index.ts'
import { crossingRequest } from '../network/index.ts'
import type { LineClass, Railway, SlipChoice } from '../plan/types.ts'
import { crossingSolve, frogAngle, hostOfElements } from '../turnout/index.ts'
import type { CrossingTrack } from '../turnout/index.ts'
import type { GalleryFigure, GalleryKey, GalleryPiece } from './types.ts'

/** Slips need a flatter crossing than most diamonds have: their curve lies between the end frogs. */
const slipFrog = 7
const diamondFrog = 6
/** Radius of a bent track through a diamond, in gauges. */
const bentGauges = 50
/** Tracks reach so far both ways, in gauges. */
const reachGauges = 60

export interface CrossingAsked {
  /** Angle between the tracks, rad, or the frog number that it belongs to. */
  readonly cross: { readonly rad: number } | { readonly frog: number }
  readonly slip?: SlipChoice
  readonly isBent?: boolean
}

export const galleryCrossings = {
  diamond: { cross: { frog: diamondFrog } },
  'diamond-30': { cross: { rad: Math.PI / 6 } },
  'diamond-square': { cross: { rad: Math.PI / 2 } },
  'diamond-bent': { cross: { rad: Math.PI / 4 }, isBent: true },
  'single-slip': { cross: { frog: slipFrog }, slip: 'single-left' },
  'double-slip': { cross: { frog: slipFrog }, slip: 'double' },
} as const satisfies { readonly [K in GalleryKey]?: CrossingAsked }

/** A crossing of the gallery by the standards of the railway. */
export function crossingPiece(key: GalleryKey, asked: CrossingAsked, railway: Railway, lineClass: LineClass): GalleryPiece {
  const { gaugeMm, frogDefinition } = railway
  const rad = 'rad' in asked.cross ? asked.cross.rad : frogAngle(asked.cross.frog, frogDefinition)
  const bentMm = bentGauges * gaugeMm
  const request = crossingRequest(
    railway,
    lineClass.tieSpacingMm,
    null,
    trackThrough(0, 0, gaugeMm),
    trackThrough(rad, asked.isBent === true ? 1 / bentMm : 0, gaugeMm),
  )
  const solved = crossingSolve({ ...request, slip: asked.slip ?? 'none' })
  if (!solved.ok) return { ok: false, problem: { kind: 'crossing', problem: solved.problem } }
  const { crossing } = solved
  const { fromMm, toMm } = crossing.extents.first
  const vees = crossing.frogs.filter(({ kind }) => kind === 'vee').map(({ number }) => number)
  const figures: readonly GalleryFigure[] = [
    { kind: 'angle', rad: crossing.angleRad },
    ...(asked.isBent === true ? [{ kind: 'host', mm: bentMm } as const] : []),
    { kind: 'frogs', numbers: vees },
    ...crossing.slips.slice(0, 1).map(({ radiusMm }) => ({ kind: 'slipRadius', mm: radiusMm }) as const),
    { kind: 'length', mm: toMm - fromMm },
    { kind: 'unguarded', mm: crossing.unguardedMm },
    { kind: 'guided', mm: crossing.guidedMm },
  ]
  return { ok: true, picture: workPicture(crossing, key), figures }
}

function trackThrough(headingRad: number, k: number, gaugeMm: number): CrossingTrack {
  const reachMm = reachGauges * gaugeMm
  const { path } = hostOfElements([{ lengthMm: 2 * reachMm, k0: k, k1: k }], reachMm)
  return { path: pathMove(path, { x: 0, y: 0, headingRad }), atMm: reachMm }
}
