import type { ReactNode } from 'react'
import { useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { useCanvas, useTool } from './canvasContext.ts'

/** What helps to draw, whatever the stage: measure, lay a guide, choose by a frame. */
export function CornerTools(): ReactNode {
  const stores = useStores()
  const { host } = useCanvas()
  const isSightOpen = useDesk((desk) => desk.isSightOpen)
  const setDesk = useDesk((desk) => desk.set)
  const tool = useSession((session) => session.tool)
  const isFrame = useTool(({ offer }) => offer().kind === 'box')
  const take = (name: 'measure' | 'guide') => (): void => stores.session.getState().setTool(tool === name ? 'select' : name)
  return (
    <>
      <button
        type="button"
        title="Distance, angle, radius, along and between tracks"
        aria-pressed={tool === 'measure'}
        onClick={take('measure')}
      >
        Measure
      </button>
      <button type="button" title="A line to draw by, through two places" aria-pressed={tool === 'guide'} onClick={take('guide')}>
        Guide
      </button>
      <button
        type="button"
        title="Choose several by a frame (Shift and drag); Shift and click takes one more in"
        aria-pressed={isFrame}
        onClick={() => {
          stores.session.getState().setTool('select')
          setDesk({ isSightOpen: false })
          host.send(isFrame ? { kind: 'cancel' } : { kind: 'option', change: { kind: 'box' } })
        }}
      >
        Frame
      </button>
      <button
        type="button"
        title="What is in sight on the canvas"
        aria-expanded={isSightOpen}
        onClick={() => setDesk({ isSightOpen: !isSightOpen })}
      >
        In sight
      </button>
    </>
  )
}
