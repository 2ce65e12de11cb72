import * as fc from 'fast-check'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { pathNearest, pathPoseAt, poseToPlan } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { railsCreateDeriver } from '../../../src/core/rails/index.ts'
import type { RailWork } from '../../../src/core/rails/types.ts'
import { planRead } from '../../../src/formats/planjson.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

interface Case {
  readonly derived: Derived
  readonly work: RailWork
}

const caseOf = (plan: Plan): Case => {
  const derived = pipelineCreate().derive(plan)
  return { derived, work: railsCreateDeriver()(derived) }
}

/** A main with a bend, turnouts along its first tangent, and a branch on the leg of each. */
const plans = fc
  .record({
    turnouts: fc.uniqueArray(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 3 }),
    hands: fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
    frog: fc.constantFrom(5, 6, 8),
    stick: fc.integer({ min: 450, max: 1000 }),
    radius: fc.integer({ min: 600, max: 900 }),
    hasBranch: fc.boolean(),
  })
  .map(({ turnouts, hands, frog, stick, radius, hasBranch }) => {
    const main = aTrack({ corners: [aCorner({ x: 4200, radius })], end: { kind: 'free', x: 4200, y: 2200 } })
    const set = turnouts.map((n) =>
      aTurnout({ id: `turnout-${n}`, name: `T${n}`, stationMm: 250 + 620 * n, hand: hands[n] === true ? 'left' : 'right', frog }),
    )
    const branches = set.map((turnout) => {
      const side = turnout.hand === 'left' ? 1 : -1
      const y = side * 60
      return aTrack({
        id: `track-${turnout.id}`,
        name: `Spur ${turnout.id}`,
        lineClass: 'yard',
        start: { kind: 'leg', turnout: turnout.id, leg: 'diverging' },
        end: { kind: 'free', x: turnout.stationMm + 500 * 3, y: y * 4 },
      })
    })
    const code = planWith().railway.railCode
    const of = { kind: 'rail', code, lengthMm: stick } as const
    const stocks = [{ id: 'stock-1', name: 'Rail', of, onHand: 0, canBuy: true, packOf: 1, packPrice: null }]
    return planWith({ tracks: [main, ...(hasBranch ? branches : [])], turnouts: set, stocks })
  })

const demo = (): Case => {
  const read = planRead(readFileSync('public/demo/fennimore.json', 'utf8'))
  if (!read.ok) throw new Error('the demo reads')
  return caseOf(read.plan)
}

/** What the laws hold of: the demo, and plans at random; each is dear, so all laws look at the same ones. */
const cases: readonly Case[] = [demo(), ...fc.sample(plans, { numRuns: 6, seed: 20 }).map(caseOf)]
const hold = (law: (one: Case) => void): void => cases.forEach((one) => law(one))

