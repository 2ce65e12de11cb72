import { describe, expect, it } from 'vitest'
import { curesOffered } from '../../../src/core/checks/index.ts'
import { editApply, patchApply } from '../../../src/core/edit/index.ts'
import type { Plan } from '../../../src/core/plan/types.ts'
import { findingText } from '../../../src/words/findingText.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aMaker } from '../../support/makers.ts'
import { aCorner, aTrack, planWith } from '../../support/plans.ts'

/** A bare right angle on a side of 500 mm; the HO main asks 812.8 mm (32 in). */
const tight = (radius: number, sideMm = 500): Plan =>
  planWith({
    tracks: [
      aTrack({
        corners: [aCorner({ x: 2000, y: 0, radius, easementIn: 0, easementOut: 0 })],
        end: { kind: 'free', x: 2000, y: sideMm },
      }),
    ],
  })

describe('what is offered for a curve that does not fit', () => {
  // A bare right angle takes T = R tan 45 deg = R of each side: 500 mm hold 500, and a tenth less is told.
  it('is the largest radius that fits where no other keeps the class, said to be that; a hand has the first word', () => {
    const plan = tight(1000)
    const finding = onlyFinding(plan, 'easement-fit')
    expect(finding.cure).toBeNull()
    expect(curesOffered(finding, plan)).toEqual([{ kind: 'setRadius', track: 'track-1', corner: 'pi-1', radiusMm: 499.9 }])
    const words = findingText(finding, plan, { units: 'metric', fraction: 64 })
    expect(words.cures).toEqual(['Make it 499.9 mm, the largest that fits'])
    expect(words.byHand).toMatch(/^Neither another radius that the class allows/)
    const done = editApply(plan, { kind: 'corner.set', track: 'track-1', corner: 'pi-1', change: { radius: 499.9 } })
    const rules = done.ok ? planFindings(patchApply(plan, done.patch)).map(({ rule }) => rule) : []
    expect(rules).toContain('minimum-radius')
    expect(rules).not.toContain('easement-fit')
  })

  it('is a cure alone where the sides hold what the class asks', () => {
    const plan = tight(1000, 900)
    const finding = onlyFinding(plan, 'easement-fit')
    expect(curesOffered(finding, plan)).toEqual([finding.cure])
    expect(findingText(finding, plan, { units: 'metric', fraction: 64 }).cures).toEqual(['Make it 899.9 mm'])
  })

  it('is nothing on what a maker made: its numbers are changed there', () => {
    const plan = tight(1000)
    const course = { kind: 'parallel', centresMm: 50 } as const
    const host = { track: 'track-2', stationMm: 200, facing: 'rising', side: 'left', frog: 6 } as const
    const maker = aMaker({ kind: 'spur', ...host, course, lengthMm: 900 }, { made: { tracks: ['track-1'], turnouts: [] } })
    expect(curesOffered(onlyFinding(plan, 'easement-fit'), { ...plan, makers: { [maker.id]: maker } })).toEqual([])
  })

  it('is nothing where the easements alone take more than the sides', () => {
    const corners = [aCorner({ x: 2000, y: 0, radius: 1000, easementIn: 900, easementOut: 900 })]
    const plan = planWith({ tracks: [aTrack({ corners, end: { kind: 'free', x: 2000, y: 200 } })] })
    const offered = planFindings(plan).flatMap((finding) => curesOffered(finding, plan))
    expect(offered.filter(({ kind }) => kind === 'setRadius')).toEqual([])
  })
})
