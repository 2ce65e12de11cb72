import { cleanup } from '@testing-library/react'
import { afterEach, expect, it } from 'vitest'
import { turnoutAddOn } from '../../src/app/turnoutAdd.ts'
import type { Plan, Track } from '../../src/core/plan/types.ts'
import { renderOnDesk, roomPlan } from './desk.tsx'

afterEach(cleanup)

it('places a turnout without a pointer on a track that is curved all along', () => {
  const room = roomPlan()
  const ring: Track = {
    id: 'track-1',
    name: 'Ring',
    lineClass: 'main',
    start: { kind: 'free', x: 1500, y: 300 },
    // A square of 2.4 m whose corners take up all of its sides: a circle.
    corners: [
      [300, 300],
      [2700, 300],
      [2700, 2700],
      [300, 2700],
    ].map(([x = 0, y = 0], i) => ({ id: `pi-${i + 1}`, x, y, radius: 1200, easementIn: 0, easementOut: 0 })),
    end: { kind: 'closed' },
  }
  const plan: Plan = { ...room, tracks: { 'track-1': ring }, turnouts: {} }
  const { stores } = renderOnDesk(null, plan)
  turnoutAddOn(stores, ring)
  const [placed] = [...stores.derived.getState().derived.network.turnouts.values()]
  expect(placed?.result.ok).toBe(true)
  expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'turnouts', id: 'turnout-1' })
})
