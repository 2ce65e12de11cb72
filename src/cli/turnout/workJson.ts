import { pathStart } from '../../core/geom/index.ts'
import type { Path, Point, Pose } from '../../core/geom/types.ts'
import { throwHole } from '../../core/turnout/index.ts'
import type { ThrowHole, TurnoutGeometry, TurnoutRail, TurnoutRequest } from '../../core/turnout/types.ts'

/** What turnouts and crossings have alike. */
type Work = Pick<TurnoutGeometry, 'routes' | 'frogs' | 'rails' | 'ties' | 'gaps'>

export const pointJson = ({ x, y }: Point): object => ({ xMm: x, yMm: y })
export const poseJson = ({ x, y, headingRad }: Pose): object => ({ xMm: x, yMm: y, headingRad })

/** Holes under throw bars, as large as the usual wire asks. */
export const throwHolesJson = (work: {
  readonly throwHoles: readonly ThrowHole[]
  readonly request: Pick<TurnoutRequest, 'tieLengthMm'>
}) =>
  work.throwHoles.map((hole) => {
    const { lengthMm, widthMm } = throwHole(hole, work.request)
    return { ...pointJson(hole.at), slotLengthMm: lengthMm, slotWidthMm: widthMm }
  })

function pathJson(path: Path): object {
  return {
    lengthMm: path.lengthMm,
    start: poseJson(pathStart(path)),
    end: poseJson(path.end),
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

/** Routes, frogs, rails, ties and gaps in the frame of the work. */
export function workJson({ routes, frogs, rails, ties, gaps }: Work): object {
  const isGuard = (rail: TurnoutRail): boolean => rail.role.startsWith('guard')
  return {
    routes: routes.map(({ name, gaugeMm, centre }) => ({ route: name, gaugeMm, ...pathJson(centre) })),
    frogs: frogs.map(({ kind, number, angleRad, at, headingRad, lines, unguardedMm }) => ({
      kind,
      number,
      angleRad,
      ...pointJson(at),
      headingRad,
      lines: lines.map(({ route, side, stationMm }) => ({ route, side, stationMm })),
      unguardedMm,
    })),
    rails: rails.filter((rail) => !isGuard(rail)).map(railJson),
    guardRails: rails.filter(isGuard).map(railJson),
    ties: ties.map(({ stationMm, lengthMm, widthMm, isHeadBlock, from, to }) => ({
      stationMm,
      lengthMm,
      widthMm,
      isHeadBlock,
      from: pointJson(from),
      to: pointJson(to),
    })),
    gaps: gaps.map(({ at, rail }) => ({ rail, ...pointJson(at) })),
  }
}
