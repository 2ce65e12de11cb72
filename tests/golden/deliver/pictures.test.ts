import { describe, expect, it } from 'vitest'
import { workPicture } from '../../../src/core/deliver/index.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { crossed, crossingRequest } from '../../support/crossings.ts'
import { expectGolden } from '../../support/golden.ts'

// What the gallery of turnouts and crossings has not: there all that has a slip is straight.
describe('pictures of special work', () => {
  it('a double slip between two bent tracks', () => {
    const angleRad = -2 * Math.atan(1 / 14)
    const crossing = crossed(crossingRequest(angleRad, { slip: 'double', firstCurvature: 1 / 2000, secondCurvature: 1 / 2000 }))
    const sheet = workPicture(crossing, 'double-slip-bent')
    expect(sheet.window.maxX).toBe(sheet.paper.widthMm)
    expectGolden('deliver/picture-double-slip-bent.svg', svgFromSheet(sheet, { decimals: 2 }))
  })
})
