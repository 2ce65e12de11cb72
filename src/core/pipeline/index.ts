export { pipelineCreate } from './pipeline.ts'
export type { Pipeline } from './pipeline.ts'
export type * from './types.ts'
