import { memo, useMemo } from 'react'
import type { ReactNode } from 'react'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout } from '../../core/network/types.ts'
import type { Portal, RailJoint } from '../../core/plan/types.ts'
import { frogText, lengthText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { useDerived, useLaying, usePlan, usePrefs, useSession, useStores } from '../context.ts'
import { tickStep } from './chartModel.ts'
import { gutter, lanesOf, rows } from './chartScale.ts'
import type { ChartScale } from './chartScale.ts'
import { stationGrip } from './grips.tsx'
import type { Stationed } from './grips.tsx'
import { Handle } from './Handle.tsx'
import { pressed } from './pressed.ts'

/** The track itself, with all that has a station on it. */
export function TrackRow({
  host,
  lengthMm,
  scale,
  width,
}: {
  readonly host: NetworkTrack
  readonly lengthMm: number
  readonly scale: ChartScale
  readonly width: number
}): ReactNode {
  const { id } = host.track
  const turnouts = useDerived((state) => state.derived.network.turnoutsOn.get(id))
  const crossings = useDerived((state) => state.derived.network.crossings)
  const portals = usePlan((state) => state.plan.portals)
  const joints = usePlan((state) => state.plan.railJoints)
  const crossed = useMemo(() => [...crossings.values()].filter(({ track, other }) => track === id || other === id), [crossings, id])
  const at = { host, scale }
  return (
    <g className="track-row">
      {Object.values(portals)
        .filter((portal) => portal.track === id)
        .map((portal) => (
          <PortalMark key={portal.id} portal={portal} {...at} />
        ))}
      <path className="rail" d={`M${scale.x(0)} ${rows.track}H${Math.min(scale.x(lengthMm), width - gutter.right)}`} />
      <StationScale lengthMm={lengthMm} scale={scale} width={width} />
      <JointsOfRules host={host} scale={scale} />
      {crossed.map((crossing) => (
        <CrossingMark key={crossing.id} crossing={crossing} {...at} />
      ))}
      {lanesOf(turnouts ?? [], turnoutNameX(scale), labelPx).map(({ item, lane }) => (
        <TurnoutMark key={item.turnout.id} placed={item} lane={lane} width={width} {...at} />
      ))}
      {Object.values(joints)
        .filter((joint) => joint.track === id)
        .map((joint) => (
          <JointMark key={joint.id} joint={joint} {...at} />
        ))}
    </g>
  )
}

/** Half the width of a letter of a name, on the safe side, px. */
const halfLetterPx = 3.3

/** The middle of a name that the edge of the chart does not cut. */
const heldX = (x: number, name: string, width: number): number => Math.min(x, width - 2 - name.length * halfLetterPx)

function StationScale({
  lengthMm,
  scale,
  width,
}: {
  readonly lengthMm: number
  readonly scale: ChartScale
  readonly width: number
}): ReactNode {
  const prefs = usePrefs((state) => state)
  const step = tickStep(scale.pxPerMm, prefs.units)
  return (
    <g className="station-scale">
      <path d={`M${scale.x(0)} ${rows.scale}H${scale.x(lengthMm)}`} />
      <Ticks count={Math.floor(lengthMm / step) + 1} step={step} scale={scale} width={width} />
    </g>
  )
}

/** Where the line grows longer in a drag, these stay as long as it passes none. */
const Ticks = memo(function Ticks({
  count,
  step,
  scale,
  width,
}: {
  readonly count: number
  readonly step: number
  readonly scale: ChartScale
  readonly width: number
}): ReactNode {
  const prefs = usePrefs((state) => state)
  const ticks = Array.from({ length: count }, (_, index) => index * step)
  return (
    <>
      <path d={ticks.map((mm) => `M${scale.x(mm)} ${rows.scale}v5`).join('')} />
      {ticks.map((mm) => {
        const name = mm === 0 ? '0' : lengthText(mm, prefs, 'room')
        return (
          <text key={mm} className="tick-name" x={heldX(scale.x(mm), name, width)} y={rows.scale + 17}>
            {name}
          </text>
        )
      })}
    </>
  )
})

/** What every mark of the row is told. */
interface MarkAt {
  readonly host: NetworkTrack
  readonly scale: ChartScale
}

/** A thing of the row: a button that selects it, and the handle of its station. */
function StationMark({
  of,
  name,
  says,
  className,
  y = rows.track,
  host,
  scale,
  children,
}: MarkAt & {
  readonly of: Stationed
  readonly name: string
  /** As it is read out. */
  readonly says: string
  readonly className: string
  readonly y?: number
  readonly children: ReactNode
}): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const isChosen = useSession(({ selection }) => selection.kind === 'record' && selection.table === of.table && selection.id === of.id)
  const grip = stationGrip(of, name, host, y, { stores, scale, prefs })
  if (grip === null) return null
  const { x } = grip.at
  return (
    <>
      <g
        role="button"
        tabIndex={0}
        className={`${className}${isChosen ? ' is-selected' : ''}`}
        aria-label={says}
        aria-pressed={isChosen}
        onClick={() => grip.select()}
        onKeyDown={pressed(() => grip.select())}
      >
        <title>{says}</title>
        {children}
      </g>
      <Handle grip={grip} isChosen={isChosen}>
        <circle className="pull-hit" cx={x} cy={y} r={12} />
        {isChosen ? <circle className="pull-knob" cx={x} cy={y} r={4.5} /> : null}
      </Handle>
    </>
  )
}

/** Room that the name of a turnout takes along the chart, px. */
const labelPx = 58

