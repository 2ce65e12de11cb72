import type { ReactNode } from 'react'
import { linePoseAt } from '../../core/rails/index.ts'
import { poseOffset } from '../../core/geom/index.ts'
import type { JointRule, RailLine } from '../../core/rails/types.ts'
import { jointRuleText } from '../../words/jointText.ts'
import { isShown, Label } from './markParts.tsx'
import { pathText, pathTransform } from './svgPath.ts'
import { screenOfPlan } from './viewport.ts'
import type { View } from './viewport.ts'

/** A zone's word wants this much of it, px. */
const wordPx = 26
const besidePx = 16

/** Where no joint may stand along a rail, each stretch with what forbids it. */
export function JointZones({ line, view }: { readonly line: RailLine; readonly view: View }): ReactNode {
  const stretches = stretchesOf(line)
  const text = stretches.map(({ fromMm, toMm }) => pathText(line.path, fromMm, toMm)).join('')
  return (
    <g className="joint-zones">
      <path className="joint-zone" transform={pathTransform(view)} d={text} />
      {stretches.map(({ rules, fromMm, toMm }) => {
        if ((toMm - fromMm) * view.pxPerMm < wordPx) return null
        const pose = linePoseAt(line, (fromMm + toMm) / 2)
        const [on, at] = [0, besidePx].map((px) => screenOfPlan(view, poseOffset(pose, (line.headSide * px) / view.pxPerMm)))
        if (on === undefined || at === undefined || !isShown(at, view)) return null
        const anchor = at.left > on.left + 8 ? 'start' : at.left < on.left - 8 ? 'end' : 'middle'
        return (
          <Label key={fromMm} at={{ left: at.left, top: at.top + 4 }} anchor={anchor} tone="hand">
            {rules.map(jointRuleText).join(', ')}
          </Label>
        )
      })}
    </g>
  )
}

interface Stretch {
  readonly rules: readonly JointRule[]
  readonly fromMm: number
  readonly toMm: number
}

/** Zones that lie over each other, as one. */
function stretchesOf({ zones }: RailLine): readonly Stretch[] {
  const found: Stretch[] = []
  for (const { rule, fromMm, toMm } of zones.toSorted((a, b) => a.fromMm - b.fromMm)) {
    const last = found.at(-1)
    if (last !== undefined && fromMm <= last.toMm)
      found[found.length - 1] = { rules: [...new Set([...last.rules, rule])], fromMm: last.fromMm, toMm: Math.max(last.toMm, toMm) }
    else found.push({ rules: [rule], fromMm, toMm })
  }
  return found
}
