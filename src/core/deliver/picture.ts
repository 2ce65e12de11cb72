import { boxGrow, boxOfPoints, pathMove } from '../geom/index.ts'
import type { Path, Point, Pose } from '../geom/types.ts'
import { tieCorners, workInPlan } from '../track/index.ts'
import type { Rail, Tie } from '../track/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import { edgeAlong } from './edge.ts'
import { gapItems } from './gapItems.ts'
import { itemsOnPage, laidItems } from './laidItem.ts'
import { planLine, type PlanItem } from './planItem.ts'
import { railItems, tieItem } from './railItems.ts'
import type { Sheet } from './types.ts'

/** White round a picture, mm. */
const marginMm = 6
/** Arms of the cross on a theoretical frog point, mm. */
const crossMm = 1.2

const atOrigin: Pose = { x: 0, y: 0, headingRad: 0 }

/** What a picture of special work is drawn from: any turnout or crossing. */
export interface PictureSubject extends Pick<TurnoutGeometry, 'rails' | 'ties' | 'gaps' | 'frogs'> {
  readonly routes: readonly { readonly centre: Path }[]
}

/** What a picture of tracks as they lie in the plan is drawn from. */
export interface TrackPictureSubject extends Pick<TurnoutGeometry, 'gaps'> {
  readonly rails: readonly Rail[]
  readonly ties: readonly Tie[]
  /** Centrelines of the routes. */
  readonly centres: readonly Path[]
  readonly frogs: readonly Pose[]
}

/**
 * A turnout or crossing as one full-size page that is as large as it needs: ties, rails with foot, head and gauge line, centrelines of
 * the routes, theoretical frog points, gaps. No words; titles are for whoever shows it.
 *
 * Units:      mm; the page's y is the turnout's own, moved.
 * Outcome:    a sheet without title block and join. Never throws.
 */
export function workPicture(subject: PictureSubject, title: string): Sheet {
  const centres = subject.routes.map(({ centre }) => pathMove(centre, atOrigin))
  const frogs = subject.frogs.map(({ at: { x, y }, headingRad }) => ({ x, y, headingRad }))
  return trackPicture({ ...workInPlan(subject, atOrigin), centres, frogs }, title)
}

/** The same of several pieces of special work with the track between them; the page's y is the plan's, moved. */
export function trackPicture({ rails, ties, gaps, centres, frogs }: TrackPictureSubject, title: string): Sheet {
  const items: PlanItem[] = [
    ...ties.flatMap((tie) => tieItem(tie) ?? []),
    ...rails.flatMap(railItems),
    ...centres.flatMap((centre): readonly PlanItem[] => {
      const chain = edgeAlong(centre, 0, centre.lengthMm, 0)
      return chain ? [{ kind: 'stroke', layer: 'centreline', role: 'centreline', chain }] : []
    }),
    ...frogs.flatMap((frog) => crossAt(frog, frog.headingRad)),
    ...gapItems({ gaps, rails }),
  ]
  const laid = laidItems(items, 0)
  const box = boxOfPoints([
    ...ties.flatMap(tieCorners),
    ...laid.flatMap(({ box: { minX, minY, maxX, maxY } }) => [
      { x: minX, y: minY },
      { x: maxX, y: maxY },
    ]),
  ]) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  const window = boxGrow(box, marginMm)
  const place = (p: Point): Point => ({ x: p.x - window.minX, y: p.y - window.minY })
  const [widthMm, heightMm] = [window.maxX - window.minX, window.maxY - window.minY]
  return {
    kind: 'full-size',
    name: title,
    title,
    paper: { name: title, widthMm, heightMm },
    window: { minX: 0, minY: 0, maxX: widthMm, maxY: heightMm },
    toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: -window.minX, y: -window.minY }, scaleX: 1, scaleY: 1 },
    items: laid.flatMap((item) => itemsOnPage(item, window, place)),
  }
}

function crossAt({ x, y }: Point, headingRad: number): readonly PlanItem[] {
  return [headingRad, headingRad + Math.PI / 2].map((angle) => {
    const [dx, dy] = [crossMm * Math.cos(angle), crossMm * Math.sin(angle)]
    return planLine('points', 'mark', { x: x - dx, y: y - dy }, { x: x + dx, y: y + dy })
  })
}
