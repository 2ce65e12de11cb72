import type { HurdleName } from '../core/clearance/index.ts'
import type { Lined, RouteEnd } from '../core/network/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { recordName } from './names.ts'

/** What a car comes near. */
export function hurdleText({ kind, record }: HurdleName, plan: Plan): string {
  if (record === null) return 'the edge of the benchwork'
  return kind === 'tracks' ? `what runs on ${recordName(plan, kind, record)}` : recordName(plan, kind, record)
}

/** Why a train goes no farther. */
export function routeEndText(end: RouteEnd, plan: Plan): string {
  switch (end.kind) {
    case 'trackEnd':
      return `${recordName(plan, 'tracks', end.track)} ends here.`
    case 'legEnd':
      return `No track leaves the ${end.leg} leg of ${recordName(plan, 'turnouts', end.turnout)} yet.`
    case 'goesOn':
      return 'The line here is not solved.'
  }
}

/** How points lie. */
export function linedText(lined: Lined): string {
  switch (lined) {
    case 'straight':
      return 'straight'
    case 'diverging':
      return 'diverging'
    case 'other':
      return 'other leg'
  }
}
