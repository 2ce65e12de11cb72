import { describe, expect, test } from 'vitest'
import { traverseSolve } from '../../../src/core/alignment/index.ts'
import {
  ANGLE_STEP_RAD,
  marksStepMm,
  setoutEdges,
  setoutLengthText,
  setoutTable,
  setoutValueText,
} from '../../../src/core/deliver/index.ts'
import type {
  CentreReach,
  RuleMarks,
  SetoutBy,
  SetoutProblem,
  SetoutRequest,
  SetoutRoom,
  SetoutSubject,
  SetoutTable,
} from '../../../src/core/deliver/index.ts'
import { pathFromElements } from '../../../src/core/geom/index.ts'
import type { CurveElement, Point } from '../../../src/core/geom/types.ts'
import { roomRound } from '../../support/setoutLines.ts'
import { setoutNoteText, setoutProblemText } from '../../../src/words/setoutText.ts'

const half: RuleMarks = { units: 'metric', stepMm: 0.5 }
const bare: SetoutRoom = { walls: {}, obstacles: {}, benchworks: {} }

const rectangle = (minX: number, minY: number, maxX: number, maxY: number): readonly Point[] => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
]

const line = (elements: readonly CurveElement[], room: SetoutRoom = bare, isClosed = false): SetoutSubject => ({
  path: pathFromElements({ x: 0, y: 0, headingRad: 0 }, elements),
  corners: [],
  isClosed,
  gaugeMm: 16.5,
  room,
})
const straight = (lengthMm: number): CurveElement => ({ lengthMm, k0: 0, k1: 0 })
const bend = (lengthMm: number, radiusMm: number): CurveElement => ({ lengthMm, k0: 1 / radiusMm, k1: 1 / radiusMm })

const ask = (by: SetoutBy, change: Partial<SetoutRequest> = {}): SetoutRequest => ({
  by,
  fromMm: null,
  toMm: null,
  stepMm: 100,
  marks: half,
  angleStepRad: ANGLE_STEP_RAD,
  ...change,
})

function tableOf(subject: SetoutSubject, request: SetoutRequest): SetoutTable {
  const made = setoutTable(subject, request)
  if (!made.ok) throw new Error(JSON.stringify(made.problem))
  return made.table
}
function problemOf(subject: SetoutSubject, request: SetoutRequest): SetoutProblem {
  const made = setoutTable(subject, request)
  if (made.ok) throw new Error('there is a table')
  return made.problem
}

describe('the marks of a rule', () => {
  test('are written as they are read', () => {
    const inch: RuleMarks = { units: 'imperial', perInch: 64 }
    expect(marksStepMm(inch)).toBeCloseTo(0.396875, 12)
    expect(setoutLengthText(12 * 25.4 + (25.4 * 11) / 64, inch)).toBe('12¹¹⁄₆₄ in')
    expect(setoutLengthText(12.74, half)).toBe('12.5 mm')
    expect(setoutLengthText(12.76, half)).toBe('13.0 mm')
    expect(setoutLengthText(12.4, { units: 'metric', stepMm: 1 })).toBe('12 mm')
  })

  test('angles are written in degrees and minutes, sides in words', () => {
    const column = { key: 'deflection', words: 'Deflection', unit: 'rad', isSided: true } as const
    const degrees = (value: number): number => (value * Math.PI) / 180
    expect(setoutValueText(column, degrees(-3.125), half, ANGLE_STEP_RAD)).toBe('3° 08′ right')
    expect(setoutValueText(column, degrees(59.9999), half, ANGLE_STEP_RAD)).toBe('60° 00′ left')
    expect(setoutValueText(column, degrees(3.125), half, ANGLE_STEP_RAD / 10)).toBe('3° 07.5′ left')
    expect(setoutValueText(column, 0, half, ANGLE_STEP_RAD)).toBe('0° 00′')
  })
})