describe('rails of any plan', () => {
  it('sticks of a yard do for the demo: no joint of it has to break a rule, but for the one that was put in a bad place on purpose', () => {
    expect(cases[0]?.work.problems).toMatchObject([{ kind: 'jointInZone', isOwn: 'joint-1', rules: ['curveEnd'] }])
  })

  it('pieces and gaps of every run add up to its length, and runs to the rails of the trackwork', () => {
    hold(({ derived, work }) => {
      const byMark = new Map(work.pieces.map((piece) => [piece.id, piece]))
      expect(byMark.size).toBe(work.pieces.length)
      for (const run of work.runs) {
        const laid = run.pieces.reduce((sum, id) => sum + (byMark.get(id)?.laidMm ?? Number.NaN), 0)
        const gaps = work.joints.filter((joint) => joint.run === run.id).reduce((sum, { gapMm }) => sum + gapMm, 0)
        expect(laid + gaps + (run.start.gapMm + run.end.gapMm) / 2).toBeCloseTo(run.lengthMm, 6)
      }
      const inRuns = work.runs.reduce((sum, { lengthMm }) => sum + lengthMm, 0)
      let inTrackwork = 0
      for (const { rails } of derived.trackwork.tracks.values()) {
        for (const { gaugeLine } of rails) {
          const { path, offsetMm, fromMm, toMm } = gaugeLine
          inTrackwork += toMm - fromMm - offsetMm * (pathPoseAt(path, toMm).headingRad - pathPoseAt(path, fromMm).headingRad)
        }
      }
      for (const { result } of derived.network.turnouts.values()) {
        if (result.ok) inTrackwork += result.geometry.rails.reduce((sum, { gaugeLine }) => sum + gaugeLine.lengthMm, 0)
      }
      for (const { result } of derived.network.crossings.values()) {
        if (result.ok) inTrackwork += result.crossing.rails.reduce((sum, { gaugeLine }) => sum + gaugeLine.lengthMm, 0)
      }
      expect(inRuns).toBeCloseTo(inTrackwork, 3)
    })
  })

  it('no piece is longer than the stick, and none shorter than the rules ask, but those told', () => {
    hold(({ derived, work }) => {
      const { plan } = derived
      const longest = Math.max(...Object.values(plan.stocks).map(({ of }) => (of.kind === 'rail' ? of.lengthMm : 0)))
      for (const piece of work.pieces) {
        expect(piece.lengthMm).toBeLessThanOrEqual(longest + 1e-6)
        const isSet = piece.startsAt !== 'joint' && piece.endsAt !== 'joint'
        const isTold = work.problems.some((problem) => problem.kind === 'pieceTooShort' && problem.piece === piece.id)
        if (piece.kind === 'plain' && !isSet && !isTold)
          expect(piece.laidMm).toBeGreaterThan(plan.railway.laying.joints.leastPieceMm - 0.51)
      }
    })
  })

  it('no joint stands within the distance of a point, frog, guard, gap or throw bar, nor of a curve end, but those told', () => {
    hold(({ derived, work }) => {
      const rules = derived.plan.railway.laying.joints
      for (const joint of work.joints) {
        const { track: id, rail, stationMm } = joint.place
        if (work.problems.some((problem) => problem.kind === 'jointInZone' && problem.place.stationMm === stationMm)) continue
        const track = derived.network.tracks.get(id)
        if (track?.alignment.ok !== true || stationMm < 0 || stationMm > track.alignment.path.lengthMm) continue
        const { path, corners } = track.alignment
        const offset = ((rail === 'left' ? 1 : -1) * track.railway.gaugeMm) / 2
        const pose = pathPoseAt(path, stationMm)
        const at = { x: pose.x - offset * Math.sin(pose.headingRad), y: pose.y + offset * Math.cos(pose.headingRad) }
        // Distances along the rail are no shorter than those straight across, but for the widths of special work.
        const slackMm = 0.6
        for (const { result } of derived.network.turnouts.values()) {
          if (!result.ok) continue
          const { gaps, rails } = result.geometry
          for (const gap of gaps) {
            const there = poseToPlan(result.pose, gap.at)
            expect(Math.hypot(there.x - at.x, there.y - at.y)).toBeGreaterThan(rules.gapMm - slackMm)
          }
          for (const line of rails.filter(
            ({ role }) => role.startsWith('point-') || role.startsWith('frog-') || role.startsWith('wing-'),
          )) {
            const cos = Math.cos(result.pose.headingRad)
            const sin = Math.sin(result.pose.headingRad)
            const [dx, dy] = [at.x - result.pose.x, at.y - result.pose.y]
            const near = pathNearest(line.gaugeLine, { x: dx * cos + dy * sin, y: dy * cos - dx * sin })
            const least = line.role.startsWith('point-') ? rules.pointsMm : rules.frogMm
            const isAbreast = near.stationMm > 1e-6 && near.stationMm < line.gaugeLine.lengthMm - 1e-6
            if (near.distanceMm < 1.2 * track.railway.gaugeMm) expect(isAbreast).toBe(false)
            expect(near.distanceMm > least - slackMm || !isAbreast).toBe(true)
          }
        }
        for (const { tsMm, stMm } of corners) {
          for (const end of stMm > tsMm ? [tsMm, stMm] : []) {
            const off = Math.abs(end - stationMm)
            expect(Math.min(off, Math.abs(path.lengthMm - off))).toBeGreaterThan(rules.curveEndMm * 0.95 - slackMm)
          }
        }
      }
    })
  })

  it('joints of the two rails of a track stand the stagger apart, but those told', () => {
    hold(({ derived, work }) => {
      const { staggerMm } = derived.plan.railway.laying.joints
      for (const a of work.joints) {
        for (const b of work.joints) {
          if (a.place.track !== b.place.track || a.place.rail === b.place.rail) continue
          const isTold = work.problems.some(
            (problem) => problem.kind === 'stagger' && [problem.place.stationMm, problem.other.stationMm].includes(a.place.stationMm),
          )
          if (!isTold) expect(Math.abs(a.place.stationMm - b.place.stationMm)).toBeGreaterThan(staggerMm - 0.1)
        }
      }
    })
  })
})
