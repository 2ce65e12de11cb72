import { readFileSync } from 'node:fs'
import { joinSolve, traverseSolve } from '../src/core/alignment/index.ts'
import type { JoinAnswer, JoinRequest } from '../src/core/alignment/index.ts'
import { networkCreateDeriver } from '../src/core/network/index.ts'
import { joinLimits, joinRounds, openEnds } from '../src/core/pipeline/index.ts'
import type { JoinTo } from '../src/core/pipeline/index.ts'
import { planParse } from '../src/core/plan/index.ts'
import { median, secondsPerRound } from './report.ts'
import type { BenchTable } from './report.ts'

const frameMs = 16
const rounds = 60

const DEG = Math.PI / 180

const pairs = [
  { what: 'a right angle', x: 1500, y: 1200, arrivingDeg: 90 },
  { what: 'a reverse between parallels', x: 2400, y: 300, arrivingDeg: 0 },
  { what: 'a turnback between parallels', x: 0, y: 1400, arrivingDeg: 180 },
  { what: 'parallels too near, by a loop', x: 0, y: 300, arrivingDeg: 180 },
  { what: 'a reverse with no room for it: what stops it', x: 1500, y: 200, arrivingDeg: 0 },
  { what: 'an end behind', x: -500, y: 100, arrivingDeg: 20 },
] as const

const requestOf = ({ x, y, arrivingDeg }: (typeof pairs)[number]): JoinRequest => ({
  start: { x: 0, y: 0, headingRad: 0 },
  target: { kind: 'pose', pose: { x, y, headingRad: (arrivingDeg + 180) * DEG } },
  limits: {
    minRadiusMm: 610,
    easement: { kind: 'shift', shiftMm: 9.5 },
    shortestCurveMm: 0,
    tangentBetweenMm: 300,
    isBackToBackAllowed: true,
  },
})

/**
 * The plain way to find the widest one-curve line: lay it with one radius after the other, a tenth of a millimetre apart, until it does
 * not fit. It answers one family, to a tenth of a millimetre, where joinSolve answers all to rounding.
 */
function widestByTrying(request: JoinRequest): number {
  if (request.target.kind !== 'pose') return 0
  let radiusMm = 600
  for (;;) {
    const next = radiusMm + 0.1
    const { start, target } = request
    const easementMm = Math.sqrt(24 * next * 9.5)
    const alignment = traverseSolve({
      start: { kind: 'leg', pose: start, turnout: '' },
      corners: [{ id: 'pi-1', x: 1500, y: 0, radiusMm: next, easementInMm: easementMm, easementOutMm: easementMm }],
      end: { kind: 'leg', pose: target.pose, turnout: '' },
    })
    if (!alignment.ok) return radiusMm
    radiusMm = next
  }
}

/** On the demo railway: from the end of a yard track to another end, and to a turnout at a station of the main. Until the lines are shown. */
function onDemo(): readonly { readonly what: string; readonly ms: number }[] {
  const read = planParse(JSON.parse(readFileSync('public/demo/fennimore.json', 'utf8')))
  if (!read.ok) throw new Error('the demo railway must be a plan')
  const { plan } = read
  const network = networkCreateDeriver()(plan)
  const ends = openEnds(network)
  const [from, to] = ends.filter(({ end }) => end.kind === 'trackEnd' && ['track-11', 'track-12'].includes(end.track))
  if (from === undefined || to === undefined) throw new Error('the yard of the demo railway has two open ends')
  const { lineClass } = from
  const ask = { limits: joinLimits(plan, lineClass, { tangentMm: null, shortestMm: null }), frog: null, lineClass }
  const shown = (target: JoinTo): void => {
    for (const { done, of, soFar } of joinRounds({ plan, network }, from, target, ask)) {
      if (done < of) continue
      soFar()
      return
    }
  }
  const timed = (what: string, target: JoinTo): { readonly what: string; readonly ms: number } => {
    for (let i = 0; i < 10; i++) shown(target)
    return { what, ms: 1000 * median(secondsPerRound(rounds, () => shown(target))) }
  }
  return [
    timed('two ends of the demo', to.end),
    timed('an end of the demo, a place on its main', { kind: 'onTrack', track: 'track-1', stationMm: 800 }),
  ]
}

/** Joining one pair of legs after warm-up, against a display frame and against trying radii for one family. */
export function benchJoin(): BenchTable {
  const sink = { lines: 0 }
  const count = (answer: JoinAnswer): void => {
    sink.lines += answer.ok ? answer.alternatives.length : 0
  }
  for (let i = 0; i < 10; i++) for (const pair of pairs) count(joinSolve(requestOf(pair)))
  const timed = pairs.map((pair) => {
    const request = requestOf(pair)
    return { what: pair.what, ms: 1000 * median(secondsPerRound(rounds, () => count(joinSolve(request)))) }
  })
  const demo = onDemo()
  const request = requestOf(pairs[0])
  const tryingMs =
    1000 *
    median(
      secondsPerRound(9, () => {
        sink.lines += widestByTrying(request)
      }),
    )
  const worst = [...timed, ...demo].reduce((most, { ms }) => Math.max(most, ms), 0)
  const joinMs = timed[0]?.ms ?? Number.NaN
  return {
    title: 'Joining two legs',
    target: `every pair under one frame of ${frameMs} ms; the slowest now takes ${worst.toFixed(1)} ms`,
    isMet: worst < frameMs && sink.lines > 0,
    rows: [
      ...demo.map(({ what, ms }) => ({ what, figure: `${ms.toFixed(2)} ms`, note: `until the lines are shown, median of ${rounds}` })),
      ...timed.map(({ what, ms }) => ({ what, figure: `${ms.toFixed(2)} ms`, note: `all families, median of ${rounds}` })),
      {
        what: 'the right angle by trying radii 0.1 mm apart',
        figure: `${tryingMs.toFixed(2)} ms`,
        note: `one family only; ${(tryingMs / joinMs).toFixed(1)} times as long as all families solved`,
      },
    ],
  }
}
