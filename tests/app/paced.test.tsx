import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import type { ReactNode } from 'react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { useDerived, usePlan } from '../../src/app/context.ts'
import type { Stores } from '../../src/app/context.ts'
import { Paced } from '../../src/app/Paced.tsx'
import { renderOnDesk } from './desk.tsx'

beforeEach(() => void vi.useFakeTimers({ toFake: ['requestAnimationFrame', 'cancelAnimationFrame'] }))
afterEach(() => {
  cleanup()
  vi.useRealTimers()
})

/** Where a PI is, by the plan and by what was derived of it. */
function Place({ name }: { readonly name: string }): ReactNode {
  const plan = usePlan((state) => state.plan.tracks['track-1']?.corners[0]?.y)
  const derived = useDerived((state) => state.derived.network.tracks.get('track-1')?.track.corners[0]?.y)
  const isMoving = usePlan((state) => state.transaction !== null)
  return <output aria-label={name}>{`${plan} ${derived} ${isMoving ? 'moving' : 'at rest'}`}</output>
}

function desk(): Stores {
  return renderOnDesk(
    <>
      <Place name="on the plan" />
      <aside className="right">
        <Paced>
          <Place name="beside" />
          <input aria-label="field" />
        </Paced>
      </aside>
    </>,
  ).stores
}

const said = (name: string): string | null => screen.getByLabelText(name).textContent
const begin = ({ plan }: Stores): void => act(() => plan.getState().begin('a drag'))
const step = ({ plan }: Stores, y: number): void =>
  act(() => void plan.getState().replace({ kind: 'corner.set', track: 'track-1', corner: 'pi-1', change: { y } }))
const frames = (count: number): void =>
  act(() => {
    for (let i = 0; i < count; i++) vi.advanceTimersToNextFrame()
  })

describe('what stands beside the plan', () => {
  it('shows the first step of a drag at once, then the newest at every twelfth frame', () => {
    const stores = desk()
    begin(stores)
    step(stores, 301)
    expect(said('beside')).toBe('301 301 moving')
    for (let i = 2; i <= 26; i++) {
      frames(1)
      step(stores, 300 + i)
      expect(said('on the plan')).toBe(`${300 + i} ${300 + i} moving`)
    }
    // Shown with the first step and with what lay there at the twelfth and the twenty-fourth frame after it.
    expect(said('beside')).toBe('324 324 moving')
    frames(12)
    expect(said('beside')).toBe('326 326 moving')
  })

  it('comes to rest with the plan, and follows undo and every edit at once', () => {
    const stores = desk()
    begin(stores)
    for (const y of [310, 320, 330]) step(stores, y)
    expect(said('beside')).toBe('310 310 moving')
    act(() => stores.plan.getState().commit())
    expect(said('beside')).toBe('330 330 at rest')
    act(() => void stores.plan.getState().undo())
    expect(said('beside')).toBe(said('on the plan'))
    step(stores, 340)
    step(stores, 350)
    expect(said('beside')).toBe('350 350 at rest')
    begin(stores)
    for (const y of [360, 370]) step(stores, y)
    act(() => stores.plan.getState().cancel())
    expect(said('beside')).toBe('350 350 at rest')
    frames(24)
    expect(said('beside')).toBe('350 350 at rest')
  })

  it('keeps up with the hand that is in it, and with what is chosen', () => {
    const stores = desk()
    begin(stores)
    for (const y of [310, 320]) step(stores, y)
    expect(said('beside')).toBe('310 310 moving')
    act(() => stores.session.getState().select({ kind: 'corner', track: 'track-1', corner: 'pi-2' }))
    expect(said('beside')).toBe('320 320 moving')
    act(() => screen.getByLabelText('field').focus())
    for (const y of [330, 340]) {
      step(stores, y)
      expect(said('beside')).toBe(`${y} ${y} moving`)
    }
  })
})
