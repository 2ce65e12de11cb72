import { benchSheetNames, layerChoices, layersUnusual, USUAL_MARGIN_MM, USUAL_OVERLAP_MM } from '../../core/deliver/index.ts'
import type { LayerChoice, SheetLook, SheetOptions, SheetSubject } from '../../core/deliver/types.ts'
import type { Plan } from '../../core/plan/index.ts'
import { numberParse } from '../../core/units/index.ts'
import { columns, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { planEngine } from '../engine.ts'
import { nearestHint } from '../nearest.ts'
import { outPath } from '../outFile.ts'
import { dateOnPaper, lengthIn, paperChosen, unitsOnPaper } from '../paper.ts'
import { planFromFile } from '../planFile.ts'
import { lineClassChosen, trackChosen, turnoutChosen } from '../records.ts'
import { lengthOption, lengthTyped, numberOption, wordOption } from '../values.ts'

const layerNames = layerChoices.map(({ name }) => name)

export const sheetsSpec: VerbSpec = {
  name: 'sheets',
  about: 'full-size sheets of a track, a curve, a turnout or all of it, as PDF',
  operand: 'PLAN',
  options: {
    track: { value: 'main', about: 'this track, by name or id' },
    corner: { value: '2', about: 'of the track only the curve at this corner, counted from 1 or by id' },
    from: { value: '3ft 6in', about: 'of the track only from this station on' },
    to: { value: '9ft', about: 'of the track only up to this station' },
    region: { value: '0in,0in,48in,30in', about: 'all track in this rectangle of the plan: x and y of two corners' },
    turnout: { value: 'T1', about: 'this turnout, by name or id' },
    crossing: { value: 'crossing-1', about: 'this crossing, by its name or id; without a record by its tracks, such as track-1:track-2:1' },
    cuts: { about: 'of the turnout or crossing its tables instead: rails to cut, bends, filing, offsets, wires' },
    roadbed: { about: 'of the turnout or crossing the card to cut its roadbed along instead' },
    jig: { value: 'main', about: 'the tie jig of this line class, by name or id' },
    all: { about: 'everything that is there' },
    sheet: { value: 'room', about: `a bench sheet instead: ${benchSheetNames.join(', ')}` },
    paper: {
      value: 'a4',
      about: 'letter, legal, tabloid, a4, a3 …, size:13in:19in, or roll:24in (roll:24in:60in for the length of its pages)',
      isRequired: true,
    },
    lay: { value: 'line', about: 'how sheets lie: fewest, rows, or line (each along the track); fewest when left out' },
    overlap: { value: '10mm', about: 'overlap of neighbouring sheets; 10 mm when left out' },
    margin: { value: '8mm', about: 'what the printer cannot reach; 6 mm when left out' },
    calibrate: { value: '99.6mm,100.2mm', about: 'what the 100 mm bars measured, along the short and the long side of the paper' },
    layers: { value: 'rail-head,ties,text', about: `only these layers, or all: ${layerNames.join(', ')}` },
    without: { value: 'ties,stations', about: 'leaves layers out of the usual ones, or of those of --layers' },
    mirror: { about: 'mirror image, to be taken off on tape' },
    lines: { value: 'bold', about: 'hairline, usual or bold' },
    ink: { value: 'grey', about: 'black, or grey to glue ties on' },
    units: { value: 'imperial', about: 'imperial or metric; as the paper when left out' },
    date: { value: '2026-11-25', about: 'printed in the title; today when left out' },
    out: { value: 'sheets.pdf', about: 'the file to write', isRequired: true },
  },
  example: 'waybench sheets plan.json --turnout T1 --paper letter --out t1.pdf',
}

export async function sheetsRun(args: Args): Promise<Answer> {
  const path = outPath(args)
  const paper = paperChosen(args.values.get('paper') ?? '')
  const [calibrationX, calibrationY] = calibration(args)
  const options: SheetOptions = {
    paper,
    tiling: tilingChosen(args),
    marginMm: lengthOption(args, 'margin', { least: 'zero or more' }) ?? USUAL_MARGIN_MM,
    overlapMm: lengthOption(args, 'overlap') ?? USUAL_OVERLAP_MM,
    calibrationX,
    calibrationY,
    units: unitsOnPaper(args, paper),
    date: dateOnPaper(args),
    look: lookChosen(args),
  }
  const plan = planFromFile(args.operand ?? '')
  const { pdf, sheets, problems } = await (await planEngine()).sheets(plan, subjectChosen(args, plan), options)
  if (sheets.length === 0) throw new BadInput(problems.join('\n') || 'There is nothing to print.')
  const rows = sheets.map(({ name, title, paper: { widthMm, heightMm }, planBox, planCorners }) => ({
    name,
    title,
    paper: { widthMm, heightMm },
    planRectangle: { minXMm: planBox.minX, minYMm: planBox.minY, maxXMm: planBox.maxX, maxYMm: planBox.maxY },
    planCorners: planCorners.map(({ x, y }) => ({ xMm: x, yMm: y })),
  }))
  return {
    json: { file: path, paper, sheets: rows, problems },
    text: [
      columns([
        ['Sheet', 'title', 'plan from mm', 'to mm'],
        ...sheets.map(({ name, title, planBox }) => [
          name,
          title,
          `${planBox.minX.toFixed(1)}, ${planBox.minY.toFixed(1)}`,
          `${planBox.maxX.toFixed(1)}, ${planBox.maxY.toFixed(1)}`,
        ]),
      ]),
      ...problems,
      `${sheets.length} ${sheets.length === 1 ? 'sheet' : 'sheets'} on ${paper.name} in ${path}. Print at 100 %, then measure both bars.`,
    ].join('\n'),
    exitCode: 0,
    files: [{ path, bytes: pdf }],
  }
}

/** Layers by name, as typed after an option; null: it was not given. */
function layersTyped(args: Args, option: 'layers' | 'without'): readonly LayerChoice[] | null {
  const typed = args.values.get(option)
  if (typed === undefined) return null
  if (option === 'layers' && typed.trim() === 'all') return layerNames
  return typed.split(',').map((part) => {
    const word = part.trim()
    const layer = layerNames.find((name) => name === word)
    if (layer === undefined) throw new BadInput(`--${option} ${word}: no such layer. ${nearestHint(word, layerNames)}`)
    return layer
  })
}

function lookChosen(args: Args): SheetLook {
  const only = layersTyped(args, 'layers')
  const left = only === null ? layersUnusual : layerNames.filter((name) => !only.includes(name))
  const without = [...new Set([...left, ...(layersTyped(args, 'without') ?? [])])]
  return {
    without,
    isMirrored: args.values.has('mirror'),
    lines: wordOption(args, 'lines', ['hairline', 'usual', 'bold']) ?? 'usual',
    ink: wordOption(args, 'ink', ['black', 'grey']) ?? 'black',
  }
}

function tilingChosen(args: Args): NonNullable<SheetOptions['tiling']> {
  const word = wordOption(args, 'lay', ['fewest', 'rows', 'line']) ?? 'fewest'
  return word === 'rows' ? 'grid' : word
}

/** Two corners of a rectangle, in any order: four lengths with units. */
function regionChosen(typed: string): SheetSubject {
  const parts = typed.split(',')
  const [x1, y1, x2, y2] = parts.map((part) => lengthTyped('region', part.trim()))
  if (parts.length !== 4 || x1 === undefined || y1 === undefined || x2 === undefined || y2 === undefined) {
    throw new BadInput(`--region ${typed}: x and y of two corners are needed, four lengths such as 0in,0in,48in,30in.`)
  }
  const box = { minX: Math.min(x1, x2), minY: Math.min(y1, y2), maxX: Math.max(x1, x2), maxY: Math.max(y1, y2) }
  return { kind: 'region', box }
}

function subjectChosen(args: Args, plan: Plan): SheetSubject {
  const chosen = ['track', 'turnout', 'crossing', 'region', 'jig', 'all'].filter((name) => args.values.has(name))
  if (chosen.length > 1) throw new BadInput(`--${chosen.join(' and --')} exclude each other; give one.`)
  const sheet = wordOption(args, 'sheet', benchSheetNames)
  if (sheet !== null) {
    if (chosen.length > 0)
      throw new BadInput(`--sheet and --${chosen.join(' and --')} exclude each other: a bench sheet is of the whole plan.`)
    return { kind: 'bench', sheet }
  }
  const jig = args.values.get('jig')
  const turnout = args.values.get('turnout')
  const crossing = args.values.get('crossing')
  const cornerTyped = args.values.get('corner')
  const trackTyped = args.values.get('track')
  if (cornerTyped !== undefined && trackTyped === undefined) throw new BadInput('--corner needs the --track that it lies on.')
  const kind = builtKind(args)
  if (kind !== null && turnout === undefined && crossing === undefined) {
    throw new BadInput(
      kind === 'cutList'
        ? '--cuts needs the --turnout or --crossing whose cut list it is.'
        : '--roadbed needs the --turnout or --crossing whose card it is.',
    )
  }
  if (jig !== undefined) return { kind: 'tieJig', lineClass: lineClassChosen(plan, jig, 'jig').id }
  if (turnout !== undefined) return { kind: kind ?? 'turnout', id: turnoutChosen(plan, turnout).id }
  if (crossing !== undefined) {
    const id = crossingId(plan, crossing)
    return kind === null ? { kind: 'crossing', id } : { kind, id, of: 'crossing' }
  }
  const region = args.values.get('region')
  if (region !== undefined) return regionChosen(region)
  const [fromMm, toMm] = (['from', 'to'] as const).map((name) => lengthOption(args, name, { least: 'zero or more' }))
  if ((fromMm !== null || toMm !== null) && (trackTyped === undefined || cornerTyped !== undefined)) {
    throw new BadInput('--from and --to are stations of a --track, without --corner.')
  }
  if (trackTyped === undefined) return { kind: 'all' }
  const track = trackChosen(plan, trackTyped)
  if (fromMm !== null || toMm !== null) {
    return { kind: 'stretch', track: track.id, fromMm: fromMm ?? 0, toMm: toMm ?? 'end' }
  }
  if (cornerTyped === undefined) return { kind: 'track', id: track.id }
  const count = numberOption(
    { ...args, values: new Map([['corner', track.corners.some(({ id }) => id === cornerTyped) ? '0' : cornerTyped]]) },
    'corner',
  )
  const corner = track.corners.find(({ id }) => id === cornerTyped) ?? track.corners[(count ?? 0) - 1]
  if (!corner) throw new BadInput(`--corner ${cornerTyped}: ${track.name} has ${track.corners.length} corners, counted from 1.`)
  return { kind: 'curve', track: track.id, corner: corner.id }
}

/** What is asked for instead of the full-size sheet of special work; null: that sheet. */
function builtKind(args: Args): 'cutList' | 'roadbed' | null {
  const [cuts, roadbed] = [args.values.has('cuts'), args.values.has('roadbed')]
  if (cuts && roadbed) throw new BadInput('--cuts and --roadbed exclude each other; give one.')
  return cuts ? 'cutList' : roadbed ? 'roadbed' : null
}

/** A crossing is found, not placed: one without a record is known by its tracks, and only the network can say whether it is there. */
function crossingId(plan: Plan, typed: string): string {
  return Object.values(plan.crossings).find(({ id, name }) => id === typed || name.toLowerCase() === typed.toLowerCase())?.id ?? typed
}

/** Measured bars as lengths (99.6mm,100.2mm) or as factors (0.996,1.002). */
function calibration(args: Args): readonly [number, number] {
  const typed = args.values.get('calibrate')
  if (typed === undefined) return [1, 1]
  const parts = typed.split(',')
  const [x, y] = parts.map((part) => {
    const factor = numberParse(part)
    return factor.ok ? factor.value : lengthIn('calibrate', part) / 100
  })
  if (parts.length !== 2 || x === undefined || y === undefined) {
    throw new BadInput(
      `--calibrate ${typed}: two measures are needed, along the short and the long side of the paper, such as 99.6mm,100.2mm.`,
    )
  }
  return [x, y]
}
