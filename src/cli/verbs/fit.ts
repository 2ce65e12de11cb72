import { traceSolve } from '../../core/alignment/index.ts'
import type { TraceSolution } from '../../core/alignment/index.ts'
import { traceProblemText } from '../../words/traceText.ts'
import { columns, inBoth, lengthBoth, type Answer } from '../answer.ts'
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
  if (!answer.ok) throw new BadInput(`${path}: ${traceProblemText(answer.problem, inBoth)}`)
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
