import { describe, expect, it } from 'vitest'
import { waybench, waybenchJson, words } from '../support/waybench.ts'

const inch = 25.4
const points = '--point-length 1.515in --heel-spread .090in --point-thickness .005in'
const ho6 = `turnout --scale HO --frog 6 --gauge .650in ${points} --toe-length .75in`

interface Bench {
  readonly cutList: readonly {
    readonly rail: string
    readonly lengthMm: number
    readonly filings: readonly { readonly angleRad: number }[]
  }[]
  readonly ties: readonly { readonly stationMm: number; readonly from: { readonly xMm: number }; readonly to: { readonly xMm: number } }[]
  readonly boardTies: readonly { readonly tie: number; readonly why: readonly string[]; readonly foilGaps: readonly unknown[] }[]
  readonly sections: readonly { readonly name: string }[]
  readonly bonds: readonly { readonly why: string }[]
  readonly isolatingGaps: readonly { readonly end: string }[]
  readonly feeders: readonly { readonly section: string }[]
  readonly throwSlots: readonly { readonly topMm: number; readonly bottomMm: number; readonly spareMm: number }[]
  readonly throwZones: readonly { readonly corners: readonly unknown[] }[]
  readonly roadbed: readonly { readonly top: readonly unknown[] }[]
  readonly spikes: readonly unknown[]
  readonly nests: readonly { readonly kind: string }[]
}

async function bench(more = ''): Promise<Bench> {
  // The fields are those that the test reads; what is missing fails it.
  return (await waybenchJson(...words(`${ho6} ${more}`.trim()))) as unknown as Bench
}

describe('waybench turnout: what the bench needs', () => {
  it('has the closures of the worked No. 6: 3.930 and 3.891 in', async () => {
    const { cutList } = await bench()
    const length = (rail: string): number => (cutList.find((stick) => stick.rail === rail)?.lengthMm ?? 0) / inch
    // The trade's example is rounded to the last figure.
    expect(Math.abs(length('closure-curved') - 3.93)).toBeLessThan(1.5e-3)
    expect(Math.abs(length('closure-straight') - 3.891)).toBeLessThan(1.5e-3)
  })

  it('names sections, gaps, jumpers and feeders, the throw, nests, spikes and the roadbed card', async () => {
    const { sections, isolatingGaps, bonds, feeders, throwSlots, throwZones, nests, spikes, roadbed, boardTies } = await bench()
    expect(sections.map(({ name }) => name)).toEqual(['Frog', 'Left rail', 'Right rail'])
    expect(isolatingGaps.map(({ end }) => end).toSorted()).toEqual(['heel', 'heel', 'toe', 'toe'])
    expect(bonds).toHaveLength(4)
    expect(feeders.map(({ section }) => section).toSorted()).toEqual(['Frog', 'Left rail', 'Right rail'])
    expect(throwSlots).toHaveLength(1)
    expect(throwZones[0]?.corners).toHaveLength(4)
    expect(nests.map(({ kind }) => kind).toSorted()).toEqual(['set', 'undercut'])
    expect(spikes.length).toBeGreaterThan(60)
    expect(roadbed[0]?.top.length).toBeGreaterThan(20)
    expect(boardTies).toEqual([])
  })

  it('lays PC-board ties by pattern and fanned ties by choice', async () => {
    const { boardTies, ties } = await bench('--ties fanned --board every:6,gaps')
    expect(boardTies.filter(({ why }) => why.includes('count')).map(({ tie }) => tie)).toEqual([1, 7, 13, 19, 25, 31, 37])
    for (const { foilGaps } of boardTies) expect(foilGaps.length).toBeGreaterThan(0)
    const last = ties.at(-1)
    expect(Math.abs((last?.to.xMm ?? 0) - (last?.from.xMm ?? 0))).toBeGreaterThan(1)
  })

  it('takes the wire, deck and fulcrum of the builder', async () => {
    const upright = (await bench('--wire 1mm --fulcrum none --travel 2mm')).throwSlots[0]
    expect(upright?.topMm).toBe(upright?.bottomMm)
    const tilted = (await bench('--wire 1mm --deck 20mm --fulcrum 20mm')).throwSlots[0]
    expect(tilted?.bottomMm).toBeCloseTo(2, 9)
  })

  it('reads in words, all tables with --bench', async () => {
    const short = await waybench(...words(ho6))
    expect(short.out).toContain('Rails to cut')
    expect(short.out).not.toContain('Gaps, jumpers and feeders')
    const long = await waybench(...words(`${ho6} --bench`))
    for (const title of ['Offsets at ties', 'Where points lie', 'Ties: ', 'Gaps, jumpers and feeders', 'Throw', 'Card for the roadbed']) {
      expect(long.out).toContain(title)
    }
  })

  it.each([
    ['--board every:0', /--board every:0/],
    ['--board frgo', /"frgo" is no place.*frog/],
    ['--spike-every 1.5', /whole number/],
    ['--ties round', /square or fanned/],
    ['--wire 0mm', /above zero/],
  ])('%s is refused with what would be right', async (more, says) => {
    const { code, err } = await waybench(...words(`${ho6} ${more}`))
    expect(code).toBe(2)
    expect(err).toMatch(says)
  })
})
