import { describe, expect, it } from 'vitest'
import { findingsOf } from '../../../src/core/checks/index.ts'
import {
  bandKeepCreate,
  clearancesFound,
  hurdleGap,
  standingCreate,
  sweptTrack,
  trackGap,
  trackLine,
} from '../../../src/core/clearance/index.ts'
import type { Clearances, SweptTrack } from '../../../src/core/clearance/index.ts'
import { pathNearest, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Network, NetworkTrack } from '../../../src/core/network/index.ts'
import type { HelixNumbers, Plan } from '../../../src/core/plan/index.ts'
import { bodiesBothWays, vehicleBodiesOf } from '../../../src/core/vehicles/index.ts'
import type { RigidBody } from '../../../src/core/vehicles/index.ts'
import { aMaker, networkOf, planMade } from '../../support/makers.ts'
import { aCorner, aTrack, planWith } from '../../support/plans.ts'

const radiusMm = 850
const helixId = 'maker-1'

/**
 * Two whole turns of 850 mm to the left about (0, 850), each rising so much, and a track that goes on level from the upper end, comes back from the right and
 * runs over the ring to its middle: there it lies three quarters of a turn over the upper turn.
 */
function built(riseMm: number): Plan {
  const numbers: HelixNumbers = {
    kind: 'helix',
    track: 'track-1',
    end: 'end',
    hand: 'left',
    size: { kind: 'radius', radius: radiusMm },
    climbMm: 2 * riseMm,
    rise: { kind: 'perTurn', riseMm },
    deckMm: 20,
    exit: { kind: 'angle', angleRad: 0 },
    straightMm: 400,
  }
  const lead = aTrack({ lineClass: 'yard', start: { kind: 'free', x: -1500, y: 0 }, end: { kind: 'free', x: 0, y: 0 } })
  const plan = planMade(planWith({ tracks: [lead] }), aMaker(numbers, { id: helixId, lineClass: 'yard' }))
  const end = plan.tracks[madeOf(plan)]?.end
  if (end?.kind !== 'free') throw new Error('no helix')
  const bare = { radius: 400, easementIn: 0, easementOut: 0 }
  const upper = aTrack({
    id: 'track-9',
    name: 'Upper',
    lineClass: 'yard',
    start: { kind: 'free', x: end.x, y: end.y },
    corners: [aCorner({ x: 2200, y: end.y, ...bare }), aCorner({ id: 'pi-2', x: 2200, y: radiusMm, ...bare })],
    end: { kind: 'free', x: 0, y: radiusMm },
  })
  return { ...plan, tracks: { ...plan.tracks, 'track-9': upper } }
}

const madeOf = (plan: Plan): string => plan.makers[helixId]?.made.tracks[0] ?? ''

function bodiesOn({ lineClass }: NetworkTrack, { vehicles }: Plan): readonly RigidBody[] {
  return bodiesBothWays(lineClass.cars.flatMap((id) => vehicles[id] ?? []).flatMap(vehicleBodiesOf))
}

function swept(network: Network, id: string): SweptTrack {
  const [track, line] = [network.tracks.get(id), trackLine(network, id, 600)]
  if (track === undefined || line === null) throw new Error(`no ${id}`)
  return sweptTrack(line, bodiesOn(track, network.plan), 10)
}

function clearances(network: Network): Clearances {
  const work = clearancesFound(network, (track) => bodiesOn(track, network.plan), [], bandKeepCreate())
  for (let step = work.next(); ; step = work.next()) if (step.done === true) return step.value
}

/** What all that speaks of clearance says of the place where the upper track comes over the ring. */
function told(plan: Plan): {
  readonly meetings: readonly string[]
  readonly bounds: readonly string[]
  readonly traced: number
  readonly gapMm: number | null
  readonly rules: readonly string[]
} {
  const network = networkOf(plan)
  const helix = madeOf(plan)
  const limits = { limitMm: plan.railway.runningClearanceMm, gaugeMm: plan.railway.gaugeMm, withinMm: plan.railway.runningClearanceMm }
  const found = clearances(network)
  const upper = found.swept.get('track-9')
  if (upper === undefined) throw new Error('no upper')
  const { line } = upper
  const over = pathNearest(line.path, { x: radiusMm, y: radiusMm }).stationMm - line.startMm
  const outline = boxAbout(pathPoseAt(line.path, over + line.startMm), 60, 18)
  const place = line.level && { level: line.level, stationMm: over }
  const isPassed = (track: string): boolean => track === 'track-9'
  return {
    meetings: trackGap(swept(network, helix), swept(network, 'track-9'), limits).meetings.map(({ kind }) => kind),
    bounds: standingCreate(network)('track-9').map(({ from, to }) => `${from.kind} ${to.kind}`),
    traced: (found.traces.get('track-9') ?? []).filter(
      ({ stationMm, left, right }) => Math.abs(stationMm - over) < 100 && [left, right].some((gap) => gap !== null),
    ).length,
    gapMm: hurdleGap(found.hurdles, outline, { withinMm: 20, isPassed, place })?.gapMm ?? null,
    rules: findingsOf({ plan, network }).flatMap(({ rule, record, otherRecord }) =>
      [record, otherRecord ?? ''].join(' ').includes('track-9') && ['track-clearance', 'crossing-build', 'roadbed-overlap'].includes(rule)
        ? [rule]
        : [],
    ),
  }
}

function boxAbout(
  { x, y, headingRad }: { readonly x: number; readonly y: number; readonly headingRad: number },
  alongMm: number,
  asideMm: number,
) {
  const [cos, sin] = [Math.cos(headingRad), Math.sin(headingRad)]
  return (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([a, b]) => ({
    x: x + a * alongMm * cos - b * asideMm * sin,
    y: y + a * alongMm * sin + b * asideMm * cos,
  }))
}

describe('a track that runs over a helix', () => {
  it('high enough is in nobody’s way: only where it goes on from it the two meet', () => {
    // Three quarters of 200 mm are 150; trains ask 77 and deck and rail 22. Cars stand on over the joint with the helix.
    expect(told(built(200))).toEqual({ meetings: ['joined'], bounds: ['end end'], traced: 0, gapMm: null, rules: [] })
  })

  it('too low meets it there, and all that speaks of clearance says so', () => {
    // Three quarters of 100 mm are 75, and 99 are asked.
    const { meetings, bounds, gapMm, rules } = told(built(100))
    expect(meetings).toContain('crossing')
    expect(bounds).toContain('track track')
    expect(gapMm).toBe(0)
    expect(rules).toEqual(['track-clearance'])
    const plan = built(100)
    const [finding] = findingsOf({ plan, network: networkOf(plan) }).filter(({ rule }) => rule === 'track-clearance')
    expect(finding).toMatchObject({ severity: 'error', problem: { kind: 'lowOverpass' } })
    expect(finding?.measured).toBeCloseTo(75, 1)
    // 22 ft at 87.1, a deck of 20 mm and rail of code 83.
    expect(finding?.limit).toBeCloseTo(76.987 + 20 + 2.1082, 2)
  })

  it('taken apart nothing is known of heights, and it meets it', () => {
    const plan = built(200)
    const network = networkOf({ ...plan, makers: {} })
    const limits = { limitMm: 6.4, gaugeMm: 16.5, withinMm: 6.4 }
    expect(trackGap(swept(network, madeOf(plan)), swept(network, 'track-9'), limits).meetings.map(({ kind }) => kind)).toContain('crossing')
  })
})
