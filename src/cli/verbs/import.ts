import { editApply, patchApply } from '../../core/edit/index.ts'
import type { PlanCommand } from '../../core/edit/index.ts'
import { planEmpty } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/index.ts'
import { numberParse } from '../../core/units/index.ts'
import type { DxfResult } from '../../formats/dxf/read.ts'
import { outlinesTakeIn, type OutlineUse } from '../../formats/intake/outlines.ts'
import { drawingUnits, foreignRead } from '../../formats/intake/read.ts'
import { linesTakeIn } from '../../formats/intake/tracks.ts'
import type { LineFileResult } from '../../formats/line/types.ts'
import { planSizeLimit, planWrite } from '../../formats/planjson.ts'
import { dxfProblemText, lineFileProblemText, lineLeftOutText, outlinesLeftOutTexts } from '../../words/exchangeText.ts'
import { editProblemText } from '../../words/problemText.ts'
import { inBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { outPath } from '../outFile.ts'
import { planFromFile } from '../planFile.ts'
import { lineClassChosen } from '../records.ts'
import { textFromFile } from '../textFile.ts'

export const importSpec: VerbSpec = {
  name: 'import',
  about: 'lines of a LandXML or IFC file as tracks, outlines of a DXF as benchwork, walls or obstacles',
  operand: 'FILE',
  options: {
    into: { value: 'plan.json', about: 'the plan to add to; a new one when left out' },
    as: { value: 'benchwork', about: 'what outlines become: benchwork, wall or obstacle; benchwork when left out' },
    layer: { value: 'ROOM', about: 'of a DXF only this layer' },
    unit: { value: 'in', about: 'of a DXF that does not say: mm, cm, m, in or ft' },
    scale: { value: '87.1', about: 'the file is so many times as large as the model; 1 when left out' },
    class: { value: 'main', about: 'line class of the tracks; the first one when left out' },
    out: { value: 'new.json', about: 'the plan file to write', isRequired: true },
  },
  example: 'waybench import room.dxf --as benchwork --unit in --out plan.json',
}

export function importRun(args: Args): Answer {
  const path = outPath(args)
  const file = args.operand ?? ''
  const text = textFromFile(file, planSizeLimit, 'file')
  const into = args.values.get('into')
  const plan = into === undefined ? planEmpty() : planFromFile(into)
  const by = 1 / scaleOf(args)
  const read = foreignRead(text)
  const { commands, notes } = read.kind === 'lines' ? linesOf(args, plan, read.result, by, file) : outlinesOf(args, read.result, by, file)
  if (commands.length === 0) throw new BadInput([`${file}: nothing in it can be taken in.`, ...notes].join('\n'))
  const after = commands.reduce((at, command) => {
    const result = editApply(at, command)
    if (!result.ok) throw new BadInput(`${file}: ${editProblemText(result.problem, at)}`)
    return patchApply(at, result.patch)
  }, plan)
  const added = commands.map((command) => ('record' in command && 'name' in command.record ? command.record.name : ''))
  return {
    json: { file: path, added, notes },
    text: [...added.map((name) => `Added ${name}`), ...notes, `Written to ${path}.`].join('\n'),
    exitCode: 0,
    files: [{ path, bytes: new TextEncoder().encode(planWrite(after)) }],
  }
}

interface Taken {
  readonly commands: readonly PlanCommand[]
  readonly notes: readonly string[]
}

function linesOf(args: Args, plan: Plan, read: LineFileResult, by: number, file: string): Taken {
  if (!read.ok) throw new BadInput(`${file}: ${lineFileProblemText(read.problem)}`)
  const typed = args.values.get('class')
  const lineClass = typed === undefined ? Object.keys(plan.lineClasses)[0] : lineClassChosen(plan, typed).id
  if (lineClass === undefined) throw new BadInput('The plan has no line class that a track could be of.')
  const { commands, refused } = linesTakeIn(read.lines, lineClass, by)
  return { commands, notes: refused.map((line) => lineLeftOutText(line, inBoth)) }
}

function outlinesOf(args: Args, read: DxfResult, by: number, file: string): Taken {
  if (!read.ok) throw new BadInput(`${file}: ${dxfProblemText(read.problem)}`)
  const mm = unitTyped(args) ?? read.unitMm
  if (mm === null) throw new BadInput(`${file}: the drawing does not say in what unit it measures. Give --unit mm, cm, m, in or ft.`)
  const layer = args.values.get('layer')
  const layers = [...new Set(read.outlines.map((outline) => outline.layer))]
  if (layer !== undefined && !layers.includes(layer))
    throw new BadInput(`--layer ${layer}: the drawing has no such layer with outlines. It has ${layers.join(', ')}.`)
  const { commands, open } = outlinesTakeIn(
    read.outlines.filter((outline) => layer === undefined || outline.layer === layer),
    mm * by,
    outlineUse(args),
  )
  return { commands, notes: outlinesLeftOutTexts(open, read.leftOut) }
}

function outlineUse(args: Args): OutlineUse {
  const use = args.values.get('as') ?? 'benchwork'
  if (use !== 'benchwork' && use !== 'wall' && use !== 'obstacle') throw new BadInput(`--as ${use}: benchwork, wall or obstacle.`)
  return use
}

function unitTyped(args: Args): number | null {
  const unit = args.values.get('unit')
  if (unit === undefined) return null
  const mm = drawingUnits.find((known) => known.unit === unit)?.mm
  if (mm === undefined) throw new BadInput(`--unit ${unit}: mm, cm, m, in or ft.`)
  return mm
}

function scaleOf(args: Args): number {
  const typed = args.values.get('scale')
  if (typed === undefined) return 1
  const read = numberParse(typed)
  if (!read.ok || !(read.value > 0)) throw new BadInput(`--scale ${typed}: a number above zero, such as 87.1.`)
  return read.value
}
