import { planTracing } from '../../core/deliver/index.ts'
import { pipelineCreate } from '../../core/pipeline/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { traceImage } from '../../formats/traceSvg.ts'

const widthPx = 220
/** Half a pixel of a room of 20 ft. */
const toleranceMm = 10

/** Address of a small picture of the plan; the caller gives it back (`URL.revokeObjectURL`). */
export function thumbMake(plan: Plan): string {
  const { svg } = traceImage(plan.railway.title, planTracing(pipelineCreate().derive(plan), toleranceMm), widthPx)
  return URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
}
