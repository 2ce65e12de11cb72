import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

afterEach(cleanup)

/** The list under a title, beside the plan. */
const list = async (title: string): Promise<ReturnType<typeof within>> => {
  const heading = await screen.findByRole('heading', { name: title })
  const section = heading.closest('section')
  if (section === null) throw new Error(`no list ${title}`)
  return within(section)
}

async function desk(stage: 'room' | 'line'): Promise<ReturnType<typeof renderOnDesk>> {
  const plan = roomPlan()
  const rendered = renderOnDesk(<App />, {
    ...plan,
    guides: { 'guide-1': { id: 'guide-1', name: 'Edge of the quay', at: { x: 300, y: 400 }, angleRad: Math.PI / 2 } },
    readings: {
      'reading-1': { id: 'reading-1', name: 'Door to quay', of: { kind: 'distance', from: { x: 0, y: 0 }, to: { x: 304.8, y: 0 } } },
      'reading-2': { id: 'reading-2', name: 'To the crane', of: { kind: 'along', track: 'track-1', fromMm: 0, toMm: 609.6 } },
    },
  })
  await act(async () => rendered.stores.session.getState().setStage(stage))
  return rendered
}

describe('lists beside the plan', () => {
  it.each(['room', 'line'] as const)(
    'have guides and pinned measurements at stage %s, to be selected, renamed and removed',
    async (stage) => {
      const { stores } = await desk(stage)
      const measurements = await list('Measurements')
      expect(measurements.getByRole('button', { name: 'Door to quay 1′ 0″' })).toBeVisible()
      await hand.click(measurements.getByRole('button', { name: 'To the crane 2′ 0″' }))
      expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'readings', id: 'reading-2' })
      await hand.click((await list('Guides')).getByRole('button', { name: 'Edge of the quay 90.00°' }))
      expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'guides', id: 'guide-1' })
      const name = await screen.findByRole('textbox', { name: 'Name' })
      await hand.clear(name)
      await hand.type(name, 'Quay wall{Enter}')
      expect((await list('Guides')).getByRole('button', { name: /^Quay wall/ })).toBeVisible()
      await hand.click(screen.getByRole('button', { name: 'Take this guide out' }))
      expect(stores.plan.getState().plan.guides).toEqual({})
      expect(screen.queryByRole('heading', { name: 'Guides' })).toBeNull()
    },
  )

  it('say of a line class which radius is its least and which its usual one', async () => {
    await desk('line')
    expect((await list('Line classes')).getByRole('button', { name: 'Main least 28 in, usual 32 in' })).toBeVisible()
  })
})
