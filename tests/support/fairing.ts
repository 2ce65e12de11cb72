import { fairRounds, traverseSolve } from '../../src/core/alignment/index.ts'
import type { CorridorChain, FairCorner, FairProgress, FairRequest, FairSolution, LinearSolve } from '../../src/core/alignment/index.ts'
import type { Traverse } from '../../src/core/alignment/types.ts'
import { pathPoseAt, segmentNearest } from '../../src/core/geom/index.ts'
import type { Path, Point } from '../../src/core/geom/index.ts'
import { linearSolverRead } from '../../src/engine/lp.node.ts'

export const solve: LinearSolve = await linearSolverRead()

/** A closed chain through points, or an open one, that keeps the line so far away all along. */
export function ring(points: readonly (readonly [number, number])[], keepMm: number, label: string): CorridorChain {
  const all = [...points, ...points.slice(0, 1)].map(([x, y]) => ({ x, y }))
  return { points: all, keepsMm: all.slice(1).map(() => keepMm), label }
}

export function aFairCorner(x: number, y: number, change: Partial<FairCorner> = {}): FairCorner {
  return { id: null, x, y, radiusMm: 150, easementIn: 'class', easementOut: 'class', ...change }
}

/** A request without easements, turnouts and corridor; give what should differ. */
export function aFairRequest(change: Partial<FairRequest> & Pick<FairRequest, 'start' | 'corners' | 'end'>): FairRequest {
  return { easementRule: { kind: 'none' }, held: [], heldCorners: [], corridor: { chains: [] }, selfKeepMm: 0, roundsMost: 400, ...change }
}

/** Eases to the end; what is refused fails the test with its reason. */
export function faired(request: FairRequest, heard: FairProgress[] = []): FairSolution {
  const rounds = fairRounds(request, solve)
  let next = rounds.next()
  while (next.done !== true) {
    heard.push(next.value)
    next = rounds.next('goOn')
  }
  if (!next.value.ok) throw new Error(JSON.stringify(next.value.problem))
  return next.value.fair
}

/** The path of a traverse that must work out. */
export function traversePath(traverse: Traverse): Path {
  const alignment = traverseSolve(traverse)
  if (!alignment.ok) throw new Error(JSON.stringify(alignment.problems))
  return alignment.path
}

/** By how much a path is nearer to some chain than asked, mm, looked at every quarter of a millimetre or so; negative: it keeps away. */
export function pathIntrusion(path: Path, chains: readonly CorridorChain[], stepMm = 0.25): number {
  let worst = -Infinity
  const steps = Math.ceil(path.lengthMm / stepMm)
  for (let i = 0; i <= steps; i++) worst = Math.max(worst, pointIntrusion(pathPoseAt(path, (path.lengthMm * i) / steps), chains))
  return worst
}

function pointIntrusion(point: Point, chains: readonly CorridorChain[]): number {
  let worst = -Infinity
  for (const { points, keepsMm } of chains) {
    for (const [i, keepMm] of keepsMm.entries()) {
      const a = points[i]
      const b = points[i + 1]
      if (a !== undefined && b !== undefined) worst = Math.max(worst, keepMm - segmentNearest(a, b, point).distanceMm)
    }
  }
  return worst
}
