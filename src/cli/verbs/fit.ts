import { traceRounds } from '../../core/alignment/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { TraceAnswer, TraceOptions, TraceSolution } from '../../core/alignment/index.ts'
import { traceProblemText, traceShortText } from '../../words/traceText.ts'
import { columns, inBoth, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { pointsFromFile } from '../pointsFile.ts'
import { lengthRequired, numberOption } from '../values.ts'

export const fitSpec: VerbSpec = {
  name: 'fit',
  about: 'tangents, curves and easements that measured points lie on',
  operand: 'POINTS.csv',
  options: {
    tolerance: { value: '1mm', about: 'how far a point may lie off the line', isRequired: true },
    budget: { value: '60', about: 'seconds after which the best line so far is told; 60 when left out' },
    closed: { about: 'the points go round: the last is followed by the first' },
  },
  example: 'waybench fit points.csv --tolerance 1mm',
}

const usualBudgetSeconds = 60

/** Fits until the line settles or the time is over; then what there is. */
function traceWithin(points: readonly Point[], options: TraceOptions, seconds: number): TraceAnswer {
  const until = performance.now() + 1000 * seconds
  const rounds = traceRounds(points, options)
  let next = rounds.next('goOn')
  while (next.done !== true) next = rounds.next(performance.now() < until ? 'goOn' : 'stop')
  return next.value
}

export function fitRun(args: Args): Answer {
  const toleranceMm = lengthRequired(args, 'tolerance')
  const path = args.operand ?? ''
  const points = pointsFromFile(path)
  const seconds = numberOption(args, 'budget') ?? usualBudgetSeconds
  if (!(seconds > 0)) throw new BadInput(`--budget ${args.values.get('budget')}: seconds, more than none, such as 60.`)
  const answer = traceWithin(points, { toleranceMm, isClosed: args.values.has('closed') }, seconds)
  if (!answer.ok) throw new BadInput(`${path}: ${traceProblemText(answer.problem, inBoth)}`)
  const { trace } = answer
  const { traverse, residuals, outliers, rmsMm, worstMm, isWithin, rounds, ended } = trace
  const free = (end: typeof traverse.start | typeof traverse.end): object | null =>
    end.kind === 'free' ? { xMm: end.at.x, yMm: end.at.y } : null
  return {
    json: {
      toleranceMm,
      isWithin,
      rmsMm,
      worstMm,
      noiseMm: trace.noiseMm,
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
      ended,
    },
    text: fitText(trace, toleranceMm),
    exitCode: 0,
    files: [],
  }
}

function fitText(trace: TraceSolution, toleranceMm: number): string {
  const { traverse, residuals, outliers, rmsMm, worstMm, path, ended } = trace
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
    traceShortText(trace, toleranceMm, inBoth) ?? `All within ${lengthBoth(toleranceMm)}.`,
    ...(ended === 'stopped' ? ['The time was over before the line settled: a longer --budget may bring it nearer.'] : []),
    ...(strays.length === 0 ? [] : [`Left out as gross errors: ${strays.join('; ')}.`]),
  ].join('\n')
}
