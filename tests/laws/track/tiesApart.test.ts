import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planFindings } from '../../support/checks.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { tieCorners } from '../../../src/core/track/index.ts'
import type { Tie } from '../../../src/core/track/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'
import { ringsApart } from '../../support/ringsApart.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** A tenth of a millimetre is what a saw leaves. */
const sawMm = 0.1

interface Owned {
  readonly owner: string
  readonly isPlain: boolean
  readonly tie: Tie
}

function tiesOf({ trackwork }: Derived): readonly Owned[] {
  const owned =
    (isPlain: boolean) =>
    ([owner, { ties }]: readonly [string, { readonly ties: readonly Tie[] }]) =>
      ties.map((tie) => ({ owner, isPlain, tie }))
  return [
    ...[...trackwork.tracks].flatMap(owned(true)),
    ...[...trackwork.turnouts].flatMap(owned(false)),
    ...[...trackwork.crossings].flatMap(owned(false)),
  ]
}

/** Pairs of ties that lie on each other. */
function overlaps(derived: Derived): readonly (readonly [Owned, Owned])[] {
  const ties = tiesOf(derived).map((owned) => ({ ...owned, ring: tieCorners(owned.tie) }))
  return ties.flatMap((a, i) =>
    ties.slice(i + 1).flatMap((b): (readonly [Owned, Owned])[] => {
      const reachMm = (a.tie.lengthMm + b.tie.lengthMm + a.tie.widthMm + b.tie.widthMm) / 2
      if (Math.hypot(a.tie.centre.x - b.tie.centre.x, a.tie.centre.y - b.tie.centre.y) > reachMm) return []
      return ringsApart(a.ring, b.ring) < -sawMm ? [[a, b]] : []
    }),
  )
}

describe('no tie lies on another', () => {
  it.each(['fennimore', 'shelf'])('in the plan %s', (name) => {
    const read = planRead(readFileSync(join('public', 'demo', `${name}.json`), 'utf8'))
    if (!read.ok) throw new Error(`${name} does not read`)
    expect(overlaps(pipelineCreate().derive(read.plan)).map(([a, b]) => [a.owner, b.owner])).toEqual([])
  })

  const frog = fc.constantFrom(4, 5, 6, 8, 10)
  const yard = fc.record({
    bend: fc.constantFrom(0, 700, -700, 1400, -1400),
    frog,
    hand: fc.constantFrom('left', 'right'),
    lay: fc.constantFrom('square', 'fanned'),
    /** Where a second turnout stands on the track that leaves the first, behind its leg. */
    behindMm: fc.double({ min: 15, max: 120, noNaN: true }),
    secondFrog: frog,
    secondHand: fc.constantFrom('left', 'right'),
    centresMm: fc.double({ min: 44, max: 60, noNaN: true }),
    /** A turnout on the parallel track, its head blocks to either side. */
    besideMm: fc.double({ min: 200, max: 640, noNaN: true }),
  } as const)

  type Yard = typeof yard extends fc.Arbitrary<infer T> ? T : never

  function planOf({ bend, frog: first, hand, lay, behindMm, secondFrog, secondHand, centresMm, besideMm }: Yard): Plan {
    // The main bends by less than the flattest frog turns, so that nothing that leaves it crosses it again.
    const corners = bend === 0 ? [] : [aCorner({ x: 900, y: 0, radius: Math.abs(bend), easementIn: 0, easementOut: 0 })]
    const end = bend === 0 ? { x: 2100, y: 0 } : { x: 1900, y: 95 * Math.sign(bend) }
    const side = hand === 'left' ? -1 : 1
    const standard = aTurnout()
    return planWith({
      tracks: [
        aTrack({ corners, end: { kind: 'free', ...end } }),
        aTrack({
          id: 'track-2',
          name: 'Leg',
          start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
          end: { kind: 'free', x: 1900, y: end.y - side * 300 },
        }),
        // On the other side of the main: the head blocks of its turnout may reach under the main's ties.
        aTrack({
          id: 'track-3',
          name: 'Beside',
          start: { kind: 'free', x: 0, y: side * centresMm },
          end: { kind: 'free', x: 900, y: side * centresMm },
        }),
      ],
      turnouts: [
        aTurnout({
          stationMm: bend === 0 ? 500 : 800,
          frog: first,
          hand,
          build: { ...standard.build, ties: { spacing: 'even', lay, board: null } },
        }),
        aTurnout({ id: 'turnout-2', track: 'track-2', stationMm: behindMm, frog: secondFrog, hand: secondHand }),
        aTurnout({ id: 'turnout-3', track: 'track-3', stationMm: besideMm, frog: secondFrog, hand: secondHand }),
      ],
    })
  }

  it('in yards at random, but for what is found as too near', () => {
    let placed = 0
    fc.assert(
      fc.property(yard, (numbers) => {
        const plan = planOf(numbers)
        const derived = pipelineCreate().derive(plan)
        const found = overlaps(derived)
        placed += derived.trackwork.turnouts.size
        if (found.length === 0) return
        // What else may lie on each other are ties of two turnouts, which is a finding.
        const named = planFindings(plan, []).map(({ record, otherRecord }) => [record, otherRecord].toSorted().join())
        for (const [a, b] of found) expect(named, JSON.stringify([a, b, numbers])).toContain([a.owner, b.owner].toSorted().join())
      }),
      { numRuns: 40, seed: 11 },
    )
    expect(placed).toBeGreaterThan(100)
  })
})
