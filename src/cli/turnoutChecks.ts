import { checkDimensions, checkStandard, crossingChecked } from '../core/turnout/index.ts'
import type { CheckDimension, CheckedWork, CheckStandard, CrossingGeometry, TurnoutGeometry } from '../core/turnout/index.ts'
import { checkDimensionName, routeName } from '../words/checkDimensionText.ts'
import { columns, lengthBoth } from './answer.ts'

export interface TurnoutChecks {
  readonly rows: readonly CheckDimension[]
  readonly standard: CheckStandard
}

/** The check dimensions of a turnout against the standard of a scale. */
export function turnoutChecks(turnout: TurnoutGeometry, scaleKey: string): TurnoutChecks {
  return checksOf({ ...turnout, measures: turnout.request }, turnout.request, scaleKey)
}

/** The same of a crossing; its fixed elbows too. */
export function crossingChecks(crossing: CrossingGeometry, scaleKey: string): TurnoutChecks {
  return checksOf(crossingChecked(crossing), crossing.request, scaleKey)
}

function checksOf(work: CheckedWork, made: Omit<Parameters<typeof checkStandard>[0], 'scaleKey'>, scaleKey: string): TurnoutChecks {
  const standard = checkStandard({ ...made, scaleKey })
  return { rows: checkDimensions(work, standard), standard }
}

export function checksJson({ rows, standard }: TurnoutChecks): object {
  return {
    checkDimensions: rows.map(({ kind, route, frog, valueMm, leastMm, mostMm, isWithin, stationMm, at }) => ({
      kind,
      route,
      frog,
      valueMm,
      leastMm,
      mostMm,
      isWithin,
      stationMm,
      xMm: at.x,
      yMm: at.y,
      source: standard.source,
    })),
  }
}

export function checksText({ rows, standard }: TurnoutChecks): string {
  const limit = (mm: number | null): string => (mm === null ? '' : lengthBoth(mm))
  return columns([
    [`Check dimensions (${standard.source})`, 'route', 'at its worst', 'at least', 'at most', ''],
    ...rows.map(({ kind, route, valueMm, leastMm, mostMm, isWithin }) => [
      checkDimensionName(kind),
      routeName(route),
      valueMm === null ? 'no rail' : lengthBoth(valueMm),
      limit(leastMm),
      limit(mostMm),
      isWithin ? '' : 'outside',
    ]),
  ])
}
