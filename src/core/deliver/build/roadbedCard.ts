import { boxOfPoints, pathMove, poseToPlan } from '../../geom/index.ts'
import type { Box, Point } from '../../geom/types.ts'
import type { RoadbedCard } from '../../turnout/index.ts'
import { chainOfRing } from '../chain.ts'
import { edgeAlong } from '../edge.ts'
import { freeSpaceOf, freeSpacePlace, freeSpaceTakeLine, type SheetRoom } from '../freeSpace.ts'
import type { FreeSpace } from '../freeSpace.ts'
import type { PlanDrawing } from '../drawing.ts'
import type { PlanItem } from '../planItem.ts'
import { textWidthMm } from '../text.ts'
import type { SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import type { BuiltWorkSet } from './builtWork.ts'
import { benchAngleWords, routeName } from './words.ts'

const titleMm = 3
const noteMm = 2.4
/** Words take so much of a card's length, and are no smaller than can be read. */
const cardShare = 0.85
const leastTextMm = 1.6
/** A point of an outline every so often along its longest sides; windows overlap by more. */
const contentStepMm = 2

/** Points that must be on some sheet: the outlines of all cards. */
export function roadbedContent({ pose, made }: BuiltWorkSet): readonly Point[] {
  return made.roadbed.flatMap(({ foot, top }) => [...ringPoints(foot), ...ringPoints(top)].map((p) => poseToPlan(pose, p)))
}

function ringPoints(ring: readonly Point[]): readonly Point[] {
  return ring.flatMap((a, i) => {
    const b = ring[(i + 1) % ring.length] ?? a
    const count = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / contentStepMm))
    return Array.from({ length: count }, (_, k) => ({ x: a.x + ((b.x - a.x) * k) / count, y: a.y + ((b.y - a.y) * k) / count }))
  })
}

/**
 * The cards of special work at full size: the edge of the top as a full line to cut along, that of the foot broken, the centrelines to lay
 * them by. Nothing else of the plan: a card is glued on and cut out.
 */
export function roadbedDrawing(work: BuiltWorkSet, near: Box, units: SheetOptions['units'], room: SheetRoom): PlanDrawing {
  const space = freeSpaceOf(near, room)
  const { pose, made, routes } = work
  const rings = made.roadbed.flatMap(({ top, foot }): readonly PlanItem[] => {
    const [edge, shoulder] = [top, foot].map((ring) => chainOfRing(ring.map((p) => poseToPlan(pose, p))))
    return [
      ...(shoulder ? [{ kind: 'stroke', layer: 'marks', role: 'tangent', chain: shoulder } as const] : []),
      ...(edge ? [{ kind: 'stroke', layer: 'marks', role: 'mark', chain: edge } as const] : []),
    ]
  })
  for (const { top } of made.roadbed) {
    top.forEach((a, i) => {
      const b = top[(i + 1) % top.length]
      if (b) freeSpaceTakeLine(space, poseToPlan(pose, a), poseToPlan(pose, b))
    })
  }
  const centrelines = routes.flatMap(({ centre }): readonly PlanItem[] => {
    const path = pathMove(centre, pose)
    const chain = edgeAlong(path, 0, path.lengthMm, 0)
    return chain ? [{ kind: 'stroke', layer: 'centreline', role: 'centreline', chain }] : []
  })
  const texts = made.roadbed.flatMap((card) => cardTexts(work, card, units, space))
  return { items: [...centrelines, ...rings, ...texts], space }
}

/** What a card is, written along it where there is room. */
function cardTexts({ pose, name }: BuiltWorkSet, card: RoadbedCard, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const box = boxOfPoints(card.top)
  if (!box) return []
  // Both edges are told from the near end to the far one and back: what lies between them at a share of the way is the middle of the card.
  const half = card.top.length / 2
  const middleAt = (share: number): { readonly at: Point; readonly rad: number } => {
    const at = (part: number): Point => {
      const pick = Math.min(half - 1, Math.max(0, Math.round(part * (half - 1))))
      const [a, b] = [card.top[pick] ?? { x: 0, y: 0 }, card.top[card.top.length - 1 - pick] ?? { x: 0, y: 0 }]
      return poseToPlan(pose, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 })
    }
    const [from, to] = [at(share - 0.1), at(share + 0.1)]
    const rad = Math.atan2(to.y - from.y, to.x - from.x)
    return { at: at(share), rad: Math.abs(rad) > Math.PI / 2 ? rad - Math.sign(rad) * Math.PI : rad }
  }
  const lines = [
    { text: `${name}, ${routeName(card.route)}`, sizeMm: titleMm, weight: 'bold' as const },
    {
      text:
        card.crotchRad === null
          ? `${lengthWords(card.taperMm, units)} long`
          : `taper ${lengthWords(card.taperMm, units)}, crotch ${benchAngleWords(card.crotchRad)}`,
      sizeMm: noteMm,
      weight: 'regular' as const,
    },
  ]
  const [near, far] = [middleAt(0).at, middleAt(1).at]
  const roomMm = cardShare * Math.hypot(far.x - near.x, far.y - near.y)
  return lines.flatMap(({ text, sizeMm: wishMm, weight }, line) => {
    const sizeMm = Math.max(leastTextMm, Math.min(wishMm, (wishMm * roomMm) / textWidthMm(text, wishMm)))
    const places = [0.7, 0.6, 0.8, 0.5].map((share) => {
      const { at, rad } = middleAt(share)
      const down = 2.4 - line * 5.4
      return { middle: { x: at.x - down * Math.sin(rad), y: at.y + down * Math.cos(rad) }, angleRad: rad, anchor: 'middle' as const }
    })
    return freeSpacePlace(space, { kind: 'text', layer: 'marks', text, sizeMm, weight, grey: 0 }, places, 'least-taken') ?? []
  })
}
