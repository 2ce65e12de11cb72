import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  editApply,
  editRemoveCommand,
  patchApply,
  patchBetween,
  patchInvert,
  patchIsEmpty,
  patchSquash,
} from '../../../src/core/edit/index.ts'
import { editLabel } from '../../../src/words/editLabel.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { planParse, referenceProblemFind, tableNames } from '../../../src/core/plan/index.ts'
import type { AnyRecord, Plan } from '../../../src/core/plan/index.ts'
import { planWrite } from '../../../src/formats/planjson.ts'
import { commandArbitrary, planArbitrary } from '../../support/planArbitraries.ts'
import { oddValue, spoil } from '../../support/spoil.ts'

const seeded = (numRuns: number) => ({ seed: 20261125, numRuns })

/** Records of `after` that the patch does not name are those of `before`, the same objects, in the same order. */
function expectOthersUntouched(before: Plan, after: Plan, named: ReadonlySet<string>): void {
  for (const table of tableNames) {
    const others = (plan: Plan) => Object.values<AnyRecord>(plan[table]).filter((record) => !named.has(`${table} ${record.id}`))
    expect(others(after).length).toBe(others(before).length)
    for (const [i, record] of others(after).entries()) expect(record).toBe(others(before)[i])
    if (![...named].some((name) => name.startsWith(`${table} `))) expect(after[table]).toBe(before[table])
  }
}

describe('patches', () => {
  it('change only what they name, leave a valid plan, and are undone by their inverse', () => {
    let taken = 0
    fc.assert(
      fc.property(planArbitrary, commandArbitrary, (plan, command) => {
        const result = editApply(plan, command)
        if (!result.ok) return
        taken += 1
        if (command.kind !== 'group') expect(editLabel(command, plan)).toMatch(/^[A-Z]/)
        const after = patchApply(plan, result.patch)
        const named = new Set(result.patch.records.map((change) => `${change.table} ${change.id}`))
        expectOthersUntouched(plan, after, named)
        expect(planParse(after)).toMatchObject({ ok: true })
        expect(patchApply(plan, patchBetween(plan, after))).toEqual(after)
        const back = patchApply(after, patchInvert(result.patch))
        expect(back).toEqual(plan)
        expectOthersUntouched(plan, back, named)
        expect(planWrite(back)).toBe(planWrite(plan))
        expect(patchApply(back, result.patch)).toEqual(after)
      }),
      seeded(2000),
    )
    expect(taken).toBeGreaterThan(500)
  })

  it('squashed do in one what they did one after another', () => {
    let several = 0
    fc.assert(
      fc.property(planArbitrary, fc.array(commandArbitrary, { minLength: 2, maxLength: 5 }), (plan, commands) => {
        let at = plan
        let squashed = null
        let taken = 0
        for (const command of commands) {
          const result = editApply(at, command)
          if (!result.ok) continue
          taken += 1
          at = patchApply(at, result.patch)
          squashed = squashed === null ? result.patch : patchSquash(squashed, result.patch)
        }
        if (squashed === null) return
        if (taken > 1) several += 1
        expect(patchApply(plan, squashed)).toEqual(at)
        expect(patchApply(at, patchInvert(squashed))).toEqual(plan)
        expect(patchIsEmpty(patchSquash(squashed, patchInvert(squashed)))).toBe(true)
      }),
      seeded(500),
    )
    expect(several).toBeGreaterThan(100)
  })

  it('are never made by a spoilt command unless the plan stays valid', () => {
    fc.assert(
      fc.property(
        planArbitrary,
        commandArbitrary,
        fc.nat(),
        oddValue,
        fc.constantFrom('put', 'drop', 'double'),
        (plan, command, pick, odd, how) => {
          const result = editApply(plan, spoil(command, pick, odd, how) as PlanCommand)
          if (!result.ok) {
            expect(['notFound', 'idTaken', 'badValue', 'inUse', 'locked']).toContain(result.problem.kind)
            return
          }
          const after = patchApply(plan, result.patch)
          expect(planParse(after)).toMatchObject({ ok: true })
        },
      ),
      seeded(1500),
    )
  })

  it('are never made by what is no command', () => {
    fc.assert(
      fc.property(planArbitrary, oddValue, (plan, odd) => {
        expect(editApply(plan, odd as PlanCommand).ok).toBe(false)
      }),
      seeded(500),
    )
  })
})

describe('removing from the screen', () => {
  it('works in one step for every record but a line class or material in use, whether the leg is known or not', () => {
    fc.assert(
      fc.property(planArbitrary, fc.nat(), fc.boolean(), (plan, pick, isKnown) => {
        const all = tableNames.flatMap((table) => Object.keys(plan[table]).map((id) => ({ table, id })))
        const { table, id } = all[pick % all.length] ?? { table: 'tracks', id: '' }
        const command = editRemoveCommand(plan, table, id, () => (isKnown ? { x: 5, y: 6, headingRad: 1 } : null))
        const result = editApply(plan, command)
        if (!result.ok && result.problem.kind === 'locked') {
          const { table: on, id: record } = result.problem
          expect(Object.values(plan.locks)).toContainEqual({ id: 'lock-1', table: on, record })
          return
        }
        if (!result.ok) {
          expect(result.problem).toMatchObject({ kind: 'inUse', table: expect.stringMatching(/^(?:lineClasses|materials)$/) as unknown })
          return
        }
        const after = patchApply(plan, result.patch)
        expect(Object.keys(after[table])).not.toContain(id)
        expect(referenceProblemFind(after)).toBeNull()
        expect(editLabel(command, plan)).toMatch(/^(?:Remove |Unlock |Tell a finding again$)/)
      }),
      seeded(500),
    )
  })
})
