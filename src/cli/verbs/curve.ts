import { cornerPoints, cornerSolve, type CornerPoint } from '../../core/alignment/index.ts'
import type { AlignmentProblem } from '../../core/alignment/types.ts'
import { planEmpty } from '../../core/plan/index.ts'
import { angleText, lengthText } from '../../words/measure.ts'
import { alignmentProblemText } from '../../words/problemText.ts'
import { angleDegrees, columns, inBoth, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { angleOption, lengthOption, lengthRequired } from '../values.ts'

export const curveSpec: VerbSpec = {
  name: 'curve',
  about: 'a curve with its easements: shifts, tangents, lengths and the four points',
  options: {
    delta: { value: '60deg', about: 'angle that the curve turns', isRequired: true },
    radius: { value: '30in', about: 'radius of the arc', isRequired: true },
    easement: { value: '15in', about: 'length of the easement along the curve; none when left out' },
    'easement-out': { value: '12in', about: 'easement at the far end; as the near one when left out' },
  },
  example: 'waybench curve --delta 60deg --radius 30in --easement 15in',
}

const pointJson = (point: CornerPoint): object => ({ stationMm: point.stationMm, xMm: point.x, yMm: point.y, headingRad: point.headingRad })

export function curveRun(args: Args): Answer {
  const deflectionRad = angleOption(args, 'delta') ?? NaN
  if (!(deflectionRad > 0 && deflectionRad < Math.PI)) {
    throw new BadInput(`--delta ${args.values.get('delta')}: a curve turns more than 0 and less than 180 degrees; it is drawn to the left.`)
  }
  const radiusMm = lengthRequired(args, 'radius')
  const easementInMm = lengthOption(args, 'easement', { least: 'zero or more' }) ?? 0
  const easementOutMm = lengthOption(args, 'easement-out', { least: 'zero or more' }) ?? easementInMm
  const solved = cornerSolve({ deflectionRad, radiusMm, easementInMm, easementOutMm })
  if (!solved.ok) throw new BadInput(curveProblem(solved.problem, easementInMm, easementOutMm))
  const { corner } = solved
  const { ts, sc, cs, st } = cornerPoints(corner)
  const points = { TS: ts, SC: sc, CS: cs, ST: st }
  return {
    json: {
      deltaRad: corner.deflectionRad,
      radiusMm: corner.radiusMm,
      easementInMm: corner.easementInMm,
      easementOutMm: corner.easementOutMm,
      spiralAngleRad: corner.spiralAngleInRad,
      spiralAngleOutRad: corner.spiralAngleOutRad,
      shiftMm: corner.shiftInMm,
      shiftOutMm: corner.shiftOutMm,
      kMm: corner.kInMm,
      kOutMm: corner.kOutMm,
      tangentInMm: corner.tangentInMm,
      tangentOutMm: corner.tangentOutMm,
      externalMm: corner.externalMm,
      arcLengthMm: corner.arcLengthMm,
      totalLengthMm: corner.totalLengthMm,
      points: { TS: pointJson(ts), SC: pointJson(sc), CS: pointJson(cs), ST: pointJson(st) },
    },
    text: [
      columns([
        ['Angle', angleDegrees(corner.deflectionRad)],
        ['Radius', lengthBoth(corner.radiusMm)],
        ['Spiral angle', `${angleDegrees(corner.spiralAngleInRad)} in, ${angleDegrees(corner.spiralAngleOutRad)} out`],
        ['Shift in', lengthBoth(corner.shiftInMm)],
        ['Shift out', lengthBoth(corner.shiftOutMm)],
        ['k in', lengthBoth(corner.kInMm)],
        ['k out', lengthBoth(corner.kOutMm)],
        ['Tangent in', lengthBoth(corner.tangentInMm)],
        ['Tangent out', lengthBoth(corner.tangentOutMm)],
        ['External', lengthBoth(corner.externalMm)],
        ['Arc', lengthBoth(corner.arcLengthMm)],
        ['Whole curve', lengthBoth(corner.totalLengthMm)],
      ]),
      '',
      columns([
        ['Point', 'station mm', 'x mm', 'y mm', 'heading'],
        ...Object.entries(points).map(([name, point]) => [
          name,
          point.stationMm.toFixed(2),
          point.x.toFixed(2),
          point.y.toFixed(2),
          angleDegrees(point.headingRad),
        ]),
      ]),
    ].join('\n'),
    exitCode: 0,
    files: [],
  }
}

/** A curve by itself is the corner of no plan: of that its sentences would need the names only. */
function curveProblem(problem: AlignmentProblem, easementInMm: number, easementOutMm: number): string {
  if (problem.kind === 'easementsTooLong') {
    // In lengths, and not as a share of what was typed.
    const [longestIn, longestOut] = [easementInMm, easementOutMm].map((mm) => lengthText(mm * problem.fittingFactor, inBoth))
    return `--easement: The easements alone turn ${angleText(problem.excessRad)} more than --delta; ${lengthText(problem.shortByMm, inBoth)} of arc is missing. They just meet at ${longestIn} in and ${longestOut} out.`
  }
  return `--delta, --radius, --easement: ${alignmentProblemText(problem, undefined, planEmpty(), inBoth)}`
}
