import type { Point } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import { constructionOf, crossingConstructionOf } from '../../turnout/index.ts'
import type { Filing, RailStick } from '../../turnout/index.ts'
import { MM_PER_INCH } from '../../units/index.ts'
import { caliperUnit, caliperWords } from '../build/words.ts'
import type { SheetOptions } from '../types.ts'
import { angleWords } from '../words.ts'
import type { BenchContent, Figure } from './pages.ts'
import { penArc, penLine, penPath, penText } from './pen.ts'
import { left, right } from './words.ts'

/** A way in which rail ends are filed in this plan, and where. */
export interface FilingUse {
  readonly kind: Filing['kind']
  readonly angleRad: number
  readonly lengthMm: number
  readonly tipMm: number
  readonly headMm: number
  /** Names of turnouts and crossings that have it, in their order. */
  readonly of: readonly string[]
}

/** The guide lines of a figure are so long: as far as a file or a steel rule lies steady, and two stand side by side on a page. */
const guideLength = { metric: 75, imperial: 3 * MM_PER_INCH } as const
const titleMm = 3.2
const noteMm = 2.5
/** Angles nearer than this are filed alike: a hundredth of a degree. */
const alikeRad = Math.PI / 18_000

const kindWords = { point: 'Point', frog: 'Frog', elbow: 'Elbow frog' } as const satisfies Record<Filing['kind'], string>

/** Every filing of the plan once, the sharpest first. */
export function filingUses({ network }: Derived): readonly FilingUse[] {
  const uses: FilingUse[] = []
  const take = (name: string, headMm: number, sticks: readonly RailStick[]): void => {
    for (const { kind, angleRad, lengthMm, tipMm } of sticks.flatMap(({ filings }) => filings)) {
      const index = uses.findIndex(
        (use) =>
          use.kind === kind && Math.abs(use.angleRad - angleRad) < alikeRad && Math.abs(use.tipMm - tipMm) < 1e-3 && use.headMm === headMm,
      )
      const use = uses[index]
      if (!use) uses.push({ kind, angleRad, lengthMm, tipMm, headMm, of: [name] })
      else if (!use.of.includes(name)) uses[index] = { ...use, of: [...use.of, name] }
    }
  }
  for (const { turnout, result } of network.turnouts.values()) {
    if (result.ok) take(turnout.name, result.geometry.request.railHeadMm, constructionOf(result.geometry).sticks)
  }
  for (const { record, result } of network.crossings.values()) {
    if (result.ok) take(record?.name ?? 'Crossing', result.crossing.request.railHeadMm, crossingConstructionOf(result.crossing).sticks)
  }
  return uses.filter(({ angleRad }) => angleRad > 0).toSorted((a, b) => a.angleRad - b.angleRad)
}

/** A rise of one in so many. */
export function oneIn(angleRad: number): number {
  return 1 / Math.tan(angleRad)
}

export function filingContent(derived: Derived, units: SheetOptions['units']): BenchContent {
  const uses = filingUses(derived)
  return {
    figures: uses.map((use, i) => filingFigure(use, i + 1, units)),
    tables:
      uses.length === 0
        ? []
        : [
            {
              title: 'Where each angle is used',
              notes: [
                'Angle between the filed face and the running face beyond the filing. Length: over which metal is taken off. Tip: what is left of the head.',
              ],
              columns: [
                left(''),
                left('End of'),
                right('Angle'),
                right('One in'),
                right(`Length, ${caliperUnit(units)}`),
                right(`Tip, ${caliperUnit(units)}`),
                left('Turnouts and crossings'),
              ],
              rows: uses.map(({ kind, angleRad, lengthMm, tipMm, of }, i) => [
                String(i + 1),
                kindWords[kind].toLowerCase(),
                angleWords(angleRad),
                oneIn(angleRad).toFixed(2),
                caliperWords(lengthMm, units),
                caliperWords(tipMm, units),
                of.join(', '),
              ]),
            },
          ],
  }
}

/**
 * One angle at full size: the rail lies along the lower line with its end at the corner, the file along the upper one. The rise at the end
 * of the lower line is written beside it, so that the print can be measured.
 */
function filingFigure({ kind, angleRad, lengthMm, tipMm, headMm }: FilingUse, number: number, units: SheetOptions['units']): Figure {
  const guideMm = guideLength[units]
  // A steep angle would run off the card: its guide is as long, along its slope.
  const isSteep = angleRad > Math.PI / 4
  const along = isSteep ? guideMm * Math.cos(angleRad) : guideMm
  const rise = along * Math.tan(angleRad)
  const base = headMm + 9
  const corner: Point = { x: 3, y: base }
  const end: Point = { x: corner.x + along, y: base + rise }
  const arcMm = 0.6 * along
  // The head as it is filed, below the guide: its filed face is on the side of the guide.
  const head = (x: number, depth: number): Point => ({ x: corner.x + x, y: base - 2.5 - depth })
  const full = Math.min(lengthMm, guideMm)
  const [title, size] = [
    `${number} · ${kindWords[kind]} · ${angleWords(angleRad)}`,
    `1 in ${oneIn(angleRad).toFixed(2)} · over ${caliperWords(lengthMm, units)} ${caliperUnit(units)} · tip ${caliperWords(tipMm, units)} ${caliperUnit(units)}`,
  ]
  const items = [
    penLine('tick', corner, { x: corner.x + guideMm, y: base }),
    penLine('tick', corner, end),
    penLine('tangent', { x: end.x, y: base }, end),
    penArc('tangent', corner, arcMm, 0, angleRad),
    ...penPath('rail-gauge', [head(0, headMm - tipMm), head(full, 0), head(guideMm, 0), head(guideMm, headMm), head(0, headMm)], {
      isClosed: true,
      fill: 0.75,
    }),
    penText(
      `rise ${caliperWords(rise, units)} ${caliperUnit(units)} in ${caliperWords(along, units)}`,
      { x: corner.x, y: base - headMm - 6.2 },
      noteMm,
      {
        grey: 0.25,
      },
    ),
    penText(title, { x: 0, y: base + rise + 6.5 }, titleMm, { weight: 'bold' }),
    penText(size, { x: 0, y: base + rise + 2.6 }, noteMm),
  ]
  return { widthMm: guideMm + 6, heightMm: base + rise + 10, items }
}
