export { toolHostCreate, type ToolHost, type ToolView } from './host.ts'
export { toolsBring } from './toolbox.ts'
export { hatchUsual, joistUsual, openingUsual, portalUsual } from './room/usual.ts'
export { cornerPutIn } from './shared/cornerPutIn.ts'
export type { CornerRoom } from './shared/cornerRoom.ts'
export { endSet, jointAt, jointInLine, jointMove, type Joint } from './shared/joinedEnds.ts'
export { nextName } from './shared/names.ts'
export { joistRing, openingLeaf, openingOf, openingRings, openingSide, openingWord, portalSides, wallMiddle } from './shared/roomThings.ts'
export { benchworkRings, trackHandles, type TrackHandles } from './shared/handles.ts'
export { frameMiddle, severalFrame, turnKnobAt, withReadings } from './select/several.ts'
export { wholeStepMm } from './shared/snap.ts'
export type {
  EntryRefusal,
  Hint,
  MeasuredChange,
  Modifiers,
  SketchItem,
  SnapKind,
  ToolEvent,
  ToolOffer,
  ToolOption,
} from './types.ts'
