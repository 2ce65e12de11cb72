import { render } from '@testing-library/react'
import { userEvent } from '@testing-library/user-event'
import type { ReactNode } from 'react'
import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import { planEmpty } from '../../src/core/plan/index.ts'
import type { Plan, TurnoutBuild } from '../../src/core/plan/types.ts'
import { shelfNone } from '../../src/app/bench/benchStart.ts'
import type { NextPlan, PlanLibrary } from '../../src/store/index.ts'
import { StoresContext } from '../../src/app/context.ts'
import type { Stores } from '../../src/app/context.ts'
import { DeskContext, deskStoreCreate } from '../../src/app/desk.ts'
import type { DeskState } from '../../src/app/desk.ts'
import { EngineContext } from '../../src/app/engine.ts'
import { lateBring } from '../../src/app/lateParts.ts'
import { storesCreate } from '../../src/app/stores.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import type { KeepStatus } from '../../src/store/types.ts'
import { checksAtOnce } from '../support/checksAtOnce.ts'

// In the app these come behind the first picture, or when something is first done; here they are there from the start.
await lateBring()
await import('../../src/app/lineActs/LineActPanel.tsx')
await import('../../src/app/makers/MakerDraftPanel.tsx')

const inch = 25.4

const build: TurnoutBuild = {
  points: 'straight',
  pointLengthMm: 'standard',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
  toeLengthMm: 'standard',
  heelLengthMm: 'standard',
}

/**
 * An HO room of 12 by 9 ft with one track of two corners and a turnout. Corner 2 (24 1/2 in) is under the least radius
 * of the main, 28 in here.
 */
export function roomPlan(): Plan {
  const empty = planEmpty()
  const main = {
    ...empty.lineClasses['main'],
    id: 'main',
    name: 'Main',
    minRadiusMm: 28 * inch,
    usualRadiusMm: 32 * inch,
    easement: { kind: 'length', lengthMm: 12 * inch },
  } as const
  const point = (x: number, y: number): { readonly x: number; readonly y: number } => ({ x: x * inch, y: y * inch })
  const plan = {
    ...empty,
    railway: { ...empty.railway, title: 'Test quay' },
    lineClasses: { ...empty.lineClasses, main },
    benchworks: {
      'benchwork-1': {
        id: 'benchwork-1',
        name: 'Bench',
        heightMm: 1200,
        holes: [],
        outline: [point(0, 0), point(144, 0), point(144, 108), point(0, 108)],
      },
    },
    tracks: {
      'track-1': {
        id: 'track-1',
        name: 'Harbour line',
        lineClass: 'main',
        start: { kind: 'free', ...point(12, 12) },
        corners: [
          { id: 'pi-1', ...point(132, 12), radius: 'class', easementIn: 'class', easementOut: 'class' },
          { id: 'pi-2', ...point(132, 96), radius: 24.5 * inch, easementIn: 200, easementOut: 200 },
        ],
        end: { kind: 'free', ...point(12, 96) },
      },
    },
    turnouts: {
      'turnout-1': {
        id: 'turnout-1',
        name: 'East quay',
        kind: { kind: 'plain' },
        track: 'track-1',
        stationMm: 30 * inch,
        facing: 'rising',
        hand: 'left',
        frog: 6,
        build,
      },
    },
  }
  return plan as Plan
}

/** The hand on keyboard and mouse; it waits for nothing between two strokes. */
export const hand = userEvent.setup({ delay: null })

export interface Desk {
  readonly stores: Stores
  readonly desk: StoreApi<DeskState>
}

/** Nothing heavy runs in these tests; a test that needs an engine gives its own. */
export const noEngine: Engine = {
  check: () => Promise.reject(new Error('no engine in this test')),
  sheets: () => Promise.reject(new Error('no engine in this test')),
  report: () => Promise.reject(new Error('no engine in this test')),
  lists: () => Promise.reject(new Error('no engine in this test')),
  fair: () => Promise.reject(new Error('no engine in this test')),
  trace: () => Promise.reject(new Error('no engine in this test')),
  laying: () => Promise.reject(new Error('no engine in this test')),
  solids: () => Promise.reject(new Error('no engine in this test')),
  cut: () => Promise.reject(new Error('no engine in this test')),
  dispose: () => undefined,
}

/** Renders a part of the desk on stores of its own. */
export function renderOnDesk(part: ReactNode, plan: Plan = roomPlan(), engine: Engine = noEngine, library: PlanLibrary = shelfNone): Desk {
  const nothing = (): Promise<void> => Promise.resolve()
  const stores = storesCreate(plan, checksAtOnce(), engine)
  const desk = deskStoreCreate()
  let planId = 'desk'
  const nextIs = (next: NextPlan): void => void (planId = 'id' in next ? next.id : 'other')
  const status = createStore<KeepStatus>()(() => ({ kind: 'kept', atMs: new Date(2026, 2, 9, 9, 42).getTime() }))
  const keeping = { status, planId: () => planId, takeOver: nothing, follow: nothing, flush: nothing, isUnkept: () => false, nextIs }
  desk.getState().set({ keeper: { ...keeping, library, claimed: async () => new Set(['desk', 'elsewhere']) } })
  render(
    <StoresContext value={stores}>
      <DeskContext value={desk}>
        <EngineContext value={engine}>{part}</EngineContext>
      </DeskContext>
    </StoresContext>,
  )
  return { stores, desk }
}
