import { describe, expect, it } from 'vitest'
import { rowName, sheetGrid } from '../../../src/core/deliver/grid.ts'

const window = { widthMm: 100, heightMm: 60, overlapMm: 10 }

describe('sheetGrid', () => {
  it('lays the content in the middle of one window when it fits', () => {
    const grid = sheetGrid(
      [
        { x: 0, y: 0 },
        { x: 90, y: 50 },
      ],
      [0],
      window,
    )
    expect(grid.cells.map((cell) => cell.name)).toEqual(['A1'])
    expect(grid.origin).toEqual({ x: -5, y: -5 })
  })

  it('uses windows less overlap: 190 mm take two windows of 100 mm, 191 mm take three', () => {
    const along = (length: number) => Array.from({ length: length + 1 }, (_, x) => ({ x, y: 0 }))
    expect(sheetGrid(along(190), [0], window).cells).toHaveLength(2)
    expect(sheetGrid(along(191), [0], window).cells).toHaveLength(3)
  })

  it('turns the content when that saves sheets, and not when it saves none', () => {
    const upright = Array.from({ length: 91 }, (_, y) => ({ x: 0, y }))
    expect(sheetGrid(upright, [0], window).cells).toHaveLength(2)
    const turned = sheetGrid(upright, [0, Math.PI / 2], window)
    expect(turned.cells).toHaveLength(1)
    expect(turned.angleRad).toBe(Math.PI / 2)
    expect(sheetGrid([{ x: 0, y: 0 }], [0, Math.PI / 2], window).angleRad).toBe(0)
  })

  it('leaves out windows with nothing on them and names the rest by row from the top and column from the left', () => {
    // Three far corners of a square: the fourth has nothing.
    const grid = sheetGrid(
      [
        { x: 0, y: 0 },
        { x: 1000, y: 0 },
        { x: 0, y: 1000 },
      ],
      [0],
      window,
    )
    expect(grid.cells.map((cell) => cell.name)).toEqual(['A1', 'B1', 'B2'])
  })

  it('names rows beyond Z with two letters', () => {
    expect([0, 25, 26, 27, 51, 52].map(rowName)).toEqual(['A', 'Z', 'AA', 'AB', 'AZ', 'BA'])
  })
})
