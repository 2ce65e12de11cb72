import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { vehicleRows } from '../../src/core/vehicles/index.ts'
import { planWrite } from '../../src/formats/planjson.ts'
import { aCar, aCorner, aTrack, planWith } from '../support/plans.ts'
import { numberOf, waybench, waybenchJson } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-'))
const path = join(folder, 'plan.json')
const loop = aTrack({
  id: 'loop',
  name: 'Loop',
  start: { kind: 'free', x: 1500, y: 0 },
  corners: [
    aCorner({ id: 'a', x: 3000, y: 0, radius: 700, easementIn: 200, easementOut: 200 }),
    aCorner({ id: 'b', x: 3000, y: 2200, radius: 700, easementIn: 200, easementOut: 200 }),
    aCorner({ id: 'c', x: 0, y: 2200, radius: 700, easementIn: 200, easementOut: 200 }),
    aCorner({ id: 'd', x: 0, y: 0, radius: 700, easementIn: 200, easementOut: 200 }),
  ],
  end: { kind: 'closed' },
})
const plan = planWith({
  tracks: [
    loop,
    aTrack({ id: 'quay', name: 'Quay', start: { kind: 'free', x: 1100, y: -50 }, end: { kind: 'free', x: 1900, y: -50 } }),
    aTrack({
      id: 'knot',
      name: 'Knot',
      start: { kind: 'free', x: 0, y: -900 },
      corners: [aCorner({ x: 100, y: -900, radius: 900 })],
      end: { kind: 'free', x: 100, y: -1000 },
    }),
  ],
  obstacles: [
    {
      id: 'post',
      name: 'Post',
      undersideMm: 0,
      outline: [
        { x: 1500, y: 40 },
        { x: 1560, y: 40 },
        { x: 1560, y: 100 },
      ],
    },
  ],
  vehicles: [aCar({ id: 'own', name: 'Drover' }, { lengthMm: 100, widthMm: 30, truckCentresMm: 60, truckWheelbaseMm: 0 })],
})
writeFileSync(path, planWrite(plan))

describe('waybench clearance', () => {
  it('tells the reach at every station, the worst of it and the gaps, lengths in mm', async () => {
    const answer = await waybenchJson('clearance', path, '--vehicle', 'own', '--track', 'loop', '--every', '100mm')
    const tracks = answer['tracks'] as readonly Record<string, unknown>[]
    expect(tracks).toHaveLength(1)
    const stations = tracks[0]?.['stations'] as readonly { stationMm: number; leftMm: number; rightMm: number }[]
    expect(stations[0]?.stationMm).toBe(0)
    expect(stations.at(-1)?.stationMm).toBeCloseTo(numberOf(tracks, 0, 'lengthMm'), 6)
    for (const [i, { stationMm }] of stations.entries())
      expect(stationMm - (stations[i - 1]?.stationMm ?? 0)).toBeLessThanOrEqual(100 + 1e-6)
    // On the tangent at station zero a car is half its width; on the curves of 700 mm 60²/(8·700) more inside, to a hundredth.
    expect(stations[0]).toMatchObject({ leftMm: 15, rightMm: 15 })
    const worst = tracks[0]?.['worst'] as readonly { side: string; reachMm: number }[]
    expect(worst.find(({ side }) => side === 'inside')?.reachMm).toBeCloseTo(15 + 3600 / 5600, 2)
    expect(worst.find(({ side }) => side === 'outside')?.reachMm).toBeGreaterThan(15)
    // Quay 50 mm beside the tangent, the post 40.
    const others = tracks[0]?.['others'] as readonly { track: string; least: { gapMm: number } | null }[]
    expect(others.find(({ track }) => track === 'quay')?.least?.gapMm).toBeCloseTo(20, 6)
    expect(numberOf(tracks, 0, 'fixed', 0, 'gapMm')).toBeCloseTo(25, 6)
  })

  it('sets another vehicle on the other tracks, and takes ids, names and kinds, whatever their capitals', async () => {
    const [a, b] = await Promise.all(
      [[], ['--other-vehicle', 'Passenger-85']].map(async (more) => {
        const answer = await waybenchJson('clearance', path, '--vehicle', 'drover', '--track', 'quay', ...more)
        return numberOf(answer, 'tracks', 0, 'others', 0, 'least', 'gapMm')
      }),
    )
    // 10 ft in HO is 35 mm: half of what it is wider.
    expect((a ?? 0) - (b ?? 0)).toBeCloseTo((3048 / plan.railway.ratio - 30) / 2, 1)
  })

  it('goes over all tracks, and names those whose line cannot be solved', async () => {
    const answer = await waybenchJson('clearance', path, '--vehicle', 'boxcar-40')
    expect((answer['tracks'] as readonly { track: string }[]).map(({ track }) => track)).toEqual(['loop', 'quay'])
    expect(answer['unsolved']).toEqual(['knot'])
    const { out } = await waybench('clearance', path, '--vehicle', 'boxcar-40')
    expect(out).toContain('Knot: its line cannot be solved.')
    expect(out).toMatch(/^inside +\d+\.\d+ mm/m)
    expect(out).toMatch(/^Post +\d/m)
  })

  it('finds the siding of the demo that is laid too near to the main, and that a long car overlaps there', async () => {
    const answer = await waybenchJson('clearance', 'public/demo/fennimore.json', '--vehicle', 'passenger-85', '--track', 'Main')
    const [first] =
      (answer['tracks'] as readonly { others: readonly { name: string; least: { gapMm: number; stationMm: number } }[] }[])[0]?.others ?? []
    expect(first?.name).toBe('Passing siding')
    expect(first?.least.gapMm).toBeLessThan(0)
    // Where `waybench check` finds the tracks too close.
    expect(first?.least.stationMm).toBeGreaterThan(5483)
    expect(first?.least.stationMm).toBeLessThan(6617)
  })

  it('says where a vehicle cannot stand', async () => {
    const stub = join(folder, 'stub.json')
    writeFileSync(stub, planWrite(planWith({ tracks: [aTrack({ end: { kind: 'free', x: 120, y: 0 } })] })))
    const { out, code } = await waybench('clearance', stub, '--vehicle', 'passenger-85')
    expect(code).toBe(0)
    expect(out).toContain('It cannot stand from station 0.0 to 120.0')
  })

  it.each([
    [['--vehicle', 'boxcar-4o'], 'Did you mean boxcar-40?'],
    [['--vehicle', 'zeppelin'], 'own, boxcar-40, boxcar-50'],
    [['--vehicle', 'own', '--other-vehicle', 'onw'], 'Did you mean own?'],
    [['--vehicle', 'own', '--track', 'Knot'], 'cannot be solved'],
    [['--vehicle', 'own', '--track', 'Key'], 'no such track'],
    [['--vehicle', 'own', '--every', '0.001mm'], 'take more'],
    [['--vehicle', 'own', '--every', '5'], '5in or 5mm'],
    [[], 'needs --vehicle'],
  ] as const)('%j is refused: %s', async (typed, says) => {
    const { code, out, err } = await waybench('clearance', path, ...typed)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain(says)
  })

  it('every kind of vehicle can be set on a track', async () => {
    for (const { key } of vehicleRows) {
      const answer = await waybenchJson('clearance', path, '--vehicle', key, '--track', 'quay', '--every', '500mm')
      expect(numberOf(answer, 'tracks', 0, 'worst', 0, 'reachMm'), key).toBeGreaterThan(8)
    }
  })
})
