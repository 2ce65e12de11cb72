import { planTracing } from '../../core/deliver/index.ts'
import type { Derived } from '../../core/pipeline/types.ts'
import { traceImage } from '../../formats/traceSvg.ts'

/** Easements of a picture may leave their line by a tenth of a millimetre on the model: less than a pixel. */
const toleranceMm = 0.1

/** The plan as a PNG, drawn by the browser from our own SVG. Throws an Error with words for a person. */
export async function pictureMake(derived: Derived, widthPx: number): Promise<Blob> {
  const { svg, heightPx } = traceImage(derived.plan.railway.title, planTracing(derived, toleranceMm), widthPx)
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  try {
    const image = new Image()
    image.src = address
    await image.decode()
    const canvas = document.createElement('canvas')
    canvas.width = widthPx
    canvas.height = heightPx
    const context = canvas.getContext('2d')
    if (context === null) throw new Error('this browser gives no canvas to draw on.')
    context.drawImage(image, 0, 0, widthPx, heightPx)
    return await new Promise((resolve, reject) => {
      canvas.toBlob(
        (blob) => (blob === null ? reject(new Error('the picture is too large for this browser; choose a smaller width.')) : resolve(blob)),
        'image/png',
      )
    })
  } finally {
    URL.revokeObjectURL(address)
  }
}