describe('a trammel centre', () => {
  // A quarter turn of R 500 to the left from the origin: its centre is at (0, 500), the middle of its arc at (354, 146).
  const reachIn = (room: Partial<SetoutRoom>): { readonly reach: CentreReach; readonly barBlockedBy: string | null } => {
    const [group] = tableOf(line([bend(250 * Math.PI, 500)], { ...bare, ...room }), ask({ kind: 'trammel' })).groups
    if (group?.base.kind !== 'centre') throw new Error('no centre')
    expect(group.base.centre.x).toBeCloseTo(0, 9)
    expect(group.base.centre.y).toBeCloseTo(500, 9)
    return group.base
  }
  const wall = (points: readonly Point[], isClosed: boolean): SetoutRoom['walls'] => ({
    w: { id: 'w', name: 'Wall', points, thicknessMm: 120, isClosed },
  })
  const bench = (outline: readonly Point[]): SetoutRoom['benchworks'] => ({
    b: { id: 'b', name: 'Bench', outline, holes: [], heightMm: 1000 },
  })

  test.each<readonly [name: string, room: Partial<SetoutRoom>, reach: CentreReach, bar: string | null]>([
    ['on benchwork', { benchworks: bench(rectangle(-100, -100, 600, 600)) }, { kind: 'benchwork', name: 'Bench' }, null],
    ['in the aisle', { benchworks: bench(rectangle(-100, -100, 600, 400)) }, { kind: 'floor' }, null],
    [
      'in a post',
      { obstacles: { o: { id: 'o', name: 'Post', undersideMm: 0, outline: rectangle(-50, 450, 50, 550) } } },
      { kind: 'obstacle', name: 'Post' },
      null,
    ],
    // The wall is thick to the right of its points: this one runs to +x along y = 560, its right is y below.
    [
      'in a wall',
      {
        walls: wall(
          [
            { x: -900, y: 560 },
            { x: 900, y: 560 },
          ],
          false,
        ),
      },
      { kind: 'wall', name: 'Wall' },
      null,
    ],
    ['in the corner of a wall', { walls: wall(rectangle(60, -500, 900, 440), true) }, { kind: 'wall', name: 'Wall' }, null],
    ['out of a closed room', { walls: wall(rectangle(-300, -300, 900, 300), true) }, { kind: 'outside', name: 'Wall' }, null],
    [
      'beyond an open wall',
      {
        walls: wall(
          [
            { x: 900, y: 300 },
            { x: -900, y: 300 },
          ],
          false,
        ),
      },
      { kind: 'outside', name: 'Wall' },
      null,
    ],
    [
      'in reach, but the bar strikes a post',
      { obstacles: { o: { id: 'o', name: 'Post', undersideMm: 0, outline: rectangle(20, 100, 60, 140) } } },
      { kind: 'floor' },
      'Post',
    ],
  ])('%s', (_name, room, reach, bar) => {
    expect(reachIn(room)).toMatchObject({ reach, barBlockedBy: bar })
  })
})

describe('a loop', () => {
  test('lets the stick lie over its station zero', () => {
    const radius = 600
    const loop = line([bend(2 * Math.PI * radius, radius)], bare, true)
    const [group] = tableOf(loop, ask({ kind: 'stick', chordMm: 300 })).groups
    expect(group?.rows[0]?.stationMm).toBe(0)
    // R - sqrt(R^2 - 150^2) all round; along the outer rail R is 8.25 more. Rounding of an arc of 3.8 m.
    for (const row of group?.rows ?? []) {
      expect(row.values[0]?.exact).toBeCloseTo(600 - Math.sqrt(600 ** 2 - 150 ** 2), 8)
      expect(row.values[1]?.exact).toBeCloseTo(608.25 - Math.sqrt(608.25 ** 2 - 150 ** 2), 8)
    }
  })
})

