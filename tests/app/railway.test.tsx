import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { recordRemove } from '../../src/app/commands/selectionRemove.ts'
import { RailwayParticulars } from '../../src/app/particulars/RailwayParticulars.tsx'
import { TurnoutParticulars } from '../../src/app/particulars/TurnoutParticulars.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

async function typed(name: string, text: string): Promise<void> {
  const field = screen.getByRole('textbox', { name })
  await hand.clear(field)
  await hand.type(field, `${text}{Enter}`)
}

describe('the numbers of the railway', () => {
  it('refuse a gauge that no railway of the scale can have, with an example near it', async () => {
    const { stores } = renderOnDesk(<RailwayParticulars />)
    const { plan } = stores.plan.getState()
    await typed('Gauge', '5 ft')
    expect(screen.getByRole('alert')).toHaveTextContent(/^From 0\.113 in to 1\.492 in belongs here.*Still 0\.651 in/)
    await typed('Gauge', 'abc')
    expect(screen.getByRole('alert')).toHaveTextContent('Right would be: 0.651 in. Still 0.651 in.')
    expect(stores.plan.getState().plan).toBe(plan)
  })

  it('leave the rail as it is when another gauge is typed, and call the step so', async () => {
    const { stores } = renderOnDesk(<RailwayParticulars />)
    const rail = () => {
      const { railCode, railHeadMm, railFootMm } = stores.plan.getState().plan.railway
      return { railCode, railHeadMm, railFootMm }
    }
    const before = rail()
    await typed('Gauge', '10.5 mm')
    expect(stores.plan.getState().plan.railway.gaugeMm).toBe(10.5)
    expect(rail()).toEqual(before)
    expect(stores.plan.getState().undoStack.at(-1)?.label).toBe('Set gauge')
  })

  it('take north from 0 up to 360 degrees', async () => {
    const { stores } = renderOnDesk(<RailwayParticulars />)
    for (const text of ['400', '360', '-5']) {
      await typed('North', text)
      expect(screen.getByRole('alert')).toHaveTextContent('From 0° up to 360°')
    }
    await typed('North', '270')
    expect(stores.plan.getState().plan.railway.northRad).toBeCloseTo((3 * Math.PI) / 2, 12)
  })
})

describe('a turnout', () => {
  it('refuses points that do not fit, and says how long they may be', async () => {
    const { stores } = renderOnDesk(<TurnoutParticulars id="turnout-1" />)
    const { plan } = stores.plan.getState()
    await typed('Point length', '40 in')
    // 4 and 60 ft at 1:87.1.
    expect(screen.getByRole('alert')).toHaveTextContent('From 0.551 in to 8.266 in belongs here. At full size that is 4 to 60 ft.')
    await typed('Heel spread', '2 in')
    expect(screen.getAllByRole('alert').at(-1)).toHaveTextContent(/would do|It takes|should be/)
    expect(stores.plan.getState().plan).toBe(plan)
    await typed('Point length', '2.5 in')
    expect(stores.plan.getState().plan.turnouts['turnout-1']?.build.pointLengthMm).toBeCloseTo(63.5, 9)
  })

  it('is named in the step and the note when its track is taken out', () => {
    const { stores } = renderOnDesk(<RailwayParticulars />)
    act(() => recordRemove(stores, 'tracks', 'track-1'))
    expect(stores.plan.getState().plan.turnouts).toEqual({})
    expect(stores.plan.getState().undoStack.at(-1)?.label).toBe('Remove track Harbour line and turnout East quay')
    expect(stores.session.getState().notice).toMatch(/^Track Harbour line and turnout East quay are taken out/)
  })
})
