import { readFileSync } from 'node:fs'
import * as v from 'valibot'
import { describe, expect, it } from 'vitest'
import { gaugeList } from '../../../src/core/standards/index.ts'
import {
  dataDepthLimit,
  idCompare,
  migrationGap,
  migrations,
  planEmpty,
  planMigrate,
  planNextId,
  planParse,
  planVersion,
} from '../../../src/core/plan/index.ts'
import type { Migration } from '../../../src/core/plan/index.ts'
import { idSchema } from '../../../src/core/plan/schemaParts.ts'
import { aCorner, aCrossing, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const sound = planWith({
  tracks: [
    aTrack({ corners: [aCorner()] }),
    aTrack({
      id: 'track-2',
      name: 'Spur',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      corners: [aCorner(), aCorner({ id: 'pi-2' })],
    }),
  ],
  turnouts: [aTurnout()],
  crossings: [aCrossing()],
})

/** The sound plan with the value at a dotted path put in place (undefined: taken out). */
function soundWith(path: string, value: unknown): unknown {
  const clone: unknown = structuredClone(sound)
  const keys = path.split('.')
  const last = keys.pop() ?? ''
  let holder = clone as { [key: string]: unknown }
  for (const key of keys) holder = holder[key] as { [key: string]: unknown }
  if (value === undefined) delete holder[last]
  else holder[last] = value
  return clone
}

const problemOf = (json: unknown) => {
  const result = planParse(json)
  if (result.ok) throw new Error('it was taken')
  return result.problem
}

describe('the reader of a plan document', () => {
  it('takes a sound plan and freezes it', () => {
    const result = planParse(structuredClone(sound))
    expect(result).toEqual({ ok: true, plan: sound, notes: [] })
    expect(result.ok && Object.isFrozen(result.plan.tracks['track-1']?.corners[0])).toBe(true)
  })

  it('takes the empty plan of every scale of the standards', () => {
    for (const { key } of gaugeList()) expect([key, planParse(planEmpty(key)).ok]).toEqual([key, true])
    expect(planEmpty('no such scale')).toBeNull()
  })

  it.each<[string, unknown, string, string]>([
    ['tracks.track-2.corners.1.radius', -3, 'tracks.track-2.corners.1.radius', 'a length above 0, at most 1000000 mm'],
    [
      'tracks.track-2.corners.1.radius',
      'sharp',
      'tracks.track-2.corners.1.radius',
      "a radius above 0 mm, several radii {first, next}, 'easement-only' or 'class'",
    ],
    [
      'tracks.track-2.corners.1.radius',
      { first: { radius: 600, turn: { kind: 'share', share: 1 } }, next: [] },
      'tracks.track-2.corners.1.radius.next',
      'a list of one or more further arcs',
    ],
    [
      'tracks.track-2.corners.1.radius',
      { first: { radius: 600, turn: { kind: 'share', share: 0 } }, next: [] },
      'tracks.track-2.corners.1.radius.first.turn.share',
      'a share above 0, at most 1000000',
    ],
    ['tracks.track-2.corners.1.easementIn', 'clas', 'tracks.track-2.corners.1.easementIn', "a length of 0 mm or more, or 'class'"],
    ['tracks.track-1.start.x', '5', 'tracks.track-1.start.x', 'a number from -1000000 to 1000000 (mm)'],
    ['tracks.track-1.start.kind', 'wall', 'tracks.track-1.start.kind', "a start of kind 'free' or 'leg'"],
    ['tracks.track-1.name', undefined, 'tracks.track-1.name', 'a value for name'],
    ['tracks.track-1', 7, 'tracks.track-1', 'a track'],
    ['tracks', [], 'tracks', 'a table of records by id'],
    ['turnouts.turnout-1.frog', 0, 'turnouts.turnout-1.frog', 'a frog number above 0, at most 1000'],
    ['turnouts.turnout-1.build.heelSpreadMm', -1, 'turnouts.turnout-1.build.heelSpreadMm', 'a length above 0, at most 10000 mm'],
    ['turnouts.turnout-1.build.toeLengthMm', null, 'turnouts.turnout-1.build.toeLengthMm', "a length above 0 mm, or 'standard'"],
    ['railway.gaugeMm', 0, 'railway.gaugeMm', 'a length above 0, at most 10000 mm'],
    ['railway.tieLengthMm', 100000, 'railway.tieLengthMm', 'a length above 0, at most 10000 mm'],
    ['railway', undefined, 'railway', 'a value for railway'],
    [
      'lineClasses.main.easement',
      { kind: 'spline' },
      'lineClasses.main.easement.kind',
      "an easement rule of kind 'none', 'length' or 'shift'",
    ],
    ['lineClasses.main.maxGrade', 1.5, 'lineClasses.main.maxGrade', 'a grade of 0 to 1 (rise over run)'],
    [
      'turnouts.turnout-1.kind',
      { kind: 'double' },
      'turnouts.turnout-1.kind.kind',
      "a turnout of kind 'plain', 'wye', 'three-way' or 'stub'",
    ],
    ['turnouts.turnout-1.kind', { kind: 'wye', share: 1 }, 'turnouts.turnout-1.kind.share', 'a share between 0 and 1'],
    ['crossings.crossing-1.slip', 'both', 'crossings.crossing-1.slip', "'none', 'single-left', 'single-right' or 'double'"],
    ['crossings.crossing-1.build.elbow', null, 'crossings.crossing-1.build.elbow', "'fixed' or 'movable'"],
    ['version', '1', 'version', 'a whole number of 1 to 6'],
    ['version', 0, 'version', 'a whole number of 1 to 6'],
    ['version', 1.5, 'version', 'a whole number of 1 to 6'],
  ])('refuses %s = %j and says where and what would be right', (path, value, where, expected) => {
    expect(problemOf(soundWith(path, value))).toMatchObject({ kind: 'badValue', where, expected })
  })

  it.each<[string, unknown, object]>([
    ['turnouts.turnout-1.track', 'track-9', { kind: 'missingRecord', where: 'turnouts.turnout-1.track', table: 'tracks', id: 'track-9' }],
    [
      'tracks.track-1.lineClass',
      'gravel',
      { kind: 'missingRecord', where: 'tracks.track-1.lineClass', table: 'lineClasses', id: 'gravel' },
    ],
    [
      'tracks.track-2.start.turnout',
      'turnout-9',
      { kind: 'missingRecord', where: 'tracks.track-2.start.turnout', table: 'turnouts', id: 'turnout-9' },
    ],
    [
      'crossings.crossing-1.other',
      'track-9',
      { kind: 'missingRecord', where: 'crossings.crossing-1.other', table: 'tracks', id: 'track-9' },
    ],
    ['lineClasses.main.cars', ['car-0'], { kind: 'missingRecord', where: 'lineClasses.main.cars.0', table: 'vehicles', id: 'car-0' }],
    [
      'tracks.track-1.end',
      { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      { kind: 'legTaken', where: 'tracks.track-1.end', by: 'track-2' },
    ],
    ['tracks.track-2.end', { kind: 'closed' }, { kind: 'loopStart', where: 'tracks.track-2.start' }],
    ['tracks.track-2.corners.1.id', 'pi-1', { kind: 'cornerTwice', where: 'tracks.track-2.corners.1.id', id: 'pi-1' }],
    ['tracks.track-1.id', 'track-7', { kind: 'idMismatch', where: 'tracks.track-1.id', id: 'track-7', expected: 'track-1' }],
  ])('refuses the broken reference %s = %j with its place', (path, value, reference) => {
    expect(problemOf(soundWith(path, value))).toMatchObject({ kind: 'broken', reference })
  })

  it('refuses a track with both its ends at one leg', () => {
    const leg = { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }
    expect(problemOf(soundWith('tracks.track-2.end', leg))).toMatchObject({
      kind: 'broken',
      reference: { kind: 'legTaken', by: 'track-2' },
    })
  })

  it('takes tracks at both legs of one turnout', () => {
    expect(planParse(soundWith('tracks.track-2.end', { kind: 'leg', turnout: 'turnout-1', leg: 'other' })).ok).toBe(true)
  })

  it('tells a foreign document and a newer version from a damaged one', () => {
    expect(problemOf({ type: 'FeatureCollection', features: [] })).toEqual({ kind: 'notAPlan', found: undefined })
    expect(problemOf([1, 2])).toMatchObject({ kind: 'notAPlan' })
    expect(problemOf(null)).toEqual({ kind: 'notAPlan', found: null })
    expect(problemOf({ ...sound, version: planVersion + 1, tracks: 'of another kind' })).toEqual({
      kind: 'newerVersion',
      version: planVersion + 1,
      newest: planVersion,
    })
  })

  it('keeps the keys of other programs and names them', () => {
    const json = {
      ...sound,
      'x-top': [1, { y: null }],
      railway: { ...sound.railway, 'x-owner': 'me' },
      tracks: { 'track-1': { ...aTrack(), 'x-colour': 'red' } },
      turnouts: {},
      crossings: {},
    }
    const result = planParse(json)
    expect(result).toEqual({
      ok: true,
      plan: json,
      notes: [{ kind: 'unknownKeys', where: ['x-top', 'railway.x-owner', 'tracks.track-1.x-colour'] }],
    })
  })

  it('refuses data nested beyond the limit, however deep, without exhausting the stack', () => {
    let deep: unknown = 1
    for (let i = 0; i < 200_000; i++) deep = [deep]
    expect(problemOf({ ...sound, 'x-deep': deep })).toMatchObject({ kind: 'tooDeep', limit: dataDepthLimit })
    expect(problemOf(deep)).toMatchObject({ kind: 'tooDeep' })
  })

  it('lets no key reach a prototype', () => {
    for (const text of ['{"__proto__": {"polluted": 1}}', '{"x": {"constructor": {"prototype": {"polluted": 1}}}}']) {
      expect(planParse({ ...sound, 'x-evil': JSON.parse(text) })).toMatchObject({
        ok: false,
        problem: { kind: 'badValue', expected: 'another key' },
      })
    }
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false)
  })
})

describe('ids', () => {
  it('are refused when every object answers to them', () => {
    for (const word of Object.getOwnPropertyNames(Object.prototype)) expect([word, v.is(idSchema, word)]).toEqual([word, false])
    for (const word of ['', '1a', 'a b', 'a'.repeat(65), 'ä']) expect([word, v.is(idSchema, word)]).toEqual([word, false])
    for (const word of ['a', 'track-1', 'Main_2', 'a'.repeat(64)]) expect([word, v.is(idSchema, word)]).toEqual([word, true])
  })

  it('follow the highest number of their table', () => {
    expect(planNextId(planWith(), 'tracks')).toBe('track-1')
    expect(
      planNextId(planWith({ tracks: [aTrack({ id: 'track-9' }), aTrack({ id: 'main' }), aTrack({ id: 'track-007' })] }), 'tracks'),
    ).toBe('track-10')
  })

  it('stand in order of word and number', () => {
    expect(['track-10', 'track-2', 'main', 'track', 'track-02', 'a1'].sort(idCompare)).toEqual([
      'a1',
      'main',
      'track',
      'track-02',
      'track-2',
      'track-10',
    ])
  })
})

interface OldFile {
  readonly railway: object
  readonly lineClasses: { readonly [id: string]: { readonly clearanceCar: string | null } }
  readonly vehicles: { readonly [id: string]: OldCar }
  readonly turnouts: { readonly [id: string]: object }
  readonly openings: { readonly [id: string]: object }
  readonly obstacles: { readonly [id: string]: object }
}
interface OldCar {
  readonly bodyLengthMm: number
  readonly bodyWidthMm: number
  readonly truckCentresMm: number
  readonly truckWheelbaseMm: number
}
const fixture = (version: number): OldFile =>
  JSON.parse(readFileSync(new URL(`fixtures/version-${version}.json`, import.meta.url), 'utf8')) as OldFile
const allPlain = (turnouts: OldFile['turnouts']): object =>
  Object.fromEntries(Object.entries(turnouts).map(([id, turnout]) => [id, { ...turnout, kind: { kind: 'plain' } }]))

const aidsSinceSix = { guides: {}, readings: {}, underlays: {}, locks: {} }

/** What versions 4 to 6 make of a plan that knew one body to a car, one car to a class, and nothing of what it is laid of. */
function sinceOf(old: OldFile): object {
  const mapped = <A, B>(table: { readonly [id: string]: A }, change: (record: A) => B) =>
    Object.fromEntries(Object.entries(table).map(([id, record]) => [id, change(record)]))
  return {
    version: planVersion,
    ...aidsSinceSix,
    obstacles: mapped(old.obstacles, (obstacle) => ({ ...obstacle, undersideMm: 0 })),
    railway: { northRad: null, ...old.railway, reachMm: 762, aisleMm: 609.6, hatchMm: 508, ...layingOf(ratioOf(old)) },
    lineClasses: mapped(old.lineClasses, ({ clearanceCar, ...rest }) => {
      return { ...rest, cars: clearanceCar === null ? [] : [clearanceCar], minCurveMm: 0, widening: [], rules: {}, ...classSinceFive(old) }
    }),
    vehicles: mapped(old.vehicles, ({ bodyLengthMm, bodyWidthMm, truckCentresMm, truckWheelbaseMm, ...rest }) => ({
      ...rest,
      wheels: null,
      overCouplersMm: expect.closeTo(bodyLengthMm + (2.8 * 304.8) / ratioOf(old), 2),
      heightMm: expect.closeTo((15 * 304.8) / ratioOf(old), 2),
      weightG: 0,
      couplerSwingRad: expect.closeTo((13 * Math.PI) / 180, 4),
      frames: [{ kind: 'car', lengthMm: bodyLengthMm, widthMm: bodyWidthMm, truckCentresMm, truckWheelbaseMm, taper: null }],
    })),
    openings: {},
    hatches: {},
    joists: {},
    portals: {},
    silences: {},
    ...stockSinceFive,
  }
}

// Of version 5: the habits of HO, by ratio; a 36 in stick, 7 in thick ties, the truck centres of an 85 ft car.
const layingOf = (ratio: number): object => ({
  tieThicknessMm: expect.closeTo((7 * 25.4) / ratio, 3),
  laying: expect.objectContaining({
    joints: expect.objectContaining({ staggerMm: expect.closeTo((59.5 * 304.8) / ratio, 1) }),
    rates: { plainMmPerHour: null, turnoutHours: null, crossingHours: null },
  }),
})
const classSinceFive = (old: OldFile): object => ({
  curveCarLengths: 3,
  couplingCarLengths: 0,
  rail: 'railway',
  tie: 'railway',
  jointTieSpacingMm: null,
  roadbed: expect.objectContaining({
    material: 'cork',
    thicknessMm: ratioOf(old) > 140 ? 25.4 / 8 : expect.closeTo(((3 / 16) * 25.4 * 87.1) / ratioOf(old), 2),
  }),
  superelevationMm: 0,
})
const stockSinceFive: object = {
  materials: expect.objectContaining({ cork: { id: 'cork', name: 'Cork', strainLimit: 0.02 } }),
  stocks: expect.objectContaining({ 'stock-1': expect.objectContaining({ onHand: 0, canBuy: true, packPrice: null }) }),
  railJoints: {},
  ticks: {},
}
const ratioOf = ({ railway }: OldFile): number => (railway as { readonly ratio: number }).ratio

describe('migrations', () => {
  /** A chain of our own: version 1 called the title `name`, version 2 had no fouling separation. */
  const chain: readonly Migration[] = [
    { from: 1, migrate: ({ name, ...rest }) => ({ ...rest, title: name ?? '' }) },
    { from: 2, migrate: (plan) => ({ ...plan, foulingMm: 45.5 }) },
  ]

  it('lead step by step from any version to the newest and leave the old document alone', () => {
    const old = Object.freeze({ version: 1, name: 'Harbour', extra: true })
    expect(planMigrate(old, 1, chain, 3)).toEqual({ version: 3, title: 'Harbour', foulingMm: 45.5, extra: true })
    expect(planMigrate({ version: 2, title: 'Quay' }, 2, chain, 3)).toEqual({ version: 3, title: 'Quay', foulingMm: 45.5 })
    expect(planMigrate({ version: 3 }, 3, chain, 3)).toEqual({ version: 3 })
  })

  it('have no gap; a chain with one is seen', () => {
    expect(migrationGap(migrations, planVersion)).toBeNull()
    expect(migrationGap(chain, 3)).toBeNull()
    expect(migrationGap(chain.slice(1), 3)).toEqual({ missingFrom: 1 })
    expect(migrationGap(chain, 4)).toEqual({ missingFrom: 3 })
    expect(migrationGap(chain, 2)).toEqual({ missingFrom: 2 })
    expect(planMigrate({ version: 1 }, 1, chain.slice(1), 3)).toBeNull()
  })

  it('open a plan of version 1 as it was, with no makers in it', () => {
    const old = fixture(1)
    const result = planParse(old)
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    expect(result.notes).toEqual([{ kind: 'migrated', from: 1, to: planVersion }])
    expect(result.plan).toEqual({ ...old, ...sinceOf(old), makers: {}, crossings: {}, turnouts: allPlain(old.turnouts) })
  })

  it('open a plan of version 2 with plain turnouts and nothing chosen at its crossings, keys of other programs in their places', () => {
    const old = fixture(2)
    const result = planParse(old)
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    expect(result.notes).toContainEqual({ kind: 'migrated', from: 2, to: planVersion })
    expect(result.plan).toEqual({ ...old, ...sinceOf(old), crossings: {}, turnouts: allPlain(old.turnouts) })
    expect(Object.keys(result.plan.turnouts).length).toBeGreaterThan(1)
  })

  it('open a plan of version 3 with its cars frame by frame, and nothing in its room that was not there', () => {
    const old = fixture(3)
    const result = planParse(old)
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    expect(result.notes).toContainEqual({ kind: 'migrated', from: 3, to: planVersion })
    expect(result.plan).toEqual({ ...old, ...sinceOf(old) })
  })

  it('open a plan of version 4 with stock to cut from and roadbed under its tracks', () => {
    const old = fixture(4)
    const result = planParse(old)
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    expect(result.notes).toContainEqual({ kind: 'migrated', from: 4, to: planVersion })
    const lineClasses = Object.fromEntries(
      Object.entries(old.lineClasses).map(([id, record]) => [id, { ...record, ...classSinceFive(old) }]),
    )
    const railway = { ...old.railway, northRad: null, ...layingOf(ratioOf(old)) }
    expect(result.plan).toEqual({ ...old, ...aidsSinceSix, version: planVersion, railway, lineClasses, ...stockSinceFive })
  })

  it('open a plan of version 5 with its openings and obstacles down to the floor, and no north', () => {
    const old = fixture(5)
    const result = planParse(old)
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    expect(result.notes).toContainEqual({ kind: 'migrated', from: 5, to: planVersion })
    const { openings, obstacles, ...rest } = result.plan
    const { openings: oldOpenings, obstacles: oldObstacles, ...oldRest } = old
    expect(rest).toEqual({ ...oldRest, ...aidsSinceSix, version: planVersion, railway: { ...old.railway, northRad: null } })
    expect(Object.values(openings)).toEqual(Object.values(oldOpenings).map((opening) => ({ ...opening, sillMm: null })))
    expect(Object.values(obstacles)).toEqual(Object.values(oldObstacles).map((obstacle) => ({ ...obstacle, undersideMm: 0 })))
    expect([Object.keys(openings).length, Object.keys(obstacles).length]).not.toContain(0)
  })

  it('leave what is wrong with an old plan to the reader', () => {
    const old = fixture(2)
    expect(problemOf({ ...old, turnouts: [] })).toMatchObject({ kind: 'badValue', where: 'turnouts' })
    expect(problemOf({ ...old, turnouts: { 'turnout-1': 7 } })).toMatchObject({ kind: 'badValue', where: 'turnouts.turnout-1' })
    expect(problemOf({ ...old, vehicles: { 'car-1': { id: 'car-1', name: 'Box', bodyLengthMm: -1 } } })).toMatchObject({
      kind: 'badValue',
      where: 'vehicles.car-1.frames.0.lengthMm',
    })
    expect(problemOf({ ...old, crossings: 'none' })).toMatchObject({ kind: 'badValue', where: 'crossings' })
  })
})
