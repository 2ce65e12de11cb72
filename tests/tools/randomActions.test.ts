import * as fc from 'fast-check'
import { expect, it } from 'vitest'
import type { PlanCommand } from '../../src/core/edit/index.ts'
import type { Point } from '../../src/core/geom/types.ts'
import { planParse } from '../../src/core/plan/index.ts'
import type { Plan, TableName } from '../../src/core/plan/types.ts'
import { roomTraverse } from '../../src/core/room/index.ts'
import { motionMirror, motionTurn, stretchCopy, stretchMove, stretchPoints } from '../../src/core/stretch/index.ts'
import type { Modifiers } from '../../src/tools/index.ts'
import { planWrite } from '../../src/formats/planjson.ts'
import { selectionMembers } from '../../src/store/selection.ts'
import type { Selection, ToolName } from '../../src/store/types.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { toolHarness, type ToolHarness } from '../support/toolHarness.ts'

/** A line with a turnout and a spur on a bench: enough that every action has something to take hold of. */
const first: Plan = planWith({
  tracks: [
    aTrack({ corners: [aCorner({ x: 2400 })], end: { kind: 'free', x: 2400, y: 1800 } }),
    aTrack({
      id: 'track-2',
      name: 'Spur',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 1500, y: 150 },
    }),
  ],
  turnouts: [aTurnout({ stationMm: 400 })],
  benchworks: [aBenchwork()],
})

const place = fc.record({ x: fc.integer({ min: -300, max: 3000 }), y: fc.integer({ min: -300, max: 2000 }) })
const tool = fc.constantFrom<ToolName>(
  'select',
  'benchwork',
  'hole',
  'wall',
  'opening',
  'hatch',
  'joist',
  'track',
  'portal',
  'turnout',
  'measure',
  'guide',
)
const typed = fc.constantFrom('100', '250<90', '@40; -30', '-60', '1500; 300', '7', '<45', 'nonsense', '')
const key = fc.constantFrom('Delete', 'Backspace', 'ArrowLeft', 'ArrowRight', 'ArrowDown', 'ArrowUp', 'h', 'k', 'f', 'm')
const modifiers = fc.record({ shift: fc.boolean(), alt: fc.boolean(), ctrl: fc.boolean() })

/** Kinds of commands of panels that came to something. */
const done = new Set<string>()

/** What a person may do next, whatever has come before. */
type Action = (hand: ToolHarness) => void

const action: fc.Arbitrary<Action> = fc.oneof(
  {
    weight: 12,
    arbitrary: fc.tuple(fc.nat(), place, modifiers).map(
      ([n, by, held]): Action =>
        (hand) =>
          takenHold(hand, n, by, held),
    ),
  },
  {
    weight: 6,
    arbitrary: fc.tuple(fc.nat(), typed, key).map(
      ([n, text, name]): Action =>
        (hand) => {
          hand.take('select').select(anySelection(hand.plan(), n)).type(text).key(name)
        },
    ),
  },
  {
    weight: 3,
    arbitrary: tool.map(
      (name): Action =>
        (hand) =>
          hand.take(name),
    ),
  },
  {
    weight: 6,
    arbitrary: fc.tuple(place, modifiers).map(
      ([{ x, y }, held]): Action =>
        (hand) =>
          hand.holding(held).click(x, y),
    ),
  },
  {
    weight: 6,
    arbitrary: fc.tuple(place, place, modifiers).map(
      ([a, b, held]): Action =>
        (hand) =>
          hand.holding(held).drag([a.x, a.y], [b.x, b.y]),
    ),
  },
  {
    weight: 2,
    arbitrary: place.map(
      ({ x, y }): Action =>
        (hand) =>
          hand.doubleClick(x, y),
    ),
  },
  {
    weight: 4,
    arbitrary: fc.nat().map(
      (n): Action =>
        (hand) =>
          hand.select(anySelection(hand.plan(), n)),
    ),
  },
  {
    weight: 3,
    arbitrary: typed.map(
      (text): Action =>
        (hand) =>
          hand.type(text),
    ),
  },
  {
    weight: 3,
    arbitrary: key.map(
      (name): Action =>
        (hand) =>
          hand.key(name),
    ),
  },
  { weight: 1, arbitrary: fc.constant<Action>((hand) => hand.escape()) },
  { weight: 1, arbitrary: fc.constant<Action>((hand) => hand.enter()) },
  { weight: 1, arbitrary: fc.constant<Action>((hand) => hand.interrupt()) },
  { weight: 2, arbitrary: fc.constant<Action>((hand) => hand.undo()) },
  { weight: 1, arbitrary: fc.constant<Action>((hand) => hand.redo()) },
  {
    weight: 2,
    arbitrary: fc.tuple(place, fc.constantFrom<'turn' | 'mirror' | 'copy' | 'lock'>('turn', 'mirror', 'copy', 'lock')).map(
      ([at, what]): Action =>
        (hand) =>
          wholeDone(hand, at, what),
    ),
  },
  {
    weight: 6,
    arbitrary: fc.tuple(fc.nat(), place).map(
      ([n, at]): Action =>
        (hand) => {
          const commands = panelCommands(hand.plan(), n, at)
          const command = commands[n % commands.length]
          const before = hand.steps()
          if (command !== undefined) hand.apply(command)
          if (command !== undefined && hand.steps() > before) done.add(command.kind)
        },
    ),
  },
)

