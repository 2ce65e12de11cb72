import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { waybenchJson } from '../support/waybench.ts'

describe('waybench network', () => {
  it('tells the demo’s legs, fouling points, and what stands between them', async () => {
    const answer = await waybenchJson('network', 'public/demo/fennimore.json')
    const routes = answer['routes'] as readonly { readonly turnout: string; readonly legs: readonly { readonly track: string | null }[] }[]
    expect(routes).toHaveLength(10)
    expect(routes.every(({ legs }) => legs.length > 0 && legs.every(({ track }) => track !== null))).toBe(true)
    const clear = answer['clear'] as readonly {
      readonly track: string
      readonly lengthMm: number
      readonly capacity: readonly { readonly vehicle: string; readonly cars: number }[]
    }[]
    const siding = clear.filter(({ track }) => track === 'track-2')
    expect(siding).toHaveLength(1)
    // A boxcar over its couplers as the demo has it, and a twentieth of slack.
    const demo = JSON.parse(readFileSync('public/demo/fennimore.json', 'utf8')) as {
      readonly vehicles: { readonly [id: string]: { readonly overCouplersMm: number } }
    }
    const overMm = demo.vehicles['car-50ft-box']?.overCouplersMm ?? Number.NaN
    const lengthMm = siding[0]?.lengthMm ?? Number.NaN
    expect(siding[0]?.capacity).toEqual([{ vehicle: 'car-50ft-box', name: '50 ft boxcar', cars: Math.floor(lengthMm / (overMm * 1.05)) }])
    const points = answer['foulingPoints'] as readonly { readonly track: string }[]
    expect(points.filter(({ track }) => track === 'track-2')).toHaveLength(2)
    expect(answer['unsolved']).toEqual([])
  })
})
