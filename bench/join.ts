import { joinSolve, traverseSolve } from '../src/core/alignment/index.ts'
import type { JoinAnswer, JoinRequest } from '../src/core/alignment/index.ts'
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
  const request = requestOf(pairs[0])
  const tryingMs =
    1000 *
    median(
      secondsPerRound(9, () => {
        sink.lines += widestByTrying(request)
      }),
    )
  const worst = timed.reduce((most, { ms }) => Math.max(most, ms), 0)
  const joinMs = timed[0]?.ms ?? Number.NaN
  return {
    title: 'Joining two legs',
    target: `every pair under one frame of ${frameMs} ms; the slowest now takes ${worst.toFixed(1)} ms`,
    isMet: worst < frameMs && sink.lines > 0,
    rows: [
      ...timed.map(({ what, ms }) => ({ what, figure: `${ms.toFixed(2)} ms`, note: `all families, median of ${rounds}` })),
      {
        what: 'the right angle by trying radii 0.1 mm apart',
        figure: `${tryingMs.toFixed(2)} ms`,
        note: `one family only; ${(tryingMs / joinMs).toFixed(1)} times as long as all families solved`,
      },
    ],
  }
}
