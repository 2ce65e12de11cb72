import * as fc from 'fast-check'
import type { PlanCommand } from '../../src/core/edit/index.ts'
import { dataFreeze, planEmpty, tableNames } from '../../src/core/plan/index.ts'
import type { Point } from '../../src/core/geom/types.ts'
import type { Benchwork, Corner, Crossing, Opening, Plan, Track, TrackEnd, Turnout, TurnoutKind } from '../../src/core/plan/index.ts'
import { aBenchwork, aTurnout } from './plans.ts'

const coordinate = fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((value) => (Object.is(value, -0) ? 0 : value))
const length = fc.double({ min: 0.01, max: 1e5, noNaN: true })
const point: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate })
const ring = fc.array(point, { minLength: 3, maxLength: 6 })
const name = fc.string({ maxLength: 40 })
const byClass = fc.oneof(length, fc.constant('class' as const))
const easement = fc.oneof(length, fc.constant('class' as const), fc.constant(0))

const turn = fc.oneof(
  fc.record({ kind: fc.constant('angle' as const), turnRad: fc.double({ min: 1e-3, max: 3, noNaN: true }) }),
  fc.record({ kind: fc.constant('share' as const), share: fc.double({ min: 1e-3, max: 100, noNaN: true }) }),
)
const compound = fc.record({
  first: fc.record({ radius: byClass, turn }),
  next: fc.array(fc.record({ easement, radius: byClass, turn }), { minLength: 1, maxLength: 3 }),
})

const corner: fc.Arbitrary<Omit<Corner, 'id'>> = fc.record({
  x: coordinate,
  y: coordinate,
  radius: fc.oneof(byClass, fc.constant('easement-only' as const), compound),
  easementIn: easement,
  easementOut: easement,
})

const kind: fc.Arbitrary<TurnoutKind> = fc.oneof(
  fc.constant({ kind: 'plain' as const }),
  fc.record({ kind: fc.constant('wye' as const), share: fc.double({ min: 0.1, max: 0.9, noNaN: true }) }),
  fc.record({ kind: fc.constant('three-way' as const), secondFrog: fc.double({ min: 3, max: 20, noNaN: true }), secondAfterMm: length }),
  fc.constant({ kind: 'stub' as const }),
)

const choice: fc.Arbitrary<Pick<Crossing, 'slip' | 'build'>> = fc.record({
  slip: fc.constantFrom('none', 'single-left', 'single-right', 'double'),
  build: fc.record({
    elbow: fc.constantFrom('fixed', 'movable'),
    pointThicknessMm: fc.constantFrom('standard' as const, 0.2),
    heelSpreadMm: fc.constant('standard' as const),
  }),
})

const leaf: fc.Arbitrary<Opening['leaf']> = fc.option(
  fc.record({ hinge: fc.constantFrom('from' as const, 'to' as const), side: fc.constantFrom('left' as const, 'right' as const) }),
)

/** Keys of another program; never one of ours and never one that is refused. */
const foreign = fc.dictionary(
  fc.stringMatching(/^x-[a-z]{1,8}$/),
  fc.jsonValue({ maxDepth: 2 }).map((value) => withoutNegativeZero(value)),
  { maxKeys: 2 },
)

/** JSON has no -0 of its own meaning; reading gives it back, equality by Object.is does not care for the difference here. */
function withoutNegativeZero(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value, (key: string, item: unknown) => (isPrototypeKey(key) ? undefined : item)) ?? 'null')
}
const isPrototypeKey = (key: string): boolean => ['__proto__', 'constructor', 'prototype'].includes(key)