describe('an edge', () => {
  test('gives every place where the square meets the line, and says when a post stands between', () => {
    // Out along y = 0, half round at R 200, and back along y = 400; the wall runs below, room to its left.
    const room: SetoutRoom = {
      ...bare,
      walls: {
        w: {
          id: 'w',
          name: 'Wall',
          points: [
            { x: 0, y: -100 },
            { x: 900, y: -100 },
          ],
          thicknessMm: 50,
          isClosed: false,
        },
      },
      obstacles: { o: { id: 'o', name: 'Post', undersideMm: 0, outline: rectangle(90, 190, 110, 210) } },
    }
    const subject = line([straight(500), bend(200 * Math.PI, 200), straight(500)], room)
    const table = tableOf(subject, ask({ kind: 'edge', edge: null }, { stepMm: 100 }))
    const rows = table.groups[0]?.rows ?? []
    const at = (along: number): readonly number[] =>
      rows
        .filter((row) => Math.abs((row.values[0]?.exact ?? 0) - along) < 1e-6)
        .map((row) => Math.round(row.values[1]?.exact ?? Number.NaN))
    expect(at(200)).toEqual([100, 500])
    expect(at(600).map((offset) => Math.abs(offset - 300))).toEqual([173, 173])
    expect(at(700)).toEqual([300])
    expect(at(800)).toEqual([])
    expect(table.notes.map((note) => setoutNoteText(note, half))).toEqual([
      'Post stands between edge and line at one place, first at station 1528.5 mm.',
    ])
  })

  test('a line behind the wall is not measured through it', () => {
    const room: SetoutRoom = {
      ...bare,
      walls: {
        w: {
          id: 'w',
          name: 'Wall',
          points: [
            { x: 500, y: -100 },
            { x: 0, y: -100 },
          ],
          thicknessMm: 50,
          isClosed: false,
        },
      },
    }
    const subject = line([straight(400)], room)
    expect(problemOf(subject, ask({ kind: 'edge', edge: null }))).toEqual({ kind: 'edgeNotFacing', name: null })
    // Asked for by name it is given, with the warning.
    const [edge] = setoutEdges(room)
    if (edge === undefined) throw new Error('no edge')
    const { notes } = tableOf(subject, ask({ kind: 'edge', edge }))
    expect(notes).toMatchObject([{ kind: 'sightBlocked', by: 'Wall, side 1', rows: 5 }])
  })
})

