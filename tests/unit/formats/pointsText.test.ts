import { describe, expect, it } from 'vitest'
import { pointsRead } from '../../../src/formats/pointsText.ts'
import { pointFaultText } from '../../../src/words/pointsText.ts'

const places = (text: string, bare: 'mm' | 'in' = 'mm'): readonly (readonly number[])[] =>
  pointsRead(text, bare).points.map(({ x, y }) => [x, y])

describe('points as people write them down', () => {
  it.each([
    ['commas', '120.5,64\n-3.25, 7e1'],
    ['semicolons and decimal commas', '120,5;64\n-3,25;70'],
    ['tabs', '120.5\t64\n-3.25\t70'],
    ['blanks', '120.5 64\n  -3.25   70  '],
    ['carriage returns and a mark at the start', '\uFEFF120.5,64\r\n-3.25,70\r\n'],
    ['more columns, headings, notes and empty lines', 'Yard, east end\n\n# taken by hand\nx,y,note\n120.5,64,near the door\n\n-3.25,70,'],
  ])('with %s', (_, text) => {
    expect(places(text)).toEqual([
      [120.5, 64],
      [-3.25, 70],
    ])
  })

  it('feet, inches and fractions, with or without commas', () => {
    // 3 ft 4 1/2 in = 40.5 in = 1028.7 mm; 12 ft = 3657.6 mm; 1 in = 25.4 mm exactly.
    const inMm = [[1028.7, 3657.6]]
    expect(places(`3' 4-1/2", 12'`)).toEqual(inMm)
    expect(places(`3' 4 1/2" 12' 0"`)).toEqual(inMm)
    expect(places(`3′ 4½″\t12 ft`)).toEqual(inMm)
    expect(places(`"3' 4 1/2""","12' 0"""`)).toEqual(inMm)
    expect(places('40 1/2 144', 'in')).toEqual(inMm)
    expect(places('40.5,144', 'in')).toEqual(inMm)
  })

  it('a head names columns and units, in any order', () => {
    expect(places('point,y_in,x (ft)\nA,144,3.375')).toEqual([[3.375 * 304.8, 3657.6]])
    expect(places('x,y\n1,2', 'in')).toEqual([[25.4, 50.8]])
    expect(places('x_m y_m\n1.5 2')).toEqual([[1500, 2000]])
  })

  it('every point knows its line', () => {
    expect(pointsRead('x,y\n\n1,2\n# no\n3,4', 'mm').points.map(({ line }) => line)).toEqual([3, 5])
  })
})

describe('lines that are no points', () => {
  it('are told with their number, and the good ones are kept', () => {
    const { points, faults } = pointsRead('x,y\n1,2\n3,four\n5\n6,\n7 parsecs,8\n9,10', 'mm')
    expect(points.map(({ line }) => line)).toEqual([2, 7])
    expect(faults.map(pointFaultText)).toEqual([
      'Line 3, “3,four”: y cannot be read. “four” is not a number. Right would be: 1200 mm, 1.2 m or 3′ 6″.',
      'Line 4, “5”, has no two measures; right would be 120.5, 64 or 4′ 3″, 2′ 6″.',
      'Line 5, “6,”, has no two measures; right would be 120.5, 64 or 4′ 3″, 2′ 6″.',
      'Line 6, “7 parsecs,8”: x cannot be read. “parsecs” is not a unit known here. Right would be: 1200 mm, 1.2 m or 3′ 6″.',
    ])
  })

  it('numbers beyond belief and words after the first point are none', () => {
    expect(pointsRead('1,2\n1e300,4\nend of list', 'mm').faults.map(({ line }) => line)).toEqual([2, 3])
  })
})
