import { describe, expect, test } from 'vitest'
import { easementByRule, parallelSolve } from '../../../src/core/alignment/index.ts'
import { findingsOf, makerFrogTold, makerSound } from '../../../src/core/checks/index.ts'
import { makerStart } from '../../../src/core/makers/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { parallelWidened } from '../../../src/core/pipeline/index.ts'
import { dataFreeze, planEmpty } from '../../../src/core/plan/index.ts'
import type { LineClass, Plan, Track, Turnout } from '../../../src/core/plan/types.ts'
import { gaugeList } from '../../../src/core/standards/index.ts'
import { traverseTrack } from '../../../src/app/lineActs/parallelAsk.ts'
import { aMaker, expanded, planMade } from '../../support/makers.ts'
import { aCorner, aTrack, aTurnout } from '../../support/plans.ts'

/** What all checks say, each in a few words; none left out. */
const told = (plan: Plan): readonly string[] =>
  findingsOf({ plan, network: networkCreateDeriver()(plan) }).map(
    ({ rule, severity, record, measured, limit }) => `${rule} ${severity} ${record} ${measured?.toFixed(1)} of ${limit?.toFixed(1)}`,
  )

/** A new room of a scale by its key; in round figures of the metric rule where that is named behind it. */
const emptyOf = (room: string): Plan | null => {
  const [key = '', units] = room.split(' ')
  return planEmpty(key, units === 'metric' ? 'metric' : 'imperial')
}

function roomOf(key: string, tracks: readonly Track[], turnouts: readonly Turnout[] = []): Plan {
  const empty = emptyOf(key)
  if (empty === null) throw new Error(key)
  const table = <R extends { readonly id: string }>(records: readonly R[]) =>
    Object.fromEntries(records.map((record) => [record.id, record]))
  return dataFreeze({ ...empty, tracks: table(tracks), turnouts: table(turnouts) })
}

/** A track of a class that turns a right angle to the left between straights that are long enough for anything. */
function bent({ id, minRadiusMm }: LineClass, radiusMm: number): Track {
  const sideMm = 6 * minRadiusMm
  const corner = aCorner({ x: sideMm, y: 0, radius: radiusMm })
  return aTrack({ lineClass: id, corners: [corner], end: { kind: 'free', x: sideMm, y: sideMm } })
}

/** The plan with a track laid beside track-1 as the panel of parallels has it from the start. */
function withParallel(plan: Plan, lineClass: LineClass, side: 1 | -1): Plan {
  const network = networkCreateDeriver()(plan)
  const alignment = network.tracks.get('track-1')?.alignment
  if (alignment?.ok !== true) throw new Error('the host is solved')
  const usual = { centresMm: lineClass.trackCentresMm, curveMm: lineClass.trackCentresMm }
  const ask = { host: 'track-1', alignment, stretch: { kind: 'whole' }, side, lineClass } as const
  const { centresMm, curveMm } = parallelWidened({ plan, network }, ask, usual)
  const { minRadiusMm } = lineClass
  const answer = parallelSolve({ alignment, stretch: ask.stretch, offsetMm: side * centresMm, curveOffsetMm: side * curveMm, minRadiusMm })
  const add = answer.ok ? traverseTrack(answer.traverse, lineClass.id, 'Beside') : null
  if (add?.kind !== 'track.add') throw new Error('a parallel is laid')
  return dataFreeze({ ...plan, tracks: { ...plan.tracks, 'track-2': { ...add.record, id: 'track-2' } } })
}

const rooms = [...gaugeList().map(({ key }) => key), ...['N', 'TT', 'H0', 'H0m', 'H0e', '0', '1'].map((key) => `${key} metric`)]
const rows = rooms.flatMap((room) =>
  Object.values(emptyOf(room)?.lineClasses ?? {}).map((lineClass) => [room, lineClass.id, lineClass] as const),
)
/** What takes a second a room is asked of every third row, and of all classes of HO; of all rooms where WAYBENCH_EVERY_ROOM is set. */
const someRows = rows.filter(([room], i) => i % 3 === 0 || room === 'HO' || process.env.WAYBENCH_EVERY_ROOM !== undefined)

