import { describe, expect, it } from 'vitest'
import type { Plan } from '../../src/core/plan/types.ts'
import type { ToolName } from '../../src/store/types.ts'
import type { Snap } from '../../src/tools/types.ts'
import { snapWords } from '../../src/app/canvas/hintWords.ts'
import { aBend, aBenchwork, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { toolHarness } from '../support/toolHarness.ts'

const straight = aTrack()
const lineClasses = planWith().lineClasses
const centres = lineClasses[straight.lineClass]?.trackCentresMm ?? NaN

/** A line of 2 m with a turnout, a board's edge far below it, a joist below that. */
const plan: Plan = {
  ...planWith({ tracks: [straight], turnouts: [aTurnout({ stationMm: 1000 })], benchworks: [aBenchwork()] }),
  joists: { 'joist-1': { id: 'joist-1', name: 'Riser', from: { x: 400, y: -900 }, to: { x: 1400, y: -700 }, widthMm: 38 } },
}

/** What draws the pointer there, with what was set before. */
function snapAt(on: Plan, tool: ToolName, set: readonly (readonly [number, number])[], x: number, y: number): Snap | null {
  const hand = toolHarness(on, tool, 'metric')
  for (const place of set) hand.click(...place)
  const found = hand
    .pointerMove(x, y)
    .sketch()
    .flatMap((item) => (item.kind === 'snap' ? [item.snap] : []))
  return found[0] ?? null
}

describe('a snap says why', () => {
  it('to a leg, and then along its tangent', () => {
    const leg = toolHarness(plan, 'track')
      .pointerMove(0, 900)
      .sketch()
      .flatMap((item) => (item.kind === 'leg' ? [item.pose] : []))[0]
    if (leg === undefined) throw new Error('a turnout has a free leg')
    const on = snapAt(plan, 'track', [], leg.x + 4, leg.y - 3)
    expect(on).toMatchObject({ kind: 'leg', point: { x: leg.x, y: leg.y } })
    const ahead = snapAt(plan, 'track', [[leg.x, leg.y]], leg.x + 300, leg.y + 150)
    expect(ahead?.kind).toBe('legTangent')
    const heading = Math.atan2((ahead?.point.y ?? 0) - leg.y, (ahead?.point.x ?? 0) - leg.x)
    expect(heading).toBeCloseTo(leg.headingRad, 9)
  })

  it('to a PI', () => {
    const bend = planWith({ tracks: [aBend()] })
    const pi = bend.tracks[aBend().id]?.corners[0]
    if (pi === undefined) throw new Error('the bend has a PI')
    expect(snapAt(bend, 'track', [], pi.x + 5, pi.y - 5)).toMatchObject({ kind: 'pi', point: { x: pi.x, y: pi.y } })
  })

  it('along a tangent that a dragged PI keeps', () => {
    const bend = planWith({ tracks: [aBend()] })
    const track = aBend()
    const [pi] = track.corners
    if (pi === undefined || track.start.kind !== 'free') throw new Error('the bend has a start and a PI')
    const [ux, uy] = [pi.x - track.start.x, pi.y - track.start.y].map(
      (d) => d / Math.hypot(pi.x - (track.start as { x: number }).x, pi.y - (track.start as { y: number }).y),
    )
    const hand = toolHarness(bend, 'select', 'metric').select({ kind: 'record', table: 'tracks', id: track.id })
    const to = { x: pi.x - 60 * (ux ?? 0) - 5 * (uy ?? 0), y: pi.y - 60 * (uy ?? 0) + 5 * (ux ?? 0) }
    hand
      .pointerDown(pi.x, pi.y)
      .pointerMove(pi.x - 20, pi.y - 20)
      .pointerMove(to.x, to.y)
    const snap = hand.sketch().flatMap((item) => (item.kind === 'snap' ? [item.snap] : []))[0]
    expect(snap?.kind).toBe('tangent')
    expect(snap?.point.x).toBeCloseTo(pi.x - 60 * (ux ?? 0), 6)
    expect(snap?.point.y).toBeCloseTo(pi.y - 60 * (uy ?? 0), 6)
  })

  it.each([1, -1])('parallel to a track at the centres of its class, to hand %i', (hand) => {
    const snap = snapAt(plan, 'track', [], 333, hand * (centres + 4))
    expect(snap?.kind).toBe('parallel')
    expect(snap?.point.x).toBeCloseTo(333, 9)
    expect(snap?.point.y).toBeCloseTo(hand * centres, 9)
  })

  it('round a PI parallel to both its sides: the arcs lie about one middle', () => {
    const track = aBend({ start: { kind: 'free', x: 0, y: 0 }, end: { kind: 'free', x: 1000, y: 1000 } })
    const corner = track.corners[0]
    if (corner === undefined) throw new Error('the bend has a PI')
    const square = planWith({ tracks: [{ ...track, corners: [{ ...corner, x: 1000, y: 0 }] }] })
    const snap = snapAt(square, 'track', [], 1000 - centres + 3, centres - 2)
    expect(snap?.kind).toBe('parallelsCross')
    expect(snap?.point.x).toBeCloseTo(1000 - centres, 9)
    expect(snap?.point.y).toBeCloseTo(centres, 9)
  })

  it('to the edge of a board, and over a joist', () => {
    const board = aBenchwork()
    const [a, b] = board.outline
    if (a === undefined || b === undefined) throw new Error('a board has corners')
    const at = { x: a.x + (b.x - a.x) * 0.37, y: a.y + (b.y - a.y) * 0.37 }
    expect(snapAt(plan, 'joist', [], at.x, at.y + 3)?.kind).toBe('benchworkEdge')
    const joist = snapAt(plan, 'joist', [], 901, -793)
    expect(joist?.kind).toBe('joist')
    // On its middle line, which rises by 1 in 5.
    expect(((joist?.point.y ?? 0) + 900) / ((joist?.point.x ?? 0) - 400)).toBeCloseTo(0.2, 9)
  })

  it('in steps of 45 degrees, and of whole measures', () => {
    const empty = planWith()
    const angle = snapAt(empty, 'wall', [[0, 0]], 200, 204)
    expect(angle?.kind).toBe('angle')
    expect(Math.atan2(angle?.point.y ?? 0, angle?.point.x ?? 0)).toBeCloseTo(Math.PI / 4, 9)
    const whole = snapAt(empty, 'wall', [], 203, 97)
    expect(whole?.kind).toBe('whole')
    expect([(whole?.point.x ?? NaN) % 5, (whole?.point.y ?? NaN) % 5].map(Math.abs)).toEqual([0, 0])
  })

  it('in words', () => {
    for (const kind of [
      'leg',
      'pi',
      'legTangent',
      'tangent',
      'parallel',
      'parallelsCross',
      'benchworkEdge',
      'joist',
      'angle',
      'whole',
    ] as const)
      expect(snapWords(kind)).toMatch(/^[a-zA-Z0-9° ,]{3,}$/)
  })
})
