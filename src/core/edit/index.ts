export { editApply } from './apply.ts'
export { patchApply, patchEmpty, patchInvert, patchIsEmpty, patchSquash } from './patch.ts'
export { editRemoveCommand } from './remove.ts'
export type * from './types.ts'
