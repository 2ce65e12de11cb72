import { dualGaugeLines } from './kinds/dualGauge.ts'
import { gauntletLines } from './kinds/gauntlet.ts'
import { plainLines } from './kinds/plain.ts'
import { stubLines } from './kinds/stub.ts'
import { threeWayLines } from './kinds/threeWay.ts'
import { wyeLines } from './kinds/wye.ts'
import { turnoutLay } from './kinds/lay.ts'
import { linesWidened } from './kinds/widen.ts'
import { hostEased, hostMirror, hostSharpest } from './kinds/host.ts'
import type { LinesProblem, LinesResult } from './kinds/types.ts'
import { frogAngle } from './frog.ts'
import { turnoutMirror } from './mirror.ts'
import { frogLengthsLeast, frogRange, requestProblem } from './requestCheck.ts'
import type { TurnoutGeometry, TurnoutProblem, TurnoutRequest, TurnoutResult } from './types.ts'

/** A host that ends so much too early is long enough: rounding of stations. */
const hostSlackMm = 1e-6
const easeSteps = 40
const frogStep = 0.5

/**
 * A turnout of any kind, from gauge, frog number and host to every rail and tie.
 *
 * Units:      mm on the model, rad.
 * Domain:     frog number 2 to 30; any gauge. The host: any curve whose radius stays above the gauge, or none: straight.
 * Exactness:  up to rounding on straights and arcs, 1e-7 mm beside easements. The frog number holds at the theoretical point. Gauge is
 *             exact along the host behind the point's tip and along the diverging route from the tip of the curved point (t / tan S
 *             and a rail head around the stock rail's bend excepted).
 * Outcome:    the geometry, or the first problem with the value that would do. NaN and infinities are problems.
 * Throws:     never.
 * Source:     parts: pointsSolve, closureSolve, bentClosure, frogDistances; each names its own.
 */
export function turnoutSolve(request: TurnoutRequest): TurnoutResult {
  const problem = requestProblem(request)
  if (problem !== null) return { ok: false, problem }
  const left: TurnoutRequest =
    request.hand === 'left' ? request : { ...request, hand: 'left', host: hostMirror(request.host), kind: kindMirror(request.kind) }
  const found = linesOf(left)
  if (!found.ok) return { ok: false, problem: problemTold(left, found.problem) }
  const turnout: TurnoutGeometry = { ...turnoutLay(linesWidened(found.lines)), request: left }
  const short = hostTooShort(turnout)
  if (short) return { ok: false, problem: short }
  return { ok: true, turnout: request.hand === 'left' ? turnout : turnoutMirror(turnout) }
}

/** The kind of the turnout in the mirror: a shared rail lies on the other side. */
function kindMirror(kind: TurnoutRequest['kind']): TurnoutRequest['kind'] {
  return kind.kind === 'dual-gauge' ? { ...kind, common: kind.common === 'left' ? 'right' : 'left' } : kind
}

function linesOf(request: TurnoutRequest): LinesResult {
  const { kind } = request
  switch (kind.kind) {
    case 'plain':
      return plainLines(request)
    case 'wye':
      return wyeLines(request, kind.share)
    case 'three-way':
      return threeWayLines(request, kind.secondFrog, kind.secondAfterMm)
    case 'stub':
      return stubLines(request)
    case 'gauntlet':
      return gauntletLines(request)
    case 'dual-gauge':
      return dualGaugeLines(request, kind)
  }
}

/** A wye's host has been looked at already, and goes no farther than PS. */
function hostTooShort({ request: { host, kind }, extent }: TurnoutGeometry): TurnoutProblem | null {
  if (host === null || kind.kind === 'wye') return null
  const ahead = -extent.fromMm - host.psMm
  const behind = host.psMm + extent.toMm - host.path.lengthMm
  if (ahead > hostSlackMm) return { kind: 'hostTooShort', end: 'ahead', shortByMm: ahead }
  if (behind > hostSlackMm) return { kind: 'hostTooShort', end: 'behind', shortByMm: behind }
  return null
}

/** A host too sharp is told with the radius that would do, and with the nearest frog number that would. */
function problemTold(request: TurnoutRequest, problem: LinesProblem): TurnoutProblem {
  if (problem.kind === 'noClosureSpread') {
    const least = frogLengthsLeast(frogAngle(request.frog, request.frogDefinition), request)
    return {
      ...problem,
      mostToeMm: mostThatDoes(request, 'toeLengthMm', least.toeMm),
      mostSpreadMm: mostThatDoes(request, 'heelSpreadMm', request.flangewayMm + request.railHeadMm),
    }
  }
  if (problem.kind !== 'tooSharp') return problem
  const { host, frog } = request
  const sharpest = host
    ? hostSharpest(host, -request.tieSpacingMm, request.pointLengthMm + 2 * request.gaugeMm * frog + request.heelLengthMm)
    : 0
  return {
    kind: 'hostTooSharp',
    hostRadiusMm: 1 / sharpest,
    leastRadiusMm: host ? 1 / (sharpest * easeThatDoes(request)) : null,
    frog,
    frogThatDoes: frogThatDoes(request),
  }
}

/** The most of a length, below what it is, with which the turnout can be built; null: not even the least. */
function mostThatDoes(request: TurnoutRequest, key: 'toeLengthMm' | 'heelSpreadMm', leastMm: number): number | null {
  const does = (mm: number): boolean => {
    const changed = { ...request, [key]: mm }
    return requestProblem(changed) === null && linesOf(changed).ok
  }
  if (!does(leastMm)) return null
  let [good, bad] = [leastMm, request[key]]
  for (let i = 0; i < easeSteps; i++) {
    const middle = (good + bad) / 2
    if (does(middle)) good = middle
    else bad = middle
  }
  return good
}

/** The most of a host's curvature, as a part of it, with which the turnout can be built. */
function easeThatDoes(request: TurnoutRequest): number {
  const { host } = request
  let [does, doesNot] = [0, 1]
  if (!host) return 1
  for (let i = 0; i < easeSteps; i++) {
    const middle = (does + doesNot) / 2
    if (linesOf({ ...request, host: hostEased(host, middle) }).ok) does = middle
    else doesNot = middle
  }
  return does
}

function frogThatDoes(request: TurnoutRequest): number | null {
  const chosen = frogAngle(request.frog, request.frogDefinition)
  for (let off = frogStep; off <= frogRange.max - frogRange.min; off += frogStep) {
    for (const frog of [request.frog - off, request.frog + off]) {
      if (frog < frogRange.min || frog > frogRange.max) continue
      const factor = Math.sin(chosen / 2) / Math.sin(frogAngle(frog, request.frogDefinition) / 2)
      const changed = { ...request, frog, toeLengthMm: request.toeLengthMm * factor, heelLengthMm: request.heelLengthMm * factor }
      if (requestProblem(changed) === null && linesOf(changed).ok) return frog
    }
  }
  return null
}
