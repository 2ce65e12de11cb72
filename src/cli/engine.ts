import { sheetFontsRead } from '../engine/fonts.node.ts'
import { inlineEngine } from '../engine/inline.ts'
import type { Engine } from '../engine/protocol.ts'

/** The engine in this process, with the sheets' fonts from the installed package. */
export function planEngine(): Engine {
  return inlineEngine({ fonts: sheetFontsRead })
}
