import { traceSolve } from '../../core/alignment/index.ts'
import type { TraceProblem, TraceSolution } from '../../core/alignment/index.ts'
import { columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { pointsFromFile } from '../pointsFile.ts'
import { lengthRequired } from '../values.ts'

export const fitSpec: VerbSpec = {
  name: 'fit',
  about: 'tangents, curves and easements that measured points lie on',
  operand: 'POINTS.csv',
  options: {
    tolerance: { value: '1mm', about: 'how far a point may lie off the line', isRequired: true },
    closed: { about: 'the points go round: the last is followed by the first' },
  },
  example: 'waybench fit points.csv --tolerance 1mm',
}

export function fitRun(args: Args): Answer {
  const toleranceMm = lengthRequired(args, 'tolerance')
  const path = args.operand ?? ''
  const points = pointsFromFile(path)
  const answer = traceSolve(points, { toleranceMm, isClosed: args.values.has('closed') })
  if (!answer.ok) throw new BadInput(`${path}: ${problemWords(answer.problem)}`)
  const { trace } = answer
  const { traverse, residuals, outliers, rmsMm, worstMm, isWithin, rounds } = trace
  const free = (end: typeof traverse.start | typeof traverse.end): object | null =>
    end.kind === 'free' ? { xMm: end.at.x, yMm: end.at.y } : null
  return {
    json: {
      toleranceMm,
      isWithin,
      rmsMm,
      worstMm,
      lengthMm: trace.path.lengthMm,
      isClosed: traverse.end.kind === 'closed',
      start: free(traverse.start),
      corners: traverse.corners.map(({ id, x, y, radiusMm, easementInMm, easementOutMm }) => ({
        id,
        xMm: x,
        yMm: y,
        radiusMm,
        easementInMm,
        easementOutMm,
      })),
      end: free(traverse.end),
      outliers,
      residuals,
      rounds,
    },
    text: fitText(trace, toleranceMm),
    exitCode: 0,
    files: [],
  }
}

function fitText({ traverse, residuals, outliers, rmsMm, worstMm, isWithin, path }: TraceSolution, toleranceMm: number): string {
  const rows = traverse.corners.map(({ id, x, y, radiusMm, easementInMm, easementOutMm }) => [
    id,
    x.toFixed(2),
    y.toFixed(2),
    typeof radiusMm === 'number' ? radiusMm.toFixed(2) : '',
    easementInMm.toFixed(2),
    easementOutMm.toFixed(2),
  ])
  const strays = outliers.map((index) => `point ${index + 1}, ${Math.abs(residuals[index]?.offsetMm ?? 0).toFixed(2)} mm off`)
  return [
    `${residuals.length} points, a line of ${lengthBoth(path.lengthMm)}`,
    ...(rows.length === 0
      ? ['It is straight.']
      : ['', columns([['PI', 'x mm', 'y mm', 'radius mm', 'easement in', 'easement out'], ...rows])]),
    '',
    `Off the line: ${rmsMm.toFixed(3)} mm root mean square, ${worstMm.toFixed(3)} mm at most.`,
    isWithin ? `All within ${lengthBoth(toleranceMm)}.` : `That is NOT within ${lengthBoth(toleranceMm)}.`,
    ...(strays.length === 0 ? [] : [`Left out as gross errors: ${strays.join('; ')}.`]),
  ].join('\n')
}

function problemWords(problem: TraceProblem): string {
  switch (problem.kind) {
    case 'notFinite':
      return `point ${problem.index + 1} is not a number that can be worked with.`
    case 'toleranceNotPositive':
      return 'the tolerance must be above zero.'
    case 'tooFewPoints':
      return `${problem.have} different points; at least ${problem.need} are needed.`
    case 'tooManyPoints':
      return `${problem.have} points; at most ${problem.most} are taken. Leave out every second one.`
    case 'unordered':
      return `the points do not follow each other along a line; from point ${problem.index + 1} on they turn back. Sort them by station.`
    case 'notClosed':
      return `a closed line needs three corners, and these points show ${problem.corners}. Leave out --closed, or measure more.`
  }
}
