import { angleBetween, pathCurvatureAt, pathFlatten, pathPoseAt, pointDistance, poseOffset } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import { trackPath } from '../network/index.ts'
import type { Network } from '../network/types.ts'
import { keptOn } from '../plan/index.ts'
import type { ReadingOf } from '../plan/types.ts'
import { betweenTracks } from './between.ts'

/** What a measurement comes to on the plan as it is now, and the line that shows where it was taken. */
export type Measured =
  | { readonly kind: 'length'; readonly mm: number; readonly line: readonly Point[] }
  /** From the first arm to the second, the shorter way round; 0..pi. */
  | { readonly kind: 'angle'; readonly rad: number; readonly line: readonly Point[] }
  /** radiusMm null: straight here. The line runs from the place to the centre. */
  | { readonly kind: 'radius'; readonly radiusMm: number | null; readonly line: readonly Point[] }
  /** From one track to another; clearMm: see BetweenTracks. */
  | { readonly kind: 'between'; readonly centresMm: number; readonly clearMm: number | null; readonly line: readonly Point[] }
  /** The track is not traced there, or the arms of an angle have no direction. */
  | { readonly kind: 'unknown' }

const unknown: Measured = { kind: 'unknown' }
/** Of the line that is drawn along a track, mm. */
const drawnMm = 0.5
/** Flatter than this is straight: a radius of a kilometre on the model. */
const straightCurvature = 1e-6

/**
 * The figure of a measurement.
 *
 * Exactness: lengths along a track are differences of its stations; between tracks see betweenTracks. A station beyond its track gives no
 *            figure.
 */
export function readingMeasure(of: ReadingOf, network: Network): Measured {
  return kept(of, [network], () => measure(of, network))
}

/** Pinned ones are asked for whenever the pointer moves, and what runs between two tracks is swept for them. */
const kept = keptOn<ReadingOf, Measured>()

function measure(of: ReadingOf, network: Network): Measured {
  switch (of.kind) {
    case 'distance':
      return { kind: 'length', mm: pointDistance(of.from, of.to), line: [of.from, of.to] }
    case 'angle': {
      if (pointDistance(of.at, of.from) === 0 || pointDistance(of.at, of.to) === 0) return unknown
      const heading = ({ x, y }: Point): number => Math.atan2(y - of.at.y, x - of.at.x)
      return { kind: 'angle', rad: Math.abs(angleBetween(heading(of.from), heading(of.to))), line: [of.from, of.at, of.to] }
    }
    case 'along': {
      const path = trackPath(network, of.track)
      if (path === null || !isOn(path, of.fromMm) || !isOn(path, of.toMm)) return unknown
      const [fromMm, toMm] = [Math.min(of.fromMm, of.toMm), Math.max(of.fromMm, of.toMm)]
      return { kind: 'length', mm: toMm - fromMm, line: pathFlatten(path, { fromMm, toMm, offsetMm: 0, toleranceMm: drawnMm }) }
    }
    case 'radius': {
      const path = trackPath(network, of.track)
      if (path === null || !isOn(path, of.stationMm)) return unknown
      const pose = pathPoseAt(path, of.stationMm)
      const curvature = pathCurvatureAt(path, of.stationMm)
      const place = { x: pose.x, y: pose.y }
      if (Math.abs(curvature) < straightCurvature) return { kind: 'radius', radiusMm: null, line: [place] }
      const centre = poseOffset(pose, 1 / curvature)
      return { kind: 'radius', radiusMm: Math.abs(1 / curvature), line: [place, { x: centre.x, y: centre.y }] }
    }
    case 'centres': {
      const found = betweenTracks(network, of.track, of.stationMm, of.other)
      if (found === null) return unknown
      const { centresMm, clearMm, from, to } = found
      return { kind: 'between', centresMm, clearMm, line: [from, to] }
    }
  }
}

function isOn({ lengthMm }: Path, stationMm: number): boolean {
  return stationMm >= 0 && stationMm <= lengthMm
}
