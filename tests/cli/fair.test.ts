import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { planRead, planWrite } from '../../src/formats/planjson.ts'
import { aBenchwork, aCorner, aTrack, planWith } from '../support/plans.ts'
import { surveyed, aTraverse, solvedPath } from '../support/tracing.ts'
import { numberOf, waybench, waybenchJson, waybenchSpawn } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-'))
const file = (name: string): string => join(folder, name)

/** A loop of 300 mm on a table of 2400 by 1300 mm with a margin of 50 mm: half circles of 600 mm have room. */
const loop = planWith({
  railway: { edgeMarginMm: 50 },
  benchworks: [
    aBenchwork({
      outline: [
        { x: 0, y: 0 },
        { x: 2400, y: 0 },
        { x: 2400, y: 1300 },
        { x: 0, y: 1300 },
      ],
    }),
  ],
  tracks: [
    aTrack({
      id: 'loop',
      name: 'Loop',
      start: { kind: 'free', x: 1200, y: 150 },
      corners: [
        [200, 150],
        [2200, 150],
        [2200, 1150],
        [200, 1150],
      ].map(([x = 0, y = 0], i) => aCorner({ id: `c${i}`, x, y, radius: 300, easementIn: 0, easementOut: 0 })),
      end: { kind: 'closed' },
    }),
    aTrack({ id: 'spur', name: 'Spur', start: { kind: 'free', x: 1000, y: 600 }, end: { kind: 'free', x: 1400, y: 600 } }),
  ],
})
const planPath = file('loop.json')
writeFileSync(planPath, planWrite(loop))

