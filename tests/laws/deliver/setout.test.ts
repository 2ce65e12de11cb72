import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ANGLE_STEP_RAD, setoutTable } from '../../../src/core/deliver/index.ts'
import type { RuleMarks, SetoutBy, SetoutGroup, SetoutRow, SetoutSubject, SetoutTable } from '../../../src/core/deliver/index.ts'
import { pathMirror, pathNearest, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Path, Point, Pose } from '../../../src/core/geom/types.ts'
import { setoutSubjects } from '../../support/setoutLines.ts'

/*
 * A table is right when someone who has only the table, and what it is measured from, gets the line back. Each replot here is
 * written anew from what the words at the bench say, not taken from the core.
 */

const SEED = 20261127
const RUNS = { seed: SEED, numRuns: 60 }

/** Exact values hold a point to this, mm: rounding of a few square roots over some metres. */
const EXACT_MM = 1e-6

const allMarks: readonly RuleMarks[] = [
  { units: 'imperial', perInch: 64 },
  { units: 'imperial', perInch: 16 },
  { units: 'metric', stepMm: 0.5 },
  { units: 'metric', stepMm: 0.1 },
]
const marksOf = fc.constantFrom(...allMarks)
const steps = fc.constantFrom(25.4, 76.2, 50, 100, 33.3)
const stepOf = (marks: RuleMarks): number => (marks.units === 'imperial' ? 25.4 / marks.perInch : marks.stepMm)

type Which = 'exact' | 'rounded'

function tableOf(subject: SetoutSubject, by: SetoutBy, marks: RuleMarks, stepMm: number): SetoutTable | null {
  const made = setoutTable(subject, { by, fromMm: null, toMm: null, stepMm, marks, angleStepRad: ANGLE_STEP_RAD })
  return made.ok ? made.table : null
}

const value = (row: SetoutRow, column: number, which: Which): number => row.values[column]?.[which] ?? Number.NaN
const away = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y)
const polar = (from: Point, rad: number, mm: number): Point => ({ x: from.x + mm * Math.cos(rad), y: from.y + mm * Math.sin(rad) })

/** Every row's exact replot lies on the line at its station, its rounded one within the error stated for it. */
function expectReplots(path: Path, group: SetoutGroup, replot: (row: SetoutRow, which: Which) => readonly (Point | null)[]): void {
  for (const row of group.rows) {
    const truth = pathPoseAt(path, row.stationMm)
    for (const point of replot(row, 'exact')) expect(point === null ? Infinity : away(point, truth)).toBeLessThan(EXACT_MM)
    for (const point of replot(row, 'rounded')) expect(point === null ? Infinity : away(point, truth)).toBeLessThan(row.errorMm + EXACT_MM)
  }
}

/** So far along the base, so far to its left. */
const squareOff =
  (frame: Pose) =>
  (row: SetoutRow, which: Which): readonly Point[] => [
    polar(polar(frame, frame.headingRad, value(row, 0, which)), frame.headingRad + Math.PI / 2, value(row, 1, which)),
  ]

/** Two rounded lengths at right angles, each off by half a mark at most. */
const mostSquareError = (marks: RuleMarks): number => (stepOf(marks) / 2) * Math.SQRT2 + 1e-9

function squareMethod(by: SetoutBy): void {
  test(by.kind === 'offset' ? `offset from ${by.datum}` : by.kind, () => {
    let tables = 0
    fc.assert(
      fc.property(setoutSubjects, marksOf, steps, (subject, marks, step) => {
        const table = tableOf(subject, by, marks, step)
        if (table === null) return
        tables += 1
        for (const group of table.groups) {
          if (!('frame' in group.base)) throw new Error('no frame')
          expectReplots(subject.path, group, squareOff(group.base.frame))
        }
        expect(table.errorMm).toBeLessThanOrEqual(mostSquareError(marks))
      }),
      RUNS,
    )
    // Most lines can be set out this way; a law about nothing would pass too.
    expect(tables).toBeGreaterThan(RUNS.numRuns / 3)
  })
}

