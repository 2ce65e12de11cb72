import { useLayoutEffect, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import type { AlignmentProblem } from '../../core/alignment/types.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { Id, Track } from '../../core/plan/types.ts'
import { useDerived, usePlan, usePrefs, useSession } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { bandsToggle } from '../running/runningActs.ts'
import { lengthText } from '../../words/measure.ts'
import { alignmentProblemText } from '../../words/problemText.ts'
import { findingText } from '../../words/findingText.ts'
import { FindingActs } from '../lateParts.ts'
import { ChartRows } from './ChartRows.tsx'
import { trackOfSelection, trackStanding } from './trackOfSelection.ts'
import './chart.css'

/** The selected track stretched out by its station, as railways draw it. With nothing selected: the first track. */
export function TrackChart(): ReactNode {
  const turnouts = usePlan((state) => state.plan.turnouts)
  const portals = usePlan((state) => state.plan.portals)
  const railJoints = usePlan((state) => state.plan.railJoints)
  const selection = useSession((session) => session.selection)
  const [kept, setKept] = useState<Id | null>(null)
  const wanted = trackOfSelection(selection, { turnouts, portals, railJoints })
  // The chart stays with its track while something else is looked at.
  if (wanted !== null && wanted !== kept) setKept(wanted)
  const id = usePlan(({ plan }) => trackStanding(plan, [wanted, kept]))
  if (id === null)
    return <p className="chart-empty">No track yet. Once one is laid, its curves, turnouts and limits stand here by station.</p>
  return <ChartOf id={id} />
}

function ChartOf({ id }: { readonly id: Id }): ReactNode {
  const solved = useDerived((state) => state.derived.network.tracks.get(id))
  const last = useDerived((state) => state.lastGood.tracks.get(id))
  const prefs = usePrefs((state) => state)
  const isTraced = useDesk((desk) => desk.bands !== null)
  const desk = useDeskStore()
  const frame = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useLayoutEffect(() => {
    const element = frame.current
    if (element === null) return undefined
    setWidth(element.clientWidth)
    if (typeof ResizeObserver === 'undefined') return undefined
    const observer = new ResizeObserver(() => setWidth(element.clientWidth))
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  if (solved === undefined) return null
  const { track, alignment, lineClass } = solved
  const problem = alignment.ok ? undefined : alignment.problems[0]
  return (
    <section className="chart" aria-label={`Track chart of ${track.name}`}>
      <header>
        <h2 title={track.name}>Track chart · {track.name}</h2>
        <About track={id} of={lineClass.name} lengthMm={alignment.ok ? alignment.path.lengthMm : null} />
        <button type="button" className="word" aria-pressed={isTraced} onClick={() => bandsToggle(desk)}>
          Clearances
        </button>
        <p className="limit-name">
          {lineClass.name} asks {lengthText(lineClass.minRadiusMm, prefs)}
        </p>
      </header>
      <div className={isTraced ? 'chart-frame is-traced' : 'chart-frame'} ref={frame}>
        {alignment.ok ? (
          <ChartRows solved={solved} alignment={alignment} width={width === 0 ? 800 : width} />
        ) : (
          <>
            <p className="chart-empty">
              {problem === undefined ? 'The line is not solved yet.' : <Unsolved problem={problem} track={track} />}
              {last === undefined ? '' : ' Here, and dashed on the plan, stands the last line that fits.'}
            </p>
            <Cures track={id} />
            {last === undefined ? null : (
              // Nothing of it can be pulled: it is what was.
              <div className="chart-last" inert>
                <ChartRows solved={last.on} alignment={last.alignment} width={width === 0 ? 800 : width} />
              </div>
            )}
          </>
        )}
      </div>
    </section>
  )
}

/** What makes a line of it again, once the checks have found it. */
function Cures({ track }: { readonly track: Id }): ReactNode {
  const finding = useDerived(({ findings }) => findingUnsolved(findings, track))
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  return finding === undefined ? null : <FindingActs finding={finding} words={findingText(finding, plan, prefs)} on="chart" />
}

/** What the checks say of a track that has no line. */
const findingUnsolved = (findings: readonly Finding[], track: Id): Finding | undefined =>
  findings.find(({ rule, record }) => record === track && (rule === 'easement-fit' || rule === 'alignment'))

/** By itself: of a line that is solved no word hangs on the whole plan, which changes with every step of any drag. */
function Unsolved({ problem, track }: { readonly problem: AlignmentProblem; readonly track: Track }): ReactNode {
  const finding = useDerived(({ findings }) => findingUnsolved(findings, track.id))
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  return finding === undefined ? alignmentProblemText(problem, track, plan, prefs) : findingText(finding, plan, prefs).body
}

/** The line in one line, and what can be done to what is chosen, else where its stations begin: what has no room is told when pointed at. */
function About({ track, of, lengthMm }: { readonly track: Id; readonly of: string; readonly lengthMm: number | null }): ReactNode {
  const prefs = usePrefs((state) => state)
  const toPull = useSession(({ selection }) => {
    if (selection.kind === 'corner' && selection.track === track) return 'pull its top for the radius, its feet for the easements, or type'
    const isOnTrack = selection.kind === 'record' && ['turnouts', 'railJoints', 'portals'].includes(selection.table)
    return isOnTrack ? 'pull it along, or type its station' : 'stations from the start'
  })
  const words = lengthMm === null ? of : `${of} · ${lengthText(lengthMm, prefs, 'room')} · ${toPull}`
  return (
    <p className="soft" title={words}>
      {words}
    </p>
  )
}
