import type { Step, ToolEffect } from '../types.ts'

/* What every tool answers with. */

export const noHint: ToolEffect = { kind: 'hint', hint: null }
export const noHover: ToolEffect = { kind: 'hover', hover: null }
/** The tool is put down: the hand has what selects again. */
export const layDown: ToolEffect = { kind: 'setTool', tool: 'select' }

/** The tool goes on from this state; nothing else comes of it. */
export const stay = <S>(state: S): Step<S> => ({ state, effects: [] })
