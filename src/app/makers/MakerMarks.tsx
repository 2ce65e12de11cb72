import { useMemo } from 'react'
import type { ReactNode } from 'react'
import type { NetworkTrack, NetworkTurnout } from '../../core/network/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { turnoutTrackLay } from '../../core/track/index.ts'
import { useView } from '../canvas/canvasContext.ts'
import { centrelineText, pathTransform, workRailsText, turnoutRoutesText, workTiesText } from '../canvas/svgPath.ts'
import { useDerived, usePlan } from '../context.ts'
import './makers.css'

/** What a selected maker made, marked on the plan. */
export function MakerMarks({ id }: { readonly id: Id }): ReactNode {
  const maker = usePlan((state) => recordFind(state.plan, 'makers', id))
  const network = useDerived((state) => state.derived.network)
  if (maker === null) return null
  const tracks = maker.made.tracks.flatMap((track) => network.tracks.get(track) ?? [])
  const turnouts = maker.made.turnouts.flatMap((turnout) => network.turnouts.get(turnout) ?? [])
  return <MadeLines tracks={tracks} turnouts={turnouts} isGhost={false} />
}

/** Lines of what a maker made, or would make. */
export function MadeLines({
  tracks,
  turnouts,
  isGhost,
}: {
  readonly tracks: readonly NetworkTrack[]
  readonly turnouts: readonly NetworkTurnout[]
  readonly isGhost: boolean
}): ReactNode {
  const view = useView()
  return (
    <g className={isGhost ? 'ghost' : 'made'} transform={pathTransform(view)}>
      {turnouts.map((turnout) => (
        <TurnoutLines key={turnout.turnout.id} turnout={turnout} isGhost={isGhost} />
      ))}
      {tracks.map(({ track, alignment }) =>
        alignment.ok ? <path key={track.id} className="draft-line" d={centrelineText(alignment.path)} /> : null,
      )}
    </g>
  )
}

function TurnoutLines({ turnout, isGhost }: { readonly turnout: NetworkTurnout; readonly isGhost: boolean }): ReactNode {
  const laid = useMemo(() => (isGhost ? turnoutTrackLay(turnout) : null), [turnout, isGhost])
  return (
    <>
      {laid === null ? null : (
        <>
          <path className="ties" d={workTiesText(laid)} />
          <path className="head" d={workRailsText(laid)} />
        </>
      )}
      <path className="draft-line" d={turnoutRoutesText(turnout)} />
    </>
  )
}