/** A valid plan of a few records of every kind, legs and loops among them, and keys of other programs here and there. */
export const planArbitrary: fc.Arbitrary<Plan> = fc
  .record({
    tracks: fc.array(fc.record({ name, corners: fc.array(corner, { maxLength: 4 }), from: point, to: point, isLoop: fc.boolean() }), {
      maxLength: 4,
    }),
    turnouts: fc.array(
      fc.record({ name, kind, host: fc.nat(), frog: fc.double({ min: 3, max: 20, noNaN: true }), hasTrack: fc.boolean() }),
      {
        maxLength: 3,
      },
    ),
    benchworks: fc.array(fc.record({ name, outline: ring, holes: fc.array(ring, { maxLength: 2 }) }), { maxLength: 2 }),
    choices: fc.array(fc.record({ name, choice, one: fc.nat(), other: fc.nat() }), { maxLength: 2 }),
    room: fc.record({ line: fc.array(point, { minLength: 2, maxLength: 4 }), name, at: length, leaf, outline: ring, why: name }),
    top: foreign,
    inRecord: foreign,
  })
  .map(({ tracks: lines, turnouts: points, benchworks: tables, choices, room, top, inRecord }) => {
    const empty = planEmpty()
    const tracks: Track[] = lines.map((line, i) => ({
      id: `track-${i + 1}`,
      name: line.name,
      lineClass: i % 2 === 0 ? 'main' : 'yard',
      start: { kind: 'free', ...line.from },
      corners: line.corners.map((one, k) => ({ id: `pi-${k + 1}`, ...one })),
      end: endOf(line.isLoop, line.to),
      ...inRecord,
    }))
    const turnouts: Turnout[] =
      lines.length === 0
        ? []
        : points.map((one, i) =>
            aTurnout({
              id: `turnout-${i + 1}`,
              name: one.name,
              kind: one.kind,
              track: `track-${(one.host % lines.length) + 1}`,
              frog: one.frog,
            }),
          )
    for (const [i, one] of points.entries()) {
      if (!one.hasTrack || lines.length === 0) continue
      tracks.push({
        id: `track-2${i}`,
        name: 'Spur',
        lineClass: 'main',
        start: { kind: 'leg', turnout: `turnout-${i + 1}`, leg: 'diverging' },
        corners: [],
        end: { kind: 'free', x: 1, y: i },
      })
    }
    const benchworks: Benchwork[] = tables.map((one, i) => aBenchwork({ id: `benchwork-${i + 1}`, ...one }))
    const crossings: Crossing[] = (lines.length === 0 ? [] : choices).map((one, i) => ({
      id: `crossing-${i + 1}`,
      name: one.name,
      track: `track-${(one.one % lines.length) + 1}`,
      other: `track-${(one.other % lines.length) + 1}`,
      stationMm: one.one % 1e6,
      otherStationMm: one.other % 1e6,
      ...one.choice,
    }))
    return dataFreeze({
      ...empty,
      ...top,
      tracks: byId(tracks),
      turnouts: byId(turnouts),
      crossings: byId(crossings),
      benchworks: byId(benchworks),
      ...roomThings(room, tracks),
    })
  })

/** One record of each thing in a room, of a portal where there is a track, and a silence. */
function roomThings(
  room: {
    readonly line: readonly Point[]
    readonly name: string
    readonly at: number
    readonly leaf: Opening['leaf']
    readonly outline: readonly Point[]
    readonly why: string
  },
  tracks: readonly Track[],
): Pick<Plan, 'walls' | 'openings' | 'hatches' | 'joists' | 'portals' | 'silences' | 'guides' | 'readings' | 'underlays' | 'locks'> {
  const { line, name: called, at, leaf: door, outline, why } = room
  const [from, to] = [line[0] ?? { x: 0, y: 0 }, line.at(-1) ?? { x: 1, y: 1 }]
  return {
    walls: byId([{ id: 'wall-1', name: called, points: line, thicknessMm: at, isClosed: false }]),
    openings: byId([{ id: 'opening-1', name: called, wall: 'wall-1', fromMm: at, widthMm: at, leaf: door, sillMm: null }]),
    hatches: byId([{ id: 'hatch-1', name: called, outline }]),
    joists: byId([{ id: 'joist-1', name: called, from, to, widthMm: at }]),
    portals: byId(
      tracks
        .slice(0, 1)
        .map(({ id }) => ({ id: 'portal-1', name: called, track: id, stationMm: at, lengthMm: at, leftMm: at, rightMm: 0, heightMm: at })),
    ),
    guides: byId([{ id: 'guide-1', name: called, at: from, angleRad: at / 1e6 }]),
    readings: byId([{ id: 'reading-1', name: called, of: { kind: 'distance', from, to } }]),
    underlays: byId([
      {
        id: 'picture-1',
        name: called,
        picture: '0123456789abcdef'.repeat(4),
        widthPx: 640,
        heightPx: 480,
        data: null,
        places: [
          { px: { x: 0, y: 0 }, at: from },
          { px: { x: 639, y: 479 }, at: to },
        ],
        opacity: 0.5,
        isShown: true,
      },
    ]),
    locks: byId([{ id: 'lock-1', table: 'walls', record: 'wall-1' }]),
    silences: byId([
      { id: 'silence-1', rule: 'minimum-radius', table: 'tracks', record: 'track-1', otherRecord: null, stationMm: at, reason: why },
    ]),
  }
}

function endOf(isLoop: boolean, to: Point): TrackEnd {
  return isLoop ? { kind: 'closed' } : { kind: 'free', ...to }
}

function byId<R extends { readonly id: string }>(records: readonly R[]): { readonly [id: string]: R } {
  return Object.fromEntries(records.map((record) => [record.id, record]))
}

/** Ids that a plan of the generator often has, and now and then one that no plan has. */
const idOf = (...ids: readonly string[]): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 9, arbitrary: fc.constantFrom(...ids) },
    { weight: 1, arbitrary: fc.constantFrom('constructor', '', '__proto__', 'track-99', 'main') },
  )
const trackId = idOf('track-1', 'track-2', 'track-20')
const turnoutId = idOf('turnout-1', 'turnout-2')
const benchworkId = idOf('benchwork-1', 'benchwork-2')
const classId = idOf('main', 'yard', 'branch')
const cornerId = idOf('pi-1', 'pi-2')
const crossingId = idOf('crossing-1', 'crossing-2')
const anyId = fc.oneof(trackId, turnoutId, crossingId, benchworkId, classId)
const index = fc.integer({ min: -1, max: 5 })
const end = fc.oneof(
  point.map((at) => ({ kind: 'free' as const, ...at })),
  turnoutId.map((turnout) => ({ kind: 'leg' as const, turnout, leg: 'diverging' as const })),
  turnoutId.map((turnout) => ({ kind: 'leg' as const, turnout, leg: 'other' as const })),
)

