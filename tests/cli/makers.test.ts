import { describe, expect, it } from 'vitest'
import { numberOf, waybench, waybenchJson, words } from '../support/waybench.ts'

const inch = 25.4

describe('waybench crossover', () => {
  // (c - G)/tan F - G/sin F with G 0.65 in, c 2 in, F 9.527 deg: 1.35/0.16783 - 0.65/0.16552 = 8.044 - 3.927 = 4.117 in.
  it('has 4.12 in from frog to frog with No. 6 and 2 in in HO, and a lead more at each end', async () => {
    const answer = await waybenchJson(...words('crossover --frog 6 --centres 2in --gauge 0.65in'))
    expect(Math.abs(numberOf(answer, 'frogToFrogMm') / inch - 4.117)).toBeLessThan(0.001)
    expect(numberOf(answer, 'pointsToPointsMm')).toBeCloseTo(numberOf(answer, 'frogToFrogMm') + 2 * numberOf(answer, 'leadMm'), 9)
    // 16.4 in with a lead of 6.14 in, common practice without a source; ours, which follows from gauge and points, is a little longer.
    expect(Math.abs(numberOf(answer, 'pointsToPointsMm') / inch - 16.4)).toBeLessThan(0.2)
  })

  it('takes HO when no scale is said, and says so', async () => {
    const bare = await waybenchJson(...words('crossover --frog 6 --centres 2in'))
    const named = await waybenchJson(...words('crossover --scale HO --frog 6 --centres 2in'))
    expect(bare['notes']).toEqual(['no --scale: HO'])
    expect({ ...bare, notes: [] }).toEqual(named)
    expect((await waybench(...words('crossover --frog 6 --centres 2in'))).out).toContain('Note: no --scale: HO.')
  })

  it('closes the triangle: straight between, frog to frog and centres belong together', async () => {
    const answer = await waybenchJson(...words('crossover --scale N --frog 5 --centres 32mm'))
    const [f, gauge] = [numberOf(answer, 'frogAngleRad'), numberOf(answer, 'gaugeMm')]
    const s = numberOf(answer, 'straightBetweenMm')
    // Abreast of the frog points the centreline has come G/2 (1 + cos F) away from each track.
    expect(s * Math.sin(f) + gauge * (1 + Math.cos(f))).toBeCloseTo(32, 9)
    expect(s * Math.cos(f) - gauge * Math.sin(f)).toBeCloseTo(numberOf(answer, 'frogToFrogMm'), 9)
  })

  it('refuses centres without room for the frogs with those that would do, and those do', async () => {
    const tight = await waybench(...words('crossover --frog 6 --centres 1.5in'))
    expect(tight).toMatchObject({ code: 2, out: '' })
    const least = /; ([\d.]+) mm/.exec(tight.err)?.[1] ?? ''
    expect((await waybench(...words(`crossover --frog 6 --centres ${least}mm`))).code).toBe(0)
    expect((await waybench(...words(`crossover --frog 6 --centres ${Number(least) - 0.02}mm`))).code).toBe(2)
    expect((await waybench(...words('crossover --frog 6 --centres 2'))).err).toContain('needs its unit')
    expect((await waybench(...words('crossover --frog 1 --centres 2in'))).err).toContain('--frog')
  })
})

describe('waybench ladder', () => {
  // c / sin F and c / tan F with F = 2 atan(1/2N) and c 2 in.
  const worked = [
    { frog: 5, ladder: 10.1, body: 9.9 },
    { frog: 6, ladder: 12.083, body: 11.917 },
    { frog: 8, ladder: 16.0625, body: 15.9375 },
  ] as const
  for (const { frog, ladder, body } of worked) {
    it(`of No. ${frog} at 2 in has a pitch of ${ladder} in, ${body} in along the body`, async () => {
      const answer = await waybenchJson(...words(`ladder --frog ${frog} --centres 2in --tracks 5`))
      // Half a thousandth of an inch: the figures are rounded.
      expect(Math.abs(numberOf(answer, 'pitchAlongLadderMm') / inch - ladder)).toBeLessThanOrEqual(0.0005)
      expect(Math.abs(numberOf(answer, 'pitchAlongBodyMm') / inch - body)).toBeLessThanOrEqual(0.0005)
      expect(numberOf(answer, 'shorterByMm')).toBeCloseTo(2 * numberOf(answer, 'pitchAlongBodyMm'), 9)
      expect(answer['closes']).toBe(true)
    })
  }

  it('lists each body track', async () => {
    const answer = await waybenchJson(...words('ladder --frog 6 --centres 2in --lead-centres 3in --tracks 3'))
    expect([0, 1, 2].map((i) => Math.round(numberOf(answer, 'bodies', i, 'offsetMm') * 10) / 10)).toEqual([76.2, 127, 177.8])
    expect(numberOf(answer, 'bodies', 2, 'alongLadderMm') - numberOf(answer, 'bodies', 1, 'alongLadderMm')).toBeCloseTo(
      numberOf(answer, 'pitchAlongLadderMm'),
      9,
    )
  })

  it('says when points stand on the last frog and which centres would do; those do', async () => {
    const tight = await waybenchJson(...words('ladder --frog 6 --centres 1.5in'))
    expect(tight['closes']).toBe(false)
    const least = Math.ceil(numberOf(tight, 'leastCentresMm') * 100) / 100
    const lead = Math.ceil(numberOf(tight, 'leastLeadCentresMm') * 100) / 100
    expect((await waybenchJson(...words(`ladder --frog 6 --centres ${least}mm --lead-centres ${lead}mm`)))['closes']).toBe(true)
    expect((await waybench(...words('ladder --frog 6 --centres 1.5in'))).out).toContain('It does not close')
    expect((await waybench(...words('ladder --frog 6 --centres 2in --tracks 2.5'))).err).toContain('whole number')
  })
})
