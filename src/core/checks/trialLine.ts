import { fixedThings, zoneStore } from '../clearance/index.ts'
import type { FixedThing, ZoneStore } from '../clearance/index.ts'
import { boxesOverlap, boxGrow, pathBox } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { Network, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { railwayOfClass } from '../plan/index.ts'
import type { Id, LineClass, Plan } from '../plan/types.ts'
import { benchArea } from './area.ts'
import type { BenchArea } from './area.ts'
import { reverseCurves } from './curvesInARow.ts'
import { benchworkEdge } from './benchworkEdge.ts'
import { runDemandMost } from './demand.ts'
import { edgeOverhang, fixedClearance } from './fixedClearance.ts'
import type { Run } from './run.ts'
import { runOfTrial, runsCreate } from './runs.ts'
import { selfClearance, trackClearance } from './trackClearance.ts'
import type { Finding } from './types.ts'

/** A line that could be laid and is not in the plan. */
export interface TrialLine {
  readonly path: Path
  readonly lineClass: LineClass
  /** Turnouts on whose legs it begins and ends; one may be set for the occasion and be none of the plan. */
  readonly start: NetworkTurnout | null
  readonly end: NetworkTurnout | null
}

/** Id that findings give to a line of no plan; the plan's own begin with a letter. */
const TRIAL = '0'

/**
 * What the plan's findings would be of a line if it were laid: where it lies off the benchwork or nearer to its edge than the margin,
 * too near to another track or itself, or across one, too near to a wall or an obstacle, or where it turns from hand to hand within less
 * than its longest car, also behind the turnouts that it hangs on. The same measures as of the checks; the nearest place of each kind and neighbour.
 *
 * Units:   mm.
 * Outcome: its findings, by rule and neighbour; its record is none of the plan.
 * Throws:  never, for a network derived from this plan.
 */
export function trialFindings(at: { readonly plan: Plan; readonly network: Network }, line: TrialLine): readonly Finding[] {
  const { area, runs, swept, things } = groundOf(at)
  const track = trackOf(line, at.plan)
  const run = runOfTrial(track, line.start, line.end, at, swept)
  if (run === null) return []
  const { start, end } = line
  // The bare routes of turnouts that the line hangs on are those that run through it.
  const others = runs.filter(({ own }) => own === null || (own !== start?.turnout.id && own !== end?.turnout.id))
  const found = [
    ...reverseCurves(run, track, null, null, start, end),
    ...(area === null ? [] : benchworkEdge(run, area)),
    ...others.filter((other) => isNear(run, other.run)).flatMap((other) => trackClearance(run, other.run)),
    ...selfClearance(run),
    ...things.flatMap((thing) => fixedClearance(run, thing, [])),
    ...(area === null ? [] : edgeOverhang(run, area)),
  ]
  return worstOfEach(found)
}

/** What all lines of a plan are held against. own: the turnout whose bare route a run is. */
interface Ground {
  readonly plan: Plan
  readonly area: BenchArea | null
  readonly runs: readonly { readonly run: Run; readonly own: Id | null }[]
  readonly swept: ZoneStore
  readonly things: readonly FixedThing[]
}

/** The ground of a network, worked out once: a panel asks for line after line. Not part of any result. */
const known = new WeakMap<Network, Ground>()

function groundOf({ plan, network }: { readonly plan: Plan; readonly network: Network }): Ground {
  const before = known.get(network)
  if (before !== undefined && before.plan === plan) return before
  const { tracks, bare } = runsCreate()(plan, network)
  const ground: Ground = {
    plan,
    area: Object.keys(plan.benchworks).length === 0 ? null : benchArea(plan.benchworks),
    runs: [...tracks.flatMap(({ run }) => (run === null ? [] : [{ run, own: null }])), ...bare.map((run) => ({ run, own: run.record }))],
    swept: zoneStore(),
    things: fixedThings(plan),
  }
  known.set(network, ground)
  return ground
}

function trackOf({ path, lineClass }: TrialLine, plan: Plan): NetworkTrack {
  const first = path.elements[0]?.start ?? path.end
  return {
    track: {
      id: TRIAL,
      name: '',
      lineClass: lineClass.id,
      start: { kind: 'free', x: first.x, y: first.y },
      corners: [],
      end: { kind: 'free', x: path.end.x, y: path.end.y },
    },
    lineClass,
    railway: railwayOfClass(plan.railway, lineClass),
    alignment: { ok: true, path, isClosed: false, corners: [], polygon: [] },
  }
}

const isNear = (run: Run, other: Run): boolean =>
  boxesOverlap(boxGrow(pathBox(run.path, 0), runDemandMost(run) + runDemandMost(other)), other.box)

/** A line may be too near in ten places; what one wants to know is how near. */
function worstOfEach(findings: readonly Finding[]): readonly Finding[] {
  const worst = new Map<string, Finding>()
  for (const finding of findings) {
    const key = `${finding.rule} ${finding.otherRecord ?? ''} ${finding.problem?.kind ?? ''}`
    const known = worst.get(key)
    if (known === undefined || (finding.measured ?? Infinity) < (known.measured ?? Infinity)) worst.set(key, finding)
  }
  return [...worst.values()]
}
