import { describe, expect, it } from 'vitest'
import { galleryKeys, galleryPiece } from '../../../src/core/gallery/index.ts'
import { planEmpty } from '../../../src/core/plan/index.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { expectGolden } from '../../support/golden.ts'

const plan = planEmpty()

// One of each kind in HO, to be looked at in a browser. Rounded to 0.01 mm, so that a last digit of a sine does not fail them.
describe('the gallery of turnouts and crossings', () => {
  it.each(galleryKeys)('%s', (key) => {
    const piece = galleryPiece(plan, key)
    if (piece?.ok !== true) throw new Error(`${key} is not there: ${JSON.stringify(piece)}`)
    const { picture, figures } = piece
    expect(picture.window.maxX).toBe(picture.paper.widthMm)
    for (const figure of figures) {
      const values = figure.kind === 'frogs' ? figure.numbers : [figure.kind === 'angle' ? figure.rad : figure.mm]
      expect(values.every((value) => Number.isFinite(value) && value >= 0)).toBe(true)
    }
    expectGolden(`gallery/${key}.svg`, svgFromSheet(picture, { decimals: 2 }))
  })
})