/** Selects something and drags it by one of its points. */
function takenHold(hand: ToolHarness, n: number, by: Point, held: Partial<Modifiers>): void {
  const selection = anySelection(hand.plan(), n)
  const points = stretchPoints(hand.plan(), selectionMembers(selection))
  const at = points[n % Math.max(points.length, 1)] ?? by
  hand
    .take('select')
    .select(selection)
    .holding(held)
    .drag([at.x, at.y], [at.x + by.x / 20, at.y + by.y / 20])
}

/** One of all records, or two of them. */
function anySelection(plan: Plan, n: number): Selection {
  const tables = [
    'tracks',
    'turnouts',
    'benchworks',
    'walls',
    'joists',
    'hatches',
    'guides',
    'readings',
    'obstacles',
    'openings',
    'portals',
    'railJoints',
    'crossings',
    'underlays',
  ] as const
  const all = tables.flatMap((table) => Object.keys(plan[table]).map((id) => ({ table, id })))
  const [one, other] = [all[n % Math.max(all.length, 1)], all[(n * 7 + 3) % Math.max(all.length, 1)]]
  if (one === undefined || other === undefined) return { kind: 'none' }
  return n % 3 === 0 && one !== other ? { kind: 'several', members: [one, other] } : { kind: 'record', ...one }
}

/** What panels and the finder do to all that is selected. */
function wholeDone(hand: ToolHarness, at: Point, what: 'turn' | 'mirror' | 'copy' | 'lock'): void {
  const plan = hand.plan()
  const members = selectionMembers(hand.selection())
  if (what === 'lock') {
    for (const { table, id } of members) hand.apply(lockToggle(plan, table, id))
    return
  }
  const motion = what === 'mirror' ? motionMirror(at, 0.4) : motionTurn(at, 0.7)
  const result = what === 'copy' ? stretchCopy(plan, members, motion, () => null) : stretchMove(plan, members, motion)
  if (result.ok) hand.apply({ kind: 'group', label: what, commands: result.commands })
}

