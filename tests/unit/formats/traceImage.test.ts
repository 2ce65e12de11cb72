import { describe, expect, it } from 'vitest'
import { planTracing } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { traceImage } from '../../../src/formats/traceSvg.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

describe('a picture of the plan', () => {
  const items = planTracing(pipelineCreate().derive(planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })), 0.1)

  it('is as wide as asked, keeps its proportions, and shows rails but no ties', () => {
    const { svg, heightPx } = traceImage('Quay & dock', items, 1200)
    const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? []
    expect(svg).toContain(`width="1200" height="${heightPx}"`)
    expect(heightPx).toBe(Math.round((1200 * Number(height)) / Number(width)))
    expect(svg).toContain('id="rail-gauge"')
    expect(svg).not.toContain('id="tie"')
    expect(svg).toContain('<title>Quay &amp; dock</title>')
  })

  it('draws a line as thick on a small picture as on a large one', () => {
    const thick = (widthPx: number): number => {
      const { svg } = traceImage('', items, widthPx)
      const [, mm] = /id="rail-gauge"[^>]*stroke-width="([\d.]+)"/.exec(svg) ?? []
      const [, width] = /viewBox="0 0 ([\d.]+) /.exec(svg) ?? []
      return (Number(mm) * widthPx) / Number(width)
    }
    expect(thick(1200)).toBeCloseTo(thick(4800), 2)
    expect(thick(1200)).toBeGreaterThan(1)
  })
})
