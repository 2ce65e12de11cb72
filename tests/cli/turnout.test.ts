import { describe, expect, it } from 'vitest'
import { expectMeets, referenceInput, referenceRows, referenceValue } from '../support/reference.ts'
import { numberOf, waybench, waybenchJson, words } from '../support/waybench.ts'

const inch = 25.4
const degree = Math.PI / 180

const points = '--point-length 1.515in --heel-spread .090in --point-thickness .005in'
const answer = await waybenchJson(...words(`turnout --scale HO --frog 6 --gauge .650in ${points} --toe-length .75in --fouling 1.75in`))

describe('waybench turnout: a hand-worked HO No. 6', () => {
  // F = 2 atan(1/12); sin S = .085/1.515; Rr = (.65 - .09 - .75 sin F)/(cos S - cos F);
  // lead = 1.515 cos S + Rr (sin F - sin S) + .75 cos F. Half of the last figure worked by hand.
  const worked: readonly (readonly [string, number, number])[] = [
    ['frogAngleRad', 9.5273 * degree, 0.0001 * degree],
    ['switchAngleRad', 3.2163 * degree, 0.0005 * degree],
    ['closureGaugeLineRadiusMm', 35.67 * inch, 0.01 * inch],
    ['closureRadiusMm', (35.67 - 0.325) * inch, 0.01 * inch],
    ['leadMm', 6.156 * inch, 0.001 * inch],
    ['closureStraightMm', 3.891 * inch, 0.001 * inch],
    ['closureCurvedMm', 3.93 * inch, 0.001 * inch],
    // (f - (G/2)(1 + cos F))/tan F - (G/2) sin F
    ['foulingMm', 6.526 * inch, 0.03 * inch],
  ]
  for (const [name, value, tolerance] of worked) {
    it(`${name} is ${value.toFixed(4)}`, async () => {
      expect(Math.abs(numberOf(answer, name) - value)).toBeLessThanOrEqual(tolerance)
    })
  }

  it('ordinates at the quarters are .090 .158 .254 .376 .526 in', async () => {
    for (const [i, y] of [0.09, 0.158, 0.254, 0.376, 0.526].entries()) {
      // Half a thousandth of an inch: the figures above are rounded.
      expect(Math.abs(numberOf(answer, 'ordinates', i, 'yMm') / inch - y)).toBeLessThanOrEqual(0.0006)
    }
  })

  it('names rails, guard rails, ties, gaps and the throw hole', async () => {
    const rails = answer['rails'] as readonly { readonly role: string }[]
    const guards = answer['guardRails'] as readonly { readonly role: string }[]
    expect(rails.map(({ role }) => role)).toEqual(
      expect.arrayContaining(['stock-straight', 'point-curved', 'closure-curved', 'frog-straight', 'wing-curved']),
    )
    expect(guards.map(({ role }) => role).sort()).toEqual(['guard-curved', 'guard-straight'])
    expect(rails.some(({ role }) => role.startsWith('guard'))).toBe(false)
    expect((answer['ties'] as readonly unknown[]).length).toBeGreaterThan(30)
    expect((answer['gaps'] as readonly unknown[]).length).toBe(4)
    expect(numberOf(answer, 'throwHole', 'slotWidthMm')).toBeGreaterThan(0)
  })
})

describe('waybench turnout: frog angles', () => {
  it('are those printed, by both definitions', async () => {
    for (const row of referenceRows('turnouts', { idPrefix: 'frog-iso-' }).slice(0, 3)) {
      expectMeets(
        row,
        'angle',
        numberOf(await waybenchJson('turnout', '--scale', 'HO', '--frog', `${referenceInput(row, 'frog_number')}`), 'frogAngleRad'),
      )
    }
    for (const row of referenceRows('turnouts', { idPrefix: 'frog-right-' }).slice(0, 2)) {
      const typed = ['--frog', `1:${referenceInput(row, 'frog_number')}`]
      expectMeets(row, 'angle', numberOf(await waybenchJson('turnout', '--scale', 'HO', ...typed), 'frogAngleRad'))
    }
  })

  it('a slope means the tangent unless it is said otherwise', async () => {
    const typed = ['turnout', '--scale', 'HO', '--frog', '1:6', '--frog-definition', 'isosceles']
    expect(numberOf(await waybenchJson(...typed), 'frogAngleRad')).toBeCloseTo(2 * Math.atan(1 / 12), 12)
  })
})

describe('waybench turnout: the model turnouts of RP-12.7', () => {
  for (const row of referenceRows('turnouts', { idPrefix: 'rp12_7-' })) {
    it(`${row.id}: curved points, lead and closure rails as printed`, async () => {
      // The sheet gives the point by its length and both angles; the spread that these make is printed to .001 in only.
      const length = referenceInput(row, 'switch_rail_length')
      const [entry, heel] = [referenceInput(row, 'switch_point_angle'), referenceInput(row, 'switch_heel_angle')]
      const spread = (length / (heel - entry)) * (Math.cos(entry) - Math.cos(heel))
      const gauge = `--scale N --gauge ${referenceInput(row, 'gauge')}mm --frog ${referenceInput(row, 'frog_number')}`
      const points = `--points curved --entry-angle ${entry}rad --point-length ${length}mm --heel-spread ${spread}mm --point-thickness 0`
      const answer = await waybenchJson(...words(`turnout ${gauge} ${points} --toe-length ${referenceInput(row, 'frog_toe')}mm`))
      expectMeets(row, 'lead', numberOf(answer, 'leadMm'))
      expectMeets(row, 'closure_straight', numberOf(answer, 'closureStraightMm'))
      expectMeets(row, 'closure_curved_rail', numberOf(answer, 'closureCurvedMm'))
      expectMeets(row, 'closure_radius', numberOf(answer, 'closureGaugeLineRadiusMm'))
      expectMeets(row, 'switch_radius', numberOf(answer, 'pointRadiusMm'))
    })
  }
})

