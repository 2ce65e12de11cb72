import { useEffect } from 'react'
import type { ReactNode } from 'react'
import { createStore } from 'zustand/vanilla'
import { PaceContext, useStores } from './context.ts'
import type { Pace, Stores } from './context.ts'

/** Frames from one drawing to the next while the hand moves something else: of 60 a second five are as many numbers as anyone reads. */
const restFrames = 12

/** What is inside reads the plan and what follows from it at every twelfth frame of a drag on the plan; at rest, and at its own hand, at once. */
export function Paced({ children }: { readonly children: ReactNode }): ReactNode {
  const paced = pacedOf(useStores())
  useEffect(() => paced.follow(), [paced])
  return <PaceContext value={paced.pace}>{children}</PaceContext>
}

interface PacedPace {
  readonly pace: Pace
  follow(): () => void
}

const known = new WeakMap<Stores, PacedPace>()

/** One pace for all that stands around a plan. */
function pacedOf(stores: Stores): PacedPace {
  const paced = known.get(stores) ?? pacedCreate(stores)
  known.set(stores, paced)
  return paced
}

function pacedCreate({ plan, derived, session }: Stores): PacedPace {
  const shownPlan = createStore(() => plan.getState())
  const shownDerived = createStore(() => derived.getState())
  let frame = 0
  let followers = 0
  let stops: readonly (() => void)[] = []
  const show = (): void => {
    shownPlan.setState(plan.getState(), true)
    shownDerived.setState(derived.getState(), true)
  }
  const isShown = (): boolean => shownPlan.getState() === plan.getState() && shownDerived.getState() === derived.getState()
  const rest = (framesLeft: number): void => {
    frame = requestAnimationFrame(() => {
      frame = 0
      if (framesLeft > 1) rest(framesLeft - 1)
      else step()
    })
  }
  /** The first step of a drag is shown at once, then each that is there when the rest is over. */
  const step = (): void => {
    if (frame !== 0 || isShown()) return
    show()
    rest(restFrames)
  }
  const changed = (): void => {
    const { transaction } = plan.getState()
    const isSame = transaction !== null && transaction === shownPlan.getState().transaction
    if (isSame && !isHandHere()) step()
    else show()
  }
  return {
    pace: { plan: shownPlan, derived: shownDerived },
    follow() {
      if (followers++ === 0) {
        show()
        stops = [
          plan.subscribe(changed),
          derived.subscribe(changed),
          // What is chosen in the middle of a drag is there in the same moment.
          session.subscribe(({ selection }, before) => selection !== before.selection && show()),
        ]
      }
      return () => {
        if (--followers > 0) return
        for (const stop of stops) stop()
        cancelAnimationFrame(frame)
        frame = 0
      }
    },
  }
}

/** What is pulled or stepped here goes on from the number that is shown. */
function isHandHere(): boolean {
  const place = document.activeElement?.closest('.left, .right, .below') ?? null
  return place !== null
}
