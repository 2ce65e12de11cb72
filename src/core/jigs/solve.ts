import { boxOfPoints } from '../geom/index.ts'
import { curveTemplate } from './kinds/curve.ts'
import { filingFixture } from './kinds/filing.ts'
import { midOrdinateStick } from './kinds/midOrdinate.ts'
import { riserBlock } from './kinds/riser.ts'
import { roadbedGuide } from './kinds/roadbed.ts'
import { tieSpacingJig } from './kinds/tieSpacing.ts'
import { trackSpacingGauge } from './kinds/trackSpacing.ts'
import { outside } from './limits.ts'
import { printerProblems } from './printer.ts'
import { piecesOf } from './seams.ts'
import { band } from './outlines.ts'
import type { JigKind, JigRequest, JigResult, Printer, WholeResult } from './types.ts'

export const jigKinds = [
  'tieSpacing',
  'curve',
  'trackSpacing',
  'filing',
  'roadbed',
  'riser',
  'midOrdinate',
] as const satisfies readonly JigKind[]

/**
 * A jig in pieces that fit the printer, as a description: what is added and what is cut, drawn out straight, all dimensions true but for the
 * allowances.
 *
 * Domain:     values within the bounds that the problems name.
 * Outcome:    the jig, or every value that will not do and the ones that would.
 */
export function jigSolve(request: JigRequest, printer: Printer): JigResult {
  const problems = printerProblems(printer)
  if (problems.length > 0) return { ok: false, problems }
  const built = wholeOf(request, printer)
  if (!built.ok) return built
  const { seamRules, ...whole } = built.whole
  const tooHigh = outside('bedZMm', printer.bedZMm, whole.heightMm, null, 'height')
  if (tooHigh.length > 0) return { ok: false, problems: tooHigh }
  const cut = piecesOf(seamRules, printer)
  if (!cut.ok) return { ok: false, problems: [cut.problem] }
  const { pieces, seams } = cut
  const box = boxOfPoints(band(seamRules.spine, seamRules.leftMm, seamRules.rightMm)) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  const facts =
    pieces.length === 1 ? whole.facts : [...whole.facts, { name: 'pieces' as const, kind: 'count' as const, value: pieces.length }]
  return { ok: true, jig: { ...whole, facts, pieces, seams, box } }
}

function wholeOf(request: JigRequest, printer: Printer): WholeResult {
  switch (request.kind) {
    case 'tieSpacing':
      return tieSpacingJig(request.values, printer)
    case 'curve':
      return curveTemplate(request.values, printer)
    case 'trackSpacing':
      return trackSpacingGauge(request.values, printer)
    case 'filing':
      return filingFixture(request.values, printer)
    case 'roadbed':
      return roadbedGuide(request.values)
    case 'riser':
      return riserBlock(request.values)
    case 'midOrdinate':
      return midOrdinateStick(request.values)
  }
}
