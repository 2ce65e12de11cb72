import type { Path } from '../../core/geom/index.ts'
import { railByCode, lineClassesForGauge, railwayForGauge } from '../../core/standards/index.ts'
import { turnoutRequest, turnoutSolve } from '../../core/turnout/index.ts'
import type { TurnoutGeometry, TurnoutRail, TurnoutRequest } from '../../core/turnout/types.ts'
import { frogNumberFormat } from '../../core/units/index.ts'
import { angleDegrees, columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { scaleChosen } from '../scale.ts'
import { benchOptions, constructionJson, constructionText, tieChoice, turnoutConstruction } from '../turnoutBench.ts'
import { turnoutProblemWords } from '../turnoutWords.ts'
import { angleOption, frogOption, lengthOption, numberOption, wordOption } from '../values.ts'

export const turnoutSpec: VerbSpec = {
  name: 'turnout',
  about: 'a turnout from gauge and frog number: lead, radii, closure rails, ordinates, ties',
  options: {
    scale: { value: 'HO', about: 'a scale of the standards, or a ratio such as 1:50' },
    frog: { value: '6', about: 'frog number; 1:9 means the slope', isRequired: true },
    kind: { value: 'straight', about: 'straight is all there is so far' },
    hand: { value: 'left', about: 'left or right; left when left out' },
    points: { value: 'straight', about: 'straight or curved points' },
    'point-length': { value: '1.515in', about: 'point of switch to heel, along the rail' },
    'point-thickness': { value: '0.005in', about: 'thickness of the tip' },
    'heel-spread': { value: '0.09in', about: 'gauge line to gauge line at the heel' },
    'entry-angle': { value: '2deg', about: 'angle of a curved point at its tip; tangent when left out' },
    'toe-length': { value: '0.75in', about: 'frog point back to the toe, along the gauge line' },
    'heel-length': { value: '1.2in', about: 'frog point on to the heel of the frog' },
    gauge: { value: '0.65in', about: 'between the rail heads; that of the scale when left out' },
    flangeway: { value: '0.048in', about: 'width of the flangeways' },
    'check-gauge': { value: '0.607in', about: 'guard rail face to frog gauge line' },
    'rail-code': { value: '83', about: 'height of the rail in thousandths of an inch' },
    'frog-definition': { value: 'isosceles', about: 'isosceles: 2 atan(1/2N), tangent: atan(1/N)' },
    'tie-spacing': { value: '0.23in', about: 'of the turnout ties' },
    'standard-tie': { value: '1.17in', about: 'length of a tie of plain track' },
    fouling: { value: '1.75in', about: 'separation of centrelines at the fouling point' },
    'host-radius': { value: '36in', about: 'curved turnouts are not there yet' },
    'host-side': { value: 'inside', about: 'curved turnouts are not there yet' },
    ...benchOptions,
  },
  example: 'waybench turnout --scale HO --frog 6',
}

export function turnoutRun(args: Args): Answer {
  for (const name of ['host-radius', 'host-side']) {
    if (args.values.has(name))
      throw new BadInput(`--${name}: a turnout sits on straight track so far; curved ones are still to come. Leave it out.`)
  }
  const kind = args.values.get('kind')
  if (kind !== undefined && kind !== 'straight') throw new BadInput(`--kind ${kind}: only straight can be made so far.`)
  const { request, notes } = requestFrom(args)
  const solved = turnoutSolve(request)
  if (!solved.ok) throw new BadInput(turnoutProblemWords(solved.problem))
  const turnout = solved.turnout
  const made = turnoutConstruction(args, turnout)
  return {
    json: { ...turnoutJson(turnout, notes), ...constructionJson(turnout, made) },
    text: [turnoutText(turnout, notes), '', constructionText(args, turnout, made)].join('\n'),
    exitCode: 0,
    files: [],
  }
}

function requestFrom(args: Args): { readonly request: TurnoutRequest; readonly notes: readonly string[] } {
  const { row, notes } = scaleChosen(args)
  const frog = frogOption(args, 'frog')
  if (!frog) throw new BadInput('waybench turnout needs --frog.')
  const standard = railwayForGauge(row)
  const code = numberOption(args, 'rail-code') ?? standard.railCode
  const rail = railByCode(code)
  if (!rail) throw new BadInput(`--rail-code ${code}: it must be above zero, such as 83.`)
  const railway = {
    ...standard,
    frogDefinition:
      wordOption(args, 'frog-definition', ['isosceles', 'tangent']) ?? (frog.writtenAs === 'slope' ? 'tangent' : standard.frogDefinition),
    flangewayMm: lengthOption(args, 'flangeway') ?? standard.flangewayMm,
    checkGaugeMm: lengthOption(args, 'check-gauge') ?? standard.checkGaugeMm,
    railCode: code,
    railHeadMm: rail.headMm,
    railFootMm: rail.footMm,
    tieLengthMm: lengthOption(args, 'standard-tie') ?? standard.tieLengthMm,
    foulingMm: lengthOption(args, 'fouling') ?? standard.foulingMm,
  }
  const main = lineClassesForGauge(row)[0]
  const build = {
    points: wordOption(args, 'points', ['straight', 'curved']) ?? 'straight',
    pointLengthMm: lengthOption(args, 'point-length') ?? 'standard',
    pointThicknessMm: lengthOption(args, 'point-thickness', { least: 'zero or more' }) ?? 'standard',
    heelSpreadMm: lengthOption(args, 'heel-spread') ?? 'standard',
    toeLengthMm: lengthOption(args, 'toe-length') ?? 'standard',
    heelLengthMm: lengthOption(args, 'heel-length') ?? 'standard',
  } as const
  const request = turnoutRequest(
    railway,
    { tieSpacingMm: lengthOption(args, 'tie-spacing') ?? main?.tieSpacingMm ?? 0 },
    { hand: wordOption(args, 'hand', ['left', 'right']) ?? 'left', frog: frog.frog, build },
  )
  const entryAngleRad = angleOption(args, 'entry-angle')
  if (entryAngleRad !== null && build.points === 'straight') {
    throw new BadInput('--entry-angle: straight points stand at their own angle; it belongs to --points curved.')
  }
  const withTies = { ...request, ties: tieChoice(args) }
  return { request: entryAngleRad === null ? withTies : { ...withTies, entryAngleRad }, notes }
}

function pathJson(path: Path): object {
  const first = path.elements[0]?.start ?? path.end
  return {
    lengthMm: path.lengthMm,
    start: { xMm: first.x, yMm: first.y, headingRad: first.headingRad },
    end: { xMm: path.end.x, yMm: path.end.y, headingRad: path.end.headingRad },
    elements: path.elements.map(({ lengthMm, k0, k1 }) => ({ lengthMm, curvatureStartPerMm: k0, curvatureEndPerMm: k1 })),
  }
}

const railJson = (rail: TurnoutRail): object => ({
  role: rail.role,
  headSide: rail.headSide === 1 ? 'left' : 'right',
  headWidthMm: rail.headWidthMm,
  footWidthMm: rail.footWidthMm,
  ...pathJson(rail.gaugeLine),
})

function turnoutJson(turnout: TurnoutGeometry, notes: readonly string[]): object {
  const { request } = turnout
  const isGuard = (rail: TurnoutRail): boolean => rail.role.startsWith('guard')
  return {
    frog: request.frog,
    frogDefinition: request.frogDefinition,
    hand: request.hand,
    ratio: request.ratio,
    gaugeMm: request.gaugeMm,
    pointLengthMm: request.pointLengthMm,
    pointThicknessMm: request.pointThicknessMm,
    heelSpreadMm: request.heelSpreadMm,
    toeLengthMm: request.toeLengthMm,
    frogAngleRad: turnout.frogAngleRad,
    switchAngleRad: turnout.switchAngleRad,
    heelAngleRad: turnout.heelAngleRad,
    pointRadiusMm: turnout.pointRadiusMm,
    leadMm: turnout.leadMm,
    closureRadiusMm: turnout.closureRadiusMm,
    closureGaugeLineRadiusMm: turnout.closureGaugeLineRadiusMm,
    divergingRadiusMm: turnout.divergingRadiusMm,
    closureStraightMm: turnout.closureStraightMm,
    closureCurvedMm: turnout.closureCurvedMm,
    throatMm: turnout.throatMm,
    overallMm: turnout.overallMm,
    foulingMm: turnout.foulingMm,
    throwMm: turnout.throwMm,
    frogPoint: { xMm: turnout.frogPoint.x, yMm: turnout.frogPoint.y },
    halfInchPoint: { xMm: turnout.halfInchPoint.x, yMm: turnout.halfInchPoint.y },
    leg: { xMm: turnout.leg.x, yMm: turnout.leg.y, headingRad: turnout.leg.headingRad },
    ordinates: turnout.ordinates,
    rails: turnout.rails.filter((rail) => !isGuard(rail)).map(railJson),
    ties: turnout.ties.map(({ stationMm, lengthMm, widthMm, isHeadBlock, from, to }) => ({
      stationMm,
      lengthMm,
      widthMm,
      isHeadBlock,
      from: { xMm: from.x, yMm: from.y },
      to: { xMm: to.x, yMm: to.y },
    })),
    guardRails: turnout.rails.filter(isGuard).map(railJson),
    gaps: turnout.gaps.map(({ at, rail }) => ({ rail, xMm: at.x, yMm: at.y })),
    throwHole: {
      xMm: turnout.throwHole.at.x,
      yMm: turnout.throwHole.at.y,
      slotLengthMm: turnout.throwHole.slotLengthMm,
      slotWidthMm: turnout.throwHole.slotWidthMm,
    },
    notes,
  }
}

function turnoutText(turnout: TurnoutGeometry, notes: readonly string[]): string {
  const { request } = turnout
  const longest = turnout.ties.reduce((most, tie) => Math.max(most, tie.lengthMm), 0)
  const rows: (readonly string[])[] = [
    ['Frog', `No. ${frogNumberFormat(request.frog)}, ${angleDegrees(turnout.frogAngleRad)} (${request.frogDefinition})`],
    ['Gauge', lengthBoth(request.gaugeMm)],
    ['Switch angle', angleDegrees(turnout.switchAngleRad)],
    ['Lead, PS to theoretical frog point', lengthBoth(turnout.leadMm)],
    ['Closure radius, centreline', lengthBoth(turnout.closureRadiusMm)],
    ['Closure radius, outer gauge line', lengthBoth(turnout.closureGaugeLineRadiusMm)],
    ['Tightest on the diverging route', lengthBoth(turnout.divergingRadiusMm)],
    ['Closure rail, straight', lengthBoth(turnout.closureStraightMm)],
    ['Closure rail, curved', lengthBoth(turnout.closureCurvedMm)],
    ['Throat ahead of the frog point', lengthBoth(turnout.throatMm)],
    ['Overall, PS to frog heel', lengthBoth(turnout.overallMm)],
    ['Fouling point beyond the frog point', lengthBoth(turnout.foulingMm)],
    ['Throw at the tip', lengthBoth(turnout.throwMm)],
    ['Ties', `${turnout.ties.length}, the longest ${lengthBoth(longest)}`],
  ]
  const ordinates = columns([
    ['Ordinates: along from the heel', 'gauge line to gauge line'],
    ...turnout.ordinates.map(({ xMm, yMm }) => [lengthBoth(xMm), lengthBoth(yMm)]),
  ])
  return [columns(rows), '', ordinates, ...notes.map((note) => `Note: ${note}.`)].join('\n')
}
