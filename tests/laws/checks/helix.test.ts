import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Finding, RuleName } from '../../../src/core/checks/index.ts'
import type { Plan, Wall } from '../../../src/core/plan/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aMaker, planMade } from '../../support/makers.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const SEED = 20261130
const radiusMm = 850

/** Two turns and a half about (0, 850), with room for trains between them. */
const helix = (): Plan => {
  const lead = aTrack({ lineClass: 'yard', start: { kind: 'free', x: -1500, y: 0 }, end: { kind: 'free', x: 0, y: 0 } })
  const maker = aMaker(
    {
      kind: 'helix',
      track: 'track-1',
      end: 'end',
      hand: 'left',
      size: { kind: 'radius', radius: radiusMm },
      climbMm: 300,
      rise: { kind: 'perTurn', riseMm: 120 },
      deckMm: 20,
      exit: { kind: 'asClimb' },
      straightMm: 200,
    },
    { lineClass: 'yard' },
  )
  return planMade(planWith({ tracks: [lead] }), maker)
}

const count = (findings: readonly Finding[], rule: RuleName): number => findings.filter((finding) => finding.rule === rule).length

describe('beside a helix', () => {
  /** Straight upwards to the right of the ring, as far from its centreline as said; how high it lies is not known. */
  const passing = (offMm: number): readonly Finding[] => {
    const x = radiusMm + offMm
    const track = aTrack({ id: 'track-9', lineClass: 'yard', start: { kind: 'free', x, y: 300 }, end: { kind: 'free', x, y: 1500 } })
    const plan = helix()
    return planFindings({ ...plan, tracks: { ...plan.tracks, 'track-9': track } }, [])
  }
  const walled = (offMm: number): readonly Finding[] => {
    const x = radiusMm + offMm
    const wall: Wall = {
      id: 'wall-1',
      name: 'East',
      // Its thickness lies to the right of its line: away from the ring.
      points: [
        { x, y: -100 },
        { x, y: 1800 },
      ],
      thicknessMm: 100,
      isClosed: false,
    }
    return planFindings({ ...helix(), walls: { 'wall-1': wall } }, [])
  }

  test('a track farther away is never too near that was not, nor is its roadbed', () => {
    const cured = new Set<string>()
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 60 }), fc.integer({ min: 1, max: 30 }), (offMm, moreMm) => {
        const [before, after] = [passing(offMm), passing(offMm + moreMm)]
        for (const rule of ['track-clearance', 'roadbed-overlap'] as const) {
          expect(count(after, rule)).toBeLessThanOrEqual(count(before, rule))
          if (count(after, rule) < count(before, rule)) cured.add(rule)
        }
      }),
      { seed: SEED, numRuns: 12 },
    )
    expect([...cured].toSorted()).toEqual(['roadbed-overlap', 'track-clearance'])
  })

  test('a wall nearer to it takes no finding away', () => {
    let found = 0
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 60 }), fc.integer({ min: 1, max: 30 }), (offMm, lessMm) => {
        const [before, after] = [walled(offMm), walled(offMm - lessMm)].map((findings) => count(findings, 'fixed-clearance'))
        expect(after).toBeGreaterThanOrEqual(before ?? NaN)
        if ((after ?? 0) > (before ?? 0)) found++
      }),
      { seed: SEED + 1, numRuns: 12 },
    )
    expect(found).toBeGreaterThan(0)
  })
})
