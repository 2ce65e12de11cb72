import '@testing-library/jest-dom/vitest'
import { cleanup, screen, within } from '@testing-library/react'
import { afterEach, expect, it, vi } from 'vitest'
import { planMarks, scaleBarMm } from '../../src/app/print/planMarks.ts'
import { planPrint } from '../../src/app/print/planPrint.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import { planFindings } from '../support/checks.ts'
import { aTrack, aTurnout, planWith } from '../support/plans.ts'
import { aDoor, aRoom, aShelf, box } from '../support/rooms.ts'
import { renderOnDesk } from './desk.tsx'

afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
  vi.unstubAllGlobals()
  // Not in jsdom 26.
  Reflect.deleteProperty(HTMLImageElement.prototype, 'decode')
})

it('prints the plan on a page with its tracks and findings, and leaves nothing behind', async () => {
  const { stores } = renderOnDesk(null)
  HTMLImageElement.prototype.decode = () => Promise.resolve()
  const revoked = vi.spyOn(URL, 'revokeObjectURL')
  let printed = 0
  vi.stubGlobal('print', () => {
    printed += 1
    const page = screen.getByRole('article', { hidden: true })
    const plan = stores.plan.getState().plan
    expect(within(page).getByRole('heading', { level: 1, hidden: true })).toHaveTextContent(plan.railway.title)
    expect(page).toHaveTextContent(/HO, 1:87\.1 · gauge 0\.651 in · plan [2-9A-Z]{6} · not to scale/)
    for (const { name } of Object.values(plan.tracks)) expect(page).toHaveTextContent(name)
    expect(page).toHaveTextContent('24½ in here, Main asks 28 in.')
    expect(document.title).toBe(plan.railway.title)
  })
  const title = document.title
  await planPrint(stores)
  expect(printed).toBe(1)
  window.dispatchEvent(new Event('afterprint'))
  expect(screen.queryByRole('article', { hidden: true })).toBeNull()
  expect(document.title).toBe(title)
  expect(revoked).toHaveBeenCalledTimes(1)
})

const metric = { units: 'metric', fraction: 16 } as const

it('has walls as thick as they are, doors, overall sizes and the numbers of its lists over the drawing', () => {
  const wall = aRoom()
  const plan = planWith({ walls: [wall], openings: [aDoor()], benchworks: [aShelf(box(0, 0, 2000, 500))], tracks: [aTrack()] })
  const { network } = pipelineCreate().derive(plan)
  const findings = planFindings(plan)
  const marks = planMarks({ plan, network, findings, prefs: metric }, 2)
  const words = marks.flatMap(({ shape }) => (shape.kind === 'text' ? [shape.text] : []))
  const points = marks.flatMap(({ shape }) => (shape.kind === 'polyline' ? shape.points : []))
  expect(words).toEqual(expect.arrayContaining(['Room 4000 mm', 'Room 3000 mm', 'Benchwork 2000 mm', 'Benchwork 500 mm', '500 mm']))
  // Once for the track, and once for each finding.
  expect(words.filter((text) => text === '1')).toHaveLength(findings.length > 0 ? 2 : 1)
  expect(words).toContain(`${findings.length}`)
  // The outer face of the wall, and the free end of the door's leaf.
  expect(points.some(({ x, y }) => Math.abs(x + wall.thicknessMm) < 1e-6 && Math.abs(y + wall.thicknessMm) < 1e-6)).toBe(true)
  expect(points.some(({ x, y }) => Math.abs(x - 1000) < 1e-6 && Math.abs(y - 800) < 1e-6)).toBe(true)
})

it('has a scale bar of a round length in the rule of the person', () => {
  expect(scaleBarMm(700, metric)).toBe(500)
  expect(scaleBarMm(700, { ...metric, units: 'imperial' })).toBeCloseTo(609.6, 9)
})

it('names every turnout beside its straight side, upright and clear of the other names', () => {
  const plan = planWith({
    tracks: [
      aTrack(),
      aTrack({ id: 'track-2', name: 'Back', start: { kind: 'free', x: 2000, y: 400 }, end: { kind: 'free', x: 0, y: 400 } }),
    ],
    turnouts: [
      aTurnout({ name: 'Quay points', stationMm: 300, hand: 'left' }),
      // Frog to frog: its name would lie on the other one's.
      aTurnout({ id: 'turnout-2', name: 'Mill points', stationMm: 640, hand: 'left', facing: 'falling' }),
      aTurnout({ id: 'turnout-3', name: 'Yard throat', track: 'track-2', stationMm: 300, hand: 'right' }),
    ],
  })
  const { network } = pipelineCreate().derive(plan)
  const mmPerPx = 4
  const marks = planMarks({ plan, network, findings: [], prefs: metric }, mmPerPx)
  const names = Object.values(plan.turnouts).map(({ name }) => {
    const found = marks.flatMap(({ shape }) => (shape.kind === 'text' && shape.text === name ? [shape] : []))
    expect(found).toHaveLength(1)
    return found[0]
  })
  const boxes = names.map((shape) => {
    if (shape === undefined) throw new Error('a turnout has no name')
    expect(Math.abs(Math.sin(shape.angleRad))).toBeLessThan(1e-9)
    expect(Math.cos(shape.angleRad)).toBeCloseTo(1, 9)
    // Letters half as wide as they are high, as sans faces are on the average: common practice, no source.
    const wide = shape.text.length * shape.heightMm * 0.5
    return { left: shape.at.x - wide / 2, right: shape.at.x + wide / 2, foot: shape.at.y, top: shape.at.y + 0.75 * shape.heightMm }
  })
  // A left hand turnout that faces rising stations of a track along +x has its straight side below.
  expect(boxes[0]?.top).toBeLessThan(0)
  for (const [i, box] of boxes.entries()) {
    for (const other of boxes.slice(i + 1))
      expect(box.right < other.left || other.right < box.left || box.top < other.foot || other.top < box.foot).toBe(true)
    for (const y of [0, 400]) expect(box.foot > y || box.top < y).toBe(true)
  }
})
