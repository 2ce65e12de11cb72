import { describe, expect, it } from 'vitest'
import {
  bufferRows,
  curvatureRows,
  degreeOfCurveFromRadius,
  degreeOfCurveToRadius,
  MAX_ATTACK_ANGLE_DEG,
  NO_EASEMENT_RADIUS_OVER_GAUGE,
  paperByName,
  railByCode,
} from '../../../src/core/standards/index.ts'
import { scaleToModel, scaleToPrototype } from '../../../src/core/units/index.ts'
import { expectMeets, referenceInput, referenceRows } from '../../support/reference.ts'

describe('rail', () => {
  it('every printed section of RP-15.1 has its height, foot and head', () => {
    for (const row of referenceRows('rail', { idPrefix: 'rp15-' })) {
      const rail = railByCode(referenceInput(row, 'code'))
      if (!rail) throw new Error(row.id)
      expect(rail.status).toBe('read')
      expectMeets(row, 'height', rail.heightMm)
      expectMeets(row, 'base_width', rail.footMm)
      expectMeets(row, 'head_width', rail.headMm)
    }
  })

  it('a rail code brought to full size is the rail that the printed table names', () => {
    for (const row of referenceRows('rail', { idPrefix: 'code-to-proto-' })) {
      const rail = railByCode(referenceInput(row, 'code'))
      expectMeets(row, 'prototype_height', scaleToPrototype(rail?.heightMm ?? NaN, referenceInput(row, 'ratio')))
    }
  })

  it('full-size rail heights come down to the printed model heights', () => {
    for (const row of referenceRows('rail', { idPrefix: 'protorail-' })) {
      const ratios = row.inputs['ratios'] as Readonly<Record<string, number>>
      const height = referenceInput(row, 'prototype_height')
      for (const [scale, ratio] of Object.entries(ratios)) expectMeets(row, `height_${scale}`, scaleToModel(height, ratio))
    }
  })
})

describe('curvature', () => {
  it('main and industrial radii, frogs and grades are those of MRP-1.0', () => {
    const keys: Readonly<Record<string, string>> = { OO: 'OO-19' }
    for (const row of referenceRows('curvature', { idPrefix: 'mrp1-' })) {
      const scale = String(row.inputs['scale'])
      const ours = curvatureRows.find(({ scaleKey }) => scaleKey === (keys[scale] ?? scale))
      if (!ours) throw new Error(scale)
      expectMeets(row, 'min_main_radius', ours.mainRadiusMm)
      expectMeets(row, 'min_industry_radius', ours.branchRadiusMm)
      expectMeets(row, 'min_turnout', ours.minFrog)
      expectMeets(row, 'max_grade', ours.maxGrade)
    }
  })

  it('buffer radii, the attack angle and the radius without easement are those of NEM 111 and 113', () => {
    const rows = referenceRows('curvature', { idPrefix: 'nem111-buffers-' })
    for (const row of rows) {
      const ours = bufferRows.find(({ group }) => group === row.inputs['group'])
      expectMeets(row, 'min_radius_over_gauge', ours?.radiusOverGauge ?? NaN)
      expectMeets(row, 'min_radius_H0', (ours?.radiusOverGauge ?? NaN) * 16.5)
    }
    const angle = referenceRows('curvature', { idPrefix: 'nem111-angle' })[0]
    const straight = referenceRows('curvature', { idPrefix: 'nem113-no-easement' })[0]
    if (!angle || !straight) throw new Error('rows')
    expectMeets(angle, 'max_angle', (MAX_ATTACK_ANGLE_DEG * Math.PI) / 180)
    expectMeets(straight, 'radius_over_gauge', NO_EASEMENT_RADIUS_OVER_GAUGE)
  })

  it('S-8 scale radii follow from the degree of curve by the chord definition', () => {
    for (const row of referenceRows('curvature', { idPrefix: 's8-' })) {
      const radius = degreeOfCurveToRadius(referenceInput(row, 'degree'), 'chord') ?? NaN
      expectMeets(row, 'radius_prototype', radius)
      const scaled: Readonly<Record<string, number>> = { radius_O_1_48: 48, radius_S_1_64: 64 }
      for (const { name } of row.expected.filter((value) => scaled[value.name])) {
        expectMeets(row, name, scaleToModel(radius, scaled[name] ?? NaN))
      }
    }
  })
})

