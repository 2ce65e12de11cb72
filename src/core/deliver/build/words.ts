import type { RailPart, RailStick, RouteName, TurnoutRailRole } from '../../turnout/index.ts'
import type { SheetOptions } from '../types.ts'
import { MM_PER_INCH } from '../../units/index.ts'

type Units = SheetOptions['units']

/** A size at the bench as a caliper shows it: thousandths of an inch, or hundredths of a millimetre; no unit, that stands in the head. */
export function caliperWords(mm: number, units: Units): string {
  return units === 'imperial' ? (mm / MM_PER_INCH).toFixed(3) : mm.toFixed(2)
}

/** The unit of caliperWords. */
export function caliperUnit(units: Units): string {
  return units === 'imperial' ? 'in' : 'mm'
}

/** A bend or filing angle, to a tenth of a degree. */
export function benchAngleWords(rad: number): string {
  return `${((Math.abs(rad) * 180) / Math.PI).toFixed(1)}°`
}

export const partWords: Readonly<Record<RailPart, string>> = {
  stock: 'Stock rail',
  point: 'Point',
  closure: 'Closure rail',
  frog: 'Frog rail',
  wing: 'Wing rail',
  guard: 'Guard rail',
  elbow: 'Elbow rail',
  check: 'Check rail',
}

const routeWords: Readonly<Record<RouteName, string>> = {
  straight: 'main',
  curved: 'diverging',
  other: 'other',
  'slip-left': 'left slip',
  'slip-right': 'right slip',
  'narrow-straight': 'narrow main',
  'narrow-curved': 'narrow diverging',
}

/** The name of a route beside its rails: main, diverging … */
export function routeName(route: RouteName): string {
  return routeWords[route]
}

/** The name of a rail by part and route: Closure rail, diverging. Of several of one name each has its number. */
export function stickNames(sticks: readonly RailStick[]): readonly string[] {
  const counts = new Map<TurnoutRailRole, number>()
  for (const { role } of sticks) counts.set(role, (counts.get(role) ?? 0) + 1)
  const seen = new Map<TurnoutRailRole, number>()
  return sticks.map(({ role, part, route }) => {
    const number = (seen.get(role) ?? 0) + 1
    seen.set(role, number)
    const name = `${partWords[part]}, ${routeWords[route]}`
    return (counts.get(role) ?? 0) > 1 ? `${name} ${number}` : name
  })
}
