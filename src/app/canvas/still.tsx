import { memo } from 'react'
import type { ReactNode } from 'react'
import { pathTransform, pathUnitMm } from './svgPath.ts'
import { boxBeyond, viewBoxInPlan, type View } from './viewport.ts'

/*
 * What is painted in one space (under one transform) has a box, and whenever that box is another the browser looks anew at how all layers
 * of the page lie: as much work as painting what moved. A frame that paints nothing and holds all that can move in view keeps it the same.
 */

/** Beyond the view on every side, as a share of its width and height. */
const beyondShare = 0.5

/** The frame of what is drawn in pixels of the canvas. */
export const StillFrame = memo(function StillFrame(): ReactNode {
  return <rect className="still" x="-50%" y="-50%" width="200%" height="200%" />
})

/** The frame of what is drawn in the plan's own space. */
export const StillInPlan = memo(function StillInPlan({ view }: { readonly view: View }): ReactNode {
  const { minX, minY, maxX, maxY } = boxBeyond(viewBoxInPlan(view), beyondShare)
  return (
    <rect
      className="still"
      x={minX / pathUnitMm}
      y={minY / pathUnitMm}
      width={(maxX - minX) / pathUnitMm}
      height={(maxY - minY) / pathUnitMm}
    />
  )
})

/** Path text is put on the canvas within this. What is drawn after it is in pixels again, and has a frame of its own. */
export function PlanSpace({
  view,
  className,
  children,
}: {
  readonly view: View
  readonly className?: string
  readonly children: ReactNode
}): ReactNode {
  return (
    <>
      <g className={className} transform={pathTransform(view)}>
        <StillInPlan view={view} />
        {children}
      </g>
      <StillFrame />
    </>
  )
}
