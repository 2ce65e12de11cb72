import { ANGLE_STEP_RAD, setoutTable } from '../src/core/deliver/index.ts'
import type { RuleMarks, SetoutBy, SetoutSubject } from '../src/core/deliver/index.ts'
import { pathFromElements, pathNearest, pathPoseAt } from '../src/core/geom/index.ts'
import type { CurveElement } from '../src/core/geom/index.ts'
import { roomRound } from '../tests/support/setoutLines.ts'
import { median } from './report.ts'
import type { BenchTable } from './report.ts'

const limitMs = 50
const rounds = 15
const everyMm = 100
const marks: RuleMarks = { units: 'metric', stepMm: 0.5 }

const methods: readonly SetoutBy[] = [
  { kind: 'edge', edge: null },
  { kind: 'deflection', instrument: 'curves' },
  { kind: 'trammel' },
  { kind: 'tie-in' },
  { kind: 'stick', chordMm: 304.8 },
  { kind: 'lath', pinnedMm: 150 },
]

/** A line of 34 m: straights, easements and curves to both sides in turn. */
function longLine(): SetoutSubject {
  const bend = (k: number): readonly CurveElement[] => [
    { lengthMm: 400, k0: 0, k1: 0 },
    { lengthMm: 300, k0: 0, k1: k },
    { lengthMm: 800, k0: k, k1: k },
    { lengthMm: 300, k0: k, k1: 0 },
  ]
  const path = pathFromElements(
    { x: 0, y: 0, headingRad: 0 },
    Array.from({ length: 19 }, (_, i) => bend(i % 2 === 0 ? 1 / 800 : -1 / 800)).flat(),
  )
  return { path, isClosed: false, gaugeMm: 16.5, corners: [], room: roomRound(path) }
}

function millisecondsOf(work: () => void): number {
  const start = performance.now()
  work()
  return performance.now() - start
}

/** Setting-out tables of a long line, against the bare poses and their feet on the line that every table needs at least. */
export function benchSetout(): BenchTable {
  const subject = longLine()
  const { path } = subject
  const plain = (): void => {
    for (let station = 0; station <= path.lengthMm; station += everyMm) pathNearest(path, pathPoseAt(path, station))
  }
  const medianOf = (work: () => void): number =>
    median(Array.from({ length: rounds }, () => millisecondsOf(work)).toSorted((a, b) => a - b))
  const baseMs = medianOf(plain)
  const timed = methods.map((by) => ({
    by,
    ms: medianOf(() => {
      const table = setoutTable(subject, { by, fromMm: null, toMm: null, stepMm: everyMm, marks, angleStepRad: ANGLE_STEP_RAD })
      if (!table.ok) throw new Error(`no table: ${JSON.stringify(table.problem)}`)
    }),
  }))
  return {
    title: `Setting out ${(path.lengthMm / 1000).toFixed(0)} m every ${everyMm} mm`,
    target: `a table within ${limitMs} ms`,
    isMet: timed.every(({ ms }) => ms < limitMs),
    rows: timed.map(({ by, ms }) => ({
      what: by.kind,
      figure: `${ms.toFixed(1)} ms`,
      note: `${(ms / baseMs).toFixed(1)} times its poses and their feet on the line`,
    })),
  }
}