describe('bad input comes back as a reason', () => {
  const bent = line([straight(300), bend(900, 500), straight(300)], roomRound(line([straight(2000)]).path))
  const cases: readonly (readonly [name: string, request: SetoutRequest, kind: SetoutProblem['kind']])[] = [
    ['stretch outside', ask({ kind: 'chord' }, { toMm: 1501 }), 'stretchOutside'],
    ['stretch before the start', ask({ kind: 'chord' }, { fromMm: -1 }), 'stretchOutside'],
    ['stretch backwards', ask({ kind: 'chord' }, { fromMm: 900, toMm: 300 }), 'stretchEmpty'],
    ['a station that is no number', ask({ kind: 'chord' }, { fromMm: Number.NaN }), 'notFinite'],
    ['step zero', ask({ kind: 'chord' }, { stepMm: 0 }), 'notPositive'],
    ['step without end', ask({ kind: 'chord' }, { stepMm: Infinity }), 'notFinite'],
    ['step of a hair', ask({ kind: 'tie-in' }, { stepMm: 1e-3 }), 'tooManyRows'],
    ['step of a hair, by edge', ask({ kind: 'edge', edge: null }, { stepMm: 1e-3 }), 'tooManyRows'],
    ['no finest angle', ask({ kind: 'deflection', instrument: 'curves' }, { angleStepRad: 0 }), 'notPositive'],
    ['stick of no length', ask({ kind: 'stick', chordMm: 0 }), 'notPositive'],
    ['stick longer than the line', ask({ kind: 'stick', chordMm: 1600 }), 'stickLongerThanLine'],
    ['stick longer than the curve bears', ask({ kind: 'stick', chordMm: 900 }), 'stickTooLong'],
    ['an edge that is not there', ask({ kind: 'edge', edge: { table: 'walls', id: 'x', ring: -1, edge: 0 } }), 'edgeMissing'],
    ['no easement', ask({ kind: 'lath', pinnedMm: 150 }), 'noEasement'],
    ['a straight', ask({ kind: 'deflection', instrument: 'curves' }, { toMm: 300 }), 'noCurve'],
    ['no arc', ask({ kind: 'trammel' }, { toMm: 300 }), 'noArc'],
    ['no corner', ask({ kind: 'offset', datum: 'TS' }), 'noCorner'],
  ]
  test.each(cases)('%s', (_name, request, kind) => {
    const problem = problemOf(bent, request)
    expect(problem.kind).toBe(kind)
    const said = setoutProblemText(problem, half)
    expect(said).toMatch(/^[A-Z].*\.$/)
    expect(said).not.toMatch(/NaN|undefined|Infinity/)
  })

  test('a chord that folds, one that has no length, a step no curve has a chord of', () => {
    const hook = line([bend(1.5 * Math.PI * 300, 300)])
    expect(problemOf(hook, ask({ kind: 'chord' })).kind).toBe('chordFolds')
    const ring = line([bend(2 * Math.PI * 300, 300)], bare, true)
    expect(problemOf(ring, ask({ kind: 'chord' })).kind).toBe('chordWithoutLength')
    expect(problemOf(ring, ask({ kind: 'deflection', instrument: 'start' }, { stepMm: 601 })).kind).toBe('stepTooLong')
    expect(problemOf(ring, ask({ kind: 'deflection', instrument: 'start' }, { stepMm: 50 })).kind).toBe('sightTooFlat')
  })

  test('two tapes want two corners', () => {
    expect(problemOf(line([straight(500)]), ask({ kind: 'tie-in' }))).toEqual({ kind: 'tooFewFixedPoints', have: 0 })
    // Both corners far off on the line itself: they never cross well.
    const room: SetoutRoom = {
      ...bare,
      walls: {
        w: {
          id: 'w',
          name: 'Wall',
          points: [
            { x: -9000, y: 0 },
            { x: -8000, y: 0 },
          ],
          thicknessMm: 50,
          isClosed: false,
        },
      },
    }
    expect(problemOf(line([straight(500)], room), ask({ kind: 'tie-in' }))).toEqual({ kind: 'noCrossing' })
  })
})

describe('figures', () => {
  test('stand on their paper, every number finite, with words for what is measured', () => {
    const solved = traverseSolve({
      start: { kind: 'free', at: { x: 0, y: 0 } },
      corners: [{ id: 'c', x: 1000, y: 0, radiusMm: 700, easementInMm: 200, easementOutMm: 120 }],
      end: { kind: 'free', at: { x: 1300, y: -900 } },
    })
    if (!solved.ok) throw new Error('unsolved')
    const subject: SetoutSubject = { ...solved, gaugeMm: 16.5, room: roomRound(solved.path) }
    const methods: readonly SetoutBy[] = [
      { kind: 'offset', datum: 'TS' },
      { kind: 'offset', datum: 'PI' },
      { kind: 'chord' },
      { kind: 'edge', edge: null },
      { kind: 'deflection', instrument: 'curves' },
      { kind: 'trammel' },
      { kind: 'tie-in' },
      { kind: 'stick', chordMm: 250 },
      { kind: 'lath', pinnedMm: 100 },
    ]
    for (const by of methods) {
      const { figure } = tableOf(subject, ask(by))
      const texts = figure.items.filter((item) => item.kind === 'text')
      expect(texts.length, by.kind).toBeGreaterThanOrEqual(2)
      for (const item of texts) {
        expect(item.at.x).toBeGreaterThan(-1)
        expect(item.at.x).toBeLessThan(figure.widthMm)
        expect(item.at.y).toBeGreaterThan(0)
        expect(item.at.y).toBeLessThan(figure.heightMm)
        expect(item.text).not.toMatch(/NaN|—/)
      }
      for (const item of figure.items)
        if (item.kind === 'stroke') for (const { to } of item.segments) expect(Number.isFinite(to.x + to.y)).toBe(true)
    }
  })
})
