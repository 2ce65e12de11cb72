import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { pathNearest, pathPoseAt } from '../../src/core/geom/index.ts'
import type { Path } from '../../src/core/geom/types.ts'
import { hand, renderOnDesk } from './desk.tsx'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

const inch = 25.4

/** A track started from the leg of the turnout on the first straight of the room's track. */
async function started(part = <Particulars />): Promise<Desk> {
  const desk = renderOnDesk(part)
  act(() => desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
  await hand.click(screen.getByRole('button', { name: 'Start a track from its leg' }))
  return desk
}

function lineOf({ stores }: Desk, id: string): Path {
  const alignment = stores.derived.getState().derived.network.tracks.get(id)?.alignment
  if (alignment?.ok !== true) throw new Error(`${id} has no line`)
  return alignment.path
}

const trackOf = ({ stores }: Desk) => stores.plan.getState().plan.tracks['track-2']
const steps = ({ stores }: Desk): number => stores.plan.getState().undoStack.length

describe('a track that has just left its host', () => {
  it('is laid on beside it at the centres of its class, as one step that was held over the plan first', async () => {
    const desk = await started()
    await hand.click(screen.getByRole('button', { name: 'Lay a parallel to Harbour line from here…' }))
    await screen.findByRole('heading', { name: 'Lay a parallel from the leg' })
    const shown = desk.desk.getState().trial?.chosen?.lengthMm ?? Number.NaN
    const before = steps(desk)
    await hand.click(screen.getByRole('button', { name: 'Lay this line' }))
    expect(steps(desk)).toBe(before + 1)
    const line = lineOf(desk, 'track-2')
    expect(line.lengthMm).toBeCloseTo(shown, 6)
    // The host lies straight along y = 12 in there, and the turnout is left-hand: the end lies centres above it, headed the same way.
    const { trackCentresMm } = desk.stores.plan.getState().plan.lineClasses['main'] ?? { trackCentresMm: Number.NaN }
    expect(line.end.y).toBeCloseTo(12 * inch + trackCentresMm, 6)
    expect(line.end.headingRad).toBeCloseTo(0, 9)
    expect(desk.stores.session.getState().selection).toEqual({ kind: 'record', table: 'tracks', id: 'track-2' })
    expect(screen.getByRole('heading', { name: trackOf(desk)?.name ?? '' })).toBeVisible()
    expect(screen.queryByRole('region', { name: 'What next' })).toBeNull()
  })

  it('is offered no more straight than its host has beside it', async () => {
    const desk = renderOnDesk(<Particulars />)
    act(() => {
      desk.stores.plan.getState().apply({ kind: 'turnout.set', id: 'turnout-1', change: { facing: 'falling' } })
      desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' })
    })
    await hand.click(screen.getByRole('button', { name: 'Start a track from its leg' }))
    await hand.click(screen.getByRole('button', { name: 'Lay a parallel to Harbour line from here…' }))
    await hand.click(await screen.findByRole('button', { name: 'Lay this line' }))
    // The host begins at x = 12 in, 30 in from the points.
    const { x } = lineOf(desk, 'track-2').end
    expect(x / inch).toBeGreaterThan(11)
    expect(x / inch).toBeLessThan(20)
  })

  it('on a curve is first offered what can be done there', async () => {
    const desk = renderOnDesk(<Particulars />)
    act(() => {
      desk.stores.plan.getState().apply({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 118 * inch } })
      desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' })
    })
    await hand.click(screen.getByRole('button', { name: 'Start a track from its leg' }))
    const next = within(screen.getByRole('region', { name: 'What next' }))
    expect(next.getByRole('button', { name: 'Draw on from its end' })).toHaveClass('is-main')
    expect(next.getByRole('button', { name: 'Lay a parallel to Harbour line from here…' })).not.toHaveClass('is-main')
  })

  it('is not tried beside it with each step of a drag, only once the plan lies still', async () => {
    const { stores } = await started()
    const parallel = (): HTMLElement => screen.getByRole('button', { name: 'Lay a parallel to Harbour line from here…' })
    expect(parallel()).toHaveClass('is-main')
    const ontoCurve = { kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 118 * inch } } as const
    act(() => {
      stores.plan.getState().begin('Move')
      stores.plan.getState().replace(ontoCurve)
    })
    expect(parallel()).toHaveClass('is-main')
    act(() => stores.plan.getState().commit())
    expect(parallel()).not.toHaveClass('is-main')
  })

  it('comes back to its host by a turnout, also where that faces the other way', async () => {
    for (const facing of ['rising', 'falling'] as const) {
      const desk = renderOnDesk(<Particulars />)
      act(() => {
        desk.stores.plan
          .getState()
          .apply({ kind: 'turnout.set', id: 'turnout-1', change: { facing, stationMm: (facing === 'rising' ? 10 : 80) * inch } })
        desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' })
      })
      await hand.click(screen.getByRole('button', { name: 'Start a track from its leg' }))
      await hand.click(screen.getByRole('button', { name: 'Lay a parallel to Harbour line from here…' }))
      await hand.selectOptions(await screen.findByRole('combobox', { name: 'Its far end' }), 'comes back by a turnout')
      const back = screen.getByRole('textbox', { name: 'Back at' })
      await hand.clear(back)
      await hand.type(back, `${facing === 'rising' ? 80 : 10} in{Enter}`)
      await hand.click(screen.getByRole('button', { name: 'Lay this line' }))
      const { plan } = desk.stores.plan.getState()
      const line = lineOf(desk, 'track-2')
      const host = lineOf(desk, 'track-1')
      const { trackCentresMm } = plan.lineClasses['main'] ?? { trackCentresMm: Number.NaN }
      expect(pathNearest(host, pathPoseAt(line, line.lengthMm / 2)).distanceMm).toBeCloseTo(trackCentresMm, 6)
      expect(Object.keys(plan.turnouts)).toEqual(['turnout-1', 'turnout-2'])
      expect(desk.stores.derived.getState().derived.network.turnouts.get('turnout-2')?.result.ok).toBe(true)
      // The turnout that was there stays as it was, and nothing of it is a maker's.
      expect(plan.turnouts['turnout-1']?.facing).toBe(facing)
      expect(plan.makers).toEqual({})
      cleanup()
    }
  })

  it('gets a corner that its curve has room for: it is made longer, and that is said', async () => {
    const desk = await started()
    const before = steps(desk)
    await hand.click(screen.getByRole('button', { name: 'Add a corner before it' }))
    expect(steps(desk)).toBe(before + 1)
    expect(desk.stores.session.getState().notice).toMatch(
      /^The track was made .* longer at its end: the new corner has room for a turn of 30/,
    )
    const [corner] = trackOf(desk)?.corners ?? []
    const end = trackOf(desk)?.end
    if (corner === undefined || end?.kind !== 'free') throw new Error('no corner, or no end')
    // The end turned about the corner by what was said: a line, with the curve of its class.
    const turned = (30 * Math.PI) / 180
    const [dx, dy] = [end.x - corner.x, end.y - corner.y]
    const put = (rad: number): void => {
      const [cos, sin] = [Math.cos(rad), Math.sin(rad)]
      const to = { kind: 'free', x: corner.x + dx * cos - dy * sin, y: corner.y + dx * sin + dy * cos } as const
      act(() => void desk.stores.plan.getState().apply({ kind: 'track.setEnd', id: 'track-2', end: to }))
    }
    for (const rad of [turned, -turned]) {
      put(rad)
      const alignment = desk.stores.derived.getState().derived.network.tracks.get('track-2')?.alignment
      expect(alignment?.ok === true ? alignment.corners[0]?.solution.radiusMm : null).toBeCloseTo(32 * inch, 6)
    }
    act(() => void desk.stores.plan.getState().undo())
    act(() => void desk.stores.plan.getState().undo())
    act(() => void desk.stores.plan.getState().undo())
    expect(trackOf(desk)?.corners).toEqual([])
  })

  it('is drawn on from its end: straight ahead first, then as the hand goes, and stays one track', async () => {
    const desk = await started(
      <>
        <Canvas />
        <Particulars />
      </>,
    )
    const was = lineOf(desk, 'track-2')
    const before = steps(desk)
    await hand.click(screen.getByRole('button', { name: 'Draw on from its end' }))
    expect(desk.stores.session.getState().tool).toBe('track')
    // The first side lies on the tangent whatever is typed; 20 in of it at 0 degrees are less along the leg.
    await hand.keyboard('20<0{Enter}')
    await hand.keyboard('40<60{Enter}')
    await hand.keyboard('{Enter}')
    expect(steps(desk)).toBe(before + 1)
    const track = trackOf(desk)
    expect(Object.keys(desk.stores.plan.getState().plan.tracks)).toEqual(['track-1', 'track-2'])
    expect(track?.start).toEqual({ kind: 'leg', turnout: 'turnout-1', leg: 'diverging' })
    expect(track?.corners).toHaveLength(1)
    // Ahead of where it ended, on its line.
    const [pi] = track?.corners ?? []
    const along = 20 * inch * Math.cos(was.end.headingRad)
    expect(pi).toMatchObject({
      x: expect.closeTo(was.end.x + along * Math.cos(was.end.headingRad), 6),
      y: expect.closeTo(was.end.y + along * Math.sin(was.end.headingRad), 6),
    })
    expect(lineOf(desk, 'track-2').end.headingRad).toBeCloseTo(Math.PI / 3, 6)
    expect(desk.stores.session.getState()).toMatchObject({ tool: 'select', selection: { kind: 'record', table: 'tracks', id: 'track-2' } })
  })
})
