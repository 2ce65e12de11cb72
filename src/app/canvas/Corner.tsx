import { memo } from 'react'
import type { ReactNode } from 'react'
import { usePrefs, useStores } from '../context.ts'
import { lengthText } from '../../words/measure.ts'
import { useCanvas, useView } from './canvasContext.ts'
import { CornerTools } from './CornerTools.tsx'
import { rulerStep } from './Rulers.tsx'
import { viewZoomAtMiddle, viewWhole } from './viewActs.ts'

/** Lower right corner of the canvas: how long a known length is on the screen, and nearer, farther, whole. */
export const Corner = memo(function Corner(): ReactNode {
  const stores = useStores()
  const { live } = useCanvas()
  const prefs = usePrefs((state) => state)
  const { pxPerMm } = useView()
  const { largeMm } = rulerStep(pxPerMm, prefs.units)
  const width = largeMm * pxPerMm
  return (
    <div className="canvas-corner" data-own-pointer="">
      <svg className="scale-bar" width={width + 2} height={22} aria-label={`Scale bar: ${lengthText(largeMm, prefs, 'room')}`} role="img">
        <path d={`M1 14v6h${width}v-6`} />
        <text x={width / 2} y={14} textAnchor="middle">
          {lengthText(largeMm, prefs, 'room')}
        </text>
      </svg>
      <CornerTools />
      <button type="button" title="Farther (−)" aria-label="Farther" onClick={() => viewZoomAtMiddle(stores, live, 1 / 1.4)}>
        −
      </button>
      <button type="button" title="Nearer (+)" aria-label="Nearer" onClick={() => viewZoomAtMiddle(stores, live, 1.4)}>
        +
      </button>
      <button type="button" title="Show the whole plan (0)" onClick={() => viewWhole(stores, live)}>
        Whole
      </button>
    </div>
  )
})
