import type { Point } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import { MM_PER_INCH } from '../../units/index.ts'
import type { SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import type { BenchContent, Figure } from './pages.ts'
import { penArc, penLine, penRing, penText } from './pen.ts'
import { left, right } from './words.ts'

/** A radius of the plan's centrelines with the gauge laid there, and the tracks and turnouts where it is. */
export interface RadiusUse {
  readonly radiusMm: number
  readonly gaugeMm: number
  readonly of: readonly string[]
}

/** Chords of sticks that fit a hand, mm. Common practice, no source. */
export const stickChordsMm = [50, 100, 2 * MM_PER_INCH, 4 * MM_PER_INCH, 8 * MM_PER_INCH] as const

/**
 * Height of an arc over the middle of its chord: R - sqrt(R² - c²/4). From the circle: half the chord is the mean proportional between
 * that height m and the rest of the diameter, (c/2)² = m (2R - m): Euclid, Elements III 35; the middle ordinate of [ROUTE-SURVEYING simple curves]. Null: the chord is longer than the diameter.
 */
export function midOrdinate(radiusMm: number, chordMm: number): number | null {
  const half = chordMm / 2
  if (!(radiusMm >= half)) return null
  // Without the difference of two large numbers.
  return (half * half) / (radiusMm + Math.sqrt(radiusMm * radiusMm - half * half))
}

/** Radii nearer to each other than this cannot be told apart by a stick. */
const alikeMm = 0.5

/** Every radius of the plan once, the sharpest first. */
export function radiusUses({ network }: Derived): readonly RadiusUse[] {
  const uses: RadiusUse[] = []
  const take = (name: string, radiusMm: number, gaugeMm: number): void => {
    if (!(radiusMm > 0 && Number.isFinite(radiusMm))) return
    const index = uses.findIndex((use) => Math.abs(use.radiusMm - radiusMm) < alikeMm && use.gaugeMm === gaugeMm)
    const use = uses[index]
    if (!use) uses.push({ radiusMm, gaugeMm, of: [name] })
    else if (!use.of.includes(name)) uses[index] = { ...use, of: [...use.of, name] }
  }
  for (const { track, railway, alignment } of network.tracks.values()) {
    if (!alignment.ok) continue
    for (const { solution } of alignment.corners) for (const { radiusMm } of solution.arcs) take(track.name, radiusMm, railway.gaugeMm)
  }
  for (const { turnout, result } of network.turnouts.values()) {
    if (!result.ok) continue
    const { divergences, request } = result.geometry
    for (const { radiusMm } of divergences) take(turnout.name, radiusMm, request.gaugeMm)
  }
  return uses.toSorted((a, b) => a.radiusMm - b.radiusMm)
}

/** Figures of more radii than this would fill page after page; the table has them all. */
const figuresMost = 12
const chordMm = 100
const titleMm = 3
const noteMm = 2.5

export function gaugeStickContent(derived: Derived, units: SheetOptions['units']): BenchContent {
  const uses = radiusUses(derived)
  const shown = uses.filter(({ radiusMm }) => midOrdinate(radiusMm, chordMm) !== null).slice(0, figuresMost)
  const inChord = (value: number): string => `${Math.round(value / MM_PER_INCH)} in`
  const heads = stickChordsMm.map((chord) => (Number.isInteger(chord) ? `${chord} mm` : inChord(chord)))
  const rows = (offset: (gaugeMm: number) => number): readonly (readonly string[])[] =>
    uses.map(({ radiusMm, gaugeMm, of }) => [
      lengthWords(radiusMm, units),
      ...stickChordsMm.map((chord) => {
        const mm = midOrdinate(radiusMm + offset(gaugeMm), chord)
        return mm === null ? '–' : Number.isInteger(chord) ? mm.toFixed(2) : (mm / MM_PER_INCH).toFixed(4)
      }),
      of.join(', '),
    ])
  const columns = [right('Radius'), ...heads.map(right), left('Where')]
  const under = 'Under chords in mm the height is in mm, under chords in inches in inches.'
  return {
    figures: shown.map((use) => stickFigure(use, units)),
    tables:
      uses.length === 0
        ? []
        : [
            {
              title: 'Height of the arc over the middle of the chord: inner rail',
              notes: [
                'Both ends of the stick against the running face, read in the middle. Inner rail: radius of the centreline less half the gauge.',
                under,
              ],
              columns,
              rows: rows((gaugeMm) => -gaugeMm / 2),
            },
            {
              title: 'The same for the outer rail',
              notes: [`Radius of the centreline and half the gauge. ${under}`],
              columns,
              rows: rows((gaugeMm) => gaugeMm / 2),
            },
            { title: 'The same for the centreline', notes: [under], columns, rows: rows(() => 0) },
          ],
  }
}

/** The arc of a centreline over a chord of 100 mm at full size, with its height. */
function stickFigure({ radiusMm }: RadiusUse, units: SheetOptions['units']): Figure {
  const ordinate = midOrdinate(radiusMm, chordMm) ?? 0
  const [a, b]: readonly [Point, Point] = [
    { x: 2, y: 5 },
    { x: 2 + chordMm, y: 5 },
  ]
  const middle: Point = { x: 2 + chordMm / 2, y: 5 }
  const centre: Point = { x: middle.x, y: middle.y + ordinate - radiusMm }
  const half = Math.asin(chordMm / 2 / radiusMm)
  const [from, to] = [Math.PI / 2 - half, Math.PI / 2 + half]
  const items = [
    penLine('tangent', a, b),
    // Two arcs: a sharp one turns more than a quarter circle.
    penArc('tick', centre, radiusMm, from, Math.PI / 2),
    penArc('tick', centre, radiusMm, Math.PI / 2, to),
    penLine('mark', middle, { x: middle.x, y: middle.y + ordinate }),
    penRing('hole', a, 0.6),
    penRing('hole', b, 0.6),
    penText(`R ${lengthWords(radiusMm, units)}`, { x: chordMm + 9, y: 5 }, titleMm, { weight: 'bold' }),
    penText(`${ordinate.toFixed(2)} mm, ${(ordinate / MM_PER_INCH).toFixed(4)} in`, { x: chordMm + 38, y: 5 }, noteMm),
  ]
  return { widthMm: chordMm + 64, heightMm: ordinate + 8, items }
}
