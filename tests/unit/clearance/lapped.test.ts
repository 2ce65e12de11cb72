import { expect, test } from 'vitest'
import { trackLine } from '../../../src/core/clearance/index.ts'
import { findingsOf } from '../../../src/core/checks/index.ts'
import { pathPoseAt, pointDistance, poseToPlan } from '../../../src/core/geom/index.ts'
import type { Plan, Track } from '../../../src/core/plan/index.ts'
import { networkOf } from '../../support/makers.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** A three-way turnout whose second points lie 55 mm behind the first, with a track on its second leg. */
function lapped(host: Track, facing: 'rising' | 'falling'): Plan {
  const kind = { kind: 'three-way', secondFrog: 6, secondAfterMm: 55 } as const
  const turnout = aTurnout({ kind, facing, stationMm: 1000 })
  const bare = planWith({ tracks: [host], turnouts: [turnout] })
  const result = networkOf(bare).turnouts.get('turnout-1')?.result
  if (result?.ok !== true) throw new Error('the turnout is placed')
  const leg = result.geometry.legs.find((one) => one.leg === 'other')
  if (leg === undefined) throw new Error('it has a second leg')
  const end = poseToPlan(result.pose, {
    x: leg.pose.x + 500 * Math.cos(leg.pose.headingRad),
    y: leg.pose.y + 500 * Math.sin(leg.pose.headingRad),
  })
  const spur = aTrack({
    id: 'spur',
    lineClass: 'yard',
    start: { kind: 'leg', turnout: 'turnout-1', leg: 'other' },
    end: { kind: 'free', ...end },
  })
  return planWith({ tracks: [host, spur], turnouts: [turnout] })
}

const straight = aTrack()
const bent = aTrack({
  corners: [aCorner({ x: 1000, radius: 2500, easementIn: 0, easementOut: 0 })],
  end: { kind: 'free', x: 2000, y: 500 },
})

test.each([
  ['a straight', straight, 'rising'],
  ['a straight', straight, 'falling'],
  ['a bend', bent, 'rising'],
  ['a bend', bent, 'falling'],
] as const)('cars come to the second points of a lapped three-way turnout over the host between: %s, %s', (_host, host, facing) => {
  const plan = lapped(host, facing)
  const network = networkOf(plan)
  const line = trackLine(network, 'spur', 600)
  if (line === null) throw new Error('the spur is solved')
  const { elements } = line.path
  expect(line.span.fromMm).toBeCloseTo(600, 6)
  for (const [i, { startStationMm, start }] of elements.entries()) {
    const before = elements[i - 1]
    if (before === undefined) continue
    // Straight points stand a point's thickness beside the stock rail; nothing else is left between two pieces of a line.
    expect(
      pointDistance(pathPoseAt({ ...line.path, elements: elements.slice(0, i), lengthMm: startStationMm }, startStationMm), start),
    ).toBeLessThan(1)
  }
  expect(() => findingsOf({ plan, network })).not.toThrow()
})
