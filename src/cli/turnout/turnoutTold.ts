import type { Divergence, TurnoutGeometry } from '../../core/turnout/types.ts'
import { frogNumberFormat } from '../../core/units/index.ts'
import { angleDegrees, columns, lengthBoth } from '../answer.ts'
import type { TurnoutKindName } from './options.ts'
import { pointJson, poseJson, throwHolesJson, workJson } from './workJson.ts'

/** A turnout's numbers and parts. */
export function turnoutJson(kind: TurnoutKindName, turnout: TurnoutGeometry, notes: readonly string[]): object {
  const { request } = turnout
  const holes = throwHolesJson(turnout)
  return {
    kind,
    frog: request.frog,
    frogDefinition: request.frogDefinition,
    hand: request.hand,
    ratio: request.ratio,
    gaugeMm: request.gaugeMm,
    ...kindNumbers(request.kind),
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
    frogPoint: pointJson(turnout.frogPoint),
    halfInchPoint: pointJson(turnout.halfInchPoint),
    leg: poseJson(turnout.leg),
    legs: turnout.legs.map(({ leg, route, pose }) => ({ leg, route, ...poseJson(pose) })),
    divergences: turnout.divergences,
    ordinates: turnout.ordinates,
    extent: turnout.extent,
    ...workJson(turnout),
    throwHole: holes[0] ?? null,
    throwHoles: holes,
    notes,
  }
}

function kindNumbers(asked: TurnoutGeometry['request']['kind']): object {
  switch (asked.kind) {
    case 'wye':
      return { share: asked.share }
    case 'three-way':
      return { secondFrog: asked.secondFrog, secondAfterMm: asked.secondAfterMm }
    case 'dual-gauge':
      return { narrowGaugeMm: asked.narrowGaugeMm, common: asked.common, diverging: asked.diverging }
    case 'plain':
    case 'stub':
    case 'gauntlet':
      return {}
  }
}

/** The numbers that a builder asks for first. */
export function turnoutText(turnout: TurnoutGeometry, notes: readonly string[]): string {
  const { request, divergences, frogs } = turnout
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
    ...divergences
      .filter(({ wideningAskedMm }) => wideningAskedMm > 0)
      .map((one) => [`Gauge widened, route ${one.route}`, wideningText(one)]),
    ...divergences
      .slice(1)
      .map(({ route, leadMm, radiusMm }) => [`Route ${route}`, `lead ${lengthBoth(leadMm)}, tightest ${lengthBoth(radiusMm)}`]),
  ]
  const ordinates = columns([
    ['Ordinates: along from the heel', 'gauge line to gauge line'],
    ...turnout.ordinates.map(({ xMm, yMm }) => [lengthBoth(xMm), lengthBoth(yMm)]),
  ])
  return [columns(rows), ...frogRows(frogs.length > 1 ? frogs : []), '', ordinates, ...notes.map((note) => `Note: ${note}.`)].join('\n')
}

function wideningText({ widening }: Divergence): string {
  if (widening === null) return 'not: no room between points and frog, or it bends away from its hand'
  const { byMm, fromMm, toMm, rampMm } = widening
  return `${lengthBoth(byMm)}, from ${lengthBoth(fromMm)} to ${lengthBoth(toMm)} behind PS, a ramp of ${lengthBoth(rampMm)} at either end`
}

/** A table of frogs under a blank line; nothing for none. */
export function frogRows(frogs: TurnoutGeometry['frogs']): readonly string[] {
  if (frogs.length === 0) return []
  return [
    '',
    columns([
      ['Frog', 'No.', 'angle', 'along', 'across', 'unguarded'],
      ...frogs.map(({ kind, number, angleRad, at, unguardedMm }) => [
        kind === 'vee' ? 'vee' : 'obtuse',
        number.toFixed(2),
        angleDegrees(angleRad),
        lengthBoth(at.x),
        lengthBoth(at.y),
        kind === 'vee' ? '' : lengthBoth(unguardedMm),
      ]),
    ]),
  ]
}
