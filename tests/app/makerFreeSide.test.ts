import { describe, expect, it } from 'vitest'
import { makerOnFreeSide, makerOnTrack, makerTurned } from '../../src/app/makers/freeSide.ts'
import { makerStart } from '../../src/core/makers/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/types.ts'
import { aTrack, planWith } from '../support/plans.ts'

const at = (x: number, y: number) => ({ kind: 'free', x, y }) as const
const host = aTrack({ end: at(3000, 0) })
const beside = (y: number, id: string) => aTrack({ id, name: id, start: at(0, y), end: at(3000, y) })

function begun(plan: Plan) {
  const { network } = pipelineCreate().derive(plan)
  const maker = makerStart(plan, network, 'siding', 'track-1', 'metric')
  if (maker?.numbers.kind !== 'siding') throw new Error('no siding')
  return { network, maker, free: makerOnFreeSide(network, maker, (one) => one) }
}
const sideOf = ({ numbers }: { readonly numbers: object }): unknown => ('side' in numbers ? numbers.side : null)

describe('a siding to begin with', () => {
  it('lies on the side that is free, and names the track on the other one', () => {
    const alone = begun(planWith({ tracks: [host] }))
    const usual = sideOf(alone.maker)
    expect(sideOf(alone.free)).toBe(usual)
    const centresMm = alone.maker.numbers.kind === 'siding' ? alone.maker.numbers.centresMm : 0
    const y = (usual === 'left' ? 1 : -1) * centresMm
    const taken = begun(planWith({ tracks: [host, beside(y, 'there')] }))
    expect(makerOnTrack(taken.network, taken.maker)).toBe('there')
    expect(sideOf(taken.free)).not.toBe(usual)
    expect(makerOnTrack(taken.network, taken.free)).toBeNull()
    // With a track on both sides it stays as it was, and either is named.
    const both = begun(planWith({ tracks: [host, beside(y, 'there'), beside(-y, 'here')] }))
    expect(sideOf(both.free)).toBe(usual)
    const turned = makerTurned(both.free)
    expect(turned === null ? null : makerOnTrack(both.network, turned)).toBe('here')
  })
})
