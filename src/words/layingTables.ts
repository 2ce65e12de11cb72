import type { ListTable } from '../core/deliver/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { RoadbedRamp, RoadbedWork, StripPiece } from '../core/roadbed/types.ts'
import type { TieLine, TieOwner, TieWork } from '../core/ties/types.ts'
import { angleText, fineText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName, upperFirst } from './names.ts'

// The lists of ties and roadbed as tables, for the screen, the printer and the command line alike.

const left = (head: string): ListTable['columns'][number] => ({ head, align: 'left' })
const right = (head: string): ListTable['columns'][number] => ({ head, align: 'right' })

const materialWords = { wood: 'wood', board: 'PC-board' } as const

/** The tie list for the saw, a page that adds up; where its ties lie; and what is taped in jigs. */
export function tieTables({ list, batches, jigs }: TieWork, plan: Plan, prefs: MeasurePrefs): readonly ListTable[] {
  const length = (mm: number): string => lengthText(mm, prefs)
  const fine = (mm: number): string => fineText(mm, prefs)
  const lineRow = (line: TieLine): readonly string[] => [
    materialWords[line.material],
    fine(line.lengthMm),
    `${fine(line.widthMm)} × ${fine(line.thicknessMm)}`,
    String(line.plain),
    String(line.turnout),
    String(line.crossing),
    String(line.count),
    length(line.count * line.lengthMm),
  ]
  const sum = (of: (line: TieLine) => number): string => String(list.lines.reduce((total, line) => total + of(line), 0))
  const total = [
    'all',
    '',
    '',
    sum(({ plain }) => plain),
    sum(({ turnout }) => turnout),
    sum(({ crossing }) => crossing),
    String(list.count),
    length(list.totalMm),
  ]
  return [
    {
      title: 'Ties to cut',
      notes: ['Stock without what the saw takes.'],
      columns: [
        left('Of'),
        right('Length'),
        right('Width × thickness'),
        right('Plain'),
        right('Turnouts'),
        right('Crossings'),
        right('Ties'),
        right('Stock'),
      ],
      rows: [...list.lines.map(lineRow), total],
    },
    {
      title: 'Where they lie',
      notes: [],
      columns: [left('Track or turnout'), right('Ties'), left('By length')],
      rows: [
        ...list.byOwner.map(({ owner, count, lines }) => [
          ownerName(owner, plan),
          String(count),
          lines.map((line) => `${line.count} of ${fine(line.lengthMm)}${line.material === 'board' ? ' PC-board' : ''}`).join(', '),
        ]),
        ['all', String(list.count), ''],
      ],
    },
    {
      title: 'Taped strips',
      notes: jigs.map(
        (jig) =>
          `${recordName(plan, 'lineClasses', jig.lineClass)}: a jig of ${length(jig.boardLengthMm)} with ${jig.ties} grooves ${fine(jig.spacingMm)} apart.`,
      ),
      columns: [
        left('Track'),
        right('From'),
        right('To'),
        right('Radius'),
        right('Ties'),
        right('Full strips'),
        right('and ties'),
        right('Turn from tie to tie'),
        right('Ends outside'),
        right('Ends inside'),
        right('Tape at most'),
      ],
      rows: batches.map((batch) => [
        recordName(plan, 'tracks', batch.track),
        length(batch.fromMm),
        length(batch.toMm),
        batch.radiusMm === null ? 'straight' : `${length(batch.radiusMm)} ${batch.hand ?? ''}`.trim(),
        String(batch.ties),
        String(batch.fullStrips),
        String(batch.lastTies),
        batch.fanRad === 0 ? '' : angleText(batch.fanRad),
        fine(batch.outerStepMm),
        fine(batch.innerStepMm),
        batch.tapeWidthMm === null ? 'any' : length(batch.tapeWidthMm),
      ]),
    },
  ]
}

const bevelWords: { readonly [B in StripPiece['bevel']]: string } = {
  none: 'square',
  left: 'left edge',
  right: 'right edge',
  both: 'both edges',
}

