import type { ReactNode } from 'react'
import type { Path, Point } from '../../core/geom/types.ts'
import { trackPath } from '../../core/network/index.ts'
import type { Id, TrackEndName } from '../../core/plan/types.ts'
import { endSet, jointInLine, jointMove } from '../../tools/index.ts'
import type { Joint } from '../../tools/index.ts'
import { recordName } from '../../words/names.ts'
import { useDerived, usePlan, useStores } from '../context.ts'
import { planEdit } from '../planEdit.ts'
import { Act } from './acts.tsx'
import { isHeld } from './useJoint.ts'

/** A turn this small is none that a hand could take out, rad. */
const straightRad = 1e-4
/** So much is taken off an end that is parted, or less where its last straight is short, mm: it shows, and is soon drawn on again. */
const partedMm = 150

/** What one would do at an end that meets another: bring both into one line, or part them. */
export function JointActs({ joint }: { readonly joint: Joint }): ReactNode {
  const stores = useStores()
  const { track, end, met } = joint
  const name = usePlan(({ plan }) => recordName(plan, 'tracks', met.track))
  const own = usePlan(({ plan }) => recordName(plan, 'tracks', track))
  const path = useDerived((state) => trackPath(state.derived.network, track))
  const isOff = met.gapMm > 0.01 || Math.abs(met.kinkRad) > straightRad
  const inLine = isOff ? jointInLine(joint) : null
  return (
    <>
      {inLine === null ? null : (
        <Act isMain onClick={() => planEdit(stores, jointMove(joint, inLine, `Bring ${own} and ${name} into one line`))}>
          Bring both into one line
        </Act>
      )}
      {isHeld(joint) && path !== null ? (
        <Act onClick={() => planEdit(stores, partCommand(track, end, partedAt(path, end), `Part ${own} from ${name}`))}>
          Part it from {name}
        </Act>
      ) : null}
    </>
  )
}

const partCommand = (track: Id, end: TrackEndName, at: Point, label: string) =>
  ({ kind: 'group', label, commands: [endSet(track, end, at)] }) as const

/** Back along the last straight, or a tenth of a line that has none. */
function partedAt({ elements, lengthMm, end: last }: Path, end: TrackEndName): Point {
  const element = end === 'start' ? elements[0] : elements.at(-1)
  const isStraight = element !== undefined && element.k0 === 0 && element.k1 === 0
  const gapMm = Math.min(partedMm, isStraight ? element.lengthMm / 2 : lengthMm / 10)
  const { x, y, headingRad } = end === 'start' ? (element?.start ?? last) : last
  const back = end === 'start' ? gapMm : -gapMm
  return { x: x + back * Math.cos(headingRad), y: y + back * Math.sin(headingRad) }
}
