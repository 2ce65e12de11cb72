import { describe, expect, test } from 'vitest'
import { editApply, patchApply } from '../../../src/core/edit/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const extentOf = (plan: Plan, id: string): { readonly fromMm: number; readonly toMm: number } => {
  const geometry = pipelineCreate().derive(plan).network.turnouts.get(id)?.result.geometry
  if (geometry === null || geometry === undefined) throw new Error(`${id} has no geometry`)
  return geometry.extent
}

const moved = (plan: Plan, id: string, stationMm: number): Plan => {
  const result = editApply(plan, { kind: 'turnout.set', id, change: { stationMm } })
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return patchApply(plan, result.patch)
}

describe('minimum-frog', () => {
  test('finds a frog under the class number and offers the number', () => {
    // Main of HO: No. 6. No. 5 diverges on a radius over its 812.8? No: 596, so the radius is told as well.
    const plan = planWith({ lineClasses: [{ ...mainClass(), minRadiusMm: 500 }], tracks: [aTrack()], turnouts: [aTurnout({ frog: 5 })] })
    const finding = onlyFinding(plan, 'minimum-frog')
    expect(finding).toMatchObject({ severity: 'error', record: 'turnout-1', measured: 5, limit: 6, unit: 'number', source: 'class:main' })
    expect(finding.cure).toEqual({ kind: 'setFrog', turnout: 'turnout-1', frog: 6 })
  })

  test('offers no frog that would run off the track', () => {
    const short = planWith({ lineClasses: [{ ...mainClass(), minRadiusMm: 500 }], tracks: [aTrack()], turnouts: [aTurnout({ frog: 5 })] })
    const room = 2000 - extentOf(short, 'turnout-1').toMm - 1
    expect(onlyFinding(moved(short, 'turnout-1', room), 'minimum-frog').cure).toBeNull()
  })
})

const mainClass = (): Plan['lineClasses'][string] => {
  const main = planWith().lineClasses['main']
  if (main === undefined) throw new Error('the empty plan has a main')
  return main
}

