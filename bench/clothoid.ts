import cephes from 'cephes'
import { elementEvaluator, elementPoseAt, evaluatorPoseAt, type CurveElement, type Pose } from '../src/core/geom/index.ts'
import { fresnelPose, quadraturePose } from '../tests/support/poseOracles.ts'
import { median, secondsPerRound, type BenchTable } from './report.ts'

/** Position error that the prepared evaluation may have, mm; all but a twentieth goes to the polynomials, the rest covers rounding. */
const allowedMm = 1e-6
const preparedToleranceMm = 0.95 * allowedMm

const callsPerRound = 1 << 16
const rounds = 51
/** Rounds before any is timed, so that every contender runs as the engine has made it fast. */
const warmRounds = 20
const start: Pose = { x: 1200, y: -300, headingRad: 0.7 }

/** Numbers in [0, 1) that are the same in every run: a linear congruential generator, constants of Numerical Recipes. */
function numbersFrom(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
}

/** Model sizes: 50 to 1500 mm long, any curvature down to 200 mm radius at either end, left or right. */
function elementsOf(count: number, next: () => number): CurveElement[] {
  return Array.from({ length: count }, () => ({
    lengthMm: 50 + 1450 * next(),
    k0: (2 * next() - 1) / 200,
    k1: (2 * next() - 1) / 200,
  }))
}

interface Workload {
  readonly elements: readonly CurveElement[]
  /** For each call the element and the distance along it. */
  readonly which: Int32Array
  readonly distances: Float64Array
  /** The argument that a Fresnel integral takes for the same distance on the same sharpness. */
  readonly arguments: Float64Array
}

function workloadOf(count: number): Workload {
  const next = numbersFrom(12345)
  const elements = elementsOf(count, next)
  const which = new Int32Array(callsPerRound)
  const distances = new Float64Array(callsPerRound)
  const fresnelArguments = new Float64Array(callsPerRound)
  for (let i = 0; i < callsPerRound; i++) {
    const index = Math.floor(next() * count)
    const element = elements[index]
    if (!element) continue
    which[i] = index
    distances[i] = next() * element.lengthMm
    fresnelArguments[i] = (distances[i] ?? 0) * Math.sqrt(Math.abs(element.k1 - element.k0) / (Math.PI * element.lengthMm))
  }
  return { elements, which, distances, arguments: fresnelArguments }
}

/** What every timed loop adds to, so that no result can be left uncomputed. */
let sink = 0

const prepare = ({ elements }: Workload): (readonly number[])[] =>
  elements.map((element) => elementEvaluator(element, start, preparedToleranceMm))

const small = workloadOf(64)
const smallPrepared = prepare(small)
const { arguments: smallArguments } = small

/** The same calls as whoever draws or sweeps makes them: all of one element, then all of the next, anywhere along it in no order. */
const walk = smallPrepared.map((evaluator, index) => ({ evaluator, distances: small.distances.filter((_, i) => small.which[i] === index) }))

/*
 * One loop a contender, written out: a shared loop that takes the contender as an argument would time the engine's
 * way of calling unknown functions instead. The two that are held against each other read fixed lists, so that neither is timed for how
 * it comes by them.
 */
function fresnelLoop(): void {
  let sum = 0
  for (let i = 0; i < callsPerRound; i++) {
    const [, integrals] = cephes.fresnl(smallArguments[i] ?? 0)
    sum += integrals.ssa + integrals.cca
  }
  sink += sum
}

function walkLoop(): void {
  let sum = 0
  for (const { evaluator, distances } of walk) {
    for (let i = 0; i < distances.length; i++) {
      const pose = evaluatorPoseAt(evaluator, distances[i] ?? 0)
      sum += pose.x + pose.y + pose.headingRad
    }
  }
  sink += sum
}

function hopLoop({ which, distances }: Workload, evaluators: readonly (readonly number[])[]): void {
  let sum = 0
  for (let i = 0; i < callsPerRound; i++) {
    const evaluator = evaluators[which[i] ?? 0]
    if (!evaluator) continue
    const pose = evaluatorPoseAt(evaluator, distances[i] ?? 0)
    sum += pose.x + pose.y + pose.headingRad
  }
  sink += sum
}

function singleLoop({ elements, which, distances }: Workload): void {
  let sum = 0
  for (let i = 0; i < callsPerRound; i++) {
    const element = elements[which[i] ?? 0]
    if (!element) continue
    const pose = elementPoseAt(element, start, distances[i] ?? 0)
    sum += pose.x + pose.y + pose.headingRad
  }
  sink += sum
}

function quadratureLoop({ elements, which, distances }: Workload): void {
  let sum = 0
  for (let i = 0; i < callsPerRound; i++) {
    const element = elements[which[i] ?? 0]
    if (!element) continue
    const pose = quadraturePose(element, start, distances[i] ?? 0, Infinity)
    sum += pose.x + pose.y + pose.headingRad
  }
  sink += sum
}