describe('replotting gives the line back', () => {
  squareMethod({ kind: 'offset', datum: 'TS' })
  squareMethod({ kind: 'offset', datum: 'PI' })
  squareMethod({ kind: 'chord' })
  squareMethod({ kind: 'edge', edge: null })
  squareMethod({ kind: 'lath', pinnedMm: 152.4 })

  test('deflection: sight and chord from the point before, or sight and distance', () => {
    fc.assert(
      fc.property(setoutSubjects, marksOf, steps, (subject, marks, step) => {
        const table = tableOf(subject, { kind: 'deflection', instrument: 'curves' }, marks, step)
        if (table === null) throw new Error('every curve can be set out by deflections')
        for (const group of table.groups) {
          if (group.base.kind !== 'instrument') throw new Error('no instrument')
          const eye = group.base.frame
          const last: Record<Which, Point> = { exact: eye, rounded: eye }
          expectReplots(subject.path, group, (row, which) => {
            const sight = eye.headingRad + value(row, 0, which)
            // In the triangle of eye, last point and new point: the angle at the eye and two sides, by the sine rule.
            const side = away(eye, last[which])
            const chord = value(row, 1, which)
            const angle = sight - Math.atan2(last[which].y - eye.y, last[which].x - eye.x)
            // A last chord under half a mark is rounded to nothing: then the nearest place on the sight.
            const reachOfChord = chord === 0 ? 0 : chord * Math.cos(Math.asin(Math.max(-1, Math.min(1, (side * Math.sin(angle)) / chord))))
            const reach = side === 0 ? chord : side * Math.cos(angle) + reachOfChord
            last[which] = polar(eye, sight, reach)
            return [last[which], polar(eye, sight, value(row, 2, which))]
          })
        }
        // Half a minute over the longest chord from an eye (a quarter turn of 1500 mm), doubled where the sight is flattest, and the marks
        // of the chords: even steps off the marks, 33.3 mm by sixteenths, add up over all chords of a set-up.
        const mostChords = Math.ceil(Math.hypot(1500, 1500) / step) + 1
        expect(table.errorMm).toBeLessThan(2 * ((ANGLE_STEP_RAD / 2) * 2400 + (stepOf(marks) / 2) * mostChords))
      }),
      RUNS,
    )
  })

  test('trammel: every place of the arc, by x and y of the centre and by its two tapes', () => {
    let arcs = 0
    let tied = 0
    fc.assert(
      fc.property(setoutSubjects, marksOf, (subject, marks) => {
        const table = tableOf(subject, { kind: 'trammel' }, marks, 100)
        for (const group of table?.groups ?? []) {
          const [row] = group.rows
          if (row === undefined || group.base.kind !== 'centre') throw new Error('no arc')
          arcs += 1
          for (const which of ['exact', 'rounded'] as const) {
            const most = which === 'exact' ? EXACT_MM : row.errorMm + EXACT_MM
            const centres: (Point | null)[] = [{ x: value(row, 0, which), y: value(row, 1, which) }]
            const { pins, side } = group.base
            if (pins !== null && side !== null) {
              tied += 1
              centres.push(tapes(pins, value(row, 5, which), value(row, 6, which), side))
            }
            for (const centre of centres) {
              if (centre === null) throw new Error('tapes do not meet')
              const [start, end] = [value(row, 3, 'exact'), value(row, 4, 'exact')]
              for (let i = 0; i <= 12; i += 1) {
                const swung = polar(centre, start + ((end - start) * i) / 12, value(row, 2, which))
                expect(pathNearest(subject.path, swung).distanceMm).toBeLessThan(most)
              }
              // Both ends, by the angles to be set.
              const ends: readonly (readonly [number, number])[] = [
                [row.stationMm, 3],
                [group.base.toStationMm, 4],
              ]
              for (const [station, column] of ends)
                expect(
                  away(polar(centre, value(row, column, which), value(row, 2, which)), pathPoseAt(subject.path, station)),
                ).toBeLessThan(most)
            }
          }
        }
      }),
      RUNS,
    )
    expect(arcs).toBeGreaterThan(RUNS.numRuns)
    expect(tied).toBeGreaterThan(RUNS.numRuns / 4)
  })

  test('tie-in: two tapes that cross at 30 to 150 degrees', () => {
    fc.assert(
      fc.property(setoutSubjects, marksOf, steps, (subject, marks, step) => {
        const table = tableOf(subject, { kind: 'tie-in' }, marks, step)
        if (table === null) throw new Error('a room of two rectangles has two corners for every place')
        for (const group of table.groups) {
          const { base } = group
          if (base.kind !== 'pins') throw new Error('no pins')
          expectReplots(subject.path, group, (row, which) => [tapes(base.pins, value(row, 0, which), value(row, 1, which), base.side)])
          for (const { at } of group.rows) {
            const [a, b] = base.pins.map((pin) => Math.atan2(pin.y - at.y, pin.x - at.x))
            const crossing = Math.acos(Math.cos((a ?? 0) - (b ?? 0)))
            expect(crossing).toBeGreaterThanOrEqual(Math.PI / 6 - 1e-12)
            expect(crossing).toBeLessThanOrEqual((5 * Math.PI) / 6 + 1e-12)
          }
        }
        // Half a mark on both tapes at a crossing of 30 degrees: the far corner of the rhombus, a half mark over sin 15, and a little for
        // the tapes being arcs.
        expect(table.errorMm).toBeLessThan((stepOf(marks) / 2 / Math.sin(Math.PI / 12)) * 1.1)
      }),
      RUNS,
    )
  })

  test('stick: both ends on the line, the middle off the chord by the ordinate', () => {
    fc.assert(
      fc.property(setoutSubjects, marksOf, steps, fc.constantFrom(100, 152.4, 254), (subject, marks, step, chordMm) => {
        // Room for the stick, bent as it may be, at one step at least.
        if (subject.path.lengthMm < 1.1 * chordMm + 2 * step) return
        const table = tableOf(subject, { kind: 'stick', chordMm }, marks, step)
        if (table === null) throw new Error('every line longer than the stick can be gauged')
        for (const group of table.groups) {
          expectReplots(subject.path, group, (row, which) => {
            const middle = pathPoseAt(subject.path, row.stationMm)
            // The ends of the stick are as far from the middle as Pythagoras has it, whatever lies between.
            const half = Math.hypot(value(row, 0, 'exact'), chordMm / 2)
            const [a, b] = ([-1, 1] as const).map((ahead) => placeAtDistance(subject.path, middle, row.stationMm, ahead, half))
            if (!a || !b) throw new Error('an end lies off the line')
            expect(Math.abs(away(a, b) - chordMm)).toBeLessThan(EXACT_MM)
            const along = Math.atan2(b.y - a.y, b.x - a.x)
            // A curve to the left bulges to the right of its chord.
            return [polar({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, along - Math.PI / 2, value(row, 0, which))]
          })
          expect(table.errorMm).toBeLessThanOrEqual(stepOf(marks) / 2 + 1e-9)
        }
      }),
      RUNS,
    )
  })
})

/** Where two tapes meet: the angle at the first pin by the cosine rule. */
function tapes(pins: readonly [Point, Point], a: number, b: number, side: 'left' | 'right'): Point | null {
  const apart = away(pins[0], pins[1])
  const cosine = (apart * apart + a * a - b * b) / (2 * apart * a)
  if (Math.abs(cosine) > 1) return null
  const base = Math.atan2(pins[1].y - pins[0].y, pins[1].x - pins[0].x)
  return polar(pins[0], base + (side === 'left' ? 1 : -1) * Math.acos(cosine), a)
}

/** The place of the line on one side of a station whose straight distance from a point is as given, by halving; null beyond the line. */
function placeAtDistance(path: Path, from: Point, stationMm: number, ahead: 1 | -1, distanceMm: number): Point | null {
  let near = 0
  let far = Math.min(ahead === 1 ? path.lengthMm - stationMm : stationMm, distanceMm * 1.5)
  const at = (mm: number): Point => pathPoseAt(path, stationMm + ahead * mm)
  if (away(from, at(far)) < distanceMm - 1e-7) return null
  for (let i = 0; i < 80; i += 1) {
    const middle = 0.5 * (near + far)
    if (away(from, at(middle)) < distanceMm) near = middle
    else far = middle
  }
  return at(far)
}

describe('a mirrored line', () => {
  test('has the same distances on the other side', () => {
    const sides: Readonly<Record<string, readonly number[]>> = { offset: [1, -1], chord: [1, -1], deflection: [-1, 1, 1], stick: [-1, -1] }
    const methods: readonly SetoutBy[] = [
      { kind: 'offset', datum: 'TS' },
      { kind: 'chord' },
      { kind: 'deflection', instrument: 'curves' },
      { kind: 'stick', chordMm: 152.4 },
    ]
    fc.assert(
      fc.property(setoutSubjects, fc.constantFrom(...methods), (subject, by) => {
        const mirrored: SetoutSubject = {
          ...subject,
          path: pathMirror(subject.path),
          corners: subject.corners.map((place) => ({
            ...place,
            pi: { x: place.pi.x, y: -place.pi.y },
            solution: { ...place.solution, deflectionRad: -place.solution.deflectionRad },
          })),
        }
        const marks: RuleMarks = { units: 'metric', stepMm: 0.1 }
        const [a, b] = [tableOf(subject, by, marks, 80), tableOf(mirrored, by, marks, 80)]
        expect(a === null).toBe(b === null)
        for (const [g, group] of (a?.groups ?? []).entries()) {
          expect(b?.groups[g]?.rows.length).toBe(group.rows.length)
          for (const [r, row] of group.rows.entries()) {
            const other = b?.groups[g]?.rows[r]
            // 1e-7 mm: roots are found to that where the line runs almost square to its base.
            for (const [c, { exact }] of row.values.entries())
              expect(Math.abs((other?.values[c]?.exact ?? Number.NaN) - (sides[by.kind]?.[c] ?? 1) * exact)).toBeLessThan(1e-7)
          }
        }
      }),
      RUNS,
    )
  })
})
