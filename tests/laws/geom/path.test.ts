import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  angleBetween,
  boxContains,
  boxGrow,
  elementEnd,
  elementMirror,
  elementPoseAt,
  elementReverse,
  elementSplit,
  InvariantError,
  pathBox,
  pathCurvatureAt,
  pathElementAt,
  pathFromElements,
  pathMirror,
  pathMove,
  pathOffsetPoint,
  pathPoseAt,
  pathReverse,
  pathSlice,
  pathStart,
  pointDistance,
  poseCompose,
  poseMirror,
  poseReverse,
  poseToLocal,
  type Path,
  type Pose,
} from '../../../src/core/geom/index.ts'
import { element, lawRuns, path, placeOnPath, pose, share } from '../../support/geomArbitraries.ts'

/** Rounding of coordinates of some metres over a chain of some elements, mm: a millionth of what the builder could see. */
const roundingMm = 1e-9
const roundingRad = 1e-12

function expectSamePose(a: Pose, b: Pose): void {
  expect(pointDistance(a, b)).toBeLessThanOrEqual(roundingMm)
  expect(Math.abs(angleBetween(a.headingRad, b.headingRad))).toBeLessThanOrEqual(roundingRad)
}

/** Both paths run through the same poses at the same stations. */
function expectSamePath(a: Path, b: Path): void {
  expect(a.lengthMm).toBeCloseTo(b.lengthMm, 9)
  expect(a.elements.length).toBe(b.elements.length)
  a.elements.forEach((element, i) => {
    const other = b.elements[i]
    if (!other) throw new Error('lengths agree')
    expectSamePose(element.start, other.start)
    expect(element.k0).toBeCloseTo(other.k0, 15)
    expect(element.k1).toBeCloseTo(other.k1, 15)
    expect(element.startStationMm).toBeCloseTo(other.startStationMm, 8)
  })
  expectSamePose(a.end, b.end)
}

