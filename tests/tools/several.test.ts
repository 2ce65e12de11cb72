import { describe, expect, it } from 'vitest'
import type { Plan } from '../../src/core/plan/types.ts'
import { aTrack, aTurnout, planAfter, planWith } from '../support/plans.ts'
import { toolHarness } from '../support/toolHarness.ts'

/** Two lines and a spur at a turnout of the first one. */
const plan: Plan = planWith({
  tracks: [
    aTrack(),
    aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', x: 0, y: 300 }, end: { kind: 'free', x: 2000, y: 300 } }),
    aTrack({
      id: 'track-3',
      name: 'Spur',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 1900, y: 150 },
    }),
  ],
  turnouts: [aTurnout({ stationMm: 1000 })],
})

const both = {
  kind: 'several',
  members: [
    { table: 'tracks', id: 'track-1' },
    { table: 'tracks', id: 'track-2' },
  ],
} as const

describe('several at once', () => {
  it('are chosen with Shift or Ctrl, one by one, and left out the same way', () => {
    const hand = toolHarness(plan).click(300, 0)
    expect(hand.selection()).toEqual({ kind: 'record', table: 'tracks', id: 'track-1' })
    hand.holding({ shift: true }).click(300, 300)
    expect(hand.selection()).toEqual(both)
    hand.holding({ ctrl: true }).click(300, 0)
    expect(hand.selection()).toEqual({ kind: 'record', table: 'tracks', id: 'track-2' })
  })

  it('are chosen by a frame around them; what sticks out is not', () => {
    const hand = toolHarness(plan).holding({ shift: true }).drag([-50, -60], [2050, 350])
    expect(hand.selection()).toMatchObject({ kind: 'several', members: [{ id: 'track-1' }, { id: 'track-2' }, { id: 'track-3' }] })
    hand.holding({}).select({ kind: 'none' }).option({ kind: 'box' }).drag([-50, 200], [2050, 350])
    expect(hand.selection()).toEqual({ kind: 'record', table: 'tracks', id: 'track-2' })
    hand.holding({ shift: true }).drag([-50, -50], [1500, 50]).expectUndoCount(0)
    expect(hand.selection()).toEqual({ kind: 'record', table: 'tracks', id: 'track-2' })
  })

  it('take along what was measured on them, and nothing that ends elsewhere', () => {
    const reading = (id: string, to: { readonly x: number; readonly y: number }) =>
      ({ id, name: id, of: { kind: 'distance', from: { x: 700, y: 0 }, to } }) as const
    const measured: Plan = {
      ...plan,
      readings: {
        'reading-1': reading('reading-1', { x: 700, y: 300 }),
        'reading-2': reading('reading-2', { x: 700, y: 500 }),
        'reading-3': { id: 'reading-3', name: '', of: { kind: 'radius', track: 'track-1', stationMm: 400 } },
      },
    }
    const hand = toolHarness(measured, 'select', 'metric').select(both).drag([300, 0], [320, 50]).expectUndoCount(1)
    expect(hand.plan().readings).toEqual({
      ...measured.readings,
      'reading-1': { id: 'reading-1', name: 'reading-1', of: { kind: 'distance', from: { x: 720, y: 50 }, to: { x: 720, y: 350 } } },
    })
    // By itself a reading is moved as a guide is; one on a track goes with that.
    hand.select({ kind: 'record', table: 'readings', id: 'reading-2' }).key('ArrowUp').expectUndoCount(2)
    hand.select({ kind: 'record', table: 'readings', id: 'reading-3' }).key('ArrowUp').expectHint('stretch').expectUndoCount(2)
  })

  it('move together with what hangs on them, as one step; Escape puts all back', () => {
    const hand = toolHarness(plan, 'select', 'metric').select(both).drag([300, 0], [320, 50])
    hand.expectUndoCount(1).expectPlan(({ tracks }) => {
      expect(tracks['track-1']?.start).toMatchObject({ x: 20, y: 50 })
      expect(tracks['track-2']?.end).toMatchObject({ x: 2020, y: 350 })
      expect(tracks['track-3']?.end).toMatchObject({ x: 1920, y: 200 })
    })
    const moved = hand.plan()
    hand.pointerDown(320, 50).pointerMove(500, 500).escape().expectNoTransaction()
    expect(hand.plan()).toBe(moved)
    hand.undo()
    expect(hand.plan()).toEqual(plan)
  })

  it('turn by the knob above them, in steps of five degrees, or by a typed angle', () => {
    const hand = toolHarness(plan).select(both)
    // The middle of their frame is (1000, 150); the knob is 34 px above it.
    hand.pointerDown(1000, 334).pointerMove(990, 334).pointerMove(803, 152)
    hand.pointerUp(803, 152).expectUndoCount(1)
    hand.expectPlan(({ tracks }) => {
      const start = tracks['track-1']?.start
      expect(start?.kind === 'free' && Math.abs(start.x - 1150) < 1e-9 && Math.abs(start.y + 850) < 1e-9).toBe(true)
    })
    hand.undo().pointerDown(1000, 334).pointerMove(900, 334).type('180').expectUndoCount(1).expectNoTransaction()
    hand.expectPlan(({ tracks }) => expect(tracks['track-2']?.start).toMatchObject({ x: 2000, y: 0 }))
  })

  it('move by a typed step and by arrow keys', () => {
    const hand = toolHarness(plan, 'select', 'metric').select(both).type('120<90').type('@30; -20').key('ArrowRight')
    hand.expectUndoCount(3).expectPlan(({ tracks }) => expect(tracks['track-1']?.start).toMatchObject({ x: 31, y: 100 }))
    hand.type('50').expectHint('entry')
  })

  it('say what holds them when one of them hangs on what stays', () => {
    const spur = { kind: 'several', members: [both.members[1], { table: 'tracks', id: 'track-3' }] } as const
    const hand = toolHarness(plan).select(spur).drag([300, 300], [300, 400])
    hand.expectHint('stretch').expectUndoCount(0).expectNoTransaction()
    expect(hand.plan()).toEqual(plan)
  })

  it('are taken out as one step', () => {
    toolHarness(plan)
      .select(both)
      .key('Delete')
      .expectUndoCount(1)
      .expectPlan(({ tracks, turnouts }) => {
        expect(Object.keys(tracks)).toEqual(['track-3'])
        expect(turnouts).toEqual({})
      })
  })

  it('stay when one of them is locked, and say so', () => {
    const locked = planAfter(plan, { kind: 'lock.add', record: { table: 'tracks', record: 'track-2' } })
    const hand = toolHarness(locked).select(both).drag([300, 0], [320, 50]).expectHint('edit').expectUndoCount(0)
    expect(hand.plan()).toEqual(locked)
  })
})

