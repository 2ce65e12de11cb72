import { describe, expect, it } from 'vitest'
import { joinSolve } from '../../../src/core/alignment/index.ts'
import { findingsOf } from '../../../src/core/checks/index.ts'
import type { Finding } from '../../../src/core/checks/types.ts'
import { pathNearest, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Path } from '../../../src/core/geom/types.ts'
import { networkCreateDeriver, turnoutAtPlace } from '../../../src/core/network/index.ts'
import { joinLimits, joinLines, openEnds } from '../../../src/core/pipeline/index.ts'
import type { JoinEnd, JoinLine, JoinTo, PosedEnd } from '../../../src/core/pipeline/index.ts'
import type { Plan, Track, TrackEnd, TrackStart } from '../../../src/core/plan/types.ts'
import { aBenchwork, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/**
 * A table of 4 by 2.4 m. A quay along its foot with a turnout, a dock that comes down from its head, a shed road that stands in the way
 * between them, and a second quay that ends opposite to the first.
 */
const plan = planWith({
  railway: { edgeMarginMm: 60 },
  benchworks: [
    aBenchwork({
      outline: [
        { x: -2100, y: -100 },
        { x: 1900, y: -100 },
        { x: 1900, y: 2300 },
        { x: -2100, y: 2300 },
      ],
    }),
  ],
  tracks: [
    aTrack({ id: 'west', name: 'West quay', start: { kind: 'free', x: -2000, y: 0 }, end: { kind: 'free', x: 0, y: 0 } }),
    aTrack({ id: 'dock', name: 'Dock', start: { kind: 'free', x: 1200, y: 1300 }, end: { kind: 'free', x: 1200, y: 2200 } }),
    aTrack({ id: 'shed', name: 'Shed road', start: { kind: 'free', x: 300, y: -40 }, end: { kind: 'free', x: 300, y: 1200 } }),
    aTrack({ id: 'east', name: 'East quay', start: { kind: 'free', x: 1500, y: 420 }, end: { kind: 'free', x: 1850, y: 420 } }),
  ],
  turnouts: [aTurnout({ id: 'ice', name: 'Icehouse', track: 'west', stationMm: 700 })],
})
const network = networkCreateDeriver()(plan)
const ends = openEnds(network)

function endOf(end: JoinEnd): PosedEnd {
  const found = ends.find((one) => JSON.stringify(one.end) === JSON.stringify(end))
  if (found === undefined) throw new Error(`${JSON.stringify(end)} is not open`)
  return found
}

function linesOf(from: JoinEnd, to: JoinTo, tangentMm = 0): readonly JoinLine[] {
  const start = endOf(from)
  const { lineClass } = start
  const answer = joinLines({ plan, network }, start, to, {
    limits: joinLimits(plan, lineClass, { tangentMm, shortestMm: null }),
    frog: null,
    lineClass,
  })
  if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
  return answer.lines
}

const west: JoinEnd = { kind: 'trackEnd', track: 'west', end: 'end' }
const ice: JoinEnd = { kind: 'leg', turnout: 'ice', leg: 'diverging' }
const dock: JoinEnd = { kind: 'trackEnd', track: 'dock', end: 'start' }
const east: JoinEnd = { kind: 'trackEnd', track: 'east', end: 'start' }
const pairs: readonly (readonly [JoinEnd, JoinTo])[] = [
  [west, dock],
  [west, east],
  [ice, dock],
  [ice, east],
  [dock, west],
  [dock, ice],
  [east, { kind: 'onTrack', track: 'west', stationMm: null }],
  [dock, { kind: 'onTrack', track: 'west', stationMm: null }],
  [east, { kind: 'onTrack', track: 'west', stationMm: 1200 }],
]

/** The plan with the line laid in it, as a track of its own. */
function laid({ line, place }: JoinLine, from: JoinEnd, to: JoinTo): Plan {
  const first = line.path.elements[0]?.start ?? line.path.end
  const leg = (turnout: string) => ({ kind: 'leg', turnout, leg: 'diverging' }) as const
  const start: TrackStart = from.kind === 'leg' ? leg(from.turnout) : { kind: 'free', x: first.x, y: first.y }
  const end: TrackEnd =
    to.kind === 'leg' ? leg(to.turnout) : place === null ? { kind: 'free', x: line.end.x, y: line.end.y } : leg('placed')
  const track: Track = aTrack({
    id: 'laid',
    name: 'Laid',
    start,
    end,
    corners: line.corners.map(({ id, x, y, radiusMm, easementInMm, easementOutMm }) => ({
      id,
      x,
      y,
      radius: radiusMm,
      easementIn: easementInMm,
      easementOut: easementOutMm,
    })),
  })
  const placed = place === null ? [] : [turnoutAtPlace(place, line.stationMm ?? 0, { id: 'placed', name: 'Placed' })]
  return {
    ...plan,
    tracks: { ...plan.tracks, laid: track },
    turnouts: { ...plan.turnouts, ...Object.fromEntries(placed.map((turnout) => [turnout.id, turnout])) },
  }
}

/** Nearest place by rule, neighbour and kind, as a checker of the laid plan finds it. */
function worstOf(findings: readonly Finding[], own: string): Readonly<Record<string, number>> {
  const worst: Record<string, number> = {}
  for (const { rule, record, otherRecord, problem, measured } of findings) {
    if (rule !== 'benchwork-edge' && rule !== 'track-clearance') continue
    if (record !== own && otherRecord !== own) continue
    // Of a line that is not laid a crossing is told as what it would take; once laid it is built, and judged by what is built.
    if (problem?.kind === 'levelCrossing') continue
    const key = [rule, record === own ? otherRecord : record, problem?.kind].join(' ')
    worst[key] = Math.min(worst[key] ?? Infinity, measured ?? Infinity)
  }
  return worst
}

describe('what stands against a line before it is laid', () => {
  for (const [from, to] of pairs) {
    it(`${JSON.stringify(from)} to ${JSON.stringify(to)}: the same as once it is laid`, () => {
      const lines = linesOf(from, to)
      expect(lines.length).toBeGreaterThan(0)
      for (const line of lines) {
        const after = laid(line, from, to)
        const found = worstOf(findingsOf({ plan: after, network: networkCreateDeriver()(after) }), 'laid')
        const told = worstOf(line.findings ?? [], '0')
        expect(Object.keys(told).toSorted()).toEqual(Object.keys(found).toSorted())
        // The pair may be walked from the other track: the worst place is searched to 0.01 mm on either. How deep two bands lie in each
        // other is measured square to the one or to the other, which is not the same at an end.
        for (const [key, measured] of Object.entries(told)) {
          const laidMm = found[key] ?? Infinity
          expect(Math.abs(measured - laidMm), key).toBeLessThan(key.startsWith('track-clearance') && laidMm < 0 ? 2 : 0.01)
        }
      }
    })
  }

  it('measures what a rule and a pencil do', () => {
    // The dock lies 1200 mm ahead: a plain right angle comes round the shed road at x = 300 and crosses it.
    const [best] = linesOf(west, dock).filter(({ line }) => line.family === 'oneCurve')
    // All of it lies at y >= 0 and x <= 1200, where the edge is 100 mm and 700 mm away: more than the margin of 60.
    expect(best?.findings?.map(({ rule, otherRecord, problem }) => [rule, otherRecord, problem?.kind ?? null])).toEqual([
      ['track-clearance', 'shed', 'levelCrossing'],
    ])
  })

  it('comes behind what nothing stands against', () => {
    for (const [from, to] of pairs) {
      const barred = linesOf(from, to).map(
        ({ line, findings }) => line.meetsLimits && findings?.some(({ severity }) => severity === 'error'),
      )
      const free = linesOf(from, to).map(({ line, findings }) => line.meetsLimits && findings?.length === 0)
      expect(free.lastIndexOf(true)).toBeLessThan(barred.includes(true) ? barred.indexOf(true) : Infinity)
    }
  })
})

const points = (path: Path) => Array.from({ length: 101 }, (_, i) => pathPoseAt(path, (path.lengthMm * i) / 100))

describe('lines that would lie on each other', () => {
  const apart = (one: Path, two: Path): number => Math.max(...points(one).map((at) => pathNearest(two, at).distanceMm))
  const gaugeMm = plan.railway.gaugeMm

  it('are told once', () => {
    for (const [from, to] of pairs) {
      const told = linesOf(from, to)
      for (const [i, { line, place }] of told.entries())
        for (const other of told.slice(i + 1)) {
          if (place?.hand !== other.place?.hand || place?.facing !== other.place?.facing) continue
          const farMm = Math.max(apart(line.path, other.line.path), apart(other.line.path, line.path))
          // Compared at fewer places than here: between two of them lines that lie apart may come a little nearer or farther.
          expect(farMm).toBeGreaterThan(0.9 * gaugeMm)
        }
    }
  })

  it('a reverse that hardly reverses is told as the one curve that it is', () => {
    // Tangents of 800 and 790 mm meet at 120 degrees: a right turn of 0.6 degrees first makes the radius a quarter of a per cent larger.
    const turn = (120 * Math.PI) / 180
    const [x, y] = [800 + 790 * Math.cos(turn), 790 * Math.sin(turn)]
    const bend = planWith({
      tracks: [
        aTrack({ id: 'from', start: { kind: 'free', x: -500, y: 0 }, end: { kind: 'free', x: 0, y: 0 } }),
        aTrack({
          id: 'to',
          start: { kind: 'free', x, y },
          end: { kind: 'free', x: x + 500 * Math.cos(turn), y: y + 500 * Math.sin(turn) },
        }),
      ],
    })
    const bendNetwork = networkCreateDeriver()(bend)
    const [start, target] = (['from end', 'to start'] as const).map((named) =>
      openEnds(bendNetwork).find(({ end }) => end.kind === 'trackEnd' && `${end.track} ${end.end}` === named),
    )
    if (start === undefined || target === undefined) throw new Error('the ends are open')
    const limits = {
      ...joinLimits(bend, start.lineClass, { tangentMm: 0, shortestMm: null }),
      easement: { kind: 'none' },
      minRadiusMm: 300,
    } as const
    const alone = joinSolve({ start: start.pose, target: { kind: 'pose', pose: target.pose }, limits })
    expect(alone.ok && alone.alternatives.map(({ family }) => family).slice(0, 2)).toEqual(['reverse', 'oneCurve'])
    const answer = joinLines({ plan: bend, network: bendNetwork }, start, target.end, { limits, frog: null, lineClass: start.lineClass })
    expect(answer.ok && answer.lines.map(({ line }) => line.family)).toEqual(['oneCurve'])
  })
})

/** What leads from the leg of a left-hand turnout to a straight beside the host, which begins at x. */
const besideAt = (x: number) => {
  const beside = planWith({
    tracks: [aTrack(), aTrack({ id: 'to', start: { kind: 'free', x, y: 80 }, end: { kind: 'free', x: x + 400, y: 80 } })],
    turnouts: [aTurnout({ stationMm: 300 })],
  })
  const at = { plan: beside, network: networkCreateDeriver()(beside) }
  const ends = openEnds(at.network)
  const from = ends.find(({ end }) => end.kind === 'leg' && end.leg === 'diverging')
  const to = ends.find(({ end }) => end.kind === 'trackEnd' && end.track === 'to' && end.end === 'start')
  if (from === undefined || to === undefined) throw new Error('the ends are open')
  const limits = joinLimits(beside, from.lineClass, { tangentMm: null, shortestMm: null })
  const answer = joinLines(at, from, to.end, { limits: { ...limits, easement: { kind: 'none' } }, frog: null, lineClass: from.lineClass })
  if (!answer.ok) throw new Error('there are lines')
  return { beside, lines: answer.lines }
}
const isReverse = ({ rule }: Finding): boolean => rule === 'reverse-curve'

describe('reverse curves', () => {
  it.each([1100, 1300, 1700])('behind a turnout are told as the check tells them of what was laid, to x = %d', (x) => {
    const { beside, lines } = besideAt(x)
    const told = lines.map(({ findings }) => (findings ?? []).some(isReverse))
    for (const [i, { line }] of lines.entries()) {
      const laid = aTrack({
        id: 'laid',
        start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
        corners: line.corners.map(({ id, x: atX, y, radiusMm, easementInMm, easementOutMm }) => ({
          id,
          x: atX,
          y,
          radius: radiusMm,
          easementIn: easementInMm,
          easementOut: easementOutMm,
        })),
        end: { kind: 'free', x: line.end.x, y: line.end.y },
      })
      const plan = { ...beside, tracks: { ...beside.tracks, laid } }
      const found = findingsOf({ plan, network: networkCreateDeriver()(plan) })
      expect(found.some((one) => isReverse(one) && one.record === 'laid')).toBe(told[i])
    }
    const kept = lines.map(({ line: { meetsLimits } }, i) => (meetsLimits ? Number(told[i]) : 2))
    expect(kept).toEqual(kept.toSorted((a, b) => a - b))
    expect(lines.length).toBeGreaterThan(0)
  })
})

describe('a line from a leg', () => {
  it('leaves the straight of a car behind the turnout where there is room for it, and that line comes first', () => {
    const { lines } = besideAt(1900)
    const [first] = lines.map(({ findings }) => (findings ?? []).some(isReverse))
    expect(first).toBe(false)
    expect(lines[0]?.line.meetsLimits).toBe(true)
    // The path meets the end as the corners do.
    const { path, end } = lines[0]?.line ?? { path: null, end: null }
    expect(path === null || end === null ? Number.NaN : Math.hypot(path.end.x - end.x, path.end.y - end.y)).toBeLessThan(1e-6)
  })
})

describe('a turnout at a station of a track', () => {
  const start = endOf(east)
  const ask = { limits: joinLimits(plan, start.lineClass, { tangentMm: 0, shortestMm: null }), frog: null, lineClass: start.lineClass }
  const joinedAt = (stationMm: number, host = 'west', of = plan) =>
    joinLines(
      { plan: of, network: of === plan ? network : networkCreateDeriver()(of) },
      start,
      { kind: 'onTrack', track: host, stationMm },
      ask,
    )

  it('has its points there, whichever line it is', () => {
    const answer = joinedAt(1200)
    if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
    expect(answer.lines.length).toBeGreaterThan(0)
    for (const { line } of answer.lines) expect(line.stationMm).toBe(1200)
  })

  it('is refused where another turnout lies, with the nearest station that has room', () => {
    const answer = joinedAt(720)
    if (answer.ok || answer.problem.kind !== 'noPlaceThere') throw new Error('Icehouse lies there')
    const { why, nearestMm } = answer.problem.noPlace
    expect(why).toEqual({ kind: 'taken', turnout: 'ice' })
    const there = joinedAt(nearestMm ?? Number.NaN)
    expect(there.ok).toBe(true)
    // A millimetre nearer there is no room: the answer is the edge, not some place.
    expect(joinedAt((nearestMm ?? 0) + Math.sign(720 - (nearestMm ?? 0))).ok).toBe(false)
  })

  it('lies on a bend as well: both ends of the line meet the curved turnout there', () => {
    const bent = planWith({
      tracks: [
        ...Object.values(plan.tracks),
        aTrack({
          id: 'bend',
          start: { kind: 'free', x: -2000, y: 3000 },
          corners: [{ id: 'c1', x: 500, y: 3000, radius: 1500, easementIn: 0, easementOut: 0 }],
          end: { kind: 'free', x: 500, y: 6000 },
        }),
      ],
    })
    const answer = joinedAt(1800, 'bend', bent)
    if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
    expect(answer.lines.length + answer.stopped.length).toBeGreaterThan(0)
    for (const { line, place } of answer.lines) {
      expect(place?.geometry.request.host).not.toBeNull()
      const arrived = line.path.end
      expect(Math.hypot(arrived.x - line.end.x, arrived.y - line.end.y)).toBeLessThan(1e-6)
    }
  })
})
