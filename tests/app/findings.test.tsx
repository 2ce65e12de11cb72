import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { ChecksStage } from '../../src/app/stages/ChecksStage.tsx'
import { StageColumn } from '../../src/app/stages/StageColumn.tsx'
import { cureOutcome } from '../../src/words/checksText.ts'
import { findingText } from '../../src/words/findingText.ts'
import { silenceOf } from '../../src/core/checks/index.ts'
import type { Finding } from '../../src/core/checks/types.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

afterEach(cleanup)

const inches = { units: 'imperial', fraction: 64 } as const
const base: Finding = {
  id: 'one',
  rule: 'minimum-radius',
  severity: 'error',
  stage: 'line',
  table: 'tracks',
  record: 'track-1',
  otherRecord: null,
  corner: 'pi-2',
  stationFromMm: 100,
  stationToMm: 200,
  x: 0,
  y: 0,
  measured: 24.5 * 25.4,
  limit: 28 * 25.4,
  unit: 'mm',
  source: 'class:main',
  problem: null,
  cure: null,
}

describe('what a cure changes', () => {
  it('takes a finding that moved along its track for the same one, and one farther off for another', () => {
    const at = (id: string, stationFromMm: number, change: Partial<Finding> = {}): Finding => ({
      ...base,
      id,
      rule: 'track-clearance',
      corner: null,
      stationFromMm,
      stationToMm: stationFromMm + 50,
      // On a straight along x.
      x: stationFromMm,
      ...change,
    })
    const cured = at('a', 100)
    const moved = at('b@1000', 1000)
    const alone = at('c', 3000)
    const movedOn = at('b@1090', 1090)
    const far = at('d', 4000)
    const ofAnother = at('e', 100, { record: 'track-2' })
    expect(cureOutcome(cured, [cured, moved, alone], [movedOn, far, ofAnother])).toEqual({
      left: null,
      gone: [alone],
      come: [far, ofAnother],
    })
    expect(cureOutcome(cured, [cured], [at('f', 160)]).left?.id).toBe('f')
  })

  it('knows findings that are counted along a line by their places: with the first cured, the second is not it', () => {
    const counted = (count: number, stationFromMm: number, x = stationFromMm): Finding => ({
      ...base,
      id: `benchwork-edge:track-1:${count}`,
      rule: 'benchwork-edge',
      corner: null,
      stationFromMm,
      stationToMm: stationFromMm + 50,
      x,
      y: 0,
    })
    const [first, second] = [counted(0, 100), counted(1, 2000)]
    const secondNow = counted(0, 2010)
    expect(cureOutcome(first, [first, second], [secondNow])).toEqual({ left: null, gone: [], come: [] })
    // What went farther off than a finding wanders is another, whatever it is counted as.
    expect(cureOutcome(first, [first], [counted(0, 3000)])).toMatchObject({ left: null, come: [{ stationFromMm: 3000 }] })
    // All stations have shifted by half a metre, and the place is where it was.
    expect(cureOutcome(second, [second], [counted(0, 2500, 2000)]).left?.stationFromMm).toBe(2500)
    // A finding of a corner is that corner's, wherever its curve now lies.
    const [sharp, sharpNow] = [
      { ...base, stationFromMm: 100, x: 0 },
      { ...base, stationFromMm: 900, x: 800 },
    ]
    expect(cureOutcome(sharp, [sharp], [sharpNow]).left).toBe(sharpNow)
  })
})

