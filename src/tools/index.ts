export { toolHostCreate, type ToolHost, type ToolView } from './host.ts'
export { nextName } from './shared/names.ts'
export { benchworkRings, trackHandles, type TrackHandles } from './shared/handles.ts'
export type { EntryRefusal, Hint, MeasuredChange, Modifiers, SketchItem, SnapKind, ToolEvent, ToolOffer, ToolOption } from './types.ts'