/** Strips of roadbed to cut, the fans of curves, pieces at turnouts and ramps. */
export function roadbedTables({ runs, turnoutPieces, ramps }: RoadbedWork, plan: Plan, prefs: MeasurePrefs): readonly ListTable[] {
  const length = (mm: number): string => lengthText(mm, prefs)
  const fine = (mm: number): string => fineText(mm, prefs)
  const tables: readonly ListTable[] = [
    {
      title: 'Roadbed strips',
      notes: ['Stations from the beginning of the track; strips from the left along rising station. Bevel: the edge cut to the shoulder.'],
      columns: [left('Piece'), right('Width'), right('Length'), right('From'), right('To'), left('Bevel')],
      rows: runs.flatMap(({ pieces, originMm }) =>
        pieces.map(({ id, widthMm, lengthMm, fromMm, toMm, bevel }) => [
          id,
          length(widthMm),
          length(lengthMm),
          length(originMm + fromMm),
          length(originMm + toMm),
          bevelWords[bevel],
        ]),
      ),
    },
    {
      title: 'Fans of strips in curves',
      notes: ['Along the middle of each strip and along both its edges, from the beginning to the end of the curve, easements counted in.'],
      columns: [left('Run'), right('Radius'), right('Strip'), right('Left edge'), right('Middle'), right('Right edge'), right('Strain')],
      rows: runs.flatMap(({ id, curves }) =>
        curves.flatMap(({ radiusMm, strips }) =>
          strips.map(({ strip, leftEdgeMm, lengthMm, rightEdgeMm, strain }) => [
            id,
            length(radiusMm),
            String(strip + 1),
            length(leftEdgeMm),
            length(lengthMm),
            length(rightEdgeMm),
            `${numberText(100 * strain, 2)} %`,
          ]),
        ),
      ),
    },
    {
      title: 'Pieces at turnouts and crossings',
      notes: ['The strip farthest from the host first. Cut the taper along the card.'],
      columns: [left('Piece'), right('Width'), right('Length'), right('of it taper')],
      rows: turnoutPieces.flatMap(({ strips }) =>
        strips.map(({ id, widthMm, lengthMm, taperMm }) => [id, length(widthMm), length(lengthMm), length(taperMm)]),
      ),
    },
    ...ramps.map((ramp) => rampTable(ramp, plan, length, fine)),
  ]
  return tables.filter(({ rows }) => rows.length > 0)
}

function rampTable(ramp: RoadbedRamp, plan: Plan, length: (mm: number) => string, fine: (mm: number) => string): ListTable {
  const { dropMm, parts, lengthMm, startMm, direction, shims, thickness } = ramp
  const from =
    ramp.from.kind === 'turnout' ? recordName(plan, 'turnouts', ramp.from.turnout) : recordName(plan, 'crossings', ramp.from.crossing)
  const layers =
    shims === null
      ? dropMm > 0
        ? 'Too many layers of tape or shim to lay: sand a wedge.'
        : 'It rises: sand the roadbed down.'
      : `${shims.endsMm.length} layers of ${fine(shims.layerMm)} from the start, ${fine(shims.remainderMm)} left over there; ends of the layers, the lowest first: ${shims.endsMm.map(length).join(', ')}.`
  return {
    title: `Ramp of ${recordName(plan, 'tracks', ramp.track)} behind ${from}`,
    notes: [
      `From station ${length(startMm)} along ${direction === 1 ? 'rising' : 'falling'} stations ${length(lengthMm)}: ${fine(Math.abs(dropMm))} ${dropMm > 0 ? 'down' : 'up'} (roadbed ${fine(parts.roadbedMm)}, tie ${fine(parts.tieMm)}, rail ${fine(parts.railMm)}).`,
      layers,
    ],
    columns: [right('Station'), right('Thickness of roadbed')],
    rows: thickness.map(({ alongMm, thicknessMm }) => [length(startMm + direction * alongMm), fine(thicknessMm)]),
  }
}

function ownerName(owner: TieOwner, plan: Plan): string {
  switch (owner.kind) {
    case 'track':
      return upperFirst(recordName(plan, 'tracks', owner.track))
    case 'turnout':
      return upperFirst(recordName(plan, 'turnouts', owner.turnout))
    case 'crossing':
      return upperFirst(recordName(plan, 'crossings', owner.crossing))
  }
}
