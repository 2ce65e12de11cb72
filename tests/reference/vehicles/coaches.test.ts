import { describe, expect, it } from 'vitest'
import { pathFromElements } from '../../../src/core/geom/index.ts'
import { sweepAlong, vehicleBodies, vehicleByKey } from '../../../src/core/vehicles/index.ts'
import { referenceRows } from '../../support/reference.ts'

/** Ratio and gauge of the sizes that NEM 103 prints, as its table implies them. */
const sizes: Readonly<Record<string, { readonly ratio: number; readonly gaugeMm: number }>> = {
  Z: { ratio: 220, gaugeMm: 6.5 },
  N: { ratio: 160, gaugeMm: 9 },
  TT: { ratio: 120, gaugeMm: 12 },
  H0: { ratio: 87, gaugeMm: 16.5 },
  S: { ratio: 64, gaugeMm: 22.5 },
  '0': { ratio: 45, gaugeMm: 32 },
  I: { ratio: 32, gaugeMm: 45 },
  II: { ratio: 22.5, gaugeMm: 64 },
}

function coach(size: string, group: string) {
  const found = sizes[size]
  const row = vehicleByKey(`coach-nem-${group.toLowerCase()}`)
  const [body] = found && row ? vehicleBodies(row, found.ratio) : []
  if (!found || !body) throw new Error(`no coach ${size} ${group}`)
  return { body, ...found }
}

describe('the coaches of NEM 103', () => {
  it('are as long on the model as its table prints', () => {
    for (const { id, expected } of referenceRows('clearances', { quantity: 'model body length limit of car groups' })) {
      for (const { name, value, plus } of expected) {
        const { body } = coach(id.replace('nem103-body-', ''), name)
        const lengthMm = (body.ribs.at(-1)?.xMm ?? 0) - (body.ribs[0]?.xMm ?? 0)
        expect(Math.abs(lengthMm - value), `${id} ${name}`).toBeLessThanOrEqual(plus)
      }
    }
  })

  /*
   * The table gives by how much the clearance of straight track is widened on a curve, in whole mm; the clearance of straight track
   * leaves play beside the coach, so it prints less than the coach swings, never more: less by 1.2 mm and a tenth of the gauge at most.
   */
  it('swing on curves as much as its table widens the clearance, and the play that straight track leaves anyway', () => {
    let compared = 0
    for (const { id, inputs, expected } of referenceRows('clearances', { idPrefix: 'nem103-R' })) {
      const radius = (inputs['radius'] as { readonly value: number }).value
      const path = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 5 * radius, k0: 1 / radius, k1: 1 / radius }])
      for (const { name, value } of expected) {
        const [size = '', group = ''] = name.split('_')
        const { body, gaugeMm } = coach(size, group)
        const middleMm = path.lengthMm / 2
        const [reach] = sweepAlong(path, [body], { stepMm: 10, isClosed: false, fromMm: middleMm, toMm: middleMm }).reaches
        const half = body.ribs[0]?.halfWidthMm ?? 0
        const more = Math.max(reach?.leftMm ?? 0, reach?.rightMm ?? 0) - half - value
        expect(more, `${id} ${name}`).toBeGreaterThan(0)
        expect(more, `${id} ${name}`).toBeLessThan(1.2 + gaugeMm / 10)
        compared++
      }
    }
    expect(compared).toBeGreaterThan(150)
  })
})
