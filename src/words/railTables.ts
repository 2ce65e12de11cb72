import type { ListTable } from '../core/deliver/index.ts'
import type { Id, Plan } from '../core/plan/types.ts'
import type { RailPiece, RailWork } from '../core/rails/types.ts'
import type { CutPlan } from '../core/sticks/index.ts'
import { lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'
import { jointKindText, railEndText, railPlaceText } from './railText.ts'

const left = (head: string): ListTable['columns'][number] => ({ head, align: 'left' })
const right = (head: string): ListTable['columns'][number] => ({ head, align: 'right' })

/** Where a piece of rail lies, by name. */
export function pieceOwnerText({ owner, from, to }: RailPiece, plan: Plan): string {
  if (owner.kind === 'turnout') return recordName(plan, 'turnouts', owner.turnout)
  if (owner.kind === 'crossing') return recordName(plan, 'crossings', owner.crossing)
  return recordName(plan, 'tracks', (from ?? to)?.track ?? owner.track)
}

/** Rails in the order of laying, and their joints. */
export function railTables({ pieces, joints, isProven }: RailWork, plan: Plan, prefs: MeasurePrefs): readonly ListTable[] {
  const name = (track: string): string => recordName(plan, 'tracks', track)
  const tables: readonly ListTable[] = [
    {
      title: 'Rails in the order of laying',
      notes: [
        'Cut ends fly and are sharp: cover your eyes and file off the burrs. With solder and flux follow their labels and air the room.',
      ],
      columns: [left('Piece'), left('Track or turnout'), left('Rail'), right('Length'), left('From'), left('To'), right('Code')],
      rows: pieces
        .toSorted((a, b) => a.order - b.order)
        .map((piece) => [
          piece.id,
          pieceOwnerText(piece, plan),
          piece.rail,
          lengthText(piece.lengthMm, prefs),
          railEndText(piece.startsAt),
          railEndText(piece.endsAt),
          String(piece.code),
        ]),
    },
    {
      title: 'Joints',
      notes: [isProven ? 'No better places for joints exist.' : 'No better places for joints were found.'],
      columns: [left('Pieces'), left('Where'), left('How')],
      rows: joints.map((joint) => [
        joint.pieces.join(' and '),
        railPlaceText(joint.place, name, prefs),
        jointKindText(joint.kind, joint.gapMm, prefs),
      ]),
    },
  ]
  return tables.filter(({ rows }) => rows.length > 0)
}

/** Sticks and what is cut from each. stocks: the plan's stock by the name that it has in the cutting. */
export function stickTable(
  title: string,
  cut: CutPlan,
  stocks: { readonly [name: string]: Id },
  plan: Plan,
  prefs: MeasurePrefs,
): ListTable {
  const isInches = prefs.units === 'imperial'
  const piece = (mm: number): string => (isInches ? lengthText(mm, prefs) : numberText(mm, 1))
  return {
    title,
    notes: [cutProofText(cut, prefs)],
    columns: [right('Stick'), left('Stock'), left(isInches ? 'Pieces' : 'Pieces in mm'), right('Left')],
    rows: cut.sticks.map(({ stock, pieces, leftMm, isKept }, i) => [
      String(i + 1),
      recordName(plan, 'stocks', stocks[stock] ?? ''),
      pieces.map(({ id, lengthMm }) => `${id} ${piece(lengthMm)}`).join(', '),
      `${lengthText(leftMm, prefs)}${isKept ? ', keep' : ''}`,
    ]),
  }
}

/** How many sticks a cutting takes, and how good it is known to be. */
export function cutProofText(cut: CutPlan, prefs: MeasurePrefs): string {
  const { stickCount, boughtCount, isProven, gap, boundSticks, boundMm, firstFit } = cut
  const bound = boundSticks === null ? lengthText(boundMm, prefs) : `${boundSticks} of them`
  const proof = isProven
    ? 'proven: no cutting takes less'
    : `no cutting takes less than ${bound}; this is at most ${numberText(100 * gap, 2)} % above that`
  const usual = firstFit === null ? '' : ` First fit, longest first, would take ${firstFit.stickCount}.`
  return `${stickCount} stick${stickCount === 1 ? '' : 's'}, ${boughtCount} of them to buy; ${proof}.${usual}`
}
