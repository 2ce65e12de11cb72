import { describe, expect, it } from 'vitest'
import { workPicture } from '../../../src/core/deliver/index.ts'
import type { PictureSubject } from '../../../src/core/deliver/index.ts'
import type { TurnoutRequest } from '../../../src/core/turnout/index.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { crossed, crossingRequest } from '../../support/crossings.ts'
import { expectGolden } from '../../support/golden.ts'
import { ho6, solved } from '../../support/turnouts.ts'

const angleOf = (frog: number): number => 2 * Math.atan(1 / (2 * frog))
const of = (change: Partial<TurnoutRequest>): PictureSubject => solved({ ...ho6, ...change })

// One picture of each kind, to be looked at in a browser. Rounded to 0.01 mm, so that a last digit of a sine does not fail them.
const pictures: readonly (readonly [string, () => PictureSubject])[] = [
  ['gauntlet', () => of({ kind: { kind: 'gauntlet' } })],
  ['dual-gauge', () => of({ kind: { kind: 'dual-gauge', narrowGaugeMm: 10.5, common: 'right', diverging: 'both' } })],
  ['diamond-6', () => crossed(crossingRequest(angleOf(6)))],
  ['diamond-steep-bent', () => crossed(crossingRequest(1.05, { secondCurvature: 1 / 700 }))],
  ['single-slip', () => crossed(crossingRequest(angleOf(6), { slip: 'single-left' }))],
  ['double-slip-bent', () => crossed(crossingRequest(-angleOf(7), { slip: 'double', firstCurvature: 1 / 2000, secondCurvature: 1 / 2000 }))],
]

describe('pictures of special work', () => {
  it.each(pictures)('%s', (name, subject) => {
    const sheet = workPicture(subject(), name)
    expect(sheet.window.maxX).toBe(sheet.paper.widthMm)
    expectGolden(`deliver/picture-${name}.svg`, svgFromSheet(sheet, { decimals: 2 }))
  })
})
