import { pathOffsetPoint, type Path, type Point } from '../../src/core/geom/index.ts'
import type { SheetOptions } from '../../src/core/deliver/index.ts'
import { pipelineCreate, type Derived } from '../../src/core/pipeline/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from './plans.ts'

export const letterOptions: SheetOptions = {
  paper: { name: 'Letter', widthMm: 215.9, heightMm: 279.4 },
  marginMm: 6,
  overlapMm: 10,
  calibrationX: 1,
  calibrationY: 1,
  units: 'metric',
  date: '',
}

/** A line with two bends, one of them sharp, and a turnout on it. */
export function bentLine(turnRad: number, legMm: number, radiusMm: number, hasTurnout: boolean): Derived {
  const [a, b] = [turnRad, turnRad * -0.6]
  const p1 = { x: legMm, y: 0 }
  const p2 = { x: p1.x + legMm * Math.cos(a), y: p1.y + legMm * Math.sin(a) }
  const p3 = { x: p2.x + legMm * Math.cos(a + b), y: p2.y + legMm * Math.sin(a + b) }
  const corner = (id: string, p: Point) => aCorner({ id, ...p, radius: radiusMm, easementIn: 40, easementOut: 40 })
  return pipelineCreate().derive(
    planWith({
      tracks: [
        aTrack({ start: { kind: 'free', x: 0, y: 0 }, corners: [corner('pi-1', p1), corner('pi-2', p2)], end: { kind: 'free', ...p3 } }),
      ],
      turnouts: hasTurnout ? [aTurnout({ stationMm: 120 })] : [],
    }),
  )
}

/** The path of a track that must be solved. */
export function pathOf(derived: Derived, id = 'track-1'): Path {
  const alignment = derived.network.tracks.get(id)?.alignment
  if (!alignment?.ok) throw new Error(`track ${id} is not solved`)
  return alignment.path
}

/** The band of the ties as a ring of points a millimetre apart. */
export function bandRing(path: Path, fromMm: number, toMm: number, halfMm: number): readonly Point[] {
  const count = Math.ceil(toMm - fromMm)
  const side = (offset: number): Point[] =>
    Array.from({ length: count + 1 }, (_, i) => pathOffsetPoint(path, fromMm + ((toMm - fromMm) * i) / count, offset))
  return [...side(-halfMm), ...side(halfMm).toReversed()]
}
