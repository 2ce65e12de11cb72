import { cutRounds } from '../../src/core/sticks/index.ts'
import type { CutPlan, CutRequest, CutResult, CutSolver } from '../../src/core/sticks/index.ts'
import { cutSolverRead } from '../../src/engine/lp.node.ts'

export const cutBy: CutSolver = await cutSolverRead()

/** All rounds of cutting at once. */
export function cutWhole(request: CutRequest, wholeSeconds = 2): CutResult {
  const rounds = cutRounds(request, cutBy, { wholeSeconds })
  let next = rounds.next('goOn')
  while (next.done !== true) next = rounds.next('goOn')
  return next.value
}

export function cutPlanned(request: CutRequest): CutPlan {
  const result = cutWhole(request)
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result.plan
}

/** Numbers from 0 to 1 that are the same in every run. */
export function numbersOf(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
}

/** So many pieces of 75 to 715 mm, to be cut from sticks of 3 ft with a blade of half a mm. */
export function randomList(count: number, next: () => number): CutRequest {
  return {
    pieces: Array.from({ length: count }, (_, i) => ({ id: `p${i}`, lengthMm: 75 + next() * 640 })),
    stocks: [{ id: 'rail', lengthMm: 914.4, count: null, isBought: true }],
    kerfMm: 0.5,
    leastOffcutMm: 100,
  }
}
