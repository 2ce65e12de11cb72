import { expose, transfer } from 'comlink'
import { sheetFontsFetched } from './fonts.browser.ts'
import { inlineEngine } from './inline.ts'
import { cutSolverFetched, linearSolverFetched } from './lp.browser.ts'
import type { Engine } from './protocol.ts'

const inline = inlineEngine({ fonts: sheetFontsFetched, linear: linearSolverFetched, cutting: cutSolverFetched })

/** The inline engine; the PDF's bytes are handed over instead of copied. */
const engine: Engine = {
  check: (plan) => inline.check(plan),
  sheets: async (plan, subject, options) => {
    const answer = await inline.sheets(plan, subject, options)
    return transfer(answer, [answer.pdf.buffer])
  },
  lists: async (request, options) => {
    const answer = await inline.lists(request, options)
    return transfer(answer, [answer.pdf.buffer])
  },
  fair: (plan, track, options, onProgress) => inline.fair(plan, track, options, onProgress),
  trace: (points, options, onProgress) => inline.trace(points, options, onProgress),
  cut: (request, seconds, onProgress) => inline.cut(request, seconds, onProgress),
  laying: (plan, seconds, onProgress) => inline.laying(plan, seconds, onProgress),
  dispose: () => inline.dispose(),
}

expose(engine)
