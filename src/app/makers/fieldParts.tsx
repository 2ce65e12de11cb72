import type { ReactNode } from 'react'
import { makerHosts } from '../../core/plan/index.ts'
import type { Id, Maker, MakerNumbers, Plan } from '../../core/plan/types.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'

/** How a field of this maker keeps its value: in the plan, or in the draft in hand. */
export type MakerKeep = <V>(change: (maker: Maker, value: V) => Maker) => Keep<V>

export interface FieldsProps<N extends MakerNumbers> {
  readonly maker: Maker
  readonly numbers: N
  readonly plan: Plan
  readonly keep: MakerKeep
}

export const sides = [
  { value: 'left', text: 'left' },
  { value: 'right', text: 'right' },
] as const
export const ends = [
  { value: 'end', text: 'its end' },
  { value: 'start', text: 'its start' },
] as const

/** Keeps one number of a maker. The numbers are those of the kind at hand: a maker never changes its kind. */
export function numberKeep<N extends MakerNumbers, K extends keyof N>({ keep, numbers }: FieldsProps<N>, key: K): Keep<N[K]> {
  return keep((was, value: N[K]) => ({ ...was, numbers: { ...numbers, [key]: value } }))
}

export function HostField<N extends MakerNumbers>({
  props,
  name,
  label,
}: {
  readonly props: FieldsProps<N>
  readonly name: 'track' | 'otherTrack'
  readonly label: string
}): ReactNode {
  const { maker, plan, numbers, keep } = props
  const tracks = Object.values(plan.tracks).filter((track) => !maker.made.tracks.includes(track.id))
  const hosts = makerHosts(numbers)
  const value = (name === 'track' ? hosts[0] : hosts[1]) ?? ''
  return (
    <ChoiceField
      label={label}
      value={value}
      choices={tracks.map((track) => ({ value: track.id, text: track.name }))}
      onChoose={keep((was, id: Id) => ({ ...was, numbers: { ...numbers, [name]: id } })).commit}
    />
  )
}
