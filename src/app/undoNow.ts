import type { StoreApi } from 'zustand/vanilla'
import type { Stores } from './context.ts'
import type { DeskState } from './desk.ts'

/* As long as a point of a drawing stands, undo takes that back: the step before the drawing is not what is meant. */

/** What undo would take back, by the name of the last step; null: nothing. */
export const undoWord = (pointBack: DeskState['pointBack'], lastStep: string | null): string | null =>
  pointBack === null ? lastStep : 'last point'

/** Takes it back. */
export const undoAct = (stores: Pick<Stores, 'plan'>, desk: StoreApi<DeskState>): (() => unknown) =>
  desk.getState().pointBack ?? stores.plan.getState().undo