describe('the words of a finding', () => {
  const plan = roomPlan()
  it.each<readonly [Partial<Finding>, string, string]>([
    [{}, 'Curve under class radius', '24½ in here, Main asks 28 in.'],
    [
      { rule: 'benchwork-edge', measured: 25.4, limit: 50.8, source: 'railway' },
      'Track near the edge',
      '1 in to the edge here, the margin is 2 in.',
    ],
    [
      { rule: 'benchwork-edge', measured: -25.4, limit: 50.8, source: 'railway' },
      'Track off the benchwork',
      'The centreline lies 1 in past the edge; 2 in inside is asked.',
    ],
    [
      { rule: 'minimum-frog', table: 'turnouts', record: 'turnout-1', measured: 4.5, limit: 6, unit: 'number' },
      'Frog under class number',
      'No. 4½ here, Main asks No. 6.',
    ],
    [
      { rule: 'track-clearance', otherRecord: 'track-1', measured: 38.1, limit: 50.8, source: 'class:main' },
      'Tracks too close',
      '1½ in to Harbour line here, Main asks 2 in.',
    ],
    [
      { rule: 'track-clearance', otherRecord: 'track-1', measured: 3.175, limit: 6.35, source: 'railway' },
      'Tracks too close',
      'Cars come within ⅛ in of those on Harbour line; ¼ in running clearance is asked. ⅛ in more between the tracks would do.',
    ],
    [
      {
        rule: 'fixed-clearance',
        measured: -12.7,
        limit: 6.35,
        source: 'railway',
        problem: { kind: 'nearFixed', table: 'walls' },
      },
      'Cars too close to a wall',
      'Cars reach ½ in into a wall. ¾ in farther away would do.',
    ],
    [
      {
        rule: 'turnout-place',
        table: 'turnouts',
        record: 'turnout-1',
        measured: null,
        limit: null,
        problem: { kind: 'runsOff', end: 'end', overMm: 12.7 },
      },
      'Turnout out of place',
      'It runs ½ in past the end of its track.',
    ],
    [
      {
        rule: 'reverse-curve',
        severity: 'error',
        measured: 25.4,
        limit: 254,
        source: 'class:main',
        problem: { kind: 'curvesInARow', hands: [1, -1], straightMm: 25.4, easementsMm: [0, 0], turnout: null },
      },
      'Reverse curve without tangent',
      '1 in of straight between a curve to the left and one to the right; Main asks 10 in.',
    ],
    [
      {
        rule: 'reverse-curve',
        severity: 'warning',
        measured: 76.2,
        limit: 254,
        source: 'car:car-none',
        problem: { kind: 'curvesInARow', hands: [-1, 1], straightMm: 0, easementsMm: [101.6, 50.8], turnout: null },
      },
      'Reverse curve, little tangent',
      'No straight, with easements of 4 in and 2 in that count half, between a curve to the right and one to the left; its longest car asks 10 in.',
    ],
    [
      {
        rule: 'broken-back',
        severity: 'warning',
        measured: 127,
        limit: 254,
        source: 'class:main',
        problem: { kind: 'curvesInARow', hands: [1, 1], straightMm: 101.6, easementsMm: [50.8, 0], turnout: null },
      },
      'Broken-back curve',
      '4 in of straight, with an easement of 2 in that counts half, between two curves to the left; Main asks 10 in. One curve of several radii would do instead.',
    ],
    [
      {
        rule: 'easement-fit',
        measured: null,
        limit: null,
        problem: { kind: 'easementsTooLong', corner: 1, at: { x: 0, y: 0 }, excessRad: 0.1, shortByMm: 50.8, fittingFactor: 0.8 },
      },
      'Easements do not fit',
      'The easements at PI 2 turn 5.73° more than the corner does: 2 in of arc is missing. At 80 % of their length they just meet.',
    ],
  ])('of %o', (change, title, body) => {
    expect(findingText({ ...base, ...change }, plan, inches)).toMatchObject({ title, body })
  })

  it('offer the cure as something to do', () => {
    const cure = { kind: 'setRadius', track: 'track-1', corner: 'pi-2', radiusMm: 28 * 25.4 } as const
    expect(findingText({ ...base, cure }, plan, inches).cures).toEqual(['Make it 28 in'])
    expect(findingText({ ...base, cure }, plan, { units: 'metric', fraction: 64 }).cures).toEqual(['Make it 711.2 mm'])
  })
})