describe('degree of curve', () => {
  it('gives the printed radius, and the radius gives the degree back', () => {
    for (const row of referenceRows('degree-of-curve', { quantity: 'radius from degree of curve' })) {
      const definition = String(row.inputs['definition']).startsWith('arc') ? 'arc' : 'chord'
      const degree = referenceInput(row, 'degree')
      const radius = degreeOfCurveToRadius(degree, definition) ?? NaN
      expectMeets(row, 'radius', radius)
      expect(degreeOfCurveFromRadius(radius, definition)).toBeCloseTo(degree, 12)
    }
  })

  it('does not copy the misprint of a table', () => {
    const row = referenceRows('degree-of-curve', { idPrefix: 'vose-6_5-misprint' })[0]
    if (!row) throw new Error('row')
    expectMeets(row, 'radius', degreeOfCurveToRadius(referenceInput(row, 'degree'), 'chord') ?? NaN)
  })

  it('by the arc definition a 1 degree curve has 5729.578 ft', () => {
    const row = referenceRows('degree-of-curve', { idPrefix: 'arc-1deg' })[0]
    if (!row) throw new Error('row')
    expectMeets(row, 'radius', degreeOfCurveToRadius(referenceInput(row, 'degree'), 'arc') ?? NaN)
  })

  it('gives the printed tangents and externals of the 1 degree table', () => {
    for (const row of referenceRows('degree-of-curve', { idPrefix: 't1-' })) {
      const radius = degreeOfCurveToRadius(referenceInput(row, 'degree'), 'chord') ?? NaN
      const half = referenceInput(row, 'intersection_angle') / 2
      expectMeets(row, 'tangent', radius * Math.tan(half))
      expectMeets(row, 'external', radius * (1 / Math.cos(half) - 1))
    }
  })

  it('names the degree of the closure curve of a full-size turnout', () => {
    for (const row of referenceRows('degree-of-curve', { idPrefix: 'ti850-turnout-' })) {
      expectMeets(row, 'degree', degreeOfCurveFromRadius(referenceInput(row, 'closure_radius'), 'arc') ?? NaN)
    }
  })

  it('refuses what no circle has', () => {
    expect(degreeOfCurveToRadius(0, 'chord')).toBeNull()
    expect(degreeOfCurveToRadius(NaN, 'arc')).toBeNull()
    expect(degreeOfCurveToRadius(4, 'chord')).toBeNull()
    expect(degreeOfCurveFromRadius(100, 'chord')).toBeNull()
    expect(degreeOfCurveFromRadius(-1, 'arc')).toBeNull()
  })
})

describe('paper', () => {
  const prefixes = ['iso-', 'ansi-', 'arch-', 'na-'] as const
  it('every printed sheet size is there to the millimetre', () => {
    const rows = prefixes.flatMap((idPrefix) => referenceRows('paper', { idPrefix }))
    expect(rows.length).toBeGreaterThanOrEqual(20)
    for (const row of rows) {
      const paper = paperByName(String(row.inputs['size']))
      if (!paper) throw new Error(row.id)
      expectMeets(row, 'width', paper.widthMm)
      expectMeets(row, 'height', paper.heightMm)
    }
  })

  it('is as large in units of PDF as its rules make it', () => {
    for (const row of ['pdf-A4', 'pdf-Letter', 'pdf-A0'].flatMap((idPrefix) => referenceRows('paper', { idPrefix }))) {
      const paper = paperByName(String(row.inputs['size']))
      if (!paper) throw new Error(row.id)
      expectMeets(row, 'width', paper.widthMm)
      expectMeets(row, 'height', paper.heightMm)
    }
  })

  it('finds a paper whatever the capitals and spaces, and none that does not exist', () => {
    expect(paperByName(' ansi_d ')?.widthMm).toBe(558.8)
    expect(paperByName('a4')).toEqual(paperByName('A4'))
    expect(paperByName('A99')).toBeNull()
  })
})
