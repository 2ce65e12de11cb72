import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { editApply, patchApply } from '../../src/core/edit/index.ts'
import type { PlanCommand, PlanPatch } from '../../src/core/edit/index.ts'
import { dataFreeze } from '../../src/core/plan/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'
import type { ChecksAnswer, ChecksEngine } from '../../src/engine/protocol.ts'
import { planFindings } from './checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from './plans.ts'

const bend = {
  corners: [aCorner({ x: 1500, y: 0, radius: 200, easementIn: 0, easementOut: 0 })],
  end: { kind: 'free', x: 1500, y: 900 },
} as const

/** Two sharp bends far from each other, and a turnout. */
export const checksPlan: Plan = dataFreeze(
  planWith({
    tracks: [
      aTrack(bend),
      aTrack({
        ...bend,
        id: 'track-2',
        start: { kind: 'free', x: 0, y: 5000 },
        corners: [{ ...bend.corners[0], y: 5000 }],
        end: { kind: 'free', x: 1500, y: 5900 },
      }),
    ],
    turnouts: [aTurnout()],
  }),
)

/** A command as the patch that it stands for. */
export function patchOf(plan: Plan, command: PlanCommand): PlanPatch {
  const result = editApply(plan, command)
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result.patch
}

const widen = (track: string, radius: number): PlanCommand => ({ kind: 'corner.set', track, corner: 'pi-1', change: { radius } })

/** The answer with what was not sent again filled in from the one before. */
function filledIn(answer: ChecksAnswer, before: readonly unknown[] = []): readonly unknown[] {
  if (answer.kind !== 'found') throw new Error(`answered ${JSON.stringify(answer)}`)
  return answer.findings.map((one) => (typeof one === 'number' ? before[one] : one))
}

/** What checks that keep a plan do, wherever they work. Nothing of node or of a browser is used here. */
export function checksContract(name: string, make: () => ChecksEngine): void {
  describe(`checks contract: ${name}`, () => {
    let checks: ChecksEngine
    beforeEach(() => {
      checks = make()
    })
    afterEach(() => checks.dispose())

    it('finds in a whole plan what the checks find', async () => {
      const answer = await checks.ask({ kind: 'whole', number: 1, plan: checksPlan })
      expect(filledIn(answer)).toEqual(planFindings(checksPlan, []))
      expect(filledIn(answer).length).toBeGreaterThan(1)
    })

    it('takes a change record by record, and does not send again what stayed', async () => {
      const first = filledIn(await checks.ask({ kind: 'whole', number: 1, plan: checksPlan }))
      const patch = patchOf(checksPlan, widen('track-1', 201))
      const answer = await checks.ask({ kind: 'change', number: 2, since: 1, patch })
      const second = filledIn(answer, first)
      expect(second).toEqual(planFindings(patchApply(checksPlan, patch), []))
      if (answer.kind !== 'found') return
      expect(answer.findings.some((one) => typeof one === 'number')).toBe(true)
      expect(answer.findings.some((one) => typeof one !== 'number')).toBe(true)
    })

    it('says that it has lost a plan that it does not keep', async () => {
      const patch = patchOf(checksPlan, widen('track-1', 900))
      expect(await checks.ask({ kind: 'change', number: 2, since: 1, patch })).toEqual({ kind: 'lost' })
      await checks.ask({ kind: 'whole', number: 3, plan: checksPlan })
      expect(await checks.ask({ kind: 'change', number: 4, since: 1, patch })).toEqual({ kind: 'lost' })
      expect((await checks.ask({ kind: 'change', number: 5, since: 3, patch })).kind).toBe('found')
    })

    it('says what went wrong with what is no plan, and goes on with the next', async () => {
      const broken = { ...checksPlan, tracks: null } as unknown as Plan
      expect(await checks.ask({ kind: 'whole', number: 1, plan: broken })).toEqual({ kind: 'failed', message: expect.stringMatching(/./) })
      expect((await checks.ask({ kind: 'whole', number: 2, plan: checksPlan })).kind).toBe('found')
    })

    it('answers no more once it has been closed', async () => {
      checks.dispose()
      await expect(checks.ask({ kind: 'whole', number: 1, plan: checksPlan })).rejects.toThrow('The engine has been closed.')
    })
  })
}
