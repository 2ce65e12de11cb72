import * as v from 'valibot'
import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import { PAPER_SIDE_MAX_MM, PAPER_SIDE_MIN_MM } from '../core/deliver/paperUsual.ts'
import { leastBedMm, mostAllowanceMm, mostBedMm, printerUsual } from '../core/jigs/printer.ts'
import { paperByName } from '../core/standards/index.ts'
import type { Prefs, PrefsStoreState } from './types.ts'

/** The part of localStorage that is needed here. Reading or writing may throw: storage full, or forbidden. */
export interface TextStorage {
  getItem(key: string): string | null
  setItem(key: string, value: string): void
}

/** What becomes of each preference; a new one does not compile until it has its row. All are of this person and this browser. */
const prefsKeys: { readonly [K in keyof Prefs]: { readonly persist: 'browser' | 'no'; readonly undoable: false } } = {
  units: { persist: 'browser', undoable: false },
  fraction: { persist: 'browser', undoable: false },
  theme: { persist: 'browser', undoable: false },
  paper: { persist: 'browser', undoable: false },
  rollWidthMm: { persist: 'browser', undoable: false },
  rollLengthMm: { persist: 'browser', undoable: false },
  ownWidthMm: { persist: 'browser', undoable: false },
  ownHeightMm: { persist: 'browser', undoable: false },
  paperPrinter: { persist: 'browser', undoable: false },
  paperPrinters: { persist: 'browser', undoable: false },
  bar100X: { persist: 'browser', undoable: false },
  bar100Y: { persist: 'browser', undoable: false },
  printer: { persist: 'browser', undoable: false },
  keys: { persist: 'browser', undoable: false },
}

export const prefsFresh: Prefs = {
  units: 'imperial',
  fraction: 64,
  theme: 'system',
  paper: 'letter',
  rollWidthMm: 609.6,
  rollLengthMm: 1200,
  ownWidthMm: 330.2,
  ownHeightMm: 482.6,
  paperPrinter: 'Printer 1',
  paperPrinters: {},
  bar100X: 100,
  bar100Y: 100,
  printer: printerUsual,
  keys: {},
}

const storageKey = 'waybench.prefs'
const printerName = v.pipe(v.string(), v.minLength(1), v.maxLength(60))
/** Up to what a page of a PDF may be; each refusal of a smaller paper says what its margins need. */
const paperSide = v.pipe(v.number(), v.minValue(PAPER_SIDE_MIN_MM), v.maxValue(PAPER_SIDE_MAX_MM))
/** A printer that is off by more than a tenth is misadjusted, not out of true. */
const bar = v.pipe(v.number(), v.minValue(90), v.maxValue(110))
const bed = v.pipe(v.number(), v.minValue(leastBedMm), v.maxValue(mostBedMm))
const allowance = v.pipe(v.number(), v.minValue(0), v.maxValue(mostAllowanceMm))
const entries = {
  units: v.picklist(['imperial', 'metric']),
  fraction: v.picklist([16, 32, 64]),
  theme: v.picklist(['system', 'light', 'dark', 'contrast']),
  paper: v.pipe(
    v.string(),
    v.check((name) => name === 'roll' || name === 'own' || paperByName(name) !== null),
  ),
  rollWidthMm: paperSide,
  rollLengthMm: paperSide,
  ownWidthMm: paperSide,
  ownHeightMm: paperSide,
  paperPrinter: printerName,
  paperPrinters: v.record(printerName, v.object({ bar100X: bar, bar100Y: bar })),
  bar100X: bar,
  bar100Y: bar,
  printer: v.object({ bedXMm: bed, bedYMm: bed, bedZMm: bed, slotAllowanceMm: allowance, jointAllowanceMm: allowance }),
  keys: v.record(v.string(), v.pipe(v.string(), v.minLength(1), v.maxLength(30))),
} satisfies { readonly [K in keyof Prefs]: v.GenericSchema<unknown, Prefs[K]> }

/**
 * The store of preferences, kept in `storage` when there is one. What cannot be read there is as if it had not been written; when it cannot be
 * written, the preference holds until the page is closed. A value out of range is not taken. `likely` holds until something else is chosen.
 * What another page of the browser has chosen meanwhile stays as it is there: only what is chosen here is written over it.
 */
export function prefsStoreCreate(storage: TextStorage | null = null, likely: Partial<Prefs> = {}): StoreApi<PrefsStoreState> {
  /** Chosen in this page. */
  const own: Partial<Prefs> = {}
  return createStore<PrefsStoreState>()((set) => ({
    ...prefsFresh,
    ...likely,
    ...prefsKept(storage),
    setPrefs(change) {
      const good = prefsGood(change)
      set(good)
      Object.assign(own, good)
      const prefs = Object.entries({ ...prefsKept(storage), ...own }).filter(([key]) => prefsKeys[key as keyof Prefs].persist === 'browser')
      try {
        storage?.setItem(storageKey, JSON.stringify(Object.fromEntries(prefs)))
      } catch {
        // Full or forbidden: nothing to tell, the choice still holds in this page.
      }
    },
  }))
}

function prefsKept(storage: TextStorage | null): Partial<Prefs> {
  try {
    return prefsGood(JSON.parse(storage?.getItem(storageKey) ?? '{}'))
  } catch {
    return {}
  }
}

/** Those of the values that a preference can have. */
function prefsGood(values: unknown): Partial<Prefs> {
  if (typeof values !== 'object' || values === null) return {}
  const good = Object.entries(values).filter(([key, value]) => Object.hasOwn(entries, key) && v.is(entries[key as keyof Prefs], value))
  return Object.fromEntries(good) as Partial<Prefs>
}
