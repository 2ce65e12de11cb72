import type { Box, Point } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import { recordFind, tieOf } from '../../plan/index.ts'
import type { Id } from '../../plan/types.ts'
import { tieJigOf } from '../../ties/index.ts'
import type { TieJig } from '../../ties/types.ts'
import { chainOfPoints, chainOfRing } from '../chain.ts'
import type { PlanDrawing } from '../drawing.ts'
import { freeSpaceOf, freeSpacePlace, freeSpaceTakeArea, type SheetRoom } from '../freeSpace.ts'
import type { PlanItem } from '../planItem.ts'
import type { SubjectResult } from '../subject.ts'
import type { SheetOptions, SheetSubject } from '../types.ts'
import { lengthWords } from '../words.ts'

type TieJigSubject = Extract<SheetSubject, { kind: 'tieJig' }>

/** The words stand so far below the board's front edge. */
const wordsMm = 8
const titleMm = 3
const noteMm = 2.4
/** Points that must be on some sheet lie so far apart. */
const contentStepMm = 2
/** Every so many grooves are numbered. */
const numbered = 5

/** The jig of a class, or why there is none. */
export function tieJigFound(
  { plan }: Derived,
  lineClass: Id,
): { readonly ok: true; readonly jig: TieJig; readonly name: string } | { readonly ok: false; readonly problem: string } {
  const found = recordFind(plan, 'lineClasses', lineClass)
  if (!found) return { ok: false, problem: `There is no line class "${lineClass}" in the plan.` }
  return { ok: true, jig: tieJigOf(found.id, tieOf(found, plan.railway), found.tieSpacingMm), name: found.name }
}

/** What the sheet of a jig must show: the whole board, its front edge along the x axis from the origin. */
export function tieJigView(derived: Derived, { lineClass }: TieJigSubject, units: SheetOptions['units']): SubjectResult {
  const found = tieJigFound(derived, lineClass)
  if (!found.ok) return found
  const { jig, name } = found
  // A 32nd of an inch is too coarse for a spacing: mm stand beside it.
  const words = (mm: number): string => (units === 'metric' ? `${mm.toFixed(2)} mm` : `${lengthWords(mm, units)} (${mm.toFixed(2)} mm)`)
  const facts = [
    `${jig.ties} grooves ${words(jig.spacingMm)} apart, ${words(jig.grooveWidthMm)} wide, ${words(jig.grooveDepthMm)} deep`,
    `board ${words(jig.boardLengthMm)} × ${words(jig.boardWidthMm)} · tie ${words(jig.tie.lengthMm)} × ${words(jig.tie.widthMm)} × ${words(jig.tie.thicknessMm)}`,
  ]
  const across = Math.ceil(jig.boardWidthMm / contentStepMm)
  const along = Math.ceil(jig.boardLengthMm / contentStepMm)
  const content = Array.from({ length: along + 1 }, (_, i) => (jig.boardLengthMm * i) / along).flatMap((x) =>
    Array.from({ length: across + 1 }, (_, j): Point => ({ x, y: -wordsMm + ((jig.boardWidthMm + wordsMm) * j) / across })),
  )
  return {
    ok: true,
    view: { title: `Tie jig, ${name}`, facts, caution: 'track', content, strands: [], anglesRad: [0, Math.PI / 2] },
  }
}

/**
 * A jig at full size, to be glued on its board: grooves with the ties in them, the stop that tie ends are pushed against, the
 * middle along which the tape goes. The ends of the board are half a spacing beyond its last ties.
 */
export function tieJigDrawing(jig: TieJig, name: string, near: Box, room: SheetRoom): PlanDrawing {
  const space = freeSpaceOf(near, room)
  const { boardLengthMm, boardWidthMm, stopMm, grooveWidthMm, tie } = jig
  const rectangle = (fromX: number, toX: number, fromY: number, toY: number): readonly Point[] => [
    { x: fromX, y: fromY },
    { x: toX, y: fromY },
    { x: toX, y: toY },
    { x: fromX, y: toY },
  ]
  const stroke = (role: 'mark' | 'tie' | 'centreline', points: readonly Point[], isRing: boolean): readonly PlanItem[] => {
    const chain = isRing ? chainOfRing(points) : chainOfPoints(points)
    const layer = role === 'tie' ? 'ties' : 'marks'
    return chain ? [{ kind: 'stroke', layer, role, chain }] : []
  }
  const half = grooveWidthMm / 2
  const middleY = stopMm + tie.lengthMm / 2
  const items = [
    ...stroke('mark', rectangle(0, boardLengthMm, 0, boardWidthMm), true),
    ...stroke(
      'mark',
      [
        { x: 0, y: stopMm },
        { x: boardLengthMm, y: stopMm },
      ],
      false,
    ),
    ...stroke(
      'centreline',
      [
        { x: 0, y: middleY },
        { x: boardLengthMm, y: middleY },
      ],
      false,
    ),
    ...jig.groovesMm.flatMap((x) => [
      ...stroke(
        'mark',
        [
          { x: x - half, y: stopMm },
          { x: x - half, y: boardWidthMm },
        ],
        false,
      ),
      ...stroke(
        'mark',
        [
          { x: x + half, y: stopMm },
          { x: x + half, y: boardWidthMm },
        ],
        false,
      ),
      ...stroke('tie', rectangle(x - tie.widthMm / 2, x + tie.widthMm / 2, stopMm, stopMm + tie.lengthMm), true),
    ]),
  ]
  freeSpaceTakeArea(space, rectangle(0, boardLengthMm, stopMm, boardWidthMm))
  const text = (
    words: string,
    sizeMm: number,
    weight: 'bold' | 'regular',
    xs: readonly [number, ...number[]],
    y: number,
  ): readonly PlanItem[] => {
    const placed = freeSpacePlace(
      space,
      { kind: 'text', layer: 'marks', text: words, sizeMm, weight, grey: 0 },
      xs.map((x) => ({ middle: { x, y }, angleRad: 0, anchor: 'middle' as const })),
      'least-taken',
    )
    return placed ? [placed] : []
  }
  const numbers = jig.groovesMm.flatMap((x, i) => ((i + 1) % numbered === 0 ? text(String(i + 1), noteMm, 'regular', [x], stopMm - 3) : []))
  const titleXs = [boardLengthMm / 2, boardLengthMm / 4, (3 * boardLengthMm) / 4] as const
  const title = text(`Tie jig, ${name}: ties against the stop, tape along the middle`, titleMm, 'bold', titleXs, -wordsMm / 2)
  return { items: [...items, ...title, ...numbers], space }
}
