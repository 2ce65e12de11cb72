import { useMemo } from 'react'
import type { ReactNode } from 'react'
import type { Id, Track, TrackEndName } from '../../core/plan/types.ts'
import { useDerivedAtRest } from '../atRest.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { Act } from '../particulars/acts.tsx'
import { isHeld, useJoint } from '../particulars/useJoint.ts'
import { besideSolve, besideStart } from './besideLeg.ts'
import { canDrawOn, drawOnBegin } from './drawOn.ts'
import { isStub, stubOf } from './stub.ts'

/** What one would want of a track that has just left its host, above its numbers. */
export function NextActs({ track }: { readonly track: Track }): ReactNode {
  // During a drag nobody presses these: a parallel worked out with each step of it would be for nothing.
  const { network } = useDerivedAtRest()
  const stub = useMemo(() => stubOf(network, track.id), [network, track.id])
  const setDesk = useDesk((desk) => desk.set)
  const units = usePrefs((prefs) => prefs.units)
  // On a curve there is no straight to run beside: it can only be refused, and is not the first thing to be told.
  const canRunBeside = useMemo(
    () => stub !== null && besideSolve(network, stub, besideStart(stub, network.plan, 'ends', units)).ok,
    [network, stub, units],
  )
  if (!isStub(track)) return null
  return (
    <section className="next-acts" aria-label="What next">
      <p className="lead">A short straight so far. Where is it to go?</p>
      <div className="acts is-column">
        {stub === null ? null : (
          <Act isMain={canRunBeside} onClick={() => setDesk({ lineAct: { kind: 'beside', track: track.id } })}>
            Lay a parallel to {stub.host.track.name} from here…
          </Act>
        )}
        <DrawOnAct track={track.id} end="end" isMain={!canRunBeside} />
      </div>
    </section>
  )
}

/** Takes a track up at a free end to be drawn on. */
export function DrawOnAct({
  track,
  end,
  isMain = false,
}: {
  readonly track: Id
  readonly end: TrackEndName
  readonly isMain?: boolean
}): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const canGoOn = usePlan(({ plan }) => canDrawOn(plan, track, end))
  const joint = useJoint(track, end)
  return canGoOn && (joint === null || !isHeld(joint)) ? (
    <Act isMain={isMain} onClick={() => drawOnBegin(stores, desk, track, end)}>
      Draw on from its {end}
    </Act>
  ) : null
}
