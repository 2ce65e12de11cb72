import type { StoreApi } from 'zustand/vanilla'
import type { Prefs } from '../../store/types.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { planBoxNow } from '../planBox.ts'
import { bandsToggle } from '../running/runningActs.ts'
import { sightActions } from '../sight/sightActions.ts'
import { viewportFit } from '../viewportShow.ts'
import type { Action } from './action.ts'

/** What is seen, and how it is told. */
export function lookActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const { units, fraction, theme, setPrefs } = stores.prefs.getState()
  const set = (id: string, words: string, isNow: boolean, change: Partial<Prefs>): Action => ({
    id,
    group: 'Look',
    words,
    isPossible: !isNow,
    run: () => setPrefs(change),
  })
  return [
    {
      id: 'whole',
      group: 'Look',
      words: 'Show the whole plan',
      isPossible: planBoxNow(stores) !== null,
      run: () => {
        const box = planBoxNow(stores)
        if (box !== null) viewportFit(stores, box)
      },
    },
    {
      id: 'bands',
      group: 'Look',
      words: desk.getState().bands === null ? 'Show swept bands and clearances' : 'Hide swept bands and clearances',
      also: 'swept path, overhang, envelope, clearance trace, worst car',
      isPossible: true,
      run: () => bandsToggle(desk),
    },
    ...sightActions(stores, desk),
    set('units-imperial', 'Feet and inches', units === 'imperial', { units: 'imperial' }),
    set('units-metric', 'Millimetres', units === 'metric', { units: 'metric' }),
    ...([16, 32, 64] as const).map((under) => set(`fraction-${under}`, `Inches to 1/${under}`, fraction === under, { fraction: under })),
    set('theme-system', 'Light or dark as the system', theme === 'system', { theme: 'system' }),
    set('theme-light', 'Light', theme === 'light', { theme: 'light' }),
    set('theme-dark', 'Dark', theme === 'dark', { theme: 'dark' }),
    set('theme-contrast', 'More contrast', theme === 'contrast', { theme: 'contrast' }),
    {
      id: 'keys',
      group: 'Look',
      words: 'Keys…',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'keys' }),
    },
    {
      id: 'gallery',
      group: 'Look',
      words: 'Gallery of turnouts and crossings',
      about: 'every kind: wye, three-way, stub, diamond, slip, crossover, scissors, ladder, gauntlet, dual gauge',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'gallery' }),
    },
  ]
}
