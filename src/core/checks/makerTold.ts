import { makerExpand, makerTried } from '../makers/index.ts'
import { networkCreateDeriver } from '../network/index.ts'
import type { Network } from '../network/types.ts'
import { keptFor } from '../plan/index.ts'
import type { Maker, MakerNumbers, Plan } from '../plan/types.ts'
import { centresCure, isOfMaker } from './centresCure.ts'
import { checksCreateRunner } from './runner.ts'
import type { Finding, RuleName } from './types.ts'

interface At {
  readonly plan: Plan
  readonly network: Network
}

/** Rules that frogs and centres decide; what else is told of a place no number of a maker mends. */
const numberRules: ReadonlySet<RuleName> = new Set(['coupler-swing', 'reverse-curve', 'track-clearance', 'roadbed-overlap', 'minimum-frog'])

/** The largest frog number that is looked at: longer ones are rare on any layout. */
const mostFrog = 20
/** Numbers may be widened one after the other; after so many steps nothing will come of it. */
const mostSteps = 6

/** What the checks would say of what makers make on a plan. */
interface Trials {
  /** Of what it would make itself and of what lies beside that; errors first. None as well where it can make nothing. */
  readonly told: (maker: Maker) => readonly Finding[]
  /** The plan in which the findings lie. */
  readonly planWith: (maker: Maker) => Plan
  /** The same with all its frogs no smaller: one object for each number, so that what was tried of it is known. */
  readonly withFrog: (maker: Maker, frog: number) => Maker
}

/** The trials of a network, kept: of a plan of which one maker changes only that is checked anew. Not part of any result. */
const known = new WeakMap<Network, { readonly plan: Plan; readonly trials: Trials }>()

function trialsOf(at: At): Trials {
  const before = known.get(at.network)
  if (before?.plan === at.plan) return before.trials
  const derive = networkCreateDeriver()
  const check = checksCreateRunner(numberRules)
  const tried = new WeakMap<Maker, Trial>()
  const trial = (maker: Maker): Trial => {
    const done = tried.get(maker) ?? trialOf(at, maker, derive, check)
    tried.set(maker, done)
    return done
  }
  const larger = keptFor((_maker: Maker) => new Map<number, Maker>())
  const trials: Trials = {
    told: (maker) => trial(maker).told,
    planWith: (maker) => trial(maker).plan,
    withFrog(maker, frog) {
      const tries = larger(maker)
      const made = tries.get(frog) ?? makerWithFrog(maker, frog)
      tries.set(frog, made)
      return made
    },
  }
  known.set(at.network, { plan: at.plan, trials })
  return trials
}

interface Trial {
  readonly plan: Plan
  readonly told: readonly Finding[]
}

function trialOf(
  { plan, network }: At,
  maker: Maker,
  derive: ReturnType<typeof networkCreateDeriver>,
  check: ReturnType<typeof checksCreateRunner>,
): Trial {
  const done = makerTried(plan, network, maker)
  if (done === null) return { plan, told: [] }
  const { plan: after, command } = done
  const { tracks, turnouts } = command
  const made = new Set([...tracks, ...turnouts].map(({ id }) => id))
  const told = check({ plan: after, network: derive(after) }).filter(
    ({ record, otherRecord }) => made.has(record) || (otherRecord !== null && made.has(otherRecord)),
  )
  return { plan: after, told: told.toSorted((a, b) => severityRank(a) - severityRank(b)) }
}

const severityRank = ({ severity }: Finding): number => (severity === 'error' ? 0 : 1)

/** Findings of errors alone, or of warnings too. */
const toldOf = (trials: Trials, maker: Maker, isStrict: boolean): readonly Finding[] =>
  trials.told(maker).filter(({ severity }) => isStrict || severity === 'error')

/**
 * The maker with numbers of which the checks tell no error, if there are such: wider centres where tracks stand too near, and where cars
 * make too much of its turnouts, larger frogs, the least that do. Else as it is.
 *
 * Exactness: frogs in whole numbers up to No. 20; what is told are the findings of the checks themselves of the plan with all that it makes.
 */
