import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { curvatureProfile, tickStep } from '../../src/app/chart/chartModel.ts'
import { TrackChart } from '../../src/app/chart/TrackChart.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

describe('the track chart', () => {
  it('names every curve with its radius and side, and those under the limit', () => {
    renderOnDesk(<TrackChart />)
    expect(screen.getByRole('region', { name: 'Track chart of Harbour line' })).toBeVisible()
    expect(screen.getByRole('button', { name: /^PI 1: radius 32 in, 90\.00° left\. Up and down/ })).toBeVisible()
    expect(screen.getByRole('button', { name: /^PI 2: radius 24½ in, 90\.00° left, under the class limit/ })).toBeVisible()
    expect(screen.getByRole('button', { name: 'East quay, No. 6 L: left hand' })).toBeVisible()
    expect(screen.getByText('Main asks 28 in')).toBeVisible()
  })

  it('selects the corner that is clicked and marks its easement', async () => {
    const { stores } = renderOnDesk(<TrackChart />)
    await hand.click(screen.getByRole('button', { name: /^PI 1/ }))
    expect(stores.session.getState().selection).toEqual({ kind: 'corner', track: 'track-1', corner: 'pi-1' })
    for (const mark of ['TS', 'SC', 'CS', 'ST']) expect(screen.getByText(mark)).toBeVisible()
  })

  it('changes a radius by the arrow keys, one step for a held key', () => {
    const { stores } = renderOnDesk(<TrackChart />)
    const curve = screen.getByRole('button', { name: /^PI 2/ })
    fireEvent.keyDown(curve, { key: 'ArrowUp' })
    fireEvent.keyDown(curve, { key: 'ArrowUp' })
    fireEvent.keyUp(curve, { key: 'ArrowUp' })
    expect(stores.plan.getState().plan.tracks['track-1']?.corners[1]?.radius).toBeCloseTo((24.5 + 2 / 16) * 25.4, 9)
    expect(stores.plan.getState().undoStack).toHaveLength(1)
  })

  it('shows the place that the canvas points at', () => {
    const { stores } = renderOnDesk(<TrackChart />)
    act(() => stores.session.getState().setHover({ track: 'track-1', stationMm: 48.375 * 25.4 }))
    expect(screen.getByText('4′ 0⅜″')).toBeVisible()
  })

  it('says what is wrong with a line that cannot be solved', () => {
    const { stores } = renderOnDesk(<TrackChart />)
    act(() => void stores.plan.getState().apply({ kind: 'corner.set', track: 'track-1', corner: 'pi-2', change: { easementIn: 3000 } }))
    expect(screen.getByText(/easements at PI 2 turn .* more than the corner does/)).toBeVisible()
  })

  it('has words for a room without track', () => {
    const { stores } = renderOnDesk(<TrackChart />)
    act(() => void stores.plan.getState().apply({ kind: 'remove', table: 'tracks', id: 'track-1' }))
    expect(screen.getByText(/No track yet/)).toBeVisible()
  })
})

describe('the curvature profile', () => {
  it('jumps where a curve has no easement and slopes where it has one', () => {
    const start = { x: 0, y: 0, headingRad: 0 }
    const element = (startStationMm: number, lengthMm: number, k0: number, k1: number) => ({ startStationMm, lengthMm, k0, k1, start })
    const path = {
      lengthMm: 400,
      end: start,
      elements: [element(0, 100, 0, 0), element(100, 100, 0, 0.002), element(200, 100, 0.002, 0.002), element(300, 100, 0, 0)],
    }
    expect(curvatureProfile(path).map(({ stationMm, curvature }) => [stationMm, curvature])).toEqual([
      [0, 0],
      [100, 0],
      [200, 0.002],
      [300, 0.002],
      [300, 0],
      [400, 0],
    ])
  })

  it('has ticks that do not crowd, on feet or round millimetres', () => {
    expect(tickStep(0.1, 'imperial')).toBe(1219.2)
    expect(tickStep(0.1, 'metric')).toBe(1000)
    expect(tickStep(0.0001, 'metric')).toBe(10000)
  })
})
