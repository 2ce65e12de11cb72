import { describe, expect, it } from 'vitest'
import type { ToolName } from '../../src/store/types.ts'
import type { ToolEvent } from '../../src/tools/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { toolHarness, type ToolHarness } from '../support/toolHarness.ts'

const plan = planWith({
  tracks: [aTrack({ corners: [aCorner({ x: 3000, y: 0 })], end: { kind: 'free', x: 3000, y: 2000 } })],
  turnouts: [aTurnout({ stationMm: 1000 })],
  benchworks: [
    {
      id: 'benchwork-1',
      name: 'Board',
      outline: [
        { x: -100, y: -300 },
        { x: 3400, y: -300 },
        { x: 3400, y: 2300 },
        { x: -100, y: 2300 },
      ],
      holes: [],
      heightMm: 1200,
    },
  ],
})
const modifiers = { shift: false, alt: false }

/** Each tool in the middle of what it does. A tool without a row does not compile. */
const midway: { readonly [T in ToolName]: readonly ((hand: ToolHarness) => ToolHarness)[] } = {
  select: [
    (hand) => hand.select({ kind: 'record', table: 'tracks', id: 'track-1' }).pointerDown(3000, 0).pointerMove(3100, 60),
    (hand) => hand.holding({ shift: true }).pointerDown(-500, -500).pointerMove(3000, 2000),
    (hand) =>
      hand
        .select({
          kind: 'several',
          members: [
            { table: 'tracks', id: 'track-1' },
            { table: 'benchworks', id: 'benchwork-1' },
          ],
        })
        .pointerDown(1500, 1500)
        .pointerMove(1700, 1500),
    (hand) => hand.select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }).pointerDown(1050, 0).pointerMove(1200, 0),
    (hand) => hand.select({ kind: 'record', table: 'benchworks', id: 'benchwork-1' }).pointerDown(1500, 1500).pointerMove(1700, 1500),
    (hand) => hand.select({ kind: 'record', table: 'benchworks', id: 'benchwork-1' }).pointerDown(-100, -300).pointerMove(-200, -350),
  ],
  benchwork: [(hand) => hand.click(0, 0).click(500, 0).pointerMove(500, 300)],
  hole: [(hand) => hand.click(600, 600).click(900, 600).pointerMove(900, 900)],
  wall: [(hand) => hand.click(0, 0).pointerDown(500, 0)],
  opening: [(hand) => hand.pointerMove(1500, 2300).pointerDown(1500, 2300)],
  hatch: [(hand) => hand.click(0, 0).click(500, 0).pointerMove(500, 300)],
  joist: [(hand) => hand.click(0, 0).pointerMove(500, 300)],
  portal: [(hand) => hand.pointerMove(1500, 0).pointerDown(1500, 0)],
  track: [(hand) => hand.click(0, 1000).click(1500, 1000).pointerMove(2000, 1500)],
  turnout: [(hand) => hand.pointerMove(1500, 0).pointerDown(1500, 0)],
  measure: [
    (hand) => hand.click(0, 1000).pointerMove(800, 1100),
    (hand) => hand.option({ kind: 'measure', of: 'along' }).click(1500, 0).pointerDown(2000, 0),
  ],
  guide: [(hand) => hand.click(0, 1000).pointerMove(800, 1100)],
  survey: [(hand) => hand.click(0, 1000).click(800, 1100).pointerDown(1500, 1300)],
}
const endings: readonly (readonly [string, ToolEvent])[] = [
  ['cancel', { kind: 'cancel' }],
  ['interrupt', { kind: 'interrupt' }],
]
const rows = (Object.keys(midway) as ToolName[]).flatMap((tool) => midway[tool].map((start, i) => ({ tool, start, i })))

describe.each(rows)('$tool, midway $i', ({ tool, start }) => {
  it.each(endings)('%s leaves the plan identical and nothing open', (_name, ending) => {
    const hand = start(toolHarness(plan, tool))
    if (ending.kind === 'cancel') hand.escape()
    else hand.interrupt()
    hand.expectNoTransaction().expectUndoCount(0)
    expect(hand.plan()).toBe(plan)
  })

  it('another tool taken up does the same', () => {
    const hand = start(toolHarness(plan, tool))
    hand
      .take(tool === 'track' ? 'select' : 'track')
      .expectNoTransaction()
      .expectUndoCount(0)
    expect(hand.plan()).toBe(plan)
  })

  it('a canvas that goes away does the same', () => {
    const hand = start(toolHarness(plan, tool))
    hand.stop()
    hand.expectNoTransaction().expectUndoCount(0)
  })
})

/** Every event there is, to every tool in every of these states: none may throw or leave a transaction that nothing ends. */
describe.each(rows)('$tool, midway $i, takes any event', ({ tool, start }) => {
  const at = { x: 700, y: 700 }
  const events: readonly ToolEvent[] = [
    { kind: 'pointerDown', at, modifiers },
    { kind: 'pointerMove', at, modifiers },
    { kind: 'pointerUp', at, modifiers },
    { kind: 'pointerLeave' },
    { kind: 'doubleClick', at, modifiers },
    { kind: 'key', key: 'Backspace', modifiers },
    { kind: 'key', key: 'ArrowLeft', modifiers },
    { kind: 'entryChange', text: '24in<' },
    { kind: 'entry', text: '6' },
    { kind: 'entry', text: '' },
    { kind: 'option', change: { kind: 'frog', frog: Number.NaN } },
    { kind: 'option', change: { kind: 'lineClass', lineClass: 'no such class' } },
    { kind: 'complete' },
  ]
  it.each(events)('%o', (event) => {
    const hand = start(toolHarness(plan, tool)).send(event)
    hand.interrupt().expectNoTransaction()
  })
})

describe.each(rows)('$tool, midway $i', ({ tool, start }) => {
  it('forgets what it had begun when another plan is laid on the desk', () => {
    const hand = start(toolHarness(plan, tool))
    const other = planWith({ tracks: [aTrack({ name: 'Of another plan' })] })
    hand.load(other).pointerMove(900, 900).pointerUp(900, 900).enter()
    hand.expectNoTransaction().expectUndoCount(0)
    expect(hand.plan()).toBe(other)
  })
})
