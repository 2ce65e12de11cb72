import { expose, transfer } from 'comlink'
import { sheetFontsFetched } from './fonts.browser.ts'
import { inlineEngine } from './inline.ts'
import { cutSolverFetched, linearSolverFetched } from './lp.browser.ts'
import type { Engine } from './protocol.ts'
import { solidsFetched } from './solids.browser.ts'

const inline = inlineEngine({ fonts: sheetFontsFetched, linear: linearSolverFetched, cutting: cutSolverFetched, solids: solidsFetched })

/** The inline engine; a PDF's bytes and a solid's corners are handed over instead of copied. */
const engine: Engine = {
  check: (plan) => inline.check(plan),
  report: (plan, findings) => inline.report(plan, findings),
  sheets: async (plan, subject, options, onProgress) => {
    const answer = await inline.sheets(plan, subject, options, onProgress)
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
  solids: async (jig) => {
    const pieces = await inline.solids(jig)
    return transfer(
      [...pieces],
      pieces.flatMap(({ mesh }) => [mesh.corners.buffer, mesh.triangles.buffer]),
    )
  },
  dispose: () => inline.dispose(),
}

expose(engine)
