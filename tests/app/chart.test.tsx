import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { curvatureProfile, curveMarks, tickStep, withinReach } from '../../src/app/chart/chartModel.ts'
import { rows } from '../../src/app/chart/chartScale.ts'
import { TrackChart } from '../../src/app/chart/TrackChart.tsx'
import { breaches } from './breaches.ts'
import { inch, sharpPlan, standingPlan } from './chartPlan.ts'
import { hand, renderOnDesk } from './desk.tsx'
import { HandPointer } from './handPointer.ts'

beforeEach(() => vi.stubGlobal('PointerEvent', HandPointer))
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

describe('the track chart', () => {
  it('names every curve with its radius and side, and those under the limit', () => {
    renderOnDesk(<TrackChart />)
    expect(screen.getByRole('region', { name: 'Track chart of Harbour line' })).toBeVisible()
    expect(screen.getByRole('button', { name: 'PI 1: radius 32 in, 90.00° left' })).toBeVisible()
    expect(screen.getByRole('button', { name: /^PI 2: radius 24½ in, 90\.00° left, under the class limit/ })).toBeVisible()
    expect(screen.getByRole('button', { name: 'East quay, No. 6 L: left hand' })).toBeVisible()
    expect(screen.getByText('Main asks 28 in')).toBeVisible()
  })

  it('selects the corner that is clicked and marks its easement', async () => {
    const { stores } = renderOnDesk(<TrackChart />)
    await hand.click(screen.getByRole('button', { name: /^PI 1/ }))
    expect(stores.session.getState().selection).toEqual({ kind: 'corner', track: 'track-1', corner: 'pi-1' })
    for (const mark of ['TS', 'SC', 'CS', 'ST']) expect(screen.getByText(mark, { selector: 'text' })).toBeVisible()
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

describe('what stands on the chart', () => {
  it('points at its place on the canvas, and takes it back', () => {
    const { stores } = renderOnDesk(<TrackChart />)
    const chart = screen.getByRole('group', { name: 'Curves and turnouts by station' })
    fireEvent.pointerMove(chart, { clientX: 62 + 358, clientY: 40 })
    const solved = stores.derived.getState().derived.network.tracks.get('track-1')
    const lengthMm = solved?.alignment.ok === true ? solved.alignment.path.lengthMm : NaN
    // Half of the 716 px that 800 px have beside the gutters.
    expect(stores.session.getState().hover?.track).toBe('track-1')
    expect(stores.session.getState().hover?.stationMm).toBeCloseTo(lengthMm / 2, 6)
    fireEvent.pointerLeave(chart)
    expect(stores.session.getState().hover).toBeNull()
  })

  it('is pointed at on the canvas as long as keys go to it', async () => {
    const { stores } = renderOnDesk(<TrackChart />)
    await hand.click(screen.getByRole('button', { name: /^East quay/ }))
    const handle = screen.getByRole('slider', { name: 'Station of East quay' })
    act(() => handle.focus())
    expect(stores.session.getState().hover).toEqual({ track: 'track-1', stationMm: 30 * inch })
    fireEvent.keyDown(handle, { key: 'ArrowRight' })
    expect(stores.session.getState().hover?.stationMm).toBeCloseTo((30 + 1 / 16) * inch, 9)
    act(() => handle.blur())
    expect(stores.session.getState().hover).toBeNull()
  })

  it('findings, joints and portals are buttons that lead to what they are about', async () => {
    const { stores } = renderOnDesk(<TrackChart />, standingPlan())
    await hand.click(await screen.findByRole('button', { name: /^Curve under class radius: 24½ in/ }))
    expect(stores.session.getState().selection).toEqual({ kind: 'corner', track: 'track-1', corner: 'pi-2' })
    await hand.click(screen.getByRole('button', { name: /^Your joint in the left rail, 1′ 7/ }))
    expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'railJoints', id: 'joint-1' })
    await hand.click(screen.getByRole('button', { name: /^Cellar mouth/ }))
    expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'portals', id: 'portal-1' })
  })

  it('breaks no rule of accessible pages, with handles and a field open on it', async () => {
    renderOnDesk(<TrackChart />, standingPlan())
    await hand.click(screen.getByRole('button', { name: /^PI 2/ }))
    act(() => screen.getByRole('slider', { name: 'Easement in of PI 2' }).focus())
    await hand.keyboard('{Enter}')
    expect(screen.getByRole('textbox', { name: 'Easement in' })).toHaveFocus()
    expect(await breaches()).toEqual([])
  })

  it('clearances are shown and put away by their word', async () => {
    const { desk } = renderOnDesk(<TrackChart />)
    const word = screen.getByRole('button', { name: 'Clearances' })
    await hand.click(word)
    expect(desk.getState().bands).not.toBeNull()
    expect(word).toHaveAttribute('aria-pressed', 'true')
    await hand.click(word)
    expect(desk.getState().bands).toBeNull()
  })
})

