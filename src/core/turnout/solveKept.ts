import { turnoutSolve } from './solve.ts'
import type { TurnoutRequest, TurnoutResult } from './types.ts'

/** Turnouts by what they were asked as. A yard has many that are alike, and a maker asks for its own at every step. Not part of any result. */
const known = new Map<string, TurnoutResult>()

/** A number that is being dragged makes many that are wanted once. */
const mostKnown = 60

/** The same as turnoutSolve, for turnouts on a straight: where one was asked for in the same words before, what came out then. */
export function turnoutSolveKept(request: TurnoutRequest): TurnoutResult {
  const key = JSON.stringify(request)
  const before = known.get(key)
  if (before) return before
  if (known.size >= mostKnown) known.clear()
  const solved = turnoutSolve(request)
  known.set(key, solved)
  return solved
}
