import { describe, expect, it } from 'vitest'
import { roomTraverse } from '../../../src/core/room/index.ts'
import type { MeasuredSide } from '../../../src/core/room/index.ts'

/*
 * A worked example of the compass rule: four courses by length and bearing, their latitudes and departures, and what each gets of the
 * closing error. [BOWDITCH], a course's hand-out read in an excerpt; lengths there in metres, rounded to four places.
 * The bearings as azimuths from north, clockwise: N 76 E, S 36 E, S 61 W, N 38 W.
 */
const courses = [
  { length: 80.4, azimuth: 76, latitude: 19.3653, departure: 78.1055 },
  { length: 46.3, azimuth: 144, latitude: -37.5063, departure: 27.2678 },
  { length: 72.8, azimuth: 241, latitude: -35.3716, departure: -63.5874 },
  { length: 68, azimuth: 322, latitude: 53.5126, departure: null },
] as const
const rad = (degrees: number): number => (degrees * Math.PI) / 180

/** The inside angle on the left of the way, from the azimuths of two courses: this round runs clockwise, so it is mirrored. */
const sides = courses.map(({ length, azimuth }, i): MeasuredSide => {
  const next = courses[(i + 1) % courses.length] ?? courses[0]
  const turn = (((next.azimuth - azimuth) % 360) + 360) % 360
  return { lengthMm: length * 1000, corner: { kind: 'angle', angleRad: Math.PI - rad(turn > 180 ? turn - 360 : turn) } }
})

describe('a room walked round', () => {
  it('spreads its closing error as the published example does', () => {
    const found = roomTraverse(sides, true)
    if (!found.ok) throw new Error(found.problem.kind)
    const { points, misclosure } = found
    expect(misclosure.angleRad).toBeCloseTo(0, 12)
    expect(misclosure.perimeterMm).toBeCloseTo(267_500, 6)
    expect(misclosure.distanceMm).toBeCloseTo(Math.hypot(285, 311), -1)
    // Back from the frame of the room (first side along x, mirrored) to north and east.
    for (const [i, { azimuth, latitude, departure }] of courses.entries()) {
      const [a, b] = [points[i], points[(i + 1) % points.length]]
      if (a === undefined || b === undefined) throw new Error('a corner is missing')
      const along = Math.atan2(-(b.y - a.y), b.x - a.x)
      const bearing = rad(courses[0].azimuth) - along
      const lengthM = Math.hypot(b.x - a.x, b.y - a.y) / 1000
      expect(lengthM * Math.cos(bearing)).toBeCloseTo(latitude, 2)
      if (departure !== null) expect(lengthM * Math.sin(bearing)).toBeCloseTo(departure, 2)
      expect(Math.abs(((azimuth - (bearing * 180) / Math.PI + 540) % 360) - 180)).toBeLessThan(0.5)
    }
  })
})
