import type { ReactNode } from 'react'
import { poseOffset } from '../../core/geom/index.ts'
import type { Pose } from '../../core/geom/types.ts'
import { isShown, Label } from './markParts.tsx'
import { screenOfPlan } from './viewport.ts'
import type { View } from './viewport.ts'

/** Width of a letter of a mark, px, on the safe side. */
const letterPx = 7
const beyondPx = 9

/** The mark of a piece beside its middle, where there is room for it: outMm aside of its line, and a little more. */
export function PieceName({
  name,
  pose,
  outMm,
  lengthMm,
  view,
}: {
  readonly name: string
  readonly pose: Pose
  readonly outMm: number
  readonly lengthMm: number
  readonly view: View
}): ReactNode {
  if (lengthMm * view.pxPerMm < name.length * letterPx + 10) return null
  const at = screenOfPlan(view, poseOffset(pose, outMm + (Math.sign(outMm) * beyondPx) / view.pxPerMm))
  if (!isShown(at, view)) return null
  const line = screenOfPlan(view, pose)
  const anchor = at.left > line.left + 6 ? 'start' : at.left < line.left - 6 ? 'end' : 'middle'
  return (
    <Label at={{ left: at.left, top: at.top + 4 }} anchor={anchor} tone="soft">
      {name}
    </Label>
  )
}
