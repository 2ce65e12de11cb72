import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { ChartPlace } from './chartScale.ts'
import type { OpenStep, StepSubject } from './stepOpen.ts'

/** What a hand or a key makes of a number: the command and what it comes to in words; or why it makes nothing of it. */
export type Pulled =
  | {
      readonly ok: true
      readonly command: PlanCommand
      readonly words: string
      /** It is held where it can be, and the words say what holds it. */
      readonly isHeld: boolean
    }
  | { readonly ok: false; readonly words: string }

/** The step that held keys are making; it outlives a drawing of the field. */
export interface OpenStepRef {
  current: OpenStep | null
}

/** A number of the plan that is taken hold of on the chart. */
export interface Grip {
  readonly label: string
  /** The number as it is read out. */
  readonly says: string
  /** Pulled up and down; else along the track. */
  readonly isUpright: boolean
  readonly mm: number
  readonly mostMm: number
  readonly at: ChartPlace
  /** Where along the track that is: the plan points at it as long as keys go here. */
  readonly stationMm: number
  readonly subject: StepSubject
  select(): void
  /** Where the middle of the handle was pulled to. isFree: nothing draws it. */
  pulled(to: ChartPlace, isFree: boolean): Pulled
  /** So many steps of an arrow key. */
  stepped(steps: number): Pulled
  field(onDone: () => void, open: OpenStepRef): ReactNode
}
