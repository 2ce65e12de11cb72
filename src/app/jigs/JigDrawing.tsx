import { useId } from 'react'
import type { ReactNode } from 'react'
import { pointAdd, pointDistance, pointLeft, pointLerp, pointScale, pointSubtract } from '../../core/geom/index.ts'
import type { Box, Point } from '../../core/geom/index.ts'
import type { Jig, JigDimension, Prism } from '../../core/jigs/index.ts'
import { jigDimensionText } from '../../words/jigText.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { usePrefs } from '../context.ts'

/** The drawing is so wide on the page, in its own units of text: 12 of them are a line. */
const widthPx = 640
const textPx = 12
const marginPx = 46
/** On the right stands what is measured across. */
const rightPx = 78
/** A radius is drawn so long from its curve. */
const radiusPx = 70
const tickPx = 4

/** A jig from above, with what is cut through, sunk from above, or hidden below; the seams of its pieces; and its measures. */
export function JigDrawing({ jig }: { readonly jig: Jig }): ReactNode {
  const prefs = usePrefs((state) => state)
  const clip = useId()
  const { body, box, seams, heightMm } = jig
  const mmPerPx = (box.maxX - box.minX) / (widthPx - marginPx - rightPx)
  const heightPx = (box.maxY - box.minY) / mmPerPx + 2 * marginPx
  const place = placer(box, mmPerPx)
  const path = (points: readonly Point[]): string => `M${points.map((point) => coordinates(place(point))).join('L')}`
  const adds = body.adds.map((prism) => `${path(footprint(prism))}Z`).join('')
  return (
    <svg
      className="jig-drawing"
      viewBox={`0 0 ${widthPx} ${heightPx.toFixed(1)}`}
      role="img"
      aria-label="The jig from above, with its measures"
    >
      <clipPath id={clip}>
        <path d={adds} />
      </clipPath>
      <path className="jig-edge" d={adds} />
      <path className="jig-body" d={adds} />
      <g clipPath={`url(#${clip})`}>
        {body.adds
          .filter(({ axis }) => axis === 'x')
          .map((prism) => (
            <path key={`${prism.fromMm}`} className="jig-fold" d={foldLines(prism).map(path).join('')} />
          ))}
        {body.cuts.map((prism) => {
          const d = `${path(footprint(prism))}Z`
          return <path key={d} className={cutLook(prism, heightMm)} d={d} />
        })}
      </g>
      {seams.map((seam) => (
        <path key={path(seam)} className="jig-seam" d={path(seam)} />
      ))}
      {jig.dimensions.map((dimension) => (
        <Measure key={JSON.stringify(dimension)} dimension={dimension} place={place} prefs={prefs} />
      ))}
    </svg>
  )
}

type Place = (point: Point) => Point

/** Plan to picture: y down, the margin round it. */
function placer({ minX, maxY }: Box, mmPerPx: number): Place {
  return ({ x, y }) => ({ x: (x - minX) / mmPerPx + marginPx, y: (maxY - y) / mmPerPx + marginPx })
}

const coordinates = ({ x, y }: Point): string => `${x.toFixed(2)} ${y.toFixed(2)}`

/** What a prism covers as seen from above. */
function footprint({ axis, polygon, fromMm, toMm }: Prism): readonly Point[] {
  if (axis === 'z') return polygon.outline
  const across = polygon.outline.map(({ x }) => x)
  const [least, most] = [Math.min(...across), Math.max(...across)]
  return [
    { x: fromMm, y: least },
    { x: toMm, y: least },
    { x: toMm, y: most },
    { x: fromMm, y: most },
  ]
}

/** The edges along a prism that stands across. */
function foldLines({ polygon, fromMm, toMm }: Prism): readonly (readonly Point[])[] {
  return polygon.outline.map(({ x }) => [
    { x: fromMm, y: x },
    { x: toMm, y: x },
  ])
}

function cutLook({ fromMm, toMm }: Prism, heightMm: number): string {
  if (fromMm > 0) return 'jig-sunk'
  return toMm > heightMm ? 'jig-through' : 'jig-hidden'
}

function Measure(props: { readonly dimension: JigDimension; readonly place: Place; readonly prefs: MeasurePrefs }): ReactNode {
  const { dimension, place, prefs } = props
  const text = jigDimensionText(dimension, prefs)
  const [from, to] = [place(dimension.from), place(dimension.to)]
  const along = pointScale(pointSubtract(to, from), 1 / Math.max(pointDistance(from, to), 1e-9))
  // The picture's y runs down, and so its left is the plan's right.
  const aside = pointScale(pointLeft(along), (-dimension.aside * textPx) / 6)
  switch (dimension.kind) {
    case 'length': {
      const [a, b] = [pointAdd(from, aside), pointAdd(to, aside)]
      const tick = (at: Point): string => {
        const across = pointScale(pointLeft(along), tickPx)
        return `M${coordinates(pointAdd(at, across))}L${coordinates(pointSubtract(at, across))}`
      }
      const isShort = pointDistance(a, b) < text.length * textPx * 0.6
      return (
        <g className="jig-measure">
          <path d={`M${coordinates(from)}L${coordinates(a)}M${coordinates(to)}L${coordinates(b)}`} className="jig-witness" />
          <path d={`M${coordinates(a)}L${coordinates(b)}${tick(a)}${tick(b)}`} />
          <MeasureText from={a} to={b} along={along} isShort={isShort} text={text} />
        </g>
      )
    }
    case 'radius': {
      const end = pointAdd(from, pointScale(along, Math.min(radiusPx, pointDistance(from, to))))
      return (
        <g className="jig-measure">
          <path d={`M${coordinates(from)}L${coordinates(end)}`} />
          <circle cx={from.x} cy={from.y} r={2} />
          <text x={end.x} y={end.y - 4} textAnchor="middle" fontSize={textPx}>
            {text}
          </text>
        </g>
      )
    }
    case 'angle':
      return (
        <g className="jig-measure">
          <circle cx={from.x} cy={from.y} r={2} />
          <text
            x={from.x}
            y={from.y + (dimension.to.y > dimension.from.y + 1e-9 || from.y < marginPx * 1.5 ? -6 : textPx + 4)}
            textAnchor="middle"
            fontSize={textPx}
          >
            {text}
          </text>
        </g>
      )
  }
}

/** Along its line, never upside down; what does not fit between its ticks stands level beside them. */
function MeasureText(props: {
  readonly from: Point
  readonly to: Point
  readonly along: Point
  readonly isShort: boolean
  readonly text: string
}): ReactNode {
  const { from, to, along, isShort, text } = props
  const middle = pointLerp(from, to, 0.5)
  if (isShort) {
    const at = Math.abs(along.x) > Math.abs(along.y) ? { x: Math.max(from.x, to.x), y: middle.y } : middle
    return (
      <text x={at.x + textPx / 2} y={at.y + textPx / 3} fontSize={textPx}>
        {text}
      </text>
    )
  }
  const turn = (Math.atan2(along.y, along.x) * 180) / Math.PI
  const readable = turn > 90 ? turn - 180 : turn <= -90 ? turn + 180 : turn
  return (
    <text transform={`translate(${coordinates(middle)}) rotate(${readable.toFixed(2)})`} y={-4} textAnchor="middle" fontSize={textPx}>
      {text}
    </text>
  )
}