describe('waybench turnout: full size', () => {
  it('the switch angle is that of TI 850-02', async () => {
    for (const row of referenceRows('turnouts', { idPrefix: 'switch-angle-' })) {
      const feet = (name: string): string => `${referenceInput(row, name)}mm`
      const typed = [
        '--point-length',
        feet('switch_length'),
        '--heel-spread',
        feet('heel_spread'),
        '--point-thickness',
        feet('point_thickness'),
      ]
      expectMeets(row, 'angle', numberOf(await waybenchJson('turnout', '--scale', 'full-size', '--frog', '10', ...typed), 'switchAngleRad'))
    }
  })

  it('lead and closure radius come near to the trackwork plans', async () => {
    for (const row of referenceRows('turnouts', { idPrefix: 'area-' })) {
      const frog = referenceInput(row, 'frog_number')
      // The plans measure the toe from the half-inch point; the theoretical point lies half an inch times N ahead of it.
      const toe = referenceInput(row, 'frog_toe_to_half_inch_point') - (inch / 2) * frog
      const mm = (name: string): string => `${referenceInput(row, name)}mm`
      const points = `--point-length ${mm('switch_length')} --heel-spread ${mm('heel_spread')} --point-thickness ${mm('point_thickness')}`
      const answer = await waybenchJson(
        ...words(`turnout --scale full-size --frog ${frog} --gauge ${mm('gauge')} --toe-length ${toe}mm ${points}`),
      )
      const lead = referenceValue(row, 'lead')
      // As printed the lead reaches the half-inch point; the row's own tolerance is the 1 % by which plans are rounded.
      expect(Math.abs(numberOf(answer, 'leadMm') + (inch / 2) * frog - lead.value), row.id).toBeLessThanOrEqual(lead.plus)
      expectMeets(row, 'closure_radius_centre_line', numberOf(answer, 'closureRadiusMm'))
    }
  })

  it('a full-size gauge under a model scale takes ties and rail from the gauge and says so', async () => {
    const answer = await waybenchJson('turnout', '--scale', 'HO', '--gauge', '56.5in', '--frog', '8')
    expect(numberOf(answer, 'ratio')).toBeCloseTo(1, 6)
    expect(JSON.stringify(answer['notes'])).toContain('none of HO')
  })
})

describe('waybench turnout: bad input', () => {
  const wrong: readonly (readonly [typed: readonly string[], says: readonly string[]])[] = [
    [
      ['--scale', 'XO', '--frog', '6'],
      ['--scale XO', 'Did you mean HO?'],
    ],
    [['--frog', '6'], ['needs --scale']],
    [['--scale', 'HO'], ['needs --frog']],
    [
      ['--scale', 'HO', '--frog', '60'],
      ['--frog', 'No. 60', '2 to 30'],
    ],
    [
      ['--scale', 'HO', '--frog', 'six'],
      ['--frog six', 'not a number'],
    ],
    [
      ['--scale', 'HO', '--frog', '6', '--point-length', '1.5'],
      ['--point-length 1.5', '1.5in or 1.5mm'],
    ],
    [
      ['--scale', 'HO', '--frog', '6', '--heel-spread', '-2mm'],
      ['--heel-spread', 'above zero'],
    ],
    [
      ['--scale', 'HO', '--frog', '6', '--toe-length', '1mm'],
      ['--toe-length', 'at least'],
    ],
    [['--scale', 'HO', '--frog', '6', '--point-length', '30mm', '--heel-spread', '6mm'], ['--point-length']],
    [
      ['--scale', 'HO', '--frog', '6', '--points', 'bent'],
      ['--points bent', 'straight or curved'],
    ],
    [['--scale', 'HO', '--frog', '6', '--kind', 'slip'], ['--kind slip']],
    [
      ['--scale', 'HO', '--frog', '6', '--entry-angle', '1deg'],
      ['--entry-angle', '--points curved'],
    ],
    [
      ['--scale', 'HO', '--frog', '6', '--points', 'curved', '--entry-angle', '5deg'],
      ['5.00°', 'between 0.00° and 1.90°'],
    ],
    [
      ['--scale', 'HO', '--frog', '6', '--flangeway', '0.4in'],
      ['10.16 mm', 'less than 4.13 mm', 'a quarter of the gauge'],
    ],
  ]
  for (const [typed, says] of wrong) {
    it(`${typed.join(' ')} is refused in words`, async () => {
      const { code, out, err } = await waybench('turnout', ...typed)
      expect(code).toBe(2)
      expect(out).toBe('')
      for (const part of says) expect(err).toContain(part)
    })
  }
})
