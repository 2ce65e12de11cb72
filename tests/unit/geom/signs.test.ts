import { describe, expect, it } from 'vitest'
import {
  angleBetween,
  angleWrap,
  boxContains,
  boxesOverlap,
  boxGrow,
  boxOfPoints,
  boxUnion,
  elementEnd,
  pathArc,
  pathBox,
  pathFromElements,
  pathLine,
  pathOffsetPoint,
  pathPoseAt,
  pathSlice,
  pathStart,
  pointAdd,
  pointCross,
  pointDot,
  pointEquals,
  pointLeft,
  pointPolar,
  pointScale,
  pointSubtract,
  poseAhead,
  poseOffset,
  poseReverse,
  poseToLocal,
  poseToPlan,
} from '../../../src/core/geom/index.ts'

const east = { x: 0, y: 0, headingRad: 0 }

describe('signs of the plan', () => {
  it('a left curve has positive curvature and rises from a line to the east', () => {
    // A quarter of a circle of radius 100: from the origin heading east it ends 100 ahead and 100 to the left, heading north.
    const end = elementEnd({ lengthMm: 50 * Math.PI, k0: 0.01, k1: 0.01 }, east)
    expect(end.x).toBeCloseTo(100, 10)
    expect(end.y).toBeCloseTo(100, 10)
    expect(end.headingRad).toBeCloseTo(Math.PI / 2, 12)
    expect(pathArc(east, -100, 50 * Math.PI).end.y).toBeCloseTo(-100, 10)
  })

  it('an offset is positive to the left of rising station', () => {
    const north = pathLine({ x: 10, y: 0 }, { x: 10, y: 50 })
    const at = pathOffsetPoint(north, 20, 4)
    expect(at.x).toBeCloseTo(6, 12)
    expect(at.y).toBeCloseTo(20, 12)
    expect(pathPoseAt(north, 20).headingRad).toBeCloseTo(Math.PI / 2, 12)
  })

  it('a frame looks ahead along x and left along y', () => {
    const north = { x: 5, y: 5, headingRad: Math.PI / 2 }
    const out = poseToPlan(north, { x: 3, y: 2 })
    expect(out.x).toBeCloseTo(3, 12)
    expect(out.y).toBeCloseTo(8, 12)
    const back = poseToLocal(north, out)
    expect(back.x).toBeCloseTo(3, 12)
    expect(back.y).toBeCloseTo(2, 12)
    expect(pointEquals(poseAhead(north, 7), { x: 5, y: 12 }, 1e-12)).toBe(true)
    expect(pointEquals(poseOffset(north, 7), { x: -2, y: 5 }, 1e-12)).toBe(true)
    expect(poseReverse(north).headingRad).toBe(-Math.PI / 2)
    expect(poseReverse(east).headingRad).toBe(Math.PI)
  })

  it('angles turn the short way', () => {
    expect(angleWrap(Math.PI)).toBe(Math.PI)
    expect(angleWrap(-Math.PI)).toBe(Math.PI)
    expect(angleWrap(7)).toBeCloseTo(7 - 2 * Math.PI, 14)
    expect(angleWrap(-1e6 * 2 * Math.PI + 0.5)).toBeCloseTo(0.5, 8)
    expect(angleBetween(3, -3)).toBeCloseTo(2 * Math.PI - 6, 14)
    expect(angleBetween(-3, 3)).toBeCloseTo(6 - 2 * Math.PI, 14)
  })

  it('vectors', () => {
    expect(pointCross({ x: 1, y: 0 }, { x: 0, y: 1 })).toBe(1)
    expect(pointDot({ x: 1, y: 2 }, { x: 3, y: 4 })).toBe(11)
    expect(pointLeft({ x: 3, y: 4 })).toEqual({ x: -4, y: 3 })
    expect(pointAdd({ x: 1, y: 2 }, pointScale({ x: 1, y: 1 }, 2))).toEqual({ x: 3, y: 4 })
    expect(pointSubtract({ x: 1, y: 2 }, { x: 3, y: 5 })).toEqual({ x: -2, y: -3 })
    expect(pointEquals(pointPolar(Math.PI / 6, 2), { x: Math.sqrt(3), y: 1 }, 1e-14)).toBe(true)
  })
})

describe('boxes', () => {
  it('of a half circle reach its crown, which is no corner of it', () => {
    const box = pathBox(pathArc(east, 100, 100 * Math.PI), 5)
    expect(box.minX).toBeCloseTo(-5, 9)
    expect(box.maxX).toBeCloseTo(105, 9)
    expect(box.minY).toBeCloseTo(-5, 9)
    expect(box.maxY).toBeCloseTo(205, 9)
  })

  it('join, grow and overlap', () => {
    const a = { minX: 0, minY: 0, maxX: 10, maxY: 10 }
    const b = { minX: 10, minY: 10, maxX: 20, maxY: 12 }
    expect(boxUnion(a, b)).toEqual({ minX: 0, minY: 0, maxX: 20, maxY: 12 })
    expect(boxesOverlap(a, b)).toBe(true)
    expect(boxesOverlap(boxGrow(a, -1), b)).toBe(false)
    expect(boxContains(a, { x: 10, y: 0 })).toBe(true)
    expect(boxContains(a, { x: 10.1, y: 0 })).toBe(false)
    expect(boxOfPoints([])).toBeNull()
    expect(boxOfPoints([{ x: 3, y: 4 }])).toEqual({ minX: 3, minY: 4, maxX: 3, maxY: 4 })
  })
})

describe('a path without elements', () => {
  it('is a pose: start and end in one', () => {
    const nowhere = pathFromElements({ x: 3, y: 4, headingRad: 1 }, [])
    expect(pathStart(nowhere)).toEqual({ x: 3, y: 4, headingRad: 1 })
    expect(pathPoseAt(nowhere, 0)).toEqual({ x: 3, y: 4, headingRad: 1, stationMm: 0, curvature: 0 })
    expect(pathLine({ x: 1, y: 1 }, { x: 1, y: 1 }).elements).toEqual([])
    expect(pathSlice(pathLine({ x: 0, y: 0 }, { x: 9, y: 0 }), 4, 4)).toEqual({
      elements: [],
      lengthMm: 0,
      end: { x: 4, y: 0, headingRad: 0 },
    })
  })
})