describe('the Checks stage', () => {
  it('lists the curve that is too sharp with measured and limit', () => {
    renderOnDesk(<ChecksStage />)
    const row = screen.getByText('24½ in here, Main asks 28 in.').closest('li')
    expect(row).not.toBeNull()
    expect(within(row ?? document.body).getByText('Error · Harbour line, PI 2')).toBeVisible()
  })

  it('goes to the place', async () => {
    const { stores } = renderOnDesk(<ChecksStage />)
    const finding = stores.derived.getState().findings.find((candidate) => candidate.rule === 'minimum-radius')
    const [x, y] = [finding?.x ?? 0, finding?.y ?? 0]
    // In sight, though small: the view stays. Out of it: it is brought to the middle, as near as before.
    const seen = { centre: { x: x + 300, y }, pxPerMm: 0.3 }
    act(() => stores.session.getState().setViewport(seen))
    await hand.click(screen.getByRole('button', { name: /^Curve under class radius/ }))
    expect(stores.session.getState().selection).toEqual({ kind: 'corner', track: 'track-1', corner: 'pi-2' })
    expect(stores.session.getState().viewport).toEqual(seen)
    act(() => stores.session.getState().setViewport({ centre: { x: x + 30000, y }, pxPerMm: 0.3 }))
    await hand.click(screen.getByRole('button', { name: /^Curve under class radius/ }))
    const { centre, pxPerMm } = stores.session.getState().viewport
    expect(pxPerMm).toBe(0.3)
    expect(Math.hypot(centre.x - x, centre.y - y) * pxPerMm).toBeLessThan(100)
  })

  const rowOf = (text: string): HTMLElement => screen.getByText(text).closest('li') ?? document.body
  const sharp = '24½ in here, Main asks 28 in.'

  it('shows a cure on the plan with what it changes, and does it as one step that can be taken back', async () => {
    const { stores, desk } = renderOnDesk(
      <>
        {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex */}
        <div className="canvas" role="application" tabIndex={0} />
        <ChecksStage />
      </>,
    )
    const before = stores.plan.getState().plan
    await hand.click(within(rowOf(sharp)).getByRole('button', { name: 'Make it 28 in' }))
    expect(await screen.findByText('It cures this.')).toBeVisible()
    expect(screen.getByText('It brings no new finding.')).toBeVisible()
    expect(desk.getState().trial?.chosen?.lengthMm).toBeGreaterThan(1000)
    expect(stores.plan.getState().plan).toBe(before)
    await hand.click(screen.getByRole('button', { name: 'Apply' }))
    expect(stores.plan.getState().plan.tracks['track-1']?.corners[1]?.radius).toBeCloseTo(28 * 25.4, 6)
    expect(stores.plan.getState().undoStack).toHaveLength(1)
    await waitFor(() => expect(screen.queryByText(sharp)).toBeNull())
    // The row is gone; the keys have not fallen off the desk.
    expect(screen.getByRole('application')).toHaveFocus()
    expect(desk.getState().trial).toBeNull()
    act(() => void stores.plan.getState().undo())
    expect(await screen.findByText(sharp)).toBeVisible()
  })

  it('brings the acts of what is opened low down into sight: of a cure, and of how a rule is told', async () => {
    const shown: Element[] = []
    // Not in jsdom 26. Newer browsers answer with a promise, which is no way to end an effect.
    Element.prototype.scrollIntoView = function (): void {
      shown.push(this)
      return Promise.resolve() as unknown as undefined
    }
    renderOnDesk(<ChecksStage />)
    const seen = (): string => shown.map(({ textContent }) => textContent).join()
    await hand.click(within(rowOf(sharp)).getByRole('button', { name: 'Make it 28 in' }))
    await waitFor(() => expect(seen()).toContain('Apply'))
    await hand.click(within(rowOf(sharp)).getByRole('button', { name: /Set how it is told on all of Main/ }))
    await waitFor(() => expect(seen()).toContain('Open the limits of Main'))
    Reflect.deleteProperty(Element.prototype, 'scrollIntoView')
  })

  it('shows a cure in the panel of the track that is chosen, and keeps that chosen', async () => {
    const { stores } = renderOnDesk(<Particulars />)
    const chosen = { kind: 'record', table: 'tracks', id: 'track-1' } as const
    act(() => stores.session.getState().select(chosen))
    await hand.click((await screen.findAllByRole('button', { name: 'Make it 28 in' }))[0] ?? document.body)
    expect(await screen.findByRole('button', { name: 'Apply' })).toBeVisible()
    expect(stores.session.getState().selection).toEqual(chosen)
  })

  it('keeps one line before the numbers for what is found, and tells the whole of it after them', async () => {
    const { stores } = renderOnDesk(<Particulars />)
    act(() => stores.session.getState().select({ kind: 'corner', track: 'track-1', corner: 'pi-2' }))
    const line = await screen.findByRole('button', { name: /^Curve under class radius .*below$/ })
    const [first, last] = [screen.getAllByRole('textbox')[0], screen.getAllByRole('button', { name: /corner/ }).at(-1)]
    const list = screen.getByRole('list', { name: 'Findings here' })
    // What comes late may push what follows it: the line has its room from the start, the list has nothing after it.
    expect(line.compareDocumentPosition(first ?? line)).toBe(Node.DOCUMENT_POSITION_FOLLOWING)
    expect(list.compareDocumentPosition(last ?? list)).toBe(Node.DOCUMENT_POSITION_PRECEDING)
    await hand.click(line)
    expect(list.parentElement).toHaveFocus()
    const radius = screen.getByRole('textbox', { name: 'Radius' })
    await hand.clear(radius)
    await hand.type(radius, '30in{Enter}')
    // Another line, or that nothing is found: in the same room.
    await waitFor(() => expect(document.querySelector('.findings-line')).not.toHaveTextContent('Curve under class radius'))
    expect(document.querySelectorAll('.findings-line')).toHaveLength(1)
    expect(screen.getByRole('textbox', { name: 'Radius' })).toHaveFocus()
  })

  it('leaves a cure undone when it is not wanted', async () => {
    const { stores, desk } = renderOnDesk(<ChecksStage />)
    const cure = within(rowOf(sharp)).getByRole('button', { name: 'Make it 28 in' })
    await hand.click(cure)
    await hand.click(await screen.findByRole('button', { name: 'Leave' }))
    expect([stores.plan.getState().undoStack.length, desk.getState().trial]).toEqual([0, null])
    expect(cure).toHaveFocus()
    expect(cure).toHaveAttribute('aria-expanded', 'false')
  })

  it('silences a finding for a reason, lists it, and says it again', async () => {
    const { stores } = renderOnDesk(<ChecksStage />)
    await hand.click(within(rowOf(sharp)).getByRole('button', { name: 'Leave this one be, with a reason: Curve under class radius' }))
    const reason = await screen.findByRole('textbox', { name: 'Why it may stay' })
    expect(reason).toHaveFocus()
    await hand.keyboard('{Enter}')
    expect(reason).toBeInvalid()
    await hand.type(reason, 'Only the switcher runs here.{Enter}')
    expect(Object.values(stores.plan.getState().plan.silences)).toMatchObject([
      { rule: 'minimum-radius', table: 'tracks', record: 'track-1', reason: 'Only the switcher runs here.' },
    ])
    expect(await screen.findByText('Only the switcher runs here.')).toBeVisible()
    expect(screen.queryByText(sharp)).toBeNull()
    await hand.click(screen.getByRole('button', { name: 'Say it again: Curve under class radius' }))
    expect(await screen.findByText(sharp)).toBeVisible()
    expect(stores.plan.getState().plan.silences).toEqual({})
  })

  it('lets the rule be told as a warning, or not at all, on tracks of the class', async () => {
    const { stores } = renderOnDesk(<ChecksStage />)
    await hand.click(within(rowOf(sharp)).getByRole('button', { name: 'Set how it is told on all of Main: Curve under class radius' }))
    const level = await screen.findByRole('combobox', { name: 'Tell it on all of Main' })
    await hand.selectOptions(level, 'as a warning')
    expect(await within(rowOf(sharp)).findByText('Warning · Harbour line, PI 2')).toBeVisible()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Tell it on all of Main' }), 'not at all')
    expect(stores.plan.getState().plan.lineClasses['main']?.rules).toEqual({ 'minimum-radius': 'off' })
    await waitFor(() => expect(screen.queryByText(sharp)).toBeNull())
  })

  it('puts the cures that bring nothing new first, and the others apart with what they bring', async () => {
    const plan = roomPlan()
    const track = plan.tracks['track-1']
    if (track === undefined) throw new Error('the plan of the tests has a track')
    // Easements too long for a curve of 15 in: shorter ones leave it under the class's radius, a wider curve does not.
    const corners = track.corners.map((corner) =>
      corner.id === 'pi-2' ? { ...corner, radius: 15 * 25.4, easementIn: 800, easementOut: 800 } : corner,
    )
    renderOnDesk(<ChecksStage />, { ...plan, tracks: { ...plan.tracks, 'track-1': { ...track, corners } } })
    const row = rowOf('Easements do not fit')
    const brings = await within(row).findByText(/^brings .*: Curve under class radius/, undefined, { timeout: 5000 })
    const buttons = within(row).getAllByRole('button', { name: /^(Make it|Shorten easements|Let its)/ })
    const [first, last] = [buttons[0], buttons.at(-1)]
    expect(first).toHaveTextContent(/^Make it /)
    expect(last?.parentElement).toContainElement(brings)
    expect(first?.parentElement).not.toBe(last?.parentElement)
  })

  it('says of a curve that is left be why, in its field, and no more as a fault', async () => {
    const { stores } = renderOnDesk(<Particulars />)
    act(() => stores.session.getState().select({ kind: 'corner', track: 'track-1', corner: 'pi-2' }))
    const field = screen.getByRole('textbox', { name: 'Radius' }).closest('.field')
    expect(field).toHaveClass('is-over')
    const finding = stores.derived.getState().findings.find(({ rule }) => rule === 'minimum-radius')
    if (finding === undefined) throw new Error('the curve is too sharp')
    act(() => void stores.plan.getState().apply({ kind: 'silence.add', record: silenceOf(finding, 'My bench is narrow') }))
    await waitFor(() => expect(field).not.toHaveClass('is-over'))
    expect(field).toHaveTextContent('left be: My bench is narrow')
  })

  it('leads from what waits to its cause', async () => {
    const plan = roomPlan()
    const [track, turnout] = [plan.tracks['track-1'], Object.values(plan.turnouts)[0]]
    if (track === undefined || turnout === undefined) throw new Error('the plan of the tests has a track with a turnout')
    const spur = {
      ...track,
      id: 'track-2',
      name: 'Spur',
      start: { kind: 'leg', turnout: turnout.id, leg: 'diverging' },
      corners: [],
    } as const
    const corners = track.corners.map((corner) => (corner.id === 'pi-2' ? { ...corner, radius: 20000 } : corner))
    const broken = { ...plan, tracks: { ...plan.tracks, 'track-1': { ...track, corners }, 'track-2': spur } }
    const { stores } = renderOnDesk(<ChecksStage />, broken)
    const row = rowOf('Waits for Harbour line')
    expect(within(row).queryByRole('button', { name: /Leave this one be/ })).toBeNull()
    await hand.click(within(row).getByRole('button', { name: /^Go to finding 1: / }))
    expect(stores.session.getState().selection).toMatchObject({ track: 'track-1' })
    expect(screen.getAllByRole('listitem').map((item) => item.querySelector('.finding-number')?.textContent)).toEqual(
      stores.derived.getState().findings.map((_, i) => String(i + 1)),
    )
  })

  it('lowers the limit of the class that is broken, as one step', async () => {
    const { stores } = renderOnDesk(<ChecksStage />)
    await hand.click(within(rowOf(sharp)).getByRole('button', { name: 'Set how it is told on all of Main: Curve under class radius' }))
    await hand.click(await screen.findByRole('button', { name: 'Main’s least radius: 28 in → 24½ in' }))
    expect(stores.plan.getState().plan.lineClasses['main']?.minRadiusMm).toBeCloseTo(24.5 * 25.4, 6)
    expect(stores.plan.getState().undoStack).toHaveLength(1)
    await waitFor(() => expect(screen.queryByText(sharp)).toBeNull())
  })

  it('is counted on its word, and on the word of the stage that cures it', () => {
    const { stores } = renderOnDesk(<StageColumn />)
    const { findings } = stores.derived.getState()
    expect(screen.getByRole('button', { name: `Checks ${findings.length} open` })).toBeVisible()
    expect(screen.getByRole('button', { name: /^Line \d+ open$/ })).toBeVisible()
    expect(screen.getByRole('button', { name: 'Sheets' })).toBeVisible()
  })
})
