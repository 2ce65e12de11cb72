import { describe, expect, it } from 'vitest'
import { pathCurvatureAt, pathFromElements, pathPoseAt, pointDistance } from '../../../src/core/geom/index.ts'
import { turnoutMirror, turnoutSolve } from '../../../src/core/turnout/index.ts'
import type { SharedKind } from '../../../src/core/turnout/index.ts'
import { ho6, routesBare, solved } from '../../support/turnouts.ts'

/** Gauge is kept to this, mm; offsets of bent hosts are good to 1e-7. */
const toleranceMm = 1e-6
const narrowGaugeMm = 10.5

const duals = (['left', 'right'] as const).flatMap((common) =>
  (['wide', 'narrow', 'both'] as const).map((diverging): SharedKind => ({ kind: 'dual-gauge', narrowGaugeMm, common, diverging })),
)
const kinds: readonly SharedKind[] = [{ kind: 'gauntlet' }, ...duals]
const nameOf = (kind: SharedKind): string =>
  kind.kind === 'gauntlet' ? 'gauntlet' : `dual gauge, ${kind.common} rail shared, ${kind.diverging} diverging`

describe.each(kinds)('%#', (kind) => {
  const turnout = solved({ ...ho6, kind })

  it(`${nameOf(kind)}: every route has both its rails at its gauge`, () => {
    expect(routesBare(turnout)).toEqual([])
  })

  it(`${nameOf(kind)}: on a host that hardly bends it is the same`, () => {
    const host = { path: pathFromElements({ x: -400, y: 0, headingRad: 0 }, [{ lengthMm: 1600, k0: 0, k1: 0 }]), psMm: 400 }
    const other = solved({ ...ho6, kind, host })
    expect(other.leadMm).toBeCloseTo(turnout.leadMm, 6)
    expect(other.rails.length).toBe(turnout.rails.length)
  })

  it(`${nameOf(kind)}: to the right it is the mirror of the other rail shared, to the left`, () => {
    const mirrored: SharedKind = kind.kind === 'gauntlet' ? kind : { ...kind, common: kind.common === 'left' ? 'right' : 'left' }
    const right = solved({ ...ho6, kind: mirrored, hand: 'right' })
    const back = turnoutMirror(right)
    for (const [i, rail] of turnout.rails.entries()) {
      const twin = back.rails[i]
      expect(twin?.role).toBe(rail.role)
      expect(twin ? pointDistance(twin.gaugeLine.end, rail.gaugeLine.end) : Infinity).toBeLessThan(toleranceMm)
    }
  })
})

describe('a gauntlet', () => {
  it('keeps the spread beside the host ahead of the curve, and the frog number', () => {
    const turnout = solved({ ...ho6, kind: { kind: 'gauntlet' } })
    const curved = turnout.routes.find(({ name }) => name === 'curved')
    expect(curved ? pathPoseAt(curved.centre, 0).y : Number.NaN).toBeCloseTo(ho6.heelSpreadMm, 9)
    expect(turnout.frogs.map(({ number }) => Math.round(number * 1e9) / 1e9)).toEqual([6])
    expect(turnout.rails.some(({ role }) => role.startsWith('point'))).toBe(false)
  })

  it('by hand: R (1 - cos F) + u sin F = G - h', () => {
    const { closureGaugeLineRadiusMm, frogAngleRad } = solved({ ...ho6, kind: { kind: 'gauntlet' } })
    const rise = closureGaugeLineRadiusMm * (1 - Math.cos(frogAngleRad)) + ho6.toeLengthMm * Math.sin(frogAngleRad)
    expect(rise).toBeCloseTo(ho6.gaugeMm - ho6.heelSpreadMm, 9)
  })
})

describe('dual gauge', () => {
  // What follows from the rails alone: a narrow track that shares the right rail and leaves to the left crosses the wide left rail.
  it.each([
    ['right', 'both', 2, 1],
    ['right', 'narrow', 2, 1],
    ['right', 'wide', 2, 0],
    ['left', 'both', 2, 1],
    ['left', 'narrow', 1, 0],
    ['left', 'wide', 1, 1],
  ] as const)('%s rail shared, %s diverging: %i vees and %i elbows', (common, diverging, vees, elbows) => {
    const { frogs } = solved({ ...ho6, kind: { kind: 'dual-gauge', narrowGaugeMm, common, diverging } })
    expect([frogs.filter(({ kind }) => kind === 'vee').length, frogs.filter(({ kind }) => kind === 'elbow').length]).toEqual([vees, elbows])
  })

  it('refuses a third rail that leaves no flangeway beside the wide one, and says what would do', () => {
    const kind: SharedKind = { kind: 'dual-gauge', narrowGaugeMm: ho6.gaugeMm - 1, common: 'right', diverging: 'both' }
    const result = turnoutSolve({ ...ho6, kind })
    expect(result).toMatchObject({ ok: false, problem: { kind: 'badValue', value: ho6.gaugeMm - 1 } })
    if (result.ok || result.problem.kind !== 'badValue') return
    expect(result.problem.most).toBeCloseTo(ho6.gaugeMm - ho6.flangewayMm - ho6.railHeadMm, 9)
  })
})

it('straight parts of a gauntlet and a dual-gauge turnout do not bend', () => {
  for (const kind of kinds) {
    const straight = solved({ ...ho6, kind }).routes.find(({ name }) => name === 'straight')
    expect(straight ? pathCurvatureAt(straight.centre, straight.centre.lengthMm / 2) : Number.NaN).toBe(0)
  }
})