describe('what a new room asks of its classes agrees: no check tells of', () => {
  test.each(rows)('%s %s: the least frog on a straight', (key, id, { minFrog, minRadiusMm }) => {
    const track = aTrack({ lineClass: id, end: { kind: 'free', x: 8 * minRadiusMm, y: 0 } })
    expect(told(roomOf(key, [track], [aTurnout({ frog: minFrog, stationMm: 3 * minRadiusMm })]))).toEqual([])
  })

  test.each(rows)('%s %s: the least curve with the easements of the class', (key, _id, lineClass) => {
    expect(told(roomOf(key, [bent(lineClass, lineClass.minRadiusMm)]))).toEqual([])
  })

  test.each(someRows)('%s %s: a parallel within or about a curve', (key, _id, lineClass) => {
    const { minRadiusMm, trackCentresMm } = lineClass
    // Within a curve it needs a radius of its own.
    const host = roomOf(key, [bent(lineClass, minRadiusMm + 2 * trackCentresMm)])
    for (const side of [1, -1] as const) expect([side, ...told(withParallel(host, lineClass, side))]).toEqual([side])
  })

  test.each(someRows)('%s %s: a crossover of the least frog between two straights', (key, id, lineClass) => {
    const { minFrog, minRadiusMm, trackCentresMm } = lineClass
    const straight = (name: string, y: number): Track =>
      aTrack({ id: name, lineClass: id, start: { kind: 'free', x: 0, y }, end: { kind: 'free', x: 10 * minRadiusMm, y } })
    const host = roomOf(key, [straight('track-1', 0), straight('track-2', trackCentresMm)])
    const numbers = {
      kind: 'crossover',
      track: 'track-1',
      otherTrack: 'track-2',
      stationMm: 5 * minRadiusMm,
      hand: 'left',
      frog: minFrog,
      layout: 'single',
    } as const
    const at = { plan: host, network: networkCreateDeriver()(host) }
    const least = aMaker(numbers, { lineClass: id })
    // Whether couplers reach from car to car across it is measured on the true line: the longest cars ask for a larger frog in many scales.
    const sound = makerSound(at, least)
    expect(told(planMade(host, sound))).toEqual([])
    const known = makerFrogTold(at, least)
    const rules = new Set(told(planMade(host, least)).map((text) => text.split(' ')[0]))
    expect([...rules]).toEqual(known === null ? [] : [known.finding.rule])
    expect(known?.least?.frog ?? minFrog).toBe(sound.numbers.kind === 'crossover' ? sound.numbers.frog : null)
  })
})

describe('what makers begin with passes the checks of a new room', () => {
  const kinds = ['crossover', 'siding', 'spur', 'yard', 'wye', 'loop', 'turnback', 'helix'] as const

  test.each(someRows)('%s %s: every kind', (key, id, lineClass) => {
    const { minRadiusMm, usualRadiusMm, trackCentresMm } = lineClass
    const straight = (name: string, y: number): Track =>
      aTrack({ id: name, lineClass: id, start: { kind: 'free', x: -7 * minRadiusMm, y }, end: { kind: 'free', x: 7 * minRadiusMm, y } })
    for (const kind of kinds) {
      const besideMm = kind === 'crossover' ? trackCentresMm : -2.6 * usualRadiusMm
      const isPair = kind === 'crossover' || kind === 'turnback'
      const plan = roomOf(key, [straight('track-1', 0), ...(isPair ? [straight('track-2', besideMm)] : [])])
      const at = { plan, network: networkCreateDeriver()(plan) }
      const usual = makerStart(plan, at.network, kind, 'track-1', key.endsWith('metric') ? 'metric' : 'imperial')
      if (usual === null) throw new Error(`${kind} is begun`)
      const maker = makerSound(at, usual)
      const made = expanded(plan, maker)
      // Plain arcs close a loop where both ways lean by 60 deg (2 R = 4 R cos A); easements that turn more by themselves leave none, and it is refused.
      const easement = easementByRule(lineClass.easement, usualRadiusMm)
      const leansRad = Math.atan(1 / lineClass.usualFrog) + (easement.ok ? easement.lengthMm / usualRadiusMm : 0)
      if (!made.ok && kind === 'loop' && leansRad > Math.PI / 3) {
        expect(made.problem.kind).toBe('noLoop')
        continue
      }
      const findings = told(planMade(plan, maker))
      expect([kind, ...findings.filter((text) => !text.startsWith('reverse-curve warning'))]).toEqual([kind])
      // Beside a turnout's own curve a short straight is a warning: the usual frog stays, and what would do is said before it is built.
      const known = makerFrogTold(at, maker)
      if (findings.length === 0) continue
      expect([kind, known?.finding.rule]).toEqual([kind, 'reverse-curve'])
      if (known === null || known.least === null) throw new Error('a larger frog does without')
      expect(told(planMade(plan, known.least.maker))).toEqual([])
    }
  })
})