describe('marks of a curve', () => {
  it('share their letters where they would cover each other', () => {
    const { stores } = renderOnDesk(<TrackChart />)
    const solved = stores.derived.getState().derived.network.tracks.get('track-1')
    const place = solved?.alignment.ok === true ? solved.alignment.corners[0] : undefined
    if (place === undefined) throw new Error('the line of the test is solved')
    const meeting = { ...place, csMm: place.scMm + 1 }
    expect(curveMarks(meeting, (mm) => mm * 0.1).map(({ name }) => name)).toEqual(['TS', 'SC CS', 'ST'])
    expect(curveMarks(place, (mm) => mm).map(({ name }) => name)).toEqual(['TS', 'SC', 'CS', 'ST'])
  })

  it('never print over each other, however little room there is; the ends stay', () => {
    const { stores } = renderOnDesk(<TrackChart />)
    const solved = stores.derived.getState().derived.network.tracks.get('track-1')
    const place = solved?.alignment.ok === true ? solved.alignment.corners[0] : undefined
    if (place === undefined) throw new Error('the line of the test is solved')
    const length = place.stMm - place.tsMm
    for (let px = 1; px < 400; px += 1.7) {
      const marks = curveMarks(place, (mm) => ((mm - place.tsMm) / length) * px)
      const said = marks.filter(({ name }) => name !== '')
      expect(marks.flatMap(({ ticks }) => ticks)).toHaveLength(4)
      expect(said[0]?.name).toMatch(/^TS/)
      expect(said.at(-1)?.name).toMatch(/ST$/)
      // 11 px type of the face: capitals are at most 6.2 px wide.
      for (const [i, { name, x }] of said.entries()) {
        const next = said[i + 1]
        if (next) expect(next.x - x).toBeGreaterThan(((name.length + next.name.length) / 2) * 6.2)
      }
    }
  })
})

describe('a curve far sharper than the class allows', () => {
  it('is cut off at the top, with its number; the lines of the limit keep clear of the axis', () => {
    renderOnDesk(<TrackChart />, sharpPlan())
    const heights = [...document.querySelectorAll('.class-limit')].map((line) =>
      Number(/ ([\d.]+)H/.exec(line.getAttribute('d') ?? '')?.[1]),
    )
    expect(heights).toHaveLength(2)
    for (const y of heights) expect(Math.abs(y - rows.curveAxis)).toBeGreaterThan(14)
    expect(document.querySelectorAll('.curve-cut')).toHaveLength(1)
    const shape = screen.getByRole('button', { name: /^PI 2: radius 3 in/ })
    expect(shape.querySelector('.curve-cut')).not.toBeNull()
    expect(shape.querySelector('.radius')).toHaveTextContent('3 in')
    // Nothing of the line leaves the row.
    for (const path of document.querySelectorAll('.curvature, .curve-shape .shape'))
      for (const [, y] of (path.getAttribute('d') ?? '').matchAll(/[ML][\d.]+ (-?[\d.]+)/g)) {
        expect(Number(y)).toBeGreaterThanOrEqual(rows.curveTop - 0.01)
        expect(Number(y)).toBeLessThanOrEqual(rows.curveFoot + 0.01)
      }
  })

  it('is cut where its easement leaves the row, and the slope before that is as it was', () => {
    const places = [
      { stationMm: 0, curvature: 0 },
      { stationMm: 100, curvature: 10 },
      { stationMm: 200, curvature: -10 },
    ]
    expect(withinReach(places, 5)).toEqual([
      { stationMm: 0, curvature: 0 },
      { stationMm: 50, curvature: 5 },
      { stationMm: 100, curvature: 5 },
      { stationMm: 125, curvature: 5 },
      { stationMm: 175, curvature: -5 },
      { stationMm: 200, curvature: -5 },
    ])
    expect(withinReach(places, 20)).toEqual(places)
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
