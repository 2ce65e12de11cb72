import { expect, it } from 'vitest'
import { prefsOfLanguage, prefsStoreCreate } from '../../../src/store/index.ts'

it('begins with the measures and the paper of where the browser is at home', () => {
  // Tags by BCP 47; who measures and prints how is common practice, no source.
  expect(prefsOfLanguage('en-US')).toEqual({ units: 'imperial', paper: 'letter' })
  expect(prefsOfLanguage('en-GB')).toEqual({ units: 'imperial', paper: 'a4' })
  expect(prefsOfLanguage('fr-CA')).toEqual({ units: 'imperial', paper: 'letter' })
  expect(prefsOfLanguage('de')).toEqual({ units: 'metric', paper: 'a4' })
  expect(prefsOfLanguage('zh-Hant-TW')).toEqual({ units: 'metric', paper: 'a4' })
  expect(prefsOfLanguage('en')).toEqual({})
})

it('holds what was chosen before over what is likely', () => {
  const kept = new Map([['waybench.prefs', JSON.stringify({ units: 'imperial' })]])
  const storage = { getItem: (key: string) => kept.get(key) ?? null, setItem: (key: string, value: string) => void kept.set(key, value) }
  const prefs = prefsStoreCreate(storage, prefsOfLanguage('de-DE')).getState()
  expect([prefs.units, prefs.paper]).toEqual(['imperial', 'a4'])
})
