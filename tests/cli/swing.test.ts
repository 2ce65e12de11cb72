import { describe, expect, it } from 'vitest'
import { numberOf, waybench, waybenchJson } from '../support/waybench.ts'

const inch = 25.4
const car = ['--full-size', 'HO', '--length', '85ft', '--pivots', '60ft', '--width', '10ft']

describe('waybench swing: an 85 ft car in HO', () => {
  // inside R - sqrt(R^2 - (B/2)^2), outside sqrt((d + w/2)^2 + (L/2)^2) - R - w/2 with B 8.266, L 11.710, w 1.378 in.
  const worked = [
    { radius: '24in', wheelbase: [], inside: 0.359, outside: 0.336 },
    { radius: '30in', wheelbase: [], inside: 0.286, outside: 0.273 },
    { radius: '36in', wheelbase: [], inside: 0.238, outside: 0.229 },
    { radius: '30in', wheelbase: ['--wheelbase', '8.5ft'], inside: 0.292, outside: 0.267 },
  ] as const
  for (const { radius, wheelbase, inside, outside } of worked) {
    it(`on ${radius} ${wheelbase.join(' ')} stands out ${inside} and ${outside} in`, async () => {
      const answer = await waybenchJson('swing', '--radius', radius, ...car, ...wheelbase)
      // Half a thousandth of an inch: the figures are rounded.
      expect(Math.abs(numberOf(answer, 'insideMm') / inch - inside)).toBeLessThanOrEqual(0.0005)
      expect(Math.abs(numberOf(answer, 'outsideMm') / inch - outside)).toBeLessThanOrEqual(0.0005)
    })
  }

  it('needs 2.17 in of track centres on 30 in with a quarter of an inch between', async () => {
    expect(Math.abs(numberOf(await waybenchJson('swing', '--radius', '30in', ...car), 'trackCentresMm') / inch - 2.17)).toBeLessThan(0.01)
  })

  it('takes model lengths as they are', async () => {
    const model = ['--length', '11.7107in', '--pivots', '8.26636in', '--width', '1.377727in']
    const a = await waybenchJson('swing', '--radius', '30in', ...model)
    const b = await waybenchJson('swing', '--radius', '30in', ...car)
    expect(numberOf(a, 'insideMm')).toBeCloseTo(numberOf(b, 'insideMm'), 3)
  })

  it('refuses a car that cannot stand there, pivots beyond the body and a scale that is none', async () => {
    expect(await waybench('swing', '--radius', '3in', ...car)).toMatchObject({ code: 2, out: '' })
    expect((await waybench('swing', '--radius', '30in', '--length', '5in', '--pivots', '6in', '--width', '1in')).err).toContain('--pivots')
    expect(
      (await waybench('swing', '--radius', '30in', '--full-size', 'H00', '--length', '5in', '--pivots', '4in', '--width', '1in')).err,
    ).toContain('Did you mean')
  })
})