export function makerSound(at: At, maker: Maker): Maker {
  const trials = trialsOf(at)
  const wider = centresWide(at, trials, maker)
  if (toldOf(trials, wider, false).length === 0) return wider
  const larger = frogsLarger(at, trials, maker, false)
  return larger ?? maker
}

/** Frogs of a maker that the checks tell of, and the least that they do not. */
export interface FrogTold {
  readonly frog: number
  /** The worst of what is told with it, and the plan in which that lies. */
  readonly finding: Finding
  readonly plan: Plan
  /** The maker with the least larger frogs of which nothing is told; null: there are none up to No. 20 that it can be made with. */
  readonly least: { readonly frog: number; readonly maker: Maker } | null
}

/**
 * What is to be known of a maker's frogs before it is built: what the checks will tell of them; or, of frogs larger than usual, why the usual
 * ones were not taken. null: nothing is told.
 */
export function makerFrogTold(at: At, maker: Maker): FrogTold | null {
  const frog = makerFrog(maker.numbers)
  if (frog === null) return null
  const classes = [at.network.tracks.get(maker.numbers.track)?.lineClass, at.plan.lineClasses[maker.lineClass]]
  const usual = Math.max(...classes.map((one) => one?.usualFrog ?? 0))
  const trials = trialsOf(at)
  const frogs = trials.told(maker).length > 0 ? frog : Math.min(usual, frog)
  const low = frogs === frog ? maker : trials.withFrog(maker, frogs)
  const [finding] = trials.told(low)
  if (finding === undefined) return null
  const least = frogsLarger(at, trials, low, true)
  const plan = trials.planWith(low)
  return { frog: frogs, finding, plan, least: least === null ? null : { frog: makerFrog(least.numbers) ?? frogs, maker: least } }
}

function centresWide(at: At, trials: Trials, maker: Maker): Maker {
  let now = maker
  for (let i = 0; i < mostSteps; i++) {
    const [finding] = toldOf(trials, now, false)
    const cure = finding === undefined || !isOfMaker(finding, now) ? null : centresCure(finding, trials.planWith(now), at.network, now)
    if (cure?.kind !== 'setNumbers') break
    now = { ...now, numbers: cure.numbers }
  }
  return now
}

/** The maker with the least larger frogs, in whole numbers, of which nothing is told. */
function frogsLarger(at: At, trials: Trials, maker: Maker, isStrict: boolean): Maker | null {
  const frog = makerFrog(maker.numbers)
  if (frog === null) return null
  for (let next = Math.floor(frog) + 1; next <= mostFrog; next++) {
    const larger = trials.withFrog(maker, next)
    if (makerExpand(at.plan, at.network, larger).ok && toldOf(trials, larger, isStrict).length === 0) return larger
  }
  return null
}

/** The least of a maker's frogs; null: it has none. */
export function makerFrog(numbers: MakerNumbers): number | null {
  switch (numbers.kind) {
    case 'siding':
      return Math.min(numbers.frogFrom, numbers.frogTo)
    case 'wye':
      return Math.min(numbers.frog, numbers.tailFrog)
    case 'turnback':
    case 'helix':
      return null
    default:
      return numbers.frog
  }
}

/** All frogs of a maker no smaller than a number; those that were its least are that one. */
function makerWithFrog(maker: Maker, frog: number): Maker {
  const { numbers } = maker
  const least = makerFrog(numbers)
  const to = (own: number): number => (own === least ? frog : Math.max(own, frog))
  switch (numbers.kind) {
    case 'siding':
      return { ...maker, numbers: { ...numbers, frogFrom: to(numbers.frogFrom), frogTo: to(numbers.frogTo) } }
    case 'wye':
      return { ...maker, numbers: { ...numbers, frog: to(numbers.frog), tailFrog: to(numbers.tailFrog) } }
    case 'turnback':
    case 'helix':
      return maker
    default:
      return { ...maker, numbers: { ...numbers, frog } }
  }
}