describe('waybench fair', () => {
  it('eases a loop to the half circles that the table has room for, and writes the plan', async () => {
    const out = file('eased.json')
    const answer = await waybenchJson('fair', planPath, '--track', 'loop', '--out', out, '--rounds', '150')
    expect(numberOf(answer, 'before', 'minRadiusMm')).toBeCloseTo(300, 6)
    // (1300 - 2 x 50) / 2; the spur in the middle lies far from the line.
    expect(numberOf(answer, 'after', 'minRadiusMm')).toBeGreaterThan(0.99 * 600)
    expect(numberOf(answer, 'bound', 'radiusMm')).toBeGreaterThanOrEqual(600)
    expect(numberOf(answer, 'bound', 'reached')).toBeGreaterThan(0.99)
    const read = planRead(readFileSync(out, 'utf8'))
    if (!read.ok) throw new Error(JSON.stringify(read.problem))
    const radii = (read.plan.tracks['loop']?.corners ?? []).map(({ radius }) => Number(radius))
    expect(Math.min(...radii)).toBeCloseTo(numberOf(answer, 'after', 'minRadiusMm'), 6)
    const checked = await waybenchJson('line', out, '--track', 'loop')
    expect(numberOf(checked, 'lengthMm')).toBeCloseTo(numberOf(answer, 'after', 'lengthMm'), 6)
  })

  it('says it in words, from the built command too', () => {
    const { code, out, err } = waybenchSpawn('fair', planPath, '--track', 'loop', '--rounds', '60')
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(out).toContain('minimum radius')
    expect(out).toContain('No line here can exceed')
    expect(out).toContain('Nothing is written')
  })

  it('a smaller margin gives a wider line', async () => {
    const answer = await waybenchJson('fair', planPath, '--track', 'loop', '--margin', '20mm', '--rounds', '120')
    expect(numberOf(answer, 'after', 'minRadiusMm')).toBeGreaterThan(0.99 * 630)
  })

  it('a line nearer to the edge than asked may stay so, unless it is strict', async () => {
    const wide = await waybenchJson('fair', planPath, '--track', 'loop', '--margin', '160mm', '--rounds', '60')
    expect(wide['near']).toMatchObject([{ by: 'benchworks', askedMm: 160 }])
    const strict = await waybench('fair', planPath, '--track', 'loop', '--margin', '160mm', '--strict')
    expect(strict).toMatchObject({ code: 2, out: '' })
    expect(strict.err).toContain('too near to the edge of the benchwork')
  })

  it('says where the table is too narrow for the margin, and which would do', async () => {
    const bridge = [
      [0, 0],
      [1000, 0],
      [1000, 440],
      [1600, 440],
      [1600, 0],
      [2600, 0],
      [2600, 1000],
      [1600, 1000],
      [1600, 560],
      [1000, 560],
      [1000, 1000],
      [0, 1000],
    ]
    const over = planWith({
      benchworks: [aBenchwork({ outline: bridge.map(([x = 0, y = 0]) => ({ x, y })) })],
      tracks: [
        aTrack({
          start: { kind: 'free', x: 200, y: 800 },
          corners: [aCorner({ id: 'a', x: 700, y: 500, radius: 300, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 2400, y: 500 },
        }),
      ],
    })
    writeFileSync(file('bridge.json'), planWrite(over))
    const typed = ['fair', file('bridge.json'), '--track', 'main', '--margin', '80mm', '--rounds', '2']
    const strict = await waybench(...typed, '--strict')
    expect(strict).toMatchObject({ code: 2, out: '' })
    expect(strict.err).toMatch(
      /the benchwork is too narrow for a margin of 80\.00 mm .* on both sides; (59\.\d|60\.0)0 mm .* would do\. Give it by --margin\./,
    )
    const asGiven = await waybenchJson(...typed)
    expect(asGiven['parting']).toMatchObject({ askedMm: 80 })
    expect((await waybench(...typed)).out).toContain('too narrow for a margin')
  })

  const wrong: readonly (readonly [typed: readonly string[], says: string])[] = [
    [['--track', 'spur'], 'a straight cannot be eased'],
    [['--track', 'nowhere'], 'no such track'],
    [['--track', 'loop', '--margin', '3m'], 'nowhere as wide as twice the margin of 3000.00 mm'],
    [['--track', 'loop', '--rounds', '0'], 'whole number'],
    [['--track', 'loop', '--out', planPath], 'the plan itself'],
    [[], 'needs --track'],
  ]
  for (const [typed, says] of wrong) {
    it(`${typed.map((word) => (word === planPath ? 'PLAN' : word)).join(' ')} is refused: ${says}`, async () => {
      const { code, out, err } = await waybench('fair', planPath, ...typed)
      expect({ code, out }).toEqual({ code: 2, out: '' })
      expect(err).toContain(says)
    })
  }
})

describe('waybench fit', () => {
  const path = solvedPath(aTraverse([0, 0], [[1000, 0, 500, 150, 150]], [1500, 866]))
  const { points, gross } = surveyed(path, 100, 0, 0, 1)
  const csv = (head: string, perUnit: number, list = points): string =>
    [head, ...list.map(({ x, y }) => `${x / perUnit},${y / perUnit}`)].join('\n')

  it('finds PI, radius and easements of a measured curve', async () => {
    writeFileSync(file('points.csv'), csv('x,y', 1))
    const answer = await waybenchJson('fit', file('points.csv'), '--tolerance', '1mm')
    expect(answer).toMatchObject({ isWithin: true, isClosed: false, outliers: gross })
    const corners = answer['corners']
    expect(numberOf(corners, 0, 'xMm')).toBeCloseTo(1000, 3)
    expect(numberOf(corners, 0, 'radiusMm')).toBeCloseTo(500, 3)
    expect(numberOf(corners, 0, 'easementInMm')).toBeCloseTo(150, 2)
    expect(numberOf(answer, 'worstMm')).toBeLessThan(1e-6)
  })

  it('tells the best so far when the time is over, and refuses a time that is none', async () => {
    writeFileSync(file('points.csv'), csv('x,y', 1))
    const answer = await waybenchJson('fit', file('points.csv'), '--tolerance', '0.001mm', '--budget', '0.001')
    expect(answer['ended']).toBe('stopped')
    expect(numberOf(answer, 'worstMm')).toBeGreaterThan(0)
    const { code, err } = await waybench('fit', file('points.csv'), '--tolerance', '1mm', '--budget', '0')
    expect([code, err]).toEqual([2, expect.stringMatching(/--budget 0: seconds, more than none/)])
  })

  it('reads inches from the head, units in the cells, remarks, semicolons and blank lines', async () => {
    writeFileSync(file('inch.csv'), csv('x_in, y_in', 25.4))
    writeFileSync(file('cells.csv'), ['# measured on the bench', '', ...points.map(({ x, y }) => `${x}mm; ${y}mm`)].join('\r\n'))
    for (const name of ['inch.csv', 'cells.csv']) {
      const answer = await waybenchJson('fit', file(name), '--tolerance', '0.04in')
      expect(numberOf(answer['corners'], 0, 'radiusMm')).toBeCloseTo(500, 3)
    }
  })

  it('names gross errors by the number of the point', async () => {
    const spoilt = points.map((point, i) => (i === 40 ? { x: point.x + 60, y: point.y - 60 } : point))
    writeFileSync(file('spoilt.csv'), csv('x,y', 1, spoilt))
    const { code, out } = await waybench('fit', file('spoilt.csv'), '--tolerance', '1mm')
    expect(code).toBe(0)
    expect(out).toMatch(/Left out as gross errors: point 41, \d+\.\d+ mm off\./)
  })

  const wrong: readonly (readonly [text: string, says: string])[] = [
    ['x,y\n1,2\n3,4', 'at least 3'],
    ['x,y\n1,2\n3\n5,6', 'Line 3'],
    ['x,y\n1,2\nred,green\n5,6', 'Line 3'],
    ['', 'at least 3'],
  ]
  for (const [text, says] of wrong) {
    it(`${JSON.stringify(text)} is refused: ${says}`, async () => {
      writeFileSync(file('wrong.csv'), text)
      const { code, out, err } = await waybench('fit', file('wrong.csv'), '--tolerance', '1mm')
      expect({ code, out }).toEqual({ code: 2, out: '' })
      expect(err).toContain(says)
    })
  }

  it('says so when there is no file, and when the tolerance is missing or bare', async () => {
    expect(existsSync(file('none.csv'))).toBe(false)
    expect((await waybench('fit', file('none.csv'), '--tolerance', '1mm')).err).toContain('no such file')
    expect((await waybench('fit', file('points.csv'))).err).toContain('needs --tolerance')
    expect((await waybench('fit', file('points.csv'), '--tolerance', '1')).err).toContain('unit')
  })
})
