import { editApply, patchApply } from '../../core/edit/index.ts'
import type { PlanCommand } from '../../core/edit/index.ts'
import { planEmpty } from '../../core/plan/index.ts'
import type { Id, Plan } from '../../core/plan/index.ts'
import { numberParse } from '../../core/units/index.ts'
import { outlinesTakeIn, outlineUses, type OutlineUse } from '../../formats/intake/outlines.ts'
import { drawingUnits, foreignMostBytes, foreignRead, type ForeignRead } from '../../formats/intake/read.ts'
import { linesTakeIn } from '../../formats/intake/tracks.ts'
import type { LineFileResult } from '../../formats/line/types.ts'
import { planWrite } from '../../formats/planjson.ts'
import { drawingProblemText, lineFileProblemText, lineLeftOutText, outlinesLeftOutTexts } from '../../words/exchangeText.ts'
import { pointFaultText } from '../../words/pointsText.ts'
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
  about:
    'lines of a LandXML or IFC file as tracks; outlines of a DXF or SVG, or a list of points, as benchwork, walls, obstacles or tracks',
  operand: 'FILE',
  options: {
    into: { value: 'plan.json', about: 'the plan to add to; a new one when left out' },
    as: {
      value: 'benchwork',
      about: 'what outlines become: benchwork, wall, obstacle, or track with its corners there; benchwork when left out',
    },
    layer: { value: 'ROOM', about: 'of a DXF or SVG only this layer' },
    unit: { value: 'in', about: 'of a drawing that does not say: mm, cm, m, in, ft or px' },
    scale: { value: '87.1', about: 'the file is so many times as large as the model; 1 when left out' },
    class: { value: 'main', about: 'line class of the tracks; the first one when left out' },
    out: { value: 'new.json', about: 'the plan file to write', isRequired: true },
  },
  example: 'waybench import room.dxf --as benchwork --unit in --out plan.json',
}

export function importRun(args: Args): Answer {
  const path = outPath(args)
  const file = args.operand ?? ''
  const text = textFromFile(file, foreignMostBytes, 'drawing')
  const into = args.values.get('into')
  const plan = into === undefined ? planEmpty() : planFromFile(into)
  const by = 1 / scaleOf(args)
  const read = foreignRead(text, file)
  const { commands, notes } = read.kind === 'lines' ? linesOf(args, plan, read.result, by, file) : outlinesOf(args, plan, read, by, file)
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
  const { commands, refused } = linesTakeIn(read.lines, lineClassOf(args, plan), by)
  return { commands, notes: refused.map((line) => lineLeftOutText(line, inBoth)) }
}

function lineClassOf(args: Args, plan: Plan): Id {
  const typed = args.values.get('class')
  const lineClass = typed === undefined ? Object.keys(plan.lineClasses)[0] : lineClassChosen(plan, typed).id
  if (lineClass === undefined) throw new BadInput('The plan has no line class that a track could be of.')
  return lineClass
}

type OutlinesRead = Extract<ForeignRead, { kind: 'outlines' }>

function outlinesOf(args: Args, plan: Plan, { result: read, faults }: OutlinesRead, by: number, file: string): Taken {
  // A list with a line that is no point would make another outline; nothing is left out of it unasked.
  const [fault] = faults
  if (fault !== undefined) throw new BadInput(`${file}: ${pointFaultText(fault)}`)
  if (!read.ok) throw new BadInput(`${file}: ${drawingProblemText(read.problem)}`)
  const mm = unitTyped(args) ?? read.unitMm
  if (mm === null) throw new BadInput(`${file}: the drawing does not say in what unit it measures. Give --unit mm, cm, m, in, ft or px.`)
  const layer = args.values.get('layer')
  const layers = [...new Set(read.outlines.map((outline) => outline.layer))]
  if (layer !== undefined && !layers.includes(layer))
    throw new BadInput(`--layer ${layer}: the drawing has no such layer with outlines. It has ${layers.join(', ')}.`)
  const { commands, open } = outlinesTakeIn(
    read.outlines.filter((outline) => layer === undefined || outline.layer === layer),
    mm * by,
    outlineUse(args, plan),
  )
  return { commands, notes: outlinesLeftOutTexts(open, read.leftOut) }
}

function outlineUse(args: Args, plan: Plan): OutlineUse {
  const typed = args.values.get('as') ?? 'benchwork'
  const use = outlineUses.find((known) => known === typed)
  if (use === undefined) throw new BadInput(`--as ${typed}: benchwork, wall, obstacle or track.`)
  return use === 'track' ? { kind: use, lineClass: lineClassOf(args, plan) } : { kind: use }
}

function unitTyped(args: Args): number | null {
  const unit = args.values.get('unit')
  if (unit === undefined) return null
  const mm = drawingUnits.find((known) => known.unit === unit)?.mm
  if (mm === undefined) throw new BadInput(`--unit ${unit}: mm, cm, m, in, ft or px.`)
  return mm
}

function scaleOf(args: Args): number {
  const typed = args.values.get('scale')
  if (typed === undefined) return 1
  const read = numberParse(typed)
  if (!read.ok || !(read.value > 0)) throw new BadInput(`--scale ${typed}: a number above zero, such as 87.1.`)
  return read.value
}