function turnoutNameX(scale: ChartScale): (placed: NetworkTurnout) => number {
  return ({ turnout }) => scale.x(turnout.stationMm) + (turnout.facing === 'rising' ? 10 : -10)
}

function TurnoutMark({
  placed,
  lane,
  width,
  host,
  scale,
}: MarkAt & { readonly placed: NetworkTurnout; readonly lane: number; readonly width: number }): ReactNode {
  const { turnout } = placed
  const x = scale.x(turnout.stationMm)
  const ahead = turnout.facing === 'rising' ? 1 : -1
  // The leg leaves to the left of the track (up) or to its right: the hand as seen along rising station.
  const isLeft = (turnout.hand === 'left') === (turnout.facing === 'rising')
  const rise = isLeft ? -10 : 10
  const mark = `${frogText(turnout.frog)} ${turnout.hand === 'left' ? 'L' : 'R'}`
  return (
    <StationMark
      of={{ table: 'turnouts', id: turnout.id, stationMm: turnout.stationMm }}
      name={turnout.name}
      says={`${turnout.name}, ${mark}: ${turnout.hand} hand`}
      className={`turnout-mark${placed.result.ok ? '' : ' is-wrong'}`}
      host={host}
      scale={scale}
    >
      <rect className="hit" x={Math.min(x, x + ahead * 22) - 3} y={rows.track - 14} width={28} height={28} />
      <path d={`M${x} ${rows.track}l${ahead * 20} ${rise}`} />
      <circle cx={x} cy={rows.track} r={2.5} />
      <text x={heldX(x + ahead * 10, mark, width)} y={rows.track - 13 - lane * 12}>
        {mark}
      </text>
    </StationMark>
  )
}

/** A joint of the builder's own across its rail: the left one above the line, the right one below it. */
function JointMark({ joint, host, scale }: MarkAt & { readonly joint: RailJoint }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { rail, stationMm } = joint
  const x = scale.x(stationMm)
  return (
    <StationMark
      of={{ table: 'railJoints', id: joint.id, stationMm }}
      name={`your joint in the ${rail} rail`}
      says={`Your joint in the ${rail} rail, ${lengthText(stationMm, prefs, 'room')}`}
      className="chart-joint"
      y={jointMiddle(rail)}
      host={host}
      scale={scale}
    >
      <rect className="hit" x={x - 12} y={rows.track - 12} width={24} height={24} />
      <path d={jointBar(x, rail)} />
      <circle cx={x} cy={jointMiddle(rail)} r={6} />
    </StationMark>
  )
}

const jointMiddle = (rail: RailJoint['rail']): number => rows.track + (rail === 'left' ? -6 : 6)
const jointBar = (x: number, rail: RailJoint['rail']): string => `M${x} ${rows.track}v${rail === 'left' ? -9 : 9}`

/** Joints that the rules place, once the rails have been cut: drawn only, the lists speak them. */
function JointsOfRules({ host, scale }: MarkAt): ReactNode {
  const plan = usePlan((state) => state.plan)
  const rails = useLaying((laying) => (laying.answerFor === plan ? laying.answer?.lists.rails : undefined))
  const d = (rails?.joints ?? [])
    .filter(({ place, isOwn }) => isOwn === null && place.track === host.track.id)
    .map(({ place }) => jointBar(scale.x(place.stationMm), place.rail))
  return d.length === 0 ? null : <path className="joints-of-rules" d={d.join('')} />
}

/** Where another track crosses at this level; it lies where the lines meet, so that nothing is slid. */
function CrossingMark({ crossing, host, scale }: MarkAt & { readonly crossing: NetworkCrossing }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const other = usePlan(({ plan }) => recordName(plan, 'tracks', crossing.track === host.track.id ? crossing.other : crossing.track))
  const isChosen = useSession(
    ({ selection }) => selection.kind === 'record' && selection.table === 'crossings' && selection.id === crossing.id,
  )
  const stationMm = crossing.track === host.track.id ? crossing.stationMm : crossing.otherStationMm
  const x = scale.x(stationMm)
  const select = (): void => stores.session.getState().select({ kind: 'record', table: 'crossings', id: crossing.id })
  const says = `Crossing of ${other}, ${lengthText(stationMm, prefs, 'room')}`
  return (
    <g
      role="button"
      tabIndex={0}
      className={`chart-crossing${isChosen ? ' is-selected' : ''}`}
      aria-label={says}
      aria-pressed={isChosen}
      onClick={select}
      onKeyDown={pressed(select)}
    >
      <title>{says}</title>
      <rect className="hit" x={x - 12} y={rows.track - 12} width={24} height={24} />
      <path d={`M${x - 5} ${rows.track + 8}l10 -16`} />
    </g>
  )
}

/** A portal as a bracket over the stretch that it covers. */
function PortalMark({ portal, host, scale }: MarkAt & { readonly portal: Portal }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { stationMm, lengthMm, name } = portal
  const [left, right] = [scale.x(stationMm), scale.x(stationMm + lengthMm)]
  const y = rows.track - 8
  return (
    <StationMark
      of={{ table: 'portals', id: portal.id, stationMm }}
      name={name}
      says={`${name}, from ${lengthText(stationMm, prefs, 'room')}`}
      className="chart-portal"
      y={y}
      host={host}
      scale={scale}
    >
      <rect
        className="hit"
        x={Math.min(left, (left + right) / 2 - 12)}
        y={rows.track - 14}
        width={Math.max(right - left, 24)}
        height={24}
      />
      <path d={`M${left} ${rows.track + 5}V${y}H${Math.max(right, left + 3)}V${rows.track + 5}`} />
    </StationMark>
  )
}
