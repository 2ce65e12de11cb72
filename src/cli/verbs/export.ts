import { pipelineCreate } from '../../core/pipeline/index.ts'
import { exchangeKinds, exchangeToleranceMm, exchangeWrite } from '../../formats/exchange.ts'
import type { Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { nearestHint } from '../nearest.ts'
import { outPath } from '../outFile.ts'
import { planFromFile } from '../planFile.ts'
import { lengthOption } from '../values.ts'

export const exportSpec: VerbSpec = {
  name: 'export',
  about: 'a plan for other programs: DXF, SVG at true size, LandXML or IFC alignments',
  operand: 'PLAN',
  options: {
    to: { value: 'dxf', about: 'dxf, svg, landxml or ifc', isRequired: true },
    unit: { value: 'mm', about: 'of a DXF: mm or in; mm when left out' },
    tolerance: { value: '0.01mm', about: 'of easements, which DXF and SVG know as chains of points; 0.01 mm when left out' },
    out: { value: 'plan.dxf', about: 'the file to write', isRequired: true },
  },
  example: 'waybench export plan.json --to dxf --out plan.dxf',
}

export function exportRun(args: Args): Answer {
  const path = outPath(args)
  const to = args.values.get('to') ?? ''
  const kind = exchangeKinds.find((known) => known === to)
  if (to === 'stl' || to === '3mf')
    throw new BadInput(`--to ${to}: a plan is no solid; a jig is: waybench jig PLAN --kind ties --to ${to} --out jig.${to}.`)
  if (kind === undefined) throw new BadInput(`--to ${to}: there is no such format. ${nearestHint(to, exchangeKinds)}`)
  const options = { unit: unitOf(args), toleranceMm: lengthOption(args, 'tolerance') ?? exchangeToleranceMm }
  const plan = planFromFile(args.operand ?? '')
  const { text, counts } = exchangeWrite(kind, pipelineCreate().derive(plan), options)
  if (Object.keys(counts).length === 0) throw new BadInput('There is nothing in the plan that such a file could hold.')
  return {
    json: { file: path, format: to, counts },
    text: [...Object.entries(counts).map(([what, count]) => `${String(count).padStart(6)}  ${what}`), `Written to ${path}.`].join('\n'),
    exitCode: 0,
    files: [{ path, bytes: new TextEncoder().encode(text) }],
  }
}

function unitOf(args: Args): 'mm' | 'in' {
  const unit = args.values.get('unit') ?? 'mm'
  if (unit !== 'mm' && unit !== 'in') throw new BadInput(`--unit ${unit}: mm or in.`)
  return unit
}
