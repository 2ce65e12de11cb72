import { lookUsual, sheetsForSubject } from '../../src/core/deliver/index.ts'
import type { Sheet, SheetOptions, SheetSubject } from '../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Derived } from '../../src/core/pipeline/index.ts'
import { planEmpty } from '../../src/core/plan/index.ts'
import type { Plan, Track, Turnout } from '../../src/core/plan/index.ts'
import { aPaper } from './paper.ts'
import { aCorner, aCrossing, aTrack, aTurnout } from './plans.ts'

/** Special work alone in a plan of its scale, and what its sheets are asked for by. */
export interface WorkCase {
  readonly name: string
  readonly plan: Plan
  readonly subject: SheetSubject
}

const scales = ['N', 'HO', 'O'] as const

function planOf(scale: string, change: Partial<Pick<Plan, 'tracks' | 'turnouts' | 'crossings'>>): Plan {
  const empty = planEmpty(scale)
  if (empty === null) throw new Error(`no scale ${scale}`)
  return { ...empty, railway: { ...empty.railway, title: 'Fennimore Quay Tramway & Dock Co.' }, ...change }
}

function onTrack(scale: string, track: (mm: number) => Partial<Track>, turnout: Partial<Turnout>, isLed = false): Plan {
  const gauges = gaugeOf(scale)
  const lead = aTrack({
    id: 'track-2',
    name: 'Quay lead',
    lineClass: 'siding',
    start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
    end: { kind: 'free', x: 90 * gauges, y: 18 * gauges },
  })
  return planOf(scale, {
    tracks: { 'track-1': aTrack(track(gauges)), ...(isLed ? { 'track-2': lead } : {}) },
    turnouts: { 'turnout-1': aTurnout({ stationMm: 40 * gauges, ...turnout }) },
  })
}

function gaugeOf(scale: string): number {
  return planOf(scale, {}).railway.gaugeMm
}

const straight = (gauge: number): Partial<Track> => ({ end: { kind: 'free', x: 120 * gauge, y: 0 } })
/** An arc of 72 gauges to the left, from the start on. */
const bent = (gauge: number): Partial<Track> => ({
  corners: [aCorner({ x: 72 * gauge, y: 0, radius: 72 * gauge, easementIn: 0, easementOut: 0 })],
  end: { kind: 'free', x: 72 * gauge, y: 100 * gauge },
})

/** Two tracks through one place, by the tangent of the angle between them. */
function crossed(scale: string, slope: number, slip: 'none' | 'double'): Plan {
  const half = 60 * gaugeOf(scale)
  return planOf(scale, {
    tracks: {
      'track-1': aTrack({ end: { kind: 'free', x: 2 * half, y: 0 } }),
      'track-2': aTrack({
        id: 'track-2',
        name: 'Ice house',
        start: { kind: 'free', x: 0, y: -half * slope },
        end: { kind: 'free', x: 2 * half, y: half * slope },
      }),
    },
    crossings: { 'crossing-1': aCrossing({ stationMm: half, otherStationMm: half * Math.hypot(1, slope), slip }) },
  })
}

/** Turnouts No. 4 to No. 12 in three scales, of every kind, straight and curved; crossings with and without slips. */
export const workCases: readonly WorkCase[] = scales.flatMap((scale) => {
  const turnout = (what: string, plan: Plan): WorkCase => ({
    name: `${scale} ${what}`,
    plan,
    subject: { kind: 'turnout', id: 'turnout-1' },
  })
  const crossing = (what: string, plan: Plan): WorkCase => ({
    name: `${scale} ${what}`,
    plan,
    subject: { kind: 'crossing', id: 'crossing-1' },
  })
  return [
    ...[4, 6, 8, 12].map((frog) =>
      turnout(`No. ${frog}`, onTrack(scale, straight, { frog, hand: frog === 8 ? 'right' : 'left' }, frog < 8)),
    ),
    turnout('No. 6 on a curve', onTrack(scale, bent, { hand: 'right' })),
    turnout('No. 8 within a curve', onTrack(scale, bent, { hand: 'left', frog: 8, stationMm: 50 * gaugeOf(scale) })),
    turnout('wye', onTrack(scale, straight, { frog: 5, kind: { kind: 'wye', share: 0.5 }, stationMm: 120 * gaugeOf(scale) })),
    turnout('three-way', onTrack(scale, straight, { kind: { kind: 'three-way', secondFrog: 6, secondAfterMm: 0 } })),
    turnout('stub', onTrack(scale, straight, { kind: { kind: 'stub' } })),
    crossing('crossing', crossed(scale, 0.6, 'none')),
    crossing('double slip', crossed(scale, 1 / 6, 'double')),
  ]
})

export const workOptions = (paper: string, units: SheetOptions['units']): SheetOptions => ({
  paper: aPaper(paper),
  marginMm: 8,
  overlapMm: 10,
  calibrationX: 1,
  calibrationY: 1,
  units,
  date: '2026-11-27',
  look: lookUsual,
})

const derivedKept = new WeakMap<Plan, Derived>()

/** What follows from a plan; once for all sheets that are asked of it. */
function derivedOf(plan: Plan): Derived {
  const kept = derivedKept.get(plan) ?? pipelineCreate().derive(plan)
  derivedKept.set(plan, kept)
  return kept
}

const sheetsKept = new WeakMap<Plan, Map<string, readonly Sheet[]>>()

/** Its sheets, made once for the same question; a test fails when there are none. */
export function workSheets({ plan, subject }: Pick<WorkCase, 'plan' | 'subject'>, options: SheetOptions): readonly Sheet[] {
  const kept = sheetsKept.get(plan) ?? new Map<string, readonly Sheet[]>()
  sheetsKept.set(plan, kept)
  const key = JSON.stringify([subject, options])
  const known = kept.get(key)
  if (known) return known
  const { sheets, problems } = sheetsForSubject(derivedOf(plan), subject, options)
  if (sheets.length === 0) throw new Error(problems.join(' '))
  kept.set(key, sheets)
  return sheets
}
