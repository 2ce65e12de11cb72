import { memo } from 'react'
import type { ReactNode } from 'react'
import { MM_PER_FOOT, MM_PER_INCH } from '../../core/units/index.ts'
import type { Prefs } from '../../store/types.ts'
import { usePrefs } from '../context.ts'
import { lengthText } from '../../words/measure.ts'
import { useLive, useView } from './canvasContext.ts'
import { planOfScreen, screenOfPlan, type View } from './viewport.ts'

/** Marks of a ruler: small ones, and large ones that carry a number. */
interface RulerStep {
  readonly smallMm: number
  readonly largeMm: number
}

const inch = MM_PER_INCH
const foot = MM_PER_FOOT
const imperial: readonly RulerStep[] = [
  { smallMm: inch / 16, largeMm: inch / 2 },
  { smallMm: inch / 8, largeMm: inch },
  { smallMm: inch / 4, largeMm: 2 * inch },
  { smallMm: inch, largeMm: 6 * inch },
  { smallMm: inch, largeMm: foot },
  { smallMm: 3 * inch, largeMm: foot },
  { smallMm: 6 * inch, largeMm: 2 * foot },
  { smallMm: foot, largeMm: 5 * foot },
  { smallMm: 5 * foot, largeMm: 20 * foot },
  { smallMm: 10 * foot, largeMm: 50 * foot },
]
const metric: readonly RulerStep[] = [
  { smallMm: 1, largeMm: 10 },
  { smallMm: 5, largeMm: 20 },
  { smallMm: 10, largeMm: 50 },
  { smallMm: 10, largeMm: 100 },
  { smallMm: 50, largeMm: 200 },
  { smallMm: 100, largeMm: 500 },
  { smallMm: 100, largeMm: 1000 },
  { smallMm: 500, largeMm: 2000 },
  { smallMm: 1000, largeMm: 10_000 },
]
/** Nearer than this, marks run together; numbers need more. px. */
const smallLeastPx = 6
const largeLeastPx = 74
/** Width of a figure at a mark, on the safe side, px. */
const figurePx = 6

/** The finest marks that can still be told apart. */
export function rulerStep(pxPerMm: number, units: Prefs['units']): RulerStep {
  const steps = units === 'imperial' ? imperial : metric
  const coarsest = steps.at(-1) ?? { smallMm: 1000, largeMm: 10_000 }
  return steps.find(({ smallMm, largeMm }) => smallMm * pxPerMm >= smallLeastPx && largeMm * pxPerMm >= largeLeastPx) ?? coarsest
}

/**
 * Rulers along the upper and the left edge, in the units of the person. While the drawing is pushed each goes along its own edge as a
 * picture; they are drawn a whole view farther on every side, and anew when that is used up.
 */
export const Rulers = memo(function Rulers(): ReactNode {
  const prefs = usePrefs((state) => state)
  const view = useView()
  const across = useLive(({ pan, size }) => Math.trunc((pan?.right ?? 0) / size.width))
  const along = useLive(({ pan, size }) => Math.trunc((pan?.down ?? 0) / size.height))
  const step = rulerStep(view.pxPerMm, prefs.units)
  const { width, height } = view.size
  const x = marks(view, step, 'x', -across * width)
  const y = marks(view, step, 'y', -along * height)
  return (
    <>
      <div className="plan-layer rulers pushed" data-goes="across">
        <svg className="plan-sheet" aria-hidden="true">
          <path className="ruler-small" d={x.small.map((px) => `M${px} 0v4`).join('')} />
          <path className="ruler-large" d={x.large.map(({ px }) => `M${px} 0v8`).join('')} />
          {x.large.map(({ px, mm }) => (
            <Figure key={mm} x={px + 4} y={13} words={lengthText(mm, prefs, 'room')} view={view} />
          ))}
        </svg>
      </div>
      <div className="plan-layer rulers pushed" data-goes="along">
        <svg className="plan-sheet" aria-hidden="true">
          <path className="ruler-small" d={y.small.map((px) => `M0 ${px}h4`).join('')} />
          <path className="ruler-large" d={y.large.map(({ px }) => `M0 ${px}h8`).join('')} />
          {y.large.map(({ px, mm }) => (
            <Figure key={mm} x={4} y={px - 4} words={lengthText(mm, prefs, 'room')} view={view} />
          ))}
        </svg>
      </div>
    </>
  )
})

/** One that the edge would cut is left out: its mark stands, and the one before has its number. */
function Figure({ x, y, words, view }: { readonly x: number; readonly y: number; readonly words: string; readonly view: View }): ReactNode {
  const isCut = x < view.size.width && x + words.length * figurePx >= view.size.width - 2
  return isCut ? null : (
    <text x={x} y={y}>
      {words}
    </text>
  )
}

/** Marks of the view and of one more on either side, moved by so many px. */
function marks(
  view: View,
  { smallMm, largeMm }: RulerStep,
  axis: 'x' | 'y',
  movedPx: number,
): { readonly small: readonly number[]; readonly large: readonly { readonly px: number; readonly mm: number }[] } {
  const { width, height } = view.size
  const from = planOfScreen(view, { left: movedPx - width, top: movedPx + 2 * height })
  const to = planOfScreen(view, { left: movedPx + 2 * width, top: movedPx - height })
  const [low, high] = axis === 'x' ? [from.x, to.x] : [from.y, to.y]
  const pxOf = (mm: number): number => {
    const { left, top } = screenOfPlan(view, { x: mm, y: mm })
    return Math.round((axis === 'x' ? left : top) * 10) / 10
  }
  const small: number[] = []
  const large: { px: number; mm: number }[] = []
  const every = Math.round(largeMm / smallMm)
  for (let n = Math.ceil(low / smallMm); n * smallMm <= high; n++) {
    const px = pxOf(n * smallMm)
    if (n % every !== 0) small.push(px)
    // The corner where the two rulers meet is left free.
    else if (px < 0 || px > 30) large.push({ px, mm: n * smallMm })
  }
  return { small, large }
}