describe('paths', () => {
  it('run on without a step or a kink at joins', () => {
    fc.assert(
      fc.property(path, (path) => {
        path.elements.forEach((element, i) => {
          expectSamePose(elementEnd(element, element.start), path.elements[i + 1]?.start ?? path.end)
          expect(element.startStationMm + element.lengthMm).toBeCloseTo(path.elements[i + 1]?.startStationMm ?? path.lengthMm, 9)
        })
      }),
      lawRuns,
    )
  })

  it('turned round twice are the same path', () => {
    fc.assert(
      fc.property(path, (path) => expectSamePath(pathReverse(pathReverse(path)), path)),
      lawRuns,
    )
  })

  it('turned round run through the same places from the other end', () => {
    fc.assert(
      fc.property(placeOnPath, ({ path, stationMm }) => {
        const there = pathPoseAt(path, stationMm)
        const back = pathPoseAt(pathReverse(path), path.lengthMm - stationMm)
        expectSamePose(back, poseReverse(there))
        expectSamePath(pathReverse(path), pathFromElements(poseReverse(path.end), path.elements.toReversed().map(elementReverse)))
      }),
      lawRuns,
    )
  })

  it('have headings without jumps of a whole turn, also when turned round', () => {
    fc.assert(
      fc.property(path, (path) => {
        for (const one of [path, pathReverse(path), pathMirror(path)]) {
          one.elements.forEach((element, i) => {
            const next = one.elements[i + 1]?.start ?? one.end
            expect(Math.abs(elementEnd(element, element.start).headingRad - next.headingRad)).toBeLessThanOrEqual(roundingRad * 10)
          })
        }
      }),
      lawRuns,
    )
  })

  it('mirrored twice are the same path, exactly', () => {
    fc.assert(
      fc.property(path, (path) => {
        expect(pathMirror(pathMirror(path)).end).toEqual({ ...path.end, y: path.end.y + 0, headingRad: path.end.headingRad + 0 })
      }),
      lawRuns,
    )
  })

  it('mirrored run through the mirror images of their places', () => {
    fc.assert(
      fc.property(placeOnPath, ({ path, stationMm }) => {
        expectSamePose(pathPoseAt(pathMirror(path), stationMm), poseMirror(pathPoseAt(path, stationMm)))
        expectSamePath(pathMirror(path), pathFromElements(poseMirror(pathStart(path)), path.elements.map(elementMirror)))
      }),
      lawRuns,
    )
  })

  it('moved run through the moved places', () => {
    fc.assert(
      fc.property(placeOnPath, pose, ({ path, stationMm }, frame) => {
        const moved = pathMove(path, frame)
        expectSamePose(pathPoseAt(moved, stationMm), poseCompose(frame, pathPoseAt(path, stationMm)))
        const back = poseToLocal(frame, pathPoseAt(moved, stationMm))
        expect(pointDistance(back, pathPoseAt(path, stationMm))).toBeLessThanOrEqual(roundingMm)
      }),
      lawRuns,
    )
  })

  it('cut into slices add up to the whole', () => {
    fc.assert(
      fc.property(placeOnPath, share, ({ path, stationMm }, share) => {
        const [from, to] = [stationMm, share * path.lengthMm].toSorted((a, b) => a - b) as [number, number]
        const parts = [pathSlice(path, 0, from), pathSlice(path, from, to), pathSlice(path, to, path.lengthMm)]
        expect(parts.reduce((sum, part) => sum + part.lengthMm, 0)).toBeCloseTo(path.lengthMm, 8)
        parts.forEach((part, i) => {
          expectSamePose(pathStart(part), i === 0 ? pathStart(path) : (parts[i - 1]?.end ?? part.end))
          const summed = part.elements.reduce((sum, element) => sum + element.lengthMm, 0)
          expect(summed).toBeCloseTo(part.lengthMm, 8)
        })
        const middle = 0.5 * (from + to)
        const inSlice = pathSlice(path, from, to)
        expectSamePose(pathPoseAt(inSlice, Math.min(middle - from, inSlice.lengthMm)), pathPoseAt(path, middle))
      }),
      lawRuns,
    )
  })

  it('have the direction of their derivative and the curvature of its derivative', () => {
    fc.assert(
      fc.property(placeOnPath, ({ path, stationMm }) => {
        const at = pathElementAt(path, stationMm)
        if (!at || at.element.lengthMm < 1) return
        // Central differences over 1e-3 mm inside one element: truncation 1e-11, rounding of coordinates of metres 1e-12 / 1e-3.
        const h = 1e-3
        const s = Math.min(Math.max(stationMm, at.element.startStationMm + h), at.element.startStationMm + at.element.lengthMm - h)
        const before = pathPoseAt(path, s - h)
        const here = pathPoseAt(path, s)
        const behind = pathPoseAt(path, s + h)
        expect(Math.abs((behind.x - before.x) / (2 * h) - Math.cos(here.headingRad))).toBeLessThanOrEqual(1e-8)
        expect(Math.abs((behind.y - before.y) / (2 * h) - Math.sin(here.headingRad))).toBeLessThanOrEqual(1e-8)
        expect(Math.abs((behind.headingRad - before.headingRad) / (2 * h) - here.curvature)).toBeLessThanOrEqual(1e-10)
        expect(here.curvature).toBe(pathCurvatureAt(path, s))
      }),
      lawRuns,
    )
  })

  it('hold an offset square to the line, at its distance', () => {
    fc.assert(
      fc.property(placeOnPath, fc.double({ min: -300, max: 300, noNaN: true }), ({ path, stationMm }, offsetMm) => {
        const here = pathPoseAt(path, stationMm)
        const local = poseToLocal(here, pathOffsetPoint(path, stationMm, offsetMm))
        expect(Math.abs(local.x)).toBeLessThanOrEqual(roundingMm)
        expect(Math.abs(local.y - offsetMm)).toBeLessThanOrEqual(roundingMm)
      }),
      lawRuns,
    )
  })

  it('lie in their box, and touch each of its sides', () => {
    fc.assert(
      fc.property(path, (path) => {
        const box = pathBox(path, 0)
        const around = boxGrow(box, roundingMm)
        let outside = 0
        let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity]
        for (let i = 0; i <= 2000; i++) {
          const p = pathPoseAt(path, (path.lengthMm * i) / 2000)
          if (!boxContains(around, p)) outside++
          left = Math.min(left, p.x)
          right = Math.max(right, p.x)
          low = Math.min(low, p.y)
          high = Math.max(high, p.y)
        }
        expect(outside).toBe(0)
        // The true extreme can hide half a step from the nearest sample, where a curve of 200 mm radius rises by step^2 / (8 R);
        // at an end or a join the samples may miss it by half a step.
        const step = path.lengthMm / 2000
        const missed = 0.5 * step + roundingMm
        for (const slack of [left - box.minX, box.maxX - right, low - box.minY, box.maxY - high]) expect(slack).toBeLessThanOrEqual(missed)
      }),
      { ...lawRuns, numRuns: 60 },
    )
  })

  it('drop elements without length and know no station outside', () => {
    fc.assert(
      fc.property(path, (path) => {
        const padded = path.elements.flatMap((element) => [{ lengthMm: 0, k0: 1, k1: -1 }, element])
        expectSamePath(pathFromElements(pathStart(path), padded), path)
        expect(() => pathPoseAt(path, -1e-3)).toThrow(InvariantError)
        expect(() => pathPoseAt(path, path.lengthMm + 1e-3)).toThrow(InvariantError)
        expect(() => pathPoseAt(path, Number.NaN)).toThrow(InvariantError)
        expectSamePose(pathPoseAt(path, path.lengthMm + 1e-7), path.end)
        expect(pathPoseAt(path, -1e-7).stationMm).toBe(0)
      }),
      { ...lawRuns, numRuns: 50 },
    )
  })
})

describe('elements', () => {
  it('split anywhere are the whole', () => {
    fc.assert(
      fc.property(element, pose, share, share, (element, start, where, share) => {
        const s = where * element.lengthMm
        const [before, behind] = elementSplit(element, s)
        const joint = elementEnd(before, start)
        expectSamePose(elementEnd(behind, joint), elementEnd(element, start))
        const t = share * behind.lengthMm
        expectSamePose(elementPoseAt(behind, joint, t), elementPoseAt(element, start, s + t))
      }),
      lawRuns,
    )
  })
})
