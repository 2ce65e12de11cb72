import type { CheckDimensionKind } from '../core/turnout/dimensions/types.ts'
import type { RouteName } from '../core/turnout/types.ts'

/** A check dimension as the bench calls it, in the middle of a sentence. */
export function checkDimensionName(kind: CheckDimensionKind): string {
  switch (kind) {
    case 'gauge':
      return 'gauge'
    case 'check-gauge':
      return 'check gauge'
    case 'span':
      return 'span'
    case 'guard-flangeway':
      return 'flangeway at the guard rail'
    case 'wing-flangeway':
      return 'flangeway in the frog'
    case 'throat-flangeway':
      return 'flangeway in the throat'
    case 'points-spread':
      return 'points spread'
    case 'open-point':
      return 'flangeway behind the open point'
    case 'elbow-flangeway':
      return 'flangeway in the elbow frog'
    case 'elbow-open':
      return 'length unheld in the elbow frog'
  }
}

/** A way through a turnout or crossing, before the word route. */
export function routeName(route: RouteName): string {
  switch (route) {
    case 'straight':
      return 'straight'
    case 'curved':
      return 'diverging'
    case 'other':
      return 'second'
    case 'slip-left':
      return 'left slip'
    case 'slip-right':
      return 'right slip'
    case 'narrow-straight':
      return 'narrow straight'
    case 'narrow-curved':
      return 'narrow diverging'
  }
}
