import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

describe('a class with rail and ties of its own', () => {
  const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
  const main = plan.lineClasses['main']
  if (!main) throw new Error('an empty plan has a main')
  const light = planWith({
    tracks: [aTrack()],
    turnouts: [aTurnout()],
    lineClasses: [
      {
        ...main,
        rail: { code: 55, headMm: 0.7, footMm: 1.4 },
        tie: { lengthMm: 25, widthMm: 2, thicknessMm: 1.5 },
      },
    ],
  })
  const usual = pipelineCreate().derive(plan).trackwork
  const own = pipelineCreate().derive(light).trackwork

  it('its plain track and its turnouts are drawn with them', () => {
    expect(own.tracks.get('track-1')?.rails.every(({ headWidthMm, footWidthMm }) => headWidthMm === 0.7 && footWidthMm === 1.4)).toBe(true)
    expect(own.tracks.get('track-1')?.ties.every(({ lengthMm, widthMm }) => lengthMm === 25 && widthMm === 2)).toBe(true)
    expect(own.turnouts.get('turnout-1')?.rails.every(({ footWidthMm }) => footWidthMm === 1.4)).toBe(true)
    expect(own.turnouts.get('turnout-1')?.ties.every(({ widthMm }) => widthMm === 2)).toBe(true)
  })

  it('other classes keep those of the railway', () => {
    expect(usual.tracks.get('track-1')?.rails[0]?.footWidthMm).toBe(plan.railway.railFootMm)
    expect(usual.turnouts.get('turnout-1')?.ties[0]?.widthMm).toBe(plan.railway.tieWidthMm)
  })

  it('another name of the class solves no turnout again', () => {
    const pipeline = pipelineCreate()
    const before = pipeline.derive(light).network.turnouts.get('turnout-1')
    const renamed = {
      ...light,
      lineClasses: { ...light.lineClasses, main: { ...light.lineClasses['main'], name: 'Heavy' } },
    } as typeof light
    const after = pipeline.derive(renamed).network.turnouts.get('turnout-1')
    expect(after?.result.geometry).toBe(before?.result.geometry)
  })
})
