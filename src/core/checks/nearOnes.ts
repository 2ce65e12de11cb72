import Flatbush from 'flatbush'
import { boxesWithin } from '../geom/index.ts'
import type { Run } from './run.ts'

/** A run, and those from it on in the order of the runs whose boxes it may come too near to, itself among them. */
export interface NearRuns {
  readonly run: Run
  readonly others: readonly Run[]
}

/** Where so few runs are others than before, each is held against all; else they are looked up. */
const fewOthers = 16

/** A function that tells which runs may come too near to each other; what an edit left alone keeps its list. */
export function nearRunsCreate(): (runs: readonly Run[]) => readonly NearRuns[] {
  let before: readonly NearRuns[] = []
  return (runs) => {
    before = nearRunsAfter(before, runs) ?? nearRunsOf(runs)
    return before
  }
}

/** Nearer than both reach. */
const areNear = (run: Run, other: Run): boolean => boxesWithin(run.box, other.box, run.nearMm + other.nearMm)

function nearRunsOf(runs: readonly Run[]): readonly NearRuns[] {
  if (runs.length === 0) return []
  const index = new Flatbush(runs.length)
  let mostMm = 0
  for (const run of runs) {
    index.add(run.box.minX, run.box.minY, run.box.maxX, run.box.maxY)
    mostMm = Math.max(mostMm, run.nearMm)
  }
  index.finish()
  return runs.map((run, i) => {
    const reachMm = run.nearMm + mostMm
    const { minX, minY, maxX, maxY } = run.box
    const found = index.search(minX - reachMm, minY - reachMm, maxX + reachMm, maxY + reachMm, (j) => j >= i)
    const others = found.toSorted((a, b) => a - b).flatMap((j) => runs[j] ?? [])
    return { run, others: others.filter((other) => areNear(run, other)) }
  })
}

/** The lists after an edit that made a few runs anew, each in its place; null: more than that has changed. */
function nearRunsAfter(before: readonly NearRuns[], runs: readonly Run[]): readonly NearRuns[] | null {
  if (before.length !== runs.length) return null
  const fresh: number[] = []
  const gone = new Set<Run>()
  for (const [i, run] of runs.entries()) {
    const was = before[i]?.run
    if (was === undefined || was === run) continue
    fresh.push(i)
    gone.add(was)
    if (fresh.length > fewOthers) return null
  }
  if (fresh.length === 0) return before
  return runs.map((run, i) => {
    const was = before[i]
    if (was?.run !== run) return { run, others: runs.filter((other, j) => j >= i && areNear(run, other)) }
    const isTouched = was.others.some((other) => gone.has(other)) || fresh.some((j) => j > i && isNearOne(run, runs[j]))
    return isTouched ? { run, others: runs.filter((other, j) => j >= i && areNear(run, other)) } : was
  })
}

const isNearOne = (run: Run, other: Run | undefined): boolean => other !== undefined && areNear(run, other)