/** Largest distance of an evaluation from the pose by Fresnel integrals, mm, over the whole workload. */
function worstError({ elements, which, distances }: Workload, poseOf: (index: number, element: CurveElement, s: number) => Pose): number {
  let worst = 0
  for (let i = 0; i < callsPerRound; i++) {
    const index = which[i] ?? 0
    const element = elements[index]
    if (!element) continue
    const s = distances[i] ?? 0
    const exact = fresnelPose(element, start, s)
    const pose = poseOf(index, element, s)
    worst = Math.max(worst, Math.hypot(pose.x - exact.x, pose.y - exact.y))
  }
  return worst
}

/** Seconds per round of contenders run in turn, round by round, so that a busy machine slows all of them alike. */
function timesInTurn(contenders: readonly (() => void)[]): number[][] {
  const times = contenders.map((): number[] => [])
  for (let round = -warmRounds; round < rounds; round++) {
    contenders.forEach((run, i) => {
      const from = performance.now()
      run()
      if (round >= 0) times[i]?.push((performance.now() - from) / 1000)
    })
  }
  return times
}

function least(times: readonly number[] = []): number {
  return Math.min(...times)
}

function middle(times: readonly number[] = []): number {
  return median(times.toSorted((a, b) => a - b))
}

function millions(seconds: number): string {
  return `${(callsPerRound / seconds / 1e6).toFixed(1)} M/s`
}

/** Poses on clothoids against the Fresnel integrals of a general-purpose library, timed and checked in one run. */
export async function benchClothoid(): Promise<BenchTable> {
  await cephes.compiled
  const large = workloadOf(1024)
  const largePrepared = prepare(large)
  const [fresnelTimes, walkTimes, hopTimes, largeTimes, singleTimes, quadratureTimes] = timesInTurn([
    fresnelLoop,
    walkLoop,
    () => hopLoop(small, smallPrepared),
    () => hopLoop(large, largePrepared),
    () => singleLoop(small),
    () => quadratureLoop(small),
  ])
  const preparing = secondsPerRound(9, () => {
    sink += prepare(small).length
  })
  const preparedError = worstError(small, (index, _, s) => evaluatorPoseAt(smallPrepared[index] ?? [], s))
  const singleError = worstError(small, (_, element, s) => elementPoseAt(element, start, s))

  /** Median over the rounds of library time by ours: both of a round met the same weather. */
  const byRounds = (times: readonly number[] = []): number =>
    middle(times.map((seconds, round) => (fresnelTimes?.[round] ?? Number.NaN) / seconds))
  const byBest = (times: readonly number[] = []): number => least(fresnelTimes) / least(times)
  /*
   * The lesser of both counts. On a busy machine the median flatters us (10 and more were seen while the best rounds stayed below 6.3), however
   * long the warm-up; most likely because the library's rounds, five times as long as ours, are interrupted more often.
   */
  const ratio = Math.min(byRounds(walkTimes), byBest(walkTimes))
  const preparedPerElement = middle(preparing) / small.elements.length
  const saved = (middle(singleTimes) - middle(walkTimes)) / callsPerRound
  const compared = (times: readonly number[] | undefined): string =>
    `${byRounds(times).toFixed(2)} times the library round by round, ${byBest(times).toFixed(2)} by best rounds`
  return {
    title: 'Pose on a curvature-linear element',
    target: `at least 5 times as many poses a second (x, y and heading at any start curvature, within ${allowedMm} mm) as calls of cephes.fresnl; now ${ratio.toFixed(1)}`,
    isMet: ratio >= 5 && preparedError <= allowedMm && singleError <= allowedMm && Number.isFinite(sink),
    rows: [
      {
        what: 'cephes 3.3.3 fresnl, one call: S and C',
        figure: millions(middle(fresnelTimes)),
        note: `best ${millions(least(fresnelTimes))}; a pose would take two calls and a rotation`,
      },
      {
        what: 'prepared, 64 elements one after another, anywhere along each',
        figure: millions(middle(walkTimes)),
        note: compared(walkTimes),
      },
      {
        what: 'prepared, another of 64 elements for each pose',
        figure: millions(middle(hopTimes)),
        note: `${compared(hopTimes)}; past the nearest cache`,
      },
      {
        what: 'prepared, another of 1024 elements for each pose',
        figure: millions(middle(largeTimes)),
        note: `${compared(largeTimes)}; past the next one`,
      },
      { what: 'one pose, nothing prepared', figure: millions(middle(singleTimes)), note: compared(singleTimes) },
      { what: '16-point Gauss-Legendre, for scale', figure: millions(middle(quadratureTimes)), note: compared(quadratureTimes) },
      {
        what: 'preparing an element',
        figure: `${(preparedPerElement * 1e6).toFixed(1)} us`,
        note: `paid back after ${Math.ceil(preparedPerElement / saved)} poses; not counted in the rows above`,
      },
      {
        what: 'worst error, prepared',
        figure: `${preparedError.toExponential(1)} mm`,
        note: `against Fresnel integrals, ${callsPerRound} poses`,
      },
      { what: 'worst error, nothing prepared', figure: `${singleError.toExponential(1)} mm`, note: 'the same poses' },
    ],
  }
}
