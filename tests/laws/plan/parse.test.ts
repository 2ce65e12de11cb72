import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planParse, referenceProblemFind } from '../../../src/core/plan/index.ts'
import { jsonFaultFind } from '../../../src/formats/jsonFault.ts'
import { planRead, planWrite } from '../../../src/formats/planjson.ts'
import { planArbitrary } from '../../support/planArbitraries.ts'
import { oddValue, spoil } from '../../support/spoil.ts'

const seeded = (numRuns: number) => ({ seed: 20261125, numRuns })

/** What every answer of the reader must be: a problem with a kind, or a plan that is sound in itself and can be written. */
function expectSound(result: ReturnType<typeof planParse>): void {
  if (!result.ok) {
    expect(result.problem.kind).toMatch(/^[a-zA-Z]+$/)
    return
  }
  expect(referenceProblemFind(result.plan)).toBeNull()
  const again = planRead(planWrite(result.plan))
  expect(again).toMatchObject({ ok: true })
  if (again.ok) expect(planWrite(again.plan)).toBe(planWrite(result.plan))
  expect(Object.isFrozen(result.plan.tracks)).toBe(true)
}

describe('the reader of plans', () => {
  it('takes every valid plan back as it was written, keys of other programs too', () => {
    fc.assert(
      fc.property(planArbitrary, (plan) => {
        const result = planRead(planWrite(plan))
        expect(result.ok && result.plan).toEqual(plan)
      }),
      seeded(200),
    )
  })

  it('answers any JSON with a plan or a problem', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (json) => expectSound(planParse(json))),
      seeded(2000),
    )
  })

  it('answers a plan spoilt in one place with a sound plan or a problem', () => {
    let taken = 0
    let refused = 0
    fc.assert(
      fc.property(planArbitrary, fc.nat(), oddValue, fc.constantFrom('put', 'drop', 'double'), (plan, pick, odd, how) => {
        const result = planParse(spoil(plan, pick, odd, how))
        expectSound(result)
        if (result.ok) taken += 1
        else refused += 1
      }),
      seeded(1200),
    )
    // Both happen often, or the law would say little.
    expect(Math.min(taken, refused)).toBeGreaterThan(100)
  })

  it('answers the text of a plan with a piece cut out or written over with a plan or a problem', () => {
    fc.assert(
      fc.property(planArbitrary, fc.nat(), fc.nat({ max: 40 }), fc.string({ maxLength: 5 }), (plan, at, length, piece) => {
        const text = planWrite(plan)
        const from = at % text.length
        expectSound(planRead(text.slice(0, from) + piece + text.slice(from + length)) as ReturnType<typeof planParse>)
      }),
      seeded(500),
    )
  })

  it('answers random bytes with a problem', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        expect(planRead(new TextDecoder().decode(bytes)).ok).toBe(false)
      }),
      seeded(500),
    )
  })
})

describe('the place where a text stops being JSON', () => {
  // Oracle: JSON.parse of the engine, which says whether, though not everywhere where.
  const isJson = (text: string): boolean => {
    try {
      JSON.parse(text)
      return true
    } catch {
      return false
    }
  }

  it('is found exactly when the engine refuses the text', () => {
    const jsonish = fc.oneof(
      fc
        .array(
          fc.constantFrom(
            '{',
            '}',
            '[',
            ']',
            ',',
            ':',
            '"a"',
            '"',
            '1',
            '-',
            '0',
            '1e5',
            '.5',
            'true',
            'nul',
            ' ',
            '\n',
            '\\',
            '\\u00e9',
            '\t',
          ),
          { maxLength: 12 },
        )
        .map((parts) => parts.join('')),
      fc.string({ maxLength: 12 }),
      fc
        .tuple(fc.json({ maxDepth: 3 }), fc.nat(), fc.string({ maxLength: 2 }))
        .map(([json, at, piece]) => json.slice(0, at % (json.length + 1)) + piece + json.slice((at % (json.length + 1)) + 1)),
    )
    fc.assert(
      fc.property(jsonish, (text) => {
        expect(jsonFaultFind(text) === null).toBe(isJson(text))
      }),
      seeded(10000),
    )
  })

  it('lies where all before it can still be completed to JSON', () => {
    // A prefix can be completed when the scanner, given the prefix alone, finds nothing wrong but its end.
    fc.assert(
      fc.property(fc.json({ maxDepth: 3 }), fc.nat(), fc.constantFrom('}', ']', ',', ':', '@'), (json, at, piece) => {
        const text = json.slice(0, at % (json.length + 1)) + piece + json.slice(at % (json.length + 1))
        const fault = jsonFaultFind(text)
        if (fault === null) return
        const prefix = jsonFaultFind(text.slice(0, fault.offset))
        expect(prefix === null || prefix.found === null).toBe(true)
      }),
      seeded(2000),
    )
  })
})
