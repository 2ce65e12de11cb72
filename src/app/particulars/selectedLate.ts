import { lazy } from 'react'
import type { ComponentProps, ComponentType } from 'react'
import type { SelectedParticulars } from './SelectedParticulars.tsx'

type Part = ComponentType<ComponentProps<typeof SelectedParticulars>>

let loaded: Part | null = null

/** Brings the particulars of what can be selected; they are no part of the first load. */
export async function selectedLoad(): Promise<Part> {
  loaded ??= (await import('./SelectedParticulars.tsx')).SelectedParticulars
  return loaded
}

const late: Part = lazy(async () => ({ default: await selectedLoad() }))

/** The component itself once it is there, so that nothing blinks; until then one that waits for it. */
export function selectedPart(): Part {
  return loaded ?? late
}
