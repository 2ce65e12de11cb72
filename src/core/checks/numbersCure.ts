import type { Maker, MakerNumbers } from '../plan/types.ts'
import type { Cure, MakerLength } from './types.ts'

/** Lengths of a maker that a cure may change. */
const lengthNames: readonly MakerLength[] = [
  'stationMm',
  'fromMm',
  'toMm',
  'centresMm',
  'leadCentresMm',
  'curveCentresMm',
  'radius',
  'acrossMm',
  'climbMm',
  'riseMm',
  'clearMm',
]

/** The cure that gives a maker other numbers, with the one that tells what is changed; null: they are as they were. */
export function numbersCure({ id, numbers }: Maker, cured: MakerNumbers): Cure | null {
  const before = lengthsOf(numbers)
  for (const [name, lengthMm] of lengthsOf(cured)) {
    if (before.get(name) !== lengthMm) return { kind: 'setNumbers', maker: id, numbers: cured, name, lengthMm }
  }
  return null
}

/** Every length of some numbers by its name, those within a choice too. */
export function lengthsOf(numbers: object): ReadonlyMap<MakerLength, number> {
  const found = new Map<MakerLength, number>()
  for (const [key, value] of Object.entries(numbers) as readonly [string, unknown][]) {
    const name = lengthNames.find((one) => one === key)
    if (typeof value === 'number' && name !== undefined) found.set(name, value)
    else if (typeof value === 'object' && value !== null) for (const [inner, mm] of lengthsOf(value)) found.set(inner, mm)
  }
  return found
}
