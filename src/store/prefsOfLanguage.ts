import type { Prefs } from './types.ts'

/** Where rooms and wood are measured in feet and inches, at the bench if not by law. */
const inchRegions = ['US', 'CA', 'GB']

/** Where office paper is Letter. */
const letterRegions = ['US', 'CA', 'MX', 'PH', 'CO', 'CL', 'VE']

/**
 * What a person most likely measures and prints with, by the language that the browser speaks ("de", "en-GB"; BCP 47).
 * Only a beginning for a first visit: what is chosen since holds. English of no place says nothing.
 * Source: common practice, no source.
 */
export function prefsOfLanguage(language: string): Partial<Pick<Prefs, 'units' | 'paper'>> {
  const [spoken, ...rest] = language.split('-')
  const region = rest.find((part) => /^[A-Za-z]{2}$/.test(part))?.toUpperCase()
  if (region === undefined) return spoken?.toLowerCase() === 'en' ? {} : { units: 'metric', paper: 'a4' }
  return {
    units: inchRegions.includes(region) ? 'imperial' : 'metric',
    paper: letterRegions.includes(region) ? 'letter' : 'a4',
  }
}
