import type { LineFileProblem, LineFileResult } from './types.ts'

/** Thrown within a reader where it finds that it cannot go on; never leaves it. */
export class NotThatFile extends Error {
  readonly problem: LineFileProblem
  constructor(problem: LineFileProblem) {
    super(problem.kind)
    this.problem = problem
  }
}

/** What a reader gives, or the problem that ended it. */
export function lineFileRead(read: () => LineFileResult): LineFileResult {
  try {
    return read()
  } catch (error) {
    if (error instanceof NotThatFile) return lineFileRefusal(error.problem)
    throw error
  }
}

export const lineFileRefusal = (problem: LineFileProblem): LineFileResult => ({ ok: false, problem })
