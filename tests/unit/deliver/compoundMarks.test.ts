import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { SheetOptions } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aPaper } from '../../support/paper.ts'
import { aCorner, aTrack, planWith } from '../../support/plans.ts'

const options: SheetOptions = {
  paper: { name: 'A3', widthMm: aPaper('a3').widthMm, heightMm: aPaper('a3').heightMm },
  marginMm: 8,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'metric',
  date: '2026-11-25',
}

/** Texts on the full-size sheets of a curve of 600 and 800 mm, a right angle, without outer easements. */
function texts(easement: number): readonly string[] {
  const share = { kind: 'share', share: 1 } as const
  const radius = { first: { radius: 600, turn: share }, next: [{ easement, radius: 800, turn: share }] }
  const plan = planWith({
    tracks: [
      aTrack({
        corners: [aCorner({ radius, easementIn: 0, easementOut: 0 })],
        end: { kind: 'free', x: 1000, y: 1000 },
      }),
    ],
  })
  const { sheets, problems } = sheetsForSubject(pipelineCreate().derive(plan), { kind: 'curve', track: 'track-1', corner: 'pi-1' }, options)
  expect(problems).toEqual([])
  return sheets.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
}

describe('sheets of a compound curve', () => {
  it('mark the place where two radii meet, with the station and the radius that begins there', () => {
    // PC at 1000 - T1; the first arc turns a quarter of pi at 600: 471.2 mm.
    const words = texts(0)
    const pc = words.find((text) => text.startsWith('PC'))
    const cc = words.find((text) => text.startsWith('CC'))
    expect(pc).toMatch(/^PC [\d.]+ mm · R 600 mm$/)
    expect(cc).toMatch(/^CC [\d.]+ mm · R 800 mm$/)
    const stationOf = (text: string | undefined): number => Number(/[\d.]+/.exec(text ?? '')?.[0])
    expect(Math.abs(stationOf(cc) - stationOf(pc) - 150 * Math.PI)).toBeLessThan(0.2)
    expect(words.some((text) => text.includes('R 600 mm, 800 mm'))).toBe(true)
  })

  it('mark both ends of the easement that lies between', () => {
    const words = texts(100)
    expect(words.filter((text) => text.startsWith('CS ')).length).toBeGreaterThan(0)
    expect(words.filter((text) => /^SC .* · R 800 mm$/.test(text)).length).toBeGreaterThan(0)
    expect(words.some((text) => text.startsWith('CC'))).toBe(false)
  })
})
