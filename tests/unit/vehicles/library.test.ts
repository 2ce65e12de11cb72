import { describe, expect, it } from 'vitest'
import {
  nameInRule,
  bodiesBothWays,
  bodyTurned,
  swing,
  vehicleBodies,
  vehicleByKey,
  vehicleRows,
} from '../../../src/core/vehicles/index.ts'

describe('the vehicles that are described', () => {
  it('have a key and a name each, and say where their sizes come from', () => {
    expect(new Set(vehicleRows.map(({ key }) => key)).size).toBe(vehicleRows.length)
    expect(new Set(vehicleRows.map(({ name }) => name)).size).toBe(vehicleRows.length)
    expect(vehicleRows.every(({ source, status }) => source !== '' && status === 'from-memory')).toBe(true)
  })

  it.each(vehicleRows)('$key could be built', (row) => {
    let lengthMm = 0
    for (const body of vehicleBodies(row, 1)) {
      const places = body.ribs.map(({ xMm }) => xMm)
      expect(places.every((x, i) => x > (places[i - 1] ?? -Infinity))).toBe(true)
      expect(body.front.xMm).toBeGreaterThan(body.rear.xMm)
      expect(places[0]).toBeLessThan(body.rear.xMm)
      expect(places.at(-1)).toBeGreaterThan(body.front.xMm)
      // No loading gauge of standard gauge is wider than 11 ft 6 in.
      for (const { halfWidthMm } of body.ribs) expect(2 * halfWidthMm).toBeLessThan(3506)
      lengthMm += (places.at(-1) ?? 0) - (places[0] ?? 0)
    }
    const isArticulated = row.wheels?.split('-').length === 4
    // Over the front engine the boiler is counted twice.
    if (!isArticulated) expect(lengthMm).toBeLessThanOrEqual(row.overCouplersMm)
    expect(lengthMm).toBeGreaterThan(0.8 * row.overCouplersMm)
    expect(row.weightKg / (row.overCouplersMm / 1000)).toBeGreaterThan(200)
    expect(row.heightMm).toBeGreaterThan(3000)
  })

  it('become bodies on the model: an 85 ft car in HO is 84 ft 6 in over 87.1', () => {
    const row = vehicleByKey('PASSENGER-85')
    if (!row) throw new Error('no such car')
    const [body] = vehicleBodies(row, 87.1)
    expect(body?.ribs[1]?.xMm).toBeCloseTo((84.5 * 304.8) / 87.1 / 2, 9)
    expect(body?.front.wheelbaseMm).toBeCloseTo((8.5 * 304.8) / 87.1, 9)
    expect(body && swing(762, { bodyLengthMm: 297, bodyWidthMm: 35, truckCentresMm: 2 * body.front.xMm, truckWheelbaseMm: 0 }).ok).toBe(
      true,
    )
    expect(vehicleByKey('airship')).toBeNull()
  })

  it('a steam engine is its frame and its tender, an articulated one both its engines and its tender', () => {
    const count = (key: string): number => {
      const row = vehicleByKey(key)
      return row ? vehicleBodies(row, 87).length : 0
    }
    expect([count('boxcar-40'), count('steam-0-6-0t'), count('steam-2-8-0'), count('steam-2-8-8-2')]).toEqual([1, 1, 2, 3])
  })

  it('tapered ends are narrower than the rest', () => {
    const row = vehicleByKey('coach-26m')
    const [body] = row ? vehicleBodies(row, 1) : []
    expect(body?.ribs.map(({ halfWidthMm }) => 2 * halfWidthMm)).toEqual([2600, 2825, 2825, 2600])
  })

  it('turned round twice are what they were, and only those that differ are taken both ways', () => {
    for (const row of vehicleRows) {
      const bodies = vehicleBodies(row, 87.1)
      for (const body of bodies) expect(bodyTurned(bodyTurned(body))).toEqual(body)
      const engines = row.frames.filter(({ kind }) => kind === 'drivers').length
      expect(bodiesBothWays(bodies)).toHaveLength(bodies.length + (row.key === 'steam-0-6-0t' ? 1 : engines))
    }
  })
})

describe('the name of a car of ours', () => {
  it('tells lengths in whole units of the rule that is measured with, and nothing else otherwise', () => {
    // 40 ft = 12.19 m; 85 ft = 25.91 m; 9 m = 29.5 ft; 26.4 m = 86.6 ft.
    expect(nameInRule('40 ft boxcar', 'metric')).toBe('12 m boxcar')
    expect(nameInRule('85 ft passenger car', 'metric')).toBe('26 m passenger car')
    expect(nameInRule('40 ft boxcar', 'imperial')).toBe('40 ft boxcar')
    expect(nameInRule('Two-axle wagon, 9 m wheelbase', 'imperial')).toBe('Two-axle wagon, 30 ft wheelbase')
    expect(nameInRule('26.4 m coach with tapered ends', 'imperial')).toBe('87 ft coach with tapered ends')
    expect(nameInRule('4-axle diesel', 'metric')).toBe('4-axle diesel')
  })

  it.each(['imperial', 'metric'] as const)('is another for each kind in the %s rule', (units) => {
    const names = vehicleRows.map(({ name, wheels }) => `${nameInRule(name, units)} ${wheels ?? ''}`)
    expect(new Set(names).size).toBe(vehicleRows.length)
    expect(names.filter((name) => (units === 'metric' ? / ft\b/ : / m\b/).test(name))).toEqual([])
  })
})
