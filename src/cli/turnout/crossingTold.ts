import type { CrossingGeometry } from '../../core/turnout/index.ts'
import { angleDegrees, columns, lengthBoth } from '../answer.ts'
import type { CrossingKindName } from './options.ts'
import { frogRows } from './turnoutTold.ts'
import { throwHolesJson, workJson } from './workJson.ts'

/** A crossing's numbers and parts; its frame has the crossing point as origin and the first track along +x. */
export function crossingJson(kind: CrossingKindName, crossing: CrossingGeometry, notes: readonly string[]): object {
  const { request } = crossing
  return {
    kind,
    frog: crossing.number,
    angleRad: crossing.angleRad,
    frogDefinition: request.frogDefinition,
    elbow: request.elbow,
    ratio: request.ratio,
    gaugeMm: request.gaugeMm,
    unguardedMm: crossing.unguardedMm,
    guidedMm: crossing.guidedMm,
    isGuided: isGuided(crossing),
    slips: crossing.slips,
    extents: crossing.extents,
    ...workJson(crossing),
    throwHoles: throwHolesJson(crossing),
    notes,
  }
}

const isGuided = ({ unguardedMm, guidedMm }: CrossingGeometry): boolean => unguardedMm <= guidedMm

export function crossingText(crossing: CrossingGeometry, notes: readonly string[]): string {
  const { request, slips, extents, ties, unguardedMm, guidedMm } = crossing
  const longest = ties.reduce((most, tie) => Math.max(most, tie.lengthMm), 0)
  const rows: (readonly string[])[] = [
    ['Angle', `${angleDegrees(crossing.angleRad)}, as of a No. ${crossing.number.toFixed(2)} frog`],
    ['Gauge', lengthBoth(request.gaugeMm)],
    ['Length along the first track', lengthBoth(extents.first.toMm - extents.first.fromMm)],
    ['Length along the second track', lengthBoth(extents.second.toMm - extents.second.fromMm)],
    ['Unguarded at an obtuse frog', lengthBoth(unguardedMm)],
    ...(request.elbow === 'fixed' ? [['A wheel is still guided over', lengthBoth(guidedMm)]] : []),
    ...slips.map(({ side, radiusMm, throwMm }) => [
      `Slip on the ${side}`,
      `tightest ${lengthBoth(radiusMm)}, throw ${lengthBoth(throwMm)}`,
    ]),
    ['Ties', `${ties.length}, the longest ${lengthBoth(longest)}`],
  ]
  const warning = isGuided(crossing)
    ? []
    : ['Fixed obtuse frogs do not guide a wheel here: cross steeper, or give them points with --elbow movable.']
  return [columns(rows), ...frogRows(crossing.frogs), ...warning, ...notes.map((note) => `Note: ${note}.`)].join('\n')
}
