import '@testing-library/jest-dom/vitest'
import { cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { CrossingParticulars } from '../../src/app/particulars/CrossingParticulars.tsx'
import { TurnoutParticulars } from '../../src/app/particulars/TurnoutParticulars.tsx'
import type { Plan } from '../../src/core/plan/types.ts'
import { aTrack, aTurnout, planWith } from '../support/plans.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

const long = aTrack({ end: { kind: 'free', x: 4000, y: 0 } })
const plain = planWith({ tracks: [long], turnouts: [aTurnout({ stationMm: 1500 })] })

describe('the particulars of a turnout', () => {
  it('change its kind, and start a track at either leg', async () => {
    const { stores } = renderOnDesk(<TurnoutParticulars id="turnout-1" />, plain)
    await hand.selectOptions(screen.getByLabelText(/^Kind/), 'three-way')
    expect(stores.plan.getState().plan.turnouts['turnout-1']?.kind).toMatchObject({ kind: 'three-way', secondFrog: 6 })
    await hand.click(screen.getByRole('button', { name: 'Start a track from its right leg' }))
    const made = Object.values(stores.plan.getState().plan.tracks).find(({ start }) => start.kind === 'leg')
    expect(made?.start).toEqual({ kind: 'leg', turnout: 'turnout-1', leg: 'other' })
    expect(stores.derived.getState().derived.network.tracks.get(made?.id ?? '')?.alignment.ok).toBe(true)
  })

  it('list what fits there, and a number pressed is taken', async () => {
    const { stores } = renderOnDesk(<TurnoutParticulars id="turnout-1" />, plain)
    await hand.click(screen.getByRole('button', { name: 'What fits here' }))
    const table = await screen.findByRole('table', { name: 'Frog numbers that fit here' })
    expect(within(table).getAllByRole('row')).toHaveLength(9)
    // The far end of its own track lies behind it: what leads there is told, and where none does, that too.
    await hand.selectOptions(screen.getByLabelText(/^Leg to reach/), 'start of Main')
    expect(within(table).getByRole('columnheader', { name: 'To the end' })).toBeVisible()
    await hand.click(within(table).getByRole('button', { name: 'No. 8' }))
    expect(stores.plan.getState().plan.turnouts['turnout-1']?.frog).toBe(8)
  })
})

describe('the particulars of a crossing', () => {
  const angle = 2 * Math.atan(1 / 16)
  const [dx, dy] = [1500 * Math.cos(angle), 1500 * Math.sin(angle)]
  const crossed: Plan = planWith({
    tracks: [long, aTrack({ id: 'track-2', start: { kind: 'free', x: 2000 - dx, y: -dy }, end: { kind: 'free', x: 2000 + dx, y: dy } })],
  })

  it('give slips to a place where nothing was chosen before, as one step that can be undone', async () => {
    const { stores } = renderOnDesk(<CrossingParticulars id="track-1:track-2:1" />, crossed)
    await hand.selectOptions(screen.getByLabelText(/^Slips/), 'double')
    expect(stores.plan.getState().plan.crossings['crossing-1']).toMatchObject({ slip: 'double', track: 'track-1', other: 'track-2' })
    expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'crossings', id: 'crossing-1' })
    const found = stores.derived.getState().derived.network.crossings.get('crossing-1')
    expect(found?.result.ok === true && found.result.crossing.slips).toHaveLength(2)
    stores.plan.getState().undo()
    expect(stores.plan.getState().plan.crossings).toEqual({})
  })
})