describe('one thing', () => {
  it('is moved by a typed step during its drag, whatever the pointer does meanwhile', () => {
    const hand = toolHarness(plan, 'select', 'metric').select({ kind: 'record', table: 'tracks', id: 'track-2' })
    hand.pointerDown(300, 300).pointerMove(300, 330)
    hand.type('75').expectNoTransaction().expectUndoCount(1)
    hand.expectPlan(({ tracks }) => expect(tracks['track-2']?.start).toMatchObject({ x: 0, y: 375 }))
  })

  it('goes along and across its line with Alt and an arrow', () => {
    const slanted = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 300, y: 400 } })] })
    const hand = toolHarness(slanted, 'select', 'metric').select({ kind: 'record', table: 'tracks', id: 'track-1' }).holding({ alt: true })
    hand.key('ArrowRight').expectPlan(({ tracks }) => {
      const start = tracks['track-1']?.start
      expect(start?.kind === 'free' && Math.hypot(start.x - 0.6, start.y - 0.8) < 1e-9).toBe(true)
    })
    hand.key('ArrowUp').expectPlan(({ tracks }) => {
      const start = tracks['track-1']?.start
      expect(start?.kind === 'free' && Math.hypot(start.x + 0.2, start.y - 1.4) < 1e-9).toBe(true)
    })
  })

  it('is a turnout: a typed measure goes along its track', () => {
    const hand = toolHarness(plan, 'select', 'metric').select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }).type('-150')
    hand.expectPlan(({ turnouts }) => expect(turnouts['turnout-1']?.stationMm).toBe(850))
  })
})