/** What panels and sheets do without the pointer: a room by tape, a picture, a measurement that stays, a joint, a tick, a silence. */
function panelCommands(plan: Plan, n: number, { x, y }: Point): readonly PlanCommand[] {
  const pick = (table: TableName): string | null => Object.keys(plan[table])[n % Math.max(Object.keys(plan[table]).length, 1)] ?? null
  const [track, wall, picture, joint, silence] = [pick('tracks'), pick('walls'), pick('underlays'), pick('railJoints'), pick('silences')]
  const places = [
    { px: { x: 0, y: 0 }, at: { x, y } },
    { px: { x: 400, y: 0 }, at: { x: x + 900, y: y + 50 } },
  ]
  const room = roomTraverse(
    [3000 + x / 100, 2400, 3010, 2400 + y / 100].map((lengthMm) => ({ lengthMm, corner: { kind: 'angle', angleRad: Math.PI / 2 } })),
    true,
    { x, y },
  )
  const stationMm = Math.abs(x) / 4
  return [
    ...(room.ok ? [{ kind: 'wall.add', record: { name: 'Room', points: room.points, isClosed: true, thicknessMm: 100 } } as const] : []),
    ...(room.ok && wall !== null ? [{ kind: 'wall.set', id: wall, change: { points: room.points, isClosed: true } } as const] : []),
    {
      kind: 'underlay.add',
      record: { name: 'Sketch', picture: 'ab'.repeat(32), widthPx: 400, heightPx: 300, data: null, places, opacity: 0.5, isShown: true },
    },
    ...(picture === null
      ? []
      : ([
          { kind: 'underlay.set', id: picture, change: { places } },
          { kind: 'underlay.set', id: picture, change: { isShown: n % 2 === 0, opacity: 0.25 } },
        ] as const)),
    { kind: 'reading.add', record: { name: '', of: { kind: 'distance', from: { x, y }, to: { x: x + 300, y } } } },
    ...(track === null
      ? []
      : ([
          { kind: 'reading.add', record: { name: 'Radius', of: { kind: 'radius', track, stationMm } } },
          { kind: 'railJoint.add', record: { track, rail: n % 2 === 0 ? 'left' : 'right', stationMm } },
          { kind: 'silence.add', record: { rule: 'radius', table: 'tracks', record: track, otherRecord: null, stationMm, reason: 'old' } },
        ] as const)),
    ...(joint === null ? [] : [{ kind: 'railJoint.set', id: joint, change: { stationMm } } as const]),
    ...(silence === null ? [] : [{ kind: 'remove', table: 'silences', id: silence } as const]),
    { kind: 'tick.add', record: { list: 'rail', piece: `piece ${n % 9}`, done: 'cut' } },
    { kind: 'railway.set', change: { title: `Quay ${n % 5}` } },
  ]
}

function lockToggle(plan: Plan, table: TableName, record: string): PlanCommand {
  const lock = Object.values(plan.locks).find((one) => one.table === table && one.record === record)
  return lock === undefined ? { kind: 'lock.add', record: { table, record } } : { kind: 'remove', table: 'locks', id: lock.id }
}

it('500 random actions: the plan stays one that can be opened; all undone is the first plan, all redone the last', () => {
  let steps = 0
  fc.assert(
    fc.property(fc.array(action, { minLength: 500, maxLength: 500, size: 'max' }), (actions) => {
      const hand = toolHarness(first, 'select', 'metric')
      for (const [i, act] of actions.entries()) {
        act(hand)
        if (i % 50 === 49) expect(planParse(hand.plan()).ok).toBe(true)
      }
      hand.interrupt().expectNoTransaction()
      const last = hand.plan()
      const written = planWrite(last)
      const count = hand.steps()
      steps += count
      // As many as are kept; more would be lost at the far end.
      expect(count).toBeLessThan(500)
      for (let i = 0; i < count; i++) hand.undo()
      expect(planWrite(hand.plan())).toBe(planWrite(first))
      for (let i = 0; i < count; i++) hand.redo()
      expect(planWrite(hand.plan())).toBe(written)
      expect(hand.plan()).toEqual(last)
    }),
    { seed: 20261126, numRuns: 2, endOnFailure: true },
  )
  // Most of what random hands do comes to nothing; enough of it must come to something.
  expect(steps).toBeGreaterThan(150)
  expect(done.size).toBeGreaterThan(8)
})
