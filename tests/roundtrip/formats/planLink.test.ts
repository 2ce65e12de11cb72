import { readFileSync } from 'node:fs'
import { deflateRawSync, inflateRawSync } from 'node:zlib'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planLinkRead, planLinkWrite, linkLimit } from '../../../src/formats/planLink.ts'
import { planRead, planSizeLimit } from '../../../src/formats/planjson.ts'

const read = planRead(readFileSync('public/demo/fennimore.json', 'utf8'))
if (!read.ok) throw new Error('The demo does not read.')
const { plan } = read

// Node's own zlib and base64url (RFC 1951, RFC 4648 section 5) are the other party here.
describe('a plan in a link', () => {
  it('comes back whole, is short enough for the demo railway, and uses only what an address may hold', () => {
    const text = planLinkWrite(plan)
    expect(text).toMatch(/^[\w-]+$/)
    expect(text.length).toBeLessThan(linkLimit)
    expect(planLinkRead(text)).toEqual({ ok: true, plan, notes: [] })
  })

  it('is what other programs read and write', () => {
    const json = inflateRawSync(Buffer.from(planLinkWrite(plan), 'base64url')).toString()
    expect(planRead(json)).toMatchObject({ ok: true, plan })
    expect(planLinkRead(deflateRawSync(json).toString('base64url'))).toMatchObject({ ok: true, plan })
  })

  it('that was cut anywhere, is of other characters or too long is refused in words', () => {
    const text = planLinkWrite(plan)
    fc.assert(
      fc.property(fc.integer({ min: 0, max: text.length - 2 }), (end) => {
        expect(planLinkRead(text.slice(0, end)).ok).toBe(false)
      }),
    )
    expect(planLinkRead('%%%')).toMatchObject({ ok: false, problem: { kind: 'unreadable' } })
    // Measured in characters, as the person sees a link: as a file it would be "0 MB of at most 0 MB".
    const tooLong = { kind: 'unreadable', reason: expect.stringMatching(/32001 characters.*at most 32000.*as a file/) }
    expect(planLinkRead('A'.repeat(linkLimit + 1))).toMatchObject({ ok: false, problem: tooLong })
  })

  it('that would grow beyond what a plan file may have is too long for a link', () => {
    const bomb = deflateRawSync(Buffer.alloc(planSizeLimit, 0x20), { level: 9 }).toString('base64url')
    expect(bomb.length).toBeGreaterThan(linkLimit)
    expect(planLinkRead(bomb)).toMatchObject({ ok: false, problem: { kind: 'unreadable', reason: expect.stringMatching(/at most 32000/) } })
  })
})
