import { readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planParse } from '../../../src/core/plan/index.ts'
import { jsonSchemaAccepts } from '../../support/jsonSchemaCheck.ts'
import { planArbitrary } from '../../support/planArbitraries.ts'
import { planJsonSchemaText } from '../../support/planJsonSchema.ts'
import { oddValue, spoil } from '../../support/spoil.ts'

const published = readFileSync(new URL('../../../public/schema/waybench-plan.schema.json', import.meta.url), 'utf8')
const schema = JSON.parse(published) as { readonly [keyword: string]: unknown }

describe('the published JSON Schema', () => {
  it('is as new as the schema by which the app reads (else run: node scripts/schema.mjs)', () => {
    expect(published).toBe(planJsonSchemaText())
  })

  it('accepts what the reader accepts and refuses what it refuses, references between records apart', () => {
    const seen = { accepted: 0, refused: 0 }
    fc.assert(
      fc.property(planArbitrary, fc.nat(), oddValue, fc.constantFrom('put', 'drop', 'double'), (plan, pick, odd, how) => {
        // Only what can stand in a file: what JSON cannot say is dropped or becomes null, as JSON.stringify has it.
        const text = JSON.stringify(spoil(plan, pick, odd, how), (_key, value: unknown) => (typeof value === 'bigint' ? null : value))
        if (text === undefined) return
        const json: unknown = JSON.parse(text)
        const result = planParse(json)
        // Limits of the reader that no schema states: depth, keys that could reach a prototype.
        if (
          !result.ok &&
          (result.problem.kind === 'tooDeep' || ('expected' in result.problem && result.problem.expected === 'another key'))
        )
          return
        const isAccepted = result.ok || result.problem.kind === 'broken'
        expect(jsonSchemaAccepts(schema, json)).toBe(isAccepted)
        seen[isAccepted ? 'accepted' : 'refused'] += 1
      }),
      { seed: 20261125, numRuns: 1200 },
    )
    expect(Math.min(seen.accepted, seen.refused)).toBeGreaterThan(100)
  })
})
