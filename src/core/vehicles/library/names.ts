import { MM_PER_FOOT } from '../../units/index.ts'

const M_PER_FOOT = MM_PER_FOOT / 1000

/**
 * The name of a car of ours with what it tells of its length in the rule that is measured with: a "40 ft boxcar" is a "12 m boxcar"
 * where metres are. Whole feet and metres, as such names go. What a builder called a car is not ours to change.
 */
export function nameInRule(name: string, units: 'imperial' | 'metric'): string {
  const [told, factor, unit] =
    units === 'metric' ? ([/(\d+(?:\.\d+)?) ft\b/g, M_PER_FOOT, 'm'] as const) : ([/(\d+(?:\.\d+)?) m\b/g, 1 / M_PER_FOOT, 'ft'] as const)
  return name.replace(told, (_, length: string) => `${Math.round(Number(length) * factor)} ${unit}`)
}

/** The name of a kind that Waybench describes, of an engine with its wheels: "consolidation, 2-8-0". */
export function kindName(
  { name, wheels }: { readonly name: string; readonly wheels: string | null },
  units: 'imperial' | 'metric',
): string {
  const told = nameInRule(name, units)
  return wheels === null ? told : `${told}, ${wheels}`
}
