import type { Engine } from '../engine/protocol.ts'

/**
 * The engine in this process, with the sheets' fonts from the installed package. Loaded when it is needed: with what draws
 * PDF it is ten times the rest, and most verbs start faster without.
 */
export async function planEngine(): Promise<Engine> {
  const [{ inlineEngine }, { sheetFontsRead }, { cutSolverRead, linearSolverRead }, { solidsRead }] = await Promise.all([
    import('../engine/inline.ts'),
    import('../engine/fonts.node.ts'),
    import('../engine/lp.node.ts'),
    import('../engine/solids.node.ts'),
  ])
  return inlineEngine({ fonts: sheetFontsRead, linear: linearSolverRead, cutting: cutSolverRead, solids: solidsRead })
}