describe('turnout-place', () => {
  test('one that runs off its track: by how much, and a station that holds it', () => {
    const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 1900 })] })
    const { toMm } = extentOf(plan, 'turnout-1')
    const finding = onlyFinding(plan, 'turnout-place')
    expect(finding.problem).toMatchObject({ kind: 'runsOff', end: 'end' })
    expect(finding.measured).toBeCloseTo(1900 + toMm - 2000, 9)
    if (finding.cure?.kind !== 'moveTurnout') throw new Error('expected a move')
    expect(finding.cure.stationMm).toBeLessThanOrEqual(2000 - toMm)
    expect(finding.cure.stationMm).toBeGreaterThan(2000 - toMm - 0.2)
    expect(planFindings(moved(plan, 'turnout-1', finding.cure.stationMm))).toEqual([])
  })

  test('one on a curve stands; over the end of an easement it is told and moved off it', () => {
    const track = aTrack({
      corners: [aCorner({ x: 2000, y: 0, radius: 1400, easementIn: 300, easementOut: 300 })],
      end: { kind: 'free', x: 2000, y: 3000 },
    })
    const at = (stationMm: number): Plan => planWith({ tracks: [track], turnouts: [aTurnout({ stationMm, hand: 'right' })] })
    const line = networkCreateDeriver()(at(300)).tracks.get('track-1')?.alignment
    if (line?.ok !== true) throw new Error('line not solved')
    const { tsMm = 0, scMm = 0 } = line.corners[0] ?? {}
    expect(planFindings(at(scMm + 1))).toEqual([])
    const finding = onlyFinding(at(tsMm - 40), 'turnout-place')
    expect(finding).toMatchObject({ severity: 'warning', problem: { kind: 'easementEndUnder', stationMm: tsMm } })
    if (finding.cure?.kind !== 'moveTurnout') throw new Error('expected a move')
    expect(planFindings(at(finding.cure.stationMm))).toEqual([])
  })

  test('over the end of a bare curve, and over the junction of a compound one, it is told too', () => {
    const on = (radius: ReturnType<typeof aCorner>['radius'], stationMm: number): Plan =>
      planWith({
        tracks: [
          aTrack({ corners: [aCorner({ x: 2000, y: 0, radius, easementIn: 0, easementOut: 0 })], end: { kind: 'free', x: 2000, y: 3000 } }),
        ],
        turnouts: [aTurnout({ stationMm, hand: 'right' })],
      })
    const cornerOf = (plan: Plan) => {
      const line = networkCreateDeriver()(plan).tracks.get('track-1')?.alignment
      const corner = line?.ok === true ? line.corners[0] : undefined
      if (corner === undefined) throw new Error('line not solved')
      return corner
    }
    const { tsMm } = cornerOf(on(1400, 300))
    expect(onlyFinding(on(1400, tsMm - 40), 'turnout-place')).toMatchObject({
      severity: 'warning',
      problem: { kind: 'easementEndUnder', what: 'curve', stationMm: tsMm },
    })
    const compound = {
      first: { radius: 1800, turn: { kind: 'share', share: 1 } },
      next: [{ radius: 1400, turn: { kind: 'share', share: 1 }, easement: 0 }],
    } as const
    const joined = cornerOf(on(compound, 300)).joins[0]
    if (joined === undefined) throw new Error('no join')
    expect(onlyFinding(on(compound, joined.fromMm - 60), 'turnout-place')).toMatchObject({
      problem: { kind: 'easementEndUnder', what: 'join', stationMm: joined.fromMm },
    })
  })

  test('one that cannot be built says why', () => {
    const finding = onlyFinding(planWith({ tracks: [aTrack()], turnouts: [aTurnout({ frog: 900 })] }), 'turnout-place')
    expect(finding.problem).toMatchObject({ kind: 'geometry', problem: { kind: 'frogOutOfRange' } })
    expect(finding.cure).toBeNull()
  })

  test('two that want the same stretch: PS to PS and what it would have to be', () => {
    const both = (apartMm: number): Plan =>
      planWith({
        tracks: [aTrack({ end: { kind: 'free', x: 4000, y: 0 } })],
        turnouts: [aTurnout(), aTurnout({ id: 'turnout-2', stationMm: 500 + apartMm, hand: 'right' })],
      })
    const { fromMm, toMm } = extentOf(both(1000), 'turnout-1')
    const needMm = toMm - fromMm
    expect(planFindings(both(needMm + 0.01))).toEqual([])
    const finding = onlyFinding(both(needMm - 20), 'turnout-place')
    expect(finding).toMatchObject({ record: 'turnout-2', otherRecord: 'turnout-1', problem: { kind: 'turnoutsOverlap' } })
    expect(finding.measured).toBeCloseTo(needMm - 20, 9)
    expect(finding.limit).toBeCloseTo(needMm, 9)
    if (finding.cure?.kind !== 'moveTurnout') throw new Error('expected a move')
    expect(planFindings(moved(both(needMm - 20), 'turnout-2', finding.cure.stationMm))).toEqual([])
  })

  test('frog to frog two share their long ties: only rails count', () => {
    const both = (apartMm: number): Plan =>
      planWith({
        tracks: [aTrack({ end: { kind: 'free', x: 4000, y: 0 } })],
        turnouts: [aTurnout(), aTurnout({ id: 'turnout-2', stationMm: 500 + apartMm, facing: 'falling' })],
      })
    const geometry = pipelineCreate().derive(both(1000)).network.turnouts.get('turnout-1')?.result.geometry
    if (!geometry) throw new Error('no geometry')
    const placeFindings = (apartMm: number) => planFindings(both(apartMm)).filter(({ rule }) => rule === 'turnout-place')
    expect(geometry.overallMm).toBeLessThan(geometry.extent.toMm)
    expect(placeFindings(2 * geometry.overallMm + 0.01)).toEqual([])
    expect(placeFindings(2 * geometry.overallMm - 1).map(({ problem }) => problem?.kind)).toEqual(['turnoutsOverlap'])
  })

  test('two of different tracks whose ties lie on each other: the head blocks that can be cut are, the rest is told and moved', () => {
    const [dx, dy] = [Math.cos(0.5), Math.sin(0.5)]
    // A second track that ends beside the first at an angle: its turnout stands where the first one has its long ties.
    const both = (alongMm: number): Plan =>
      planWith({
        tracks: [
          aTrack(),
          aTrack({
            id: 'track-2',
            name: 'Spur',
            start: { kind: 'free', x: 720, y: 40 },
            end: { kind: 'free', x: 720 + 900 * dx, y: 40 + 900 * dy },
          }),
        ],
        turnouts: [aTurnout(), aTurnout({ id: 'turnout-2', name: 'Spur', track: 'track-2', stationMm: alongMm })],
      })
    const met = planFindings(both(6.5)).filter(({ problem }) => problem?.kind === 'turnoutTiesMeet')
    expect(met).toHaveLength(1)
    const [finding] = met
    expect(finding).toMatchObject({ severity: 'warning', record: 'turnout-2', otherRecord: 'turnout-1', unit: 'number', limit: 0 })
    if (finding?.cure?.kind !== 'moveTurnout') throw new Error('expected a move')
    expect(planFindings(both(finding.cure.stationMm)).filter(({ problem }) => problem?.kind === 'turnoutTiesMeet')).toEqual([])
    expect(planFindings(both(300)).filter(({ rule }) => rule === 'turnout-place')).toEqual([])
  })

  test('across station zero of a loop as well', () => {
    const corners = [
      [-2000, 0],
      [2000, 0],
      [2000, 3000],
      [-2000, 3000],
    ].map(([x = 0, y = 0], i) => aCorner({ id: `pi-${i + 1}`, x, y }))
    const loop = aTrack({
      corners: [...corners.slice(1), ...corners.slice(0, 1)],
      start: { kind: 'free', x: 0, y: 0 },
      end: { kind: 'closed' },
    })
    const lengthMm = ((): number => {
      const alignment = pipelineCreate()
        .derive(planWith({ tracks: [loop] }))
        .network.tracks.get('track-1')?.alignment
      if (alignment?.ok !== true) throw new Error('the loop is solved')
      return alignment.path.lengthMm
    })()
    const turnouts = [aTurnout({ stationMm: 30 }), aTurnout({ id: 'turnout-2', stationMm: lengthMm - 100, hand: 'right' })]
    const finding = onlyFinding(planWith({ tracks: [loop], turnouts }), 'turnout-place')
    expect(finding.problem).toMatchObject({ kind: 'turnoutsOverlap' })
  })
})
