import { planTracing } from '../../core/deliver/index.ts'
import { pipelineCreate } from '../../core/pipeline/index.ts'
import type { Derived } from '../../core/pipeline/types.ts'
import { dxfWrite } from '../../formats/dxf/write.ts'
import { ifcWrite } from '../../formats/line/ifcWrite.ts'
import { linesOut } from '../../formats/line/linesOut.ts'
import { landXmlWrite } from '../../formats/line/landXmlWrite.ts'
import type { LineOut } from '../../formats/line/types.ts'
import { traceSvg } from '../../formats/traceSvg.ts'
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

const usualToleranceMm = 0.01

type Written = { readonly text: string; readonly counts: Readonly<Record<string, number>> }
const writers: Readonly<Record<string, (derived: Derived, args: Args) => Written>> = {
  dxf: (derived, args) => {
    const items = planTracing(derived, toleranceOf(args))
    return { text: dxfWrite(items, unitOf(args)), counts: countsOf(items.map(({ layer }) => layer)) }
  },
  svg: (derived, args) => {
    const items = planTracing(derived, toleranceOf(args))
    return { text: traceSvg(derived.plan.railway.title, items), counts: countsOf(items.map(({ layer }) => layer)) }
  },
  landxml: (derived) => linesBy(derived, landXmlWrite),
  ifc: (derived) => linesBy(derived, ifcWrite),
}

export function exportRun(args: Args): Answer {
  const path = outPath(args)
  const to = args.values.get('to') ?? ''
  const write = Object.hasOwn(writers, to) ? writers[to] : undefined
  if (write === undefined) throw new BadInput(`--to ${to}: there is no such format. ${nearestHint(to, Object.keys(writers))}`)
  const plan = planFromFile(args.operand ?? '')
  const { text, counts } = write(pipelineCreate().derive(plan), args)
  if (Object.keys(counts).length === 0) throw new BadInput('There is nothing in the plan that such a file could hold.')
  return {
    json: { file: path, format: to, counts },
    text: [...Object.entries(counts).map(([what, count]) => `${String(count).padStart(6)}  ${what}`), `Written to ${path}.`].join('\n'),
    exitCode: 0,
    files: [{ path, bytes: new TextEncoder().encode(text) }],
  }
}

function toleranceOf(args: Args): number {
  return lengthOption(args, 'tolerance') ?? usualToleranceMm
}

function unitOf(args: Args): 'mm' | 'in' {
  const unit = args.values.get('unit') ?? 'mm'
  if (unit !== 'mm' && unit !== 'in') throw new BadInput(`--unit ${unit}: mm or in.`)
  return unit
}

function linesBy({ plan, network }: Derived, write: (title: string, lines: readonly LineOut[]) => string): Written {
  const lines = linesOut(network)
  return { text: write(plan.railway.title, lines), counts: lines.length === 0 ? {} : { alignment: lines.length } }
}

function countsOf(layers: readonly string[]): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {}
  for (const layer of layers) counts[layer] = (counts[layer] ?? 0) + 1
  return counts
}
