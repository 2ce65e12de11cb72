import type { ReactNode } from 'react'
import { recordFind } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { Member } from '../../core/stretch/index.ts'
import { joistRing, severalFrame, turnKnobAt } from '../../tools/index.ts'
import { useDerived, usePlan } from '../context.ts'
import { useView } from '../canvas/canvasContext.ts'
import { centrelineText, pathTransform, polylineText } from '../canvas/svgPath.ts'
import { screenOfPlan } from '../canvas/viewport.ts'

/** All that is chosen, a frame around it, and the knob that turns it. */
export default function SeveralMarks({ members }: { readonly members: readonly Member[] }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const derived = useDerived((state) => state.derived)
  const view = useView()
  const context = { plan, derived, selection: { kind: 'several', members }, pxPerMm: view.pxPerMm } as const
  const frame = severalFrame(context)
  const knob = turnKnobAt(context)
  const tracks = members.flatMap(({ table, id }) => {
    const alignment = table === 'tracks' ? derived.network.tracks.get(id)?.alignment : undefined
    return alignment?.ok === true ? [centrelineText(alignment.path)] : []
  })
  if (frame === null || knob === null) return null
  const a = screenOfPlan(view, { x: frame.minX, y: frame.maxY })
  const b = screenOfPlan(view, { x: frame.maxX, y: frame.minY })
  const at = screenOfPlan(view, knob)
  return (
    <g className="several">
      <path className="chosen-line" transform={pathTransform(view)} d={tracks.join('')} />
      <path className="chosen-edge" transform={pathTransform(view)} d={members.map((member) => outlineText(plan, member)).join('')} />
      <rect className="several-frame" x={a.left - 6} y={a.top - 6} width={b.left - a.left + 12} height={b.top - a.top + 12} />
      <path className="several-frame" d={`M${at.left} ${at.top}V${a.top - 6}`} />
      <circle className="knob" data-kind="turn" cx={at.left} cy={at.top} r={6.5} />
    </g>
  )
}

function outlineText(plan: Plan, { table, id }: Member): string {
  switch (table) {
    case 'walls': {
      const wall = recordFind(plan, 'walls', id)
      return wall === null ? '' : polylineText(wall.points, wall.isClosed)
    }
    case 'benchworks':
    case 'obstacles':
    case 'hatches':
      return polylineText(recordFind(plan, table, id)?.outline ?? [], true)
    case 'joists': {
      const joist = recordFind(plan, 'joists', id)
      return joist === null ? '' : polylineText(joistRing(joist), true)
    }
    default:
      return ''
  }
}
