import { checksCreateRunner, findingsOf } from '../src/core/checks/index.ts'
import { pipelineCreate } from '../src/core/pipeline/index.ts'
import { dataFreeze } from '../src/core/plan/index.ts'
import type { Plan } from '../src/core/plan/types.ts'
import { allPairs } from '../tests/support/allPairs.ts'
import { bigPlan, withCornerMoved } from '../tests/support/bigPlan.ts'
import { median, secondsPerRound } from './report.ts'
import type { BenchRow, BenchTable } from './report.ts'

/** One edit of twenty may take longer than this. */
const targetMs = 8
const targetRatio = 20
const scratchRounds = 9
const dragRounds = 120
/** Steps before those that are timed: half a second of a drag, in which the engine makes the code quick. */
const warmRounds = 30

type Edit = (plan: Plan, step: number) => Plan

const cornerMoved =
  (track: string, corner: string): Edit =>
  (plan, step) =>
    withCornerMoved(plan, track, corner, step % 2 === 0 ? 0.1 : -0.07, 0.05)

/** Things to drag, each of which is moved a little with every step. */
const drags: readonly { readonly what: string; readonly edit: Edit }[] = [
  { what: 'PI of a main that carries four turnouts and their spurs along', edit: cornerMoved('track-main-12', 'pi-1') },
  { what: 'PI of a main behind its turnouts', edit: cornerMoved('track-main-12', 'pi-3') },
  { what: 'PI of a spur on a turnout leg', edit: cornerMoved('track-spur-12-1', 'pi-2') },
  { what: 'PI of a track without turnouts', edit: cornerMoved('track-lone-12-1', 'pi-2') },
  {
    what: 'turnout along its track',
    edit: (plan, step) => {
      const turnout = plan.turnouts['turnout-12-2']
      if (!turnout) throw new Error('no turnout')
      const stationMm = turnout.stationMm + (step % 2 === 0 ? 0.1 : -0.07)
      return { ...plan, turnouts: { ...plan.turnouts, [turnout.id]: { ...turnout, stationMm } } }
    },
  },
  {
    what: 'corner of a wall beside a spur',
    edit: (plan, step) => {
      const wall = plan.walls['wall-12']
      if (!wall) throw new Error('no wall')
      const points = wall.points.map(({ x, y }, i) => ({ x, y: i === 0 ? y + (step % 2 === 0 ? 0.1 : -0.07) : y }))
      return { ...plan, walls: { ...plan.walls, [wall.id]: { ...wall, points } } }
    },
  },
]

/** The big plan with a wall along every district and a post in it. */
function roomPlan(): Plan {
  const plan = bigPlan()
  const districts = Array.from({ length: 25 }, (_, i) => i)
  const walls = districts.map((i) => ({
    id: `wall-${i}`,
    name: `Wall ${i}`,
    points: [
      { x: 0, y: i * 4000 - 350 },
      { x: 12_000, y: i * 4000 - 350 },
    ],
    thicknessMm: 100,
    isClosed: false,
  }))
  const obstacles = districts.map((i) => {
    const [x, y] = [2900, i * 4000 + 150]
    const outline = [
      { x, y },
      { x: x + 90, y },
      { x: x + 90, y: y + 90 },
      { x, y: y + 90 },
    ]
    return { id: `obstacle-${i}`, name: `Post ${i}`, outline, undersideMm: 0 }
  })
  const byId = <R extends { readonly id: string }>(records: readonly R[]) => Object.fromEntries(records.map((one) => [one.id, one]))
  return dataFreeze({ ...plan, walls: byId(walls), obstacles: byId(obstacles) })
}

const pairRounds = 1
const pairDistricts = 2

/** The first districts of the big plan: every pair of all its tracks takes too long. */
function smallPlan(): Plan {
  const plan = bigPlan()
  const isNear = (id: string): boolean => Number(/\d+/.exec(id)?.[0]) < pairDistricts
  const of = <R>(table: { readonly [id: string]: R }) => Object.fromEntries(Object.entries(table).filter(([id]) => isNear(id)))
  return dataFreeze({ ...plan, tracks: of(plan.tracks), turnouts: of(plan.turnouts) })
}

/** Checking after one drag step with what is remembered, against checking everything anew; the deriving itself is not counted. */
export function benchChecks(): BenchTable {
  const plan = roomPlan()
  const sink = { findings: 0 }
  const derived = pipelineCreate().derive(plan)
  const scratch = median(
    secondsPerRound(scratchRounds, () => {
      sink.findings += findingsOf(derived).length
    }),
  )
  const steps = drags.map(({ what, edit }) => {
    const pipeline = pipelineCreate()
    const check = checksCreateRunner()
    check(pipeline.derive(plan))
    const seconds: number[] = []
    let at = plan
    // Step by step, as a drag goes: a heap full of plans that nobody holds would be timed as well.
    for (let step = -warmRounds; step < dragRounds; step++) {
      at = dataFreeze(edit(at, step))
      const stepped = pipeline.derive(at)
      const from = performance.now()
      sink.findings += check(stepped).length
      if (step >= 0) seconds.push((performance.now() - from) / 1000)
    }
    return { what, seconds, ratio: scratch / median(seconds.toSorted((a, b) => a - b)) }
  })
  const few = pipelineCreate().derive(smallPlan())
  const everyPair = median(secondsPerRound(pairRounds, () => (sink.findings += allPairs(few).size)))
  const byIndex = median(secondsPerRound(pairRounds, () => (sink.findings += findingsOf(few).length)))
  const all = steps.flatMap(({ seconds }) => seconds).toSorted((a, b) => a - b)
  const mostOf95 = all[Math.ceil(all.length * 0.95) - 1] ?? Infinity
  const ms = (seconds: number): string => `${(seconds * 1000).toFixed(2)} ms`
  const rows: BenchRow[] = [
    { what: 'everything from scratch', figure: ms(scratch), note: `200 tracks, 100 turnouts, 25 walls; median of ${scratchRounds}` },
    ...steps.map(({ what, seconds, ratio }) => ({
      what,
      figure: ms(median(seconds.toSorted((a, b) => a - b))),
      note: `1/${ratio.toFixed(0)} of from scratch; median of ${dragRounds} after ${warmRounds}`,
    })),
    {
      what: `clearance of every pair of ${few.network.tracks.size} tracks, whole bands`,
      figure: ms(everyPair),
      note: `all rules from scratch by the index: ${ms(byIndex)}, 1/${(everyPair / byIndex).toFixed(0)}`,
    },
    { what: '19 of 20 of all these steps', figure: ms(mostOf95), note: 'at most' },
  ]
  return {
    title: 'Checking a plan: one drag step',
    target: `19 of 20 drag steps within ${targetMs} ms, and each kind at most 1/${targetRatio} of checking everything from scratch`,
    isMet: mostOf95 * 1000 <= targetMs && steps.every(({ ratio }) => ratio >= targetRatio),
    rows,
  }
}
