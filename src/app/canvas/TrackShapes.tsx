import { memo } from 'react'
import type { ReactNode } from 'react'
import type { Alignment } from '../../core/alignment/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { useDerived } from '../context.ts'
import { lineWeight } from './lineWeight.ts'
import { usePartShown } from './partShown.ts'
import { renderCount } from './renders.ts'
import {
  centrelineText,
  crossingSlipsText,
  crossingThrowsText,
  polylineText,
  trackRailsText,
  trackTiesText,
  turnoutDivergingText,
  workGapsText,
  workRailsText,
  turnoutRoutesText,
  turnoutThrowText,
  workTiesText,
} from './svgPath.ts'

/*
 * Tracks and turnouts, in plan millimetres. Each is one component for its ties and one for its rails, woken only when its own
 * derived objects change; the view, the detail and the stage reach it through style sheets alone.
 */

type UnsolvedAlignment = Extract<Alignment, { readonly ok: false }>

/** Ties of one track. */
export const TrackTies = memo(function TrackTies({ id }: { readonly id: Id }): ReactNode {
  const networkTrack = useDerived((state) => state.derived.network.tracks.get(id))
  const plain = useDerived((state) => state.derived.trackwork.tracks.get(id))
  const part = usePartShown(id, networkTrack)
  renderCount()
  return plain === undefined ? null : <path className="ties" d={trackTiesText(plain, part)} />
})

/** Rails of one track; from afar its centreline; where it is not solved, what is known of it. */
export const TrackRails = memo(function TrackRails({ id }: { readonly id: Id }): ReactNode {
  const networkTrack = useDerived((state) => state.derived.network.tracks.get(id))
  const plain = useDerived((state) => state.derived.trackwork.tracks.get(id))
  const part = usePartShown(id, networkTrack)
  renderCount()
  if (networkTrack === undefined) return null
  const { alignment, lineClass } = networkTrack
  if (!alignment.ok) return <Unsolved of={networkTrack} problem={alignment} />
  const rails = plain === undefined ? '' : trackRailsText(plain, part)
  return (
    <g className="track" data-weight={lineWeight(lineClass)}>
      <path className="line" d={centrelineText(alignment.path)} />
      <path className="foot" d={rails} />
      <path className="head" d={rails} />
    </g>
  )
})

/**
 * A track without a line: the sides as drawn, and the last line that it had, dashed, with its rails faint. Where none is known, what can
 * be drawn of it.
 */
function Unsolved({ of, problem }: { readonly of: NetworkTrack; readonly problem: UnsolvedAlignment }): ReactNode {
  const last = useDerived((state) => state.lastGood.tracks.get(of.track.id))
  return (
    <g className="unsolved">
      <path className="traverse" d={polylineText(problem.polygon, false)} />
      {last === undefined ? (
        <path className="piece" d={problem.pieces.map(centrelineText).join('')} />
      ) : (
        <g className="last">
          <title>{`The last line of ${of.track.name} that fits`}</title>
          {last.plain === null ? null : <path className="last-rail" d={trackRailsText(last.plain)} />}
          <path className="last-line" d={centrelineText(last.alignment.path)} />
        </g>
      )}
    </g>
  )
}

export const TurnoutTies = memo(function TurnoutTies({ id }: { readonly id: Id }): ReactNode {
  const laid = useDerived((state) => state.derived.trackwork.turnouts.get(id))
  renderCount()
  return laid === undefined ? null : <path className="ties is-work" d={workTiesText(laid)} />
})

export const TurnoutRails = memo(function TurnoutRails({ id }: { readonly id: Id }): ReactNode {
  const networkTurnout = useDerived((state) => state.derived.network.turnouts.get(id))
  const laid = useDerived((state) => state.derived.trackwork.turnouts.get(id))
  renderCount()
  const last = useDerived((state) => state.lastGood.turnouts.get(id))
  if (networkTurnout === undefined) return null
  if (last !== undefined) {
    return (
      <g className="turnout last">
        <title>{`${networkTurnout.turnout.name}, where it last stood`}</title>
        <path className="last-line" d={turnoutDivergingText(last.on)} />
        <path className="last-rail" d={workRailsText(last.laid)} />
      </g>
    )
  }
  if (laid === undefined || !networkTurnout.result.ok) {
    return <path className="misplaced" d={turnoutRoutesText(networkTurnout)} />
  }
  const heads = workRailsText(laid)
  return (
    <g className="turnout" data-weight={networkTurnout.lineClass === null ? 'usual' : lineWeight(networkTurnout.lineClass)}>
      <path className="line" d={turnoutDivergingText(networkTurnout)} />
      <path className="foot" d={heads} />
      <path className="head" d={heads} />
      <path className="gap" d={workGapsText(laid)} />
      <path className="throw" d={turnoutThrowText(networkTurnout)} />
    </g>
  )
})

export const CrossingTies = memo(function CrossingTies({ id }: { readonly id: Id }): ReactNode {
  const laid = useDerived((state) => state.derived.trackwork.crossings.get(id))
  renderCount()
  return laid === undefined ? null : <path className="ties is-work" d={workTiesText(laid)} />
})

export const CrossingRails = memo(function CrossingRails({ id }: { readonly id: Id }): ReactNode {
  const crossing = useDerived((state) => state.derived.network.crossings.get(id))
  const laid = useDerived((state) => state.derived.trackwork.crossings.get(id))
  renderCount()
  if (crossing === undefined || laid === undefined) return null
  const heads = workRailsText(laid)
  return (
    <g className="turnout" data-weight="usual">
      <path className="line" d={crossingSlipsText(crossing)} />
      <path className="foot" d={heads} />
      <path className="head" d={heads} />
      <path className="gap" d={workGapsText(laid)} />
      <path className="throw" d={crossingThrowsText(crossing)} />
    </g>
  )
})
