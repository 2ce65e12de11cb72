import { editApply } from '../core/edit/index.ts'
import { editLabel } from '../words/editLabel.ts'

/** What makes a patch of a command, and calls it by its name. */
export const editing = { patchOf: editApply, labelOf: editLabel }
