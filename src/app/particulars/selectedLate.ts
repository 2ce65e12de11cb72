import { createElement, lazy } from 'react'
import type { ComponentProps, ComponentType, ReactNode } from 'react'
import type { SelectedParticulars } from './SelectedParticulars.tsx'

type Props = ComponentProps<typeof SelectedParticulars>

let loaded: ComponentType<Props> | null = null

/** Brings the particulars of what can be selected; they are no part of the first load. */
export async function selectedLoad(): Promise<ComponentType<Props>> {
  loaded ??= (await import('./SelectedParticulars.tsx')).SelectedParticulars
  return loaded
}

const late = lazy(async () => ({ default: await selectedLoad() }))

/** Drawn at once when they are there, so that nothing blinks; else when they have come: to stand in a Suspense. */
export function SelectedLate(props: Props): ReactNode {
  return createElement(loaded ?? late, props)
}
