import type { ListTable } from '../core/deliver/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { CurveRow, RailMark, RailOwner, RailWork, SpikeTie } from '../core/rails/types.ts'
import { angleText, fineText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'
import { markText } from './railText.ts'

// How the rails are laid: marks to make, spikes to drive, and what is under and between them on curves.

const left = (head: string): ListTable['columns'][number] => ({ head, align: 'left' })
const right = (head: string): ListTable['columns'][number] => ({ head, align: 'right' })

/** Marks, spikes, gauge and superelevation; lists without rows are left out. */
export function railLayingTables(rails: RailWork, plan: Plan, prefs: MeasurePrefs): readonly ListTable[] {
  return [
    markTable(rails, prefs),
    spikeTable(rails, plan),
    ...rails.spiking.tracks.map(({ track, ties }) => spikeTies(recordName(plan, 'tracks', track), ties, prefs)),
    curveTable(rails, plan, prefs),
    shimTable(rails, plan, prefs),
  ].filter(({ rows }) => rows.length > 0)
}

function markTable({ pieces }: RailWork, prefs: MeasurePrefs): ListTable {
  const told = pieces.filter(({ marks, ties }) => marks.length + ties.length > 0).toSorted((a, b) => a.order - b.order)
  return {
    title: 'Marks on the rails',
    notes: ['From the start of each piece. Scribe them while the rail is straight: once it is bent no rule lies along it.'],
    columns: [left('Piece'), left('Marks'), right('Ties'), right('First tie'), right('Last tie')],
    rows: told.map(({ id, marks, ties }) => [
      id,
      marks.map((mark) => markedText(mark, prefs)).join(', '),
      String(ties.length),
      ...[ties[0], ties.at(-1)].map((mm) => (mm === undefined ? '' : lengthText(mm, prefs))),
    ]),
  }
}

function markedText({ kind, atMm, turnRad }: RailMark, prefs: MeasurePrefs): string {
  const turn = turnRad === undefined ? '' : ` ${angleText(Math.abs(turnRad))} to the ${turnRad > 0 ? 'left' : 'right'}`
  return `${markText(kind)}${turn} ${lengthText(atMm, prefs)}`
}

function ownerName(owner: RailOwner, plan: Plan): string {
  if (owner.kind === 'track') return recordName(plan, 'tracks', owner.track)
  return owner.kind === 'turnout' ? recordName(plan, 'turnouts', owner.turnout) : recordName(plan, 'crossings', owner.crossing)
}

function spikeTable({ spiking }: RailWork, plan: Plan): ListTable {
  const { tracks, works, plainSpikes, workSpikes, spikes } = spiking
  return {
    title: 'Spikes',
    notes: [
      'Two to a rail at a tie, one on either side of the foot. The first pass holds the rail; drive the second when the gauge has run along it.',
      `${plainSpikes} on plain track and ${workSpikes} in turnouts and crossings: ${spikes} in all.`,
    ],
    columns: [left('Track or turnout'), right('First pass'), right('Spikes')],
    rows: [
      ...tracks.map(({ track, firstPass, spikes: count }) => [recordName(plan, 'tracks', track), String(firstPass), String(count)]),
      ...works.map(({ owner, spikes: count }) => [ownerName(owner, plan), '', String(count)]),
    ],
  }
}

const whyWords: { readonly [W in SpikeTie['why']]: string } = { joint: 'at a joint', tangent: 'on tangent', curve: 'on a curve' }

/** Stations of spiked ties, those alike in one row. */
function spikeTies(name: string, ties: readonly SpikeTie[], prefs: MeasurePrefs): ListTable {
  const groups = new Map<string, { readonly tie: SpikeTie; readonly stations: number[] }>()
  for (const tie of ties) {
    const key = `${tie.pass} ${tie.rail} ${tie.why}`
    const group = groups.get(key)
    if (group === undefined) groups.set(key, { tie, stations: [tie.stationMm] })
    else group.stations.push(tie.stationMm)
  }
  return {
    title: `Spiked ties of ${name}`,
    notes: [],
    columns: [left('Pass'), left('Rail'), left('Why'), left('Ties at stations')],
    rows: [...groups.values()]
      .toSorted((a, b) => a.tie.pass - b.tie.pass || a.tie.rail.localeCompare(b.tie.rail))
      .map(({ tie: { pass, rail, why }, stations }) => [
        pass === 1 ? 'first' : 'second',
        rail,
        whyWords[why],
        stations
          .toSorted((a, b) => a - b)
          .map((mm) => lengthText(mm, prefs))
          .join(', '),
      ]),
  }
}

function curveTable({ curves }: RailWork, plan: Plan, prefs: MeasurePrefs): ListTable {
  const at = (mm: number): string => lengthText(mm, prefs)
  const told = curves.filter(({ widening, superelevationMm }) => widening.length > 0 || superelevationMm > 0)
  return {
    title: 'Gauge and superelevation on curves',
    notes: ['Stations of the track. Wider gauge comes on over the easement; the outer rail is raised with it.'],
    columns: [
      left('Track'),
      left('Hand'),
      right('Radius'),
      right('TS'),
      right('SC'),
      right('CS'),
      right('ST'),
      left('Gauge wider by'),
      right('Outer rail up'),
    ],
    rows: told.map((curve) => [
      recordName(plan, 'tracks', curve.track),
      curve.hand,
      at(curve.radiusMm),
      ...[curve.tsMm, curve.scMm, curve.csMm, curve.stMm].map(at),
      wideningText(curve, prefs),
      fineText(curve.superelevationMm, prefs),
    ]),
  }
}

function wideningText({ widening }: CurveRow, prefs: MeasurePrefs): string {
  return widening
    .map(({ byMm, fromMm, toMm }) => `${fineText(byMm, prefs)} from ${lengthText(fromMm, prefs)} to ${lengthText(toMm, prefs)}`)
    .join('; ')
}

function shimTable({ curves }: RailWork, plan: Plan, prefs: MeasurePrefs): ListTable {
  return {
    title: 'Shims under the outer rail',
    notes: ['Layers of tape or card under the tie ends, the lowest first.'],
    columns: [left('Track'), left('Rail'), right('Layer'), right('Height with it'), right('From'), right('To')],
    rows: curves.flatMap(({ track, outer, layers }) =>
      layers.map(({ layer, heightMm, fromMm, toMm }) => [
        recordName(plan, 'tracks', track),
        outer,
        String(layer),
        fineText(heightMm, prefs),
        lengthText(fromMm, prefs),
        lengthText(toMm, prefs),
      ]),
    ),
  }
}
