import type { MakerNumbers } from '../plan/types.ts'

/** Stations and lengths are first given in whole inches or in centimetres, mm. */
export const roundStepsMm = { imperial: 25.4, metric: 10 } as const

/** Which way a number goes so that what it holds is no less: a stretch begins later and ends sooner, a length is longer. */
const ways = {
  stationMm: Math.round,
  fromMm: Math.ceil,
  toMm: Math.floor,
  lengthMm: Math.ceil,
  bodyMm: Math.ceil,
  tailMm: Math.ceil,
  straightMm: Math.ceil,
  radius: Math.ceil,
} as const

/**
 * Numbers to begin with, in round measures of one rule as far as it can be made with those.
 *
 * Exactness: round to less than a micrometre; each number by itself, so that one that fits closely stays as it is.
 */
export function makerRounded(numbers: MakerNumbers, units: 'imperial' | 'metric', fits: (numbers: MakerNumbers) => boolean): MakerNumbers {
  const stepMm = roundStepsMm[units]
  const isRefused = !fits(numbers)
  let now = numbers
  for (const [name, way] of Object.entries(ways)) {
    const before: unknown = Object.entries(now).find(([key]) => key === name)?.[1]
    if (typeof before !== 'number') continue
    // A number that is round but for its last digits stays.
    const steps = before / stepMm
    const mm = Number(((Math.abs(steps - Math.round(steps)) < 1e-6 ? Math.round(steps) : way(steps)) * stepMm).toFixed(4))
    const trial: MakerNumbers = { ...now, [name]: mm }
    if (isRefused || fits(trial)) now = trial
  }
  return now
}
