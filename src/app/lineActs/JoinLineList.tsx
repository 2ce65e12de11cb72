import type { ReactNode } from 'react'
import type { JoinStop } from '../../core/alignment/index.ts'
import type { JoinLine, JoinLines, JoinPlanProblem } from '../../core/pipeline/index.ts'
import { isOffBenchwork, joinFindingText, joinGiveWayText, joinLineText, joinProblemText, joinStopText } from '../../words/joinText.ts'
import { usePlan, usePrefs } from '../context.ts'
import { Act } from '../particulars/parts.tsx'
import { wishesGiveWay } from './joinWishes.ts'
import type { Wishes } from './joinWishes.ts'

interface ListProps {
  readonly answer: JoinLines
  readonly isAll: boolean
  /** Nothing else is asked than what the class asks. */
  readonly isByClass: boolean
  readonly chosen: number
  readonly onChoose: (i: number) => void
  /** One is looked at while the pointer or the keyboard is on it; null: the chosen one again. */
  readonly onLook: (i: number | null) => void
  readonly onWish: (change: Partial<Wishes>) => void
  /** Takes another station for the points; null: none is looked for. */
  readonly onStation: ((stationMm: number) => void) | null
  readonly onLay: (line: JoinLine) => void
}

/** The lines that join, one of them chosen to be laid; or what stops them, each with what would do for one press. */
export function JoinLineList(props: ListProps): ReactNode {
  const { answer, isAll, chosen, onWish } = props
  if (!answer.ok) return <NoLines problem={answer.problem} onStation={props.onStation} />
  return (
    <section className="join-lines" aria-label="Lines that join">
      {answer.stopped.length === 0 || !isAll ? null : (
        <div className="problems" role="status">
          <p>No line keeps all limits.</p>
          {answer.stopped.map((stop) => (
            <Stopped key={stop.limit} stop={stop} onWish={onWish} />
          ))}
        </div>
      )}
      {answer.lines.length === 0 && answer.stopped.length === 0 && isAll ? <p role="status">No line leads there.</p> : null}
      <ol>
        {answer.lines.map((line, i) => (
          <LineChoice key={keyOf(line)} {...props} line={line} i={i} isChosen={i === chosen} />
        ))}
      </ol>
    </section>
  )
}

const keyOf = ({ line }: JoinLine): string => `${line.family} ${line.hands.join(' ')} ${line.stationMm ?? ''} ${line.lengthMm}`

function LineChoice(props: ListProps & { readonly line: JoinLine; readonly i: number; readonly isChosen: boolean }): ReactNode {
  const { line, i, isChosen, isByClass, onChoose, onLook, onLay } = props
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const { what, measures, limits } = joinLineText(line, prefs, isByClass)
  const findings = (line.findings ?? []).map((finding) => joinFindingText(finding, plan, prefs))
  return (
    <li aria-current={isChosen ? true : undefined}>
      <button
        type="button"
        className="join-line"
        aria-pressed={isChosen}
        onMouseEnter={() => onLook(i)}
        onMouseLeave={() => onLook(null)}
        onFocus={() => onLook(i)}
        onBlur={() => onLook(null)}
        onClick={() => onChoose(i)}
      >
        <span className="join-what">
          {what}
          {isOffBenchwork(line) ? <span className="join-broken"> · off the benchwork</span> : null}
        </span>
        <span>{measures}</span>
        <span className={line.line.meetsLimits && line.short.length === 0 ? 'join-kept' : 'join-broken'}>{limits}</span>
        {findings.map((text) => (
          <span className="join-broken" key={text}>
            {text}
          </span>
        ))}
      </button>
      {isChosen ? (
        <div className="acts">
          <Act isMain onClick={() => onLay(line)}>
            Lay this line
          </Act>
        </div>
      ) : null}
    </li>
  )
}

/** A limit that no line keeps; a press looks for lines with what would work in its place. */
function Stopped({ stop, onWish }: { readonly stop: JoinStop; readonly onWish: (change: Partial<Wishes>) => void }): ReactNode {
  const prefs = usePrefs((state) => state)
  const word = joinGiveWayText(stop)
  const wish = wishesGiveWay(stop)
  return (
    <>
      <p>{joinStopText(stop, prefs)}</p>
      {word === null || wish === null ? null : (
        <div className="acts">
          <Act onClick={() => onWish(wish)}>{word}</Act>
        </div>
      )}
    </>
  )
}

function NoLines({ problem, onStation }: { readonly problem: JoinPlanProblem; readonly onStation: ListProps['onStation'] }): ReactNode {
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const nearestMm = problem.kind === 'noPlaceThere' ? problem.noPlace.nearestMm : null
  return (
    <div className="problems" role="status">
      <p>{joinProblemText(problem, plan, prefs)}</p>
      {nearestMm === null || onStation === null ? null : (
        <div className="acts">
          <Act onClick={() => onStation(nearestMm)}>Put its points there</Act>
        </div>
      )}
    </div>
  )
}