const makerId = idOf('maker-1', 'maker-2')
const turnback = fc.record({
  kind: fc.constant('turnback' as const),
  track: trackId,
  end: fc.constant('end' as const),
  otherTrack: trackId,
  otherEnd: fc.constant('start' as const),
})

/** Commands of every kind with mostly good values; many are refused because of what they refer to. */
export const commandArbitrary: fc.Arbitrary<PlanCommand> = fc.letrec<{ command: PlanCommand; simple: PlanCommand }>((tie) => ({
  command: fc.oneof(
    { weight: 6, arbitrary: tie('simple') },
    {
      weight: 1,
      arbitrary: fc.record({ kind: fc.constant('group' as const), label: name, commands: fc.array(tie('simple'), { maxLength: 4 }) }),
    },
  ),
  simple: fc.oneof(
    fc.record({ kind: fc.constant('railway.set' as const), change: fc.record({ title: name, gaugeMm: length }, { requiredKeys: [] }) }),
    fc.record({
      kind: fc.constant('lineClass.set' as const),
      id: classId,
      change: fc.record(
        { minRadiusMm: length, name, clearanceCar: fc.oneof(idOf('car-85ft-passenger'), fc.constant(null)) },
        { requiredKeys: [] },
      ),
    }),
    fc.record({
      kind: fc.constant('benchwork.add' as const),
      record: fc.record({ name, outline: ring, holes: fc.constant([]), heightMm: length }),
    }),
    fc.record({ kind: fc.constant('benchwork.movePoint' as const), id: benchworkId, ring: index, index, to: point }),
    fc.record({ kind: fc.constant('benchwork.insertPoint' as const), id: benchworkId, ring: index, index, at: point }),
    fc.record({ kind: fc.constant('benchwork.removePoint' as const), id: benchworkId, ring: index, index }),
    fc.record({ kind: fc.constant('benchwork.addHole' as const), id: benchworkId, ring }),
    fc.record({ kind: fc.constant('benchwork.removeHole' as const), id: benchworkId, hole: index }),
    fc.record({
      kind: fc.constant('track.add' as const),
      record: fc.record({ name, lineClass: classId, start: end, corners: fc.constant([]), end }),
    }),
    fc.record({
      kind: fc.constant('track.set' as const),
      id: trackId,
      change: fc.record({ name, lineClass: classId }, { requiredKeys: [] }),
    }),
    fc.record({ kind: fc.constant('track.setStart' as const), id: trackId, start: end }),
    fc.record({ kind: fc.constant('track.setEnd' as const), id: trackId, end: fc.oneof(end, fc.constant({ kind: 'closed' as const })) }),
    fc.record({ kind: fc.constant('corner.insert' as const), track: trackId, index, corner }),
    fc.record({
      kind: fc.constant('corner.set' as const),
      track: trackId,
      corner: cornerId,
      change: fc.record({ x: coordinate, y: coordinate, radius: byClass, easementIn: easement }, { requiredKeys: [] }),
    }),
    fc.record({ kind: fc.constant('corner.remove' as const), track: trackId, corner: cornerId }),
    fc.record({
      kind: fc.constant('turnout.set' as const),
      id: turnoutId,
      change: fc.record({ track: trackId, kind, frog: length, stationMm: coordinate }, { requiredKeys: [] }),
    }),
    fc.record({
      kind: fc.constant('crossing.add' as const),
      record: fc
        .record({ name, track: trackId, other: trackId, stationMm: coordinate, otherStationMm: coordinate, choice })
        .map(({ choice: chosen, ...rest }): Omit<Crossing, 'id'> => ({ ...rest, ...chosen })),
    }),
    fc.record({
      kind: fc.constant('crossing.set' as const),
      id: crossingId,
      change: fc.record({ track: trackId, stationMm: coordinate, slip: fc.constantFrom('none', 'double') }, { requiredKeys: [] }),
    }),
    fc.record({
      kind: fc.constant('maker.write' as const),
      record: fc.record({ id: makerId, name, lineClass: classId, numbers: turnback }),
      tracks: fc.array(
        fc.record({ id: idOf('track-31', 'track-32', 'track-1'), name, lineClass: classId, start: end, corners: fc.constant([]), end }),
        { maxLength: 2 },
      ),
      turnouts: fc.array(
        fc.record({ track: trackId, stationMm: coordinate }).map((change) => aTurnout({ id: 'turnout-31', ...change })),
        { maxLength: 1 },
      ),
    }),
    fc.record({ kind: fc.constant('maker.set' as const), id: makerId, change: fc.record({ name }, { requiredKeys: [] }) }),
    fc.record({ kind: fc.constant('maker.takeApart' as const), id: makerId }),
    fc.record({ kind: fc.constant('remove' as const), table: fc.constant('makers' as const), id: makerId }),
    fc.record({ kind: fc.constant('remove' as const), table: fc.constantFrom(...tableNames), id: anyId }),
  ),
})).command
