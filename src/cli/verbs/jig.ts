import { jigFields, jigKinds, jigSolve, jigUsual, jigWith, pointAngleUsual, printerFields, printerUsual } from '../../core/jigs/index.ts'
import type { Jig, JigField, JigKind, Printer } from '../../core/jigs/index.ts'
import type { LineClass, Plan } from '../../core/plan/types.ts'
import { jigFileKinds, jigFiles } from '../../formats/solid/jigFile.ts'
import type { JigFileKind } from '../../formats/solid/jigFile.ts'
import type { SolidPiece } from '../../formats/solid/types.ts'
import { jigCautionText, jigFactText, jigNames, jigProblemText, jigUses } from '../../words/jigText.ts'
import { columns, inBoth, type Answer } from '../answer.ts'
import type { Args, OptionSpecs, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { planEngine } from '../engine.ts'
import { nearestHint } from '../nearest.ts'
import { outPath } from '../outFile.ts'
import { planFromFile } from '../planFile.ts'
import { lineClassChosen } from '../records.ts'
import { angleOption, frogOption, lengthOption, numberOption, wordOption } from '../values.ts'

/** How each kind is called here. */
const kindWords: { readonly [K in JigKind]: string } = {
  tieSpacing: 'ties',
  curve: 'curve',
  trackSpacing: 'spacing',
  filing: 'filing',
  roadbed: 'roadbed',
  riser: 'riser',
  midOrdinate: 'stick',
}

/** Options by the name of the value, with a sample. */
const valueOptions: { readonly [name: string]: readonly [option: string, sample: string, about: string] } = {
  tieLengthMm: ['tie-length', '30mm', 'ties: length of a tie'],
  tieWidthMm: ['tie-width', '2.6mm', 'ties: width of a tie'],
  tieThicknessMm: ['tie-thickness', '2mm', 'ties: thickness of a tie'],
  spacingMm: ['spacing', '7mm', 'ties: from tie to tie'],
  radiusMm: ['radius', '30in', 'ties, curve, stick: of the centreline; ties: 0 is straight'],
  gaugeMm: ['gauge', '16.5mm', 'curve, spacing, stick: between the rail heads'],
  easementMm: ['easement', '8in', 'curve: length of the easement; 0 is none'],
  arcMm: ['arc', '9in', 'curve: length of the arc'],
  runOutMm: ['run-out', '4in', 'curve: straight ahead of it'],
  thicknessMm: ['thickness', '3mm', 'curve, spacing, riser, stick: how thick it is made'],
  footReachMm: ['foot-reach', '1mm', 'curve: rail feet reach so far in under its edges; 0 is none'],
  footHeightMm: ['foot-height', '1.3mm', 'curve: and stand so high there'],
  centresMm: ['centres', '2in', 'spacing: from centreline to centreline'],
  railHeadMm: ['rail-head', '1mm', 'spacing: width of a rail head'],
  railHeightMm: ['rail-height', '2.1mm', 'spacing, filing: of the rail'],
  frog: ['frog', '6', 'filing: frog number'],
  pointAngleRad: ['point-angle', '1.8deg', 'filing: of a point, planed face to running face; by the number when left out'],
  railFootMm: ['rail-foot', '2mm', 'filing: width of the rail foot'],
  widthMm: ['width', '20mm', 'roadbed: of the strip at its top; riser: of the block'],
  sheetMm: ['sheet', '3/16in', 'roadbed: thickness of the sheet'],
  shoulderRun: ['shoulder', '1', 'roadbed: so much out for 1 down; 0 is upright'],
  lengthMm: ['length', '12in', 'roadbed: of the guide'],
  heightMm: ['height', '4in', 'riser: of the block'],
  chordMm: ['chord', '6in', 'stick: from the first nose to the last'],
  bedXMm: ['bed-width', '220mm', 'of the printer; 220 mm when left out'],
  bedYMm: ['bed-depth', '220mm', 'of the printer; 220 mm when left out'],
  bedZMm: ['bed-height', '220mm', 'to which it prints; 220 mm when left out'],
  slotAllowanceMm: ['slot-allowance', '0.2mm', 'slots, grooves and holes are wider by it; 0.2 mm when left out'],
  jointAllowanceMm: ['joint-allowance', '0.15mm', 'room to each side of a dovetail; 0.15 mm when left out'],
}

const optionOf = (name: string): string => valueOptions[name]?.[0] ?? name

const valueSpecs: OptionSpecs = Object.fromEntries(Object.values(valueOptions).map(([option, value, about]) => [option, { value, about }]))

export const jigSpec: VerbSpec = {
  name: 'jig',
  about: 'a jig for the bench to print in plastic (STL, 3MF) or cut from sheet (SVG, DXF)',
  operand: 'PLAN',
  options: {
    kind: { value: 'ties', about: `${Object.values(kindWords).join(', ')}`, isRequired: true },
    to: { value: '3mf', about: '3mf, stl (a file for each piece), and of flat ones svg or dxf', isRequired: true },
    out: { value: 'jig.3mf', about: 'the file to write', isRequired: true },
    class: { value: 'main', about: 'line class from which all that is left out is taken; the first one when left out' },
    unit: { value: 'mm', about: 'of a DXF: mm or in; mm when left out' },
    ...valueSpecs,
  },
  example: 'waybench jig plan.json --kind ties --class main --radius 30in --to 3mf --out tie-jig.3mf',
}

export async function jigRun(args: Args): Promise<Answer> {
  const path = outPath(args)
  const kind = kindOption(args)
  const to = fileKindOption(args, path)
  const unit = wordOption(args, 'unit', ['mm', 'in']) ?? 'mm'
  refuseStrangers(args, kind)
  const plan = planFromFile(args.operand ?? '')
  const lineClass = classOf(args, plan)
  const given = valuesRead(args, jigFields[kind])
  const usual = jigUsual(kind, plan.railway, lineClass)
  const frog = given.get('frog')
  if (frog !== undefined && !given.has('pointAngleRad')) given.set('pointAngleRad', pointAngleUsual(plan.railway, lineClass, frog))
  const request = jigWith(usual, given)
  const solved = jigSolve(request, { ...printerUsual, ...(Object.fromEntries(valuesRead(args, printerFields)) as Partial<Printer>) })
  if (!solved.ok) {
    throw new BadInput(
      solved.problems
        .map((problem) => `${problem.kind === 'badValue' ? `--${optionOf(problem.where)}: ` : ''}${jigProblemText(problem, inBoth)}`)
        .join('\n'),
    )
  }
  const { jig } = solved
  if ((to === 'svg' || to === 'dxf') && jig.flatAtMm === null)
    throw new BadInput(`--to ${to}: a ${jigNames[kind].toLowerCase()} is not flat; --to stl or --to 3mf would do.`)
  const engine = await planEngine()
  try {
    const pieces = await engine.solids(jig)
    const folder = path.slice(0, path.length - baseName(path).length)
    const name = baseName(path).slice(0, -(to.length + 1))
    const files = jigFiles(to, name, titleOf(kind, plan), pieces, unit).map((file) => ({
      path: `${folder}${file.name}`,
      bytes: file.bytes,
    }))
    return {
      json: {
        kind,
        values: request.values,
        facts: Object.fromEntries(jig.facts.map(({ name: fact, value }) => [fact, value])),
        pieces: pieces.map(({ number, sizeMm, volumeMm3, mesh }) => ({ number, sizeMm, volumeMm3, triangles: mesh.triangles.length / 3 })),
        files: files.map((file) => file.path),
      },
      text: textOf(
        jig,
        pieces,
        files.map((file) => file.path),
      ),
      exitCode: 0,
      files,
    }
  } finally {
    engine.dispose()
  }
}

const titleOf = (kind: JigKind, { railway }: Plan): string =>
  [jigNames[kind], railway.title].filter((text) => text.trim() !== '').join(', ')
const baseName = (path: string): string => /[^/\\]*$/.exec(path)?.[0] ?? path

function kindOption(args: Args): JigKind {
  const word = wordOption(args, 'kind', Object.values(kindWords))
  return jigKinds.find((kind) => kindWords[kind] === word) ?? 'tieSpacing'
}

/** The ending says what the file is, and must not say otherwise. */
function fileKindOption(args: Args, path: string): JigFileKind {
  const to = wordOption(args, 'to', jigFileKinds) ?? '3mf'
  if (!path.toLowerCase().endsWith(`.${to}`) || baseName(path).length <= to.length + 1)
    throw new BadInput(`--out ${path}: the jig comes as .${to}; end the name with it, such as jig.${to}.`)
  return to
}

/** A number that this kind of jig does not have was meant for another. */
function refuseStrangers(args: Args, kind: JigKind): void {
  const own = [...jigFields[kind], ...printerFields].map(({ name }) => optionOf(name))
  for (const [option] of Object.values(valueOptions)) {
    if (args.values.has(option) && !own.includes(option))
      throw new BadInput(`--${option}: a jig of kind ${kindWords[kind]} has no such number. ${nearestHint(option, own)}`)
  }
}

function classOf(args: Args, plan: Plan): LineClass {
  const typed = args.values.get('class')
  if (typed !== undefined) return lineClassChosen(plan, typed)
  const [first] = Object.values(plan.lineClasses)
  if (first === undefined) throw new BadInput('The plan has no line class; a jig takes its sizes from one.')
  return first
}

function valuesRead(args: Args, fields: readonly JigField<string>[]): Map<string, number> {
  return new Map(
    fields.flatMap((field): readonly [string, number][] => {
      const value = valueRead(args, field)
      return value === null ? [] : [[field.name, value]]
    }),
  )
}

function valueRead(args: Args, { name, measure, canBeNone }: JigField<string>): number | null {
  const option = optionOf(name)
  switch (measure) {
    case 'shop':
    case 'fine':
    case 'mm':
      return lengthOption(args, option, { least: canBeNone ? 'zero or more' : 'above zero' })
    case 'angle':
      return angleOption(args, option)
    case 'number':
      return numberOption(args, option)
    case 'frog':
      return frogOption(args, option)?.frog ?? null
  }
}

function textOf(jig: Jig, pieces: readonly SolidPiece[], paths: readonly string[]): string {
  const { kind } = jig
  const sizes = pieces.map(({ number, sizeMm, volumeMm3 }) => [
    `Piece ${number}`,
    `${sizeMm.map((mm) => mm.toFixed(2)).join(' × ')} mm`,
    `${(volumeMm3 / 1000).toFixed(2)} cm³`,
  ])
  return [
    jigNames[kind],
    jigUses[kind],
    '',
    columns(jig.facts.map((fact) => jigFactText(fact, inBoth))),
    columns(sizes),
    '',
    jigCautionText(kind, jig.flatAtMm !== null),
    '',
    ...paths.map((path) => `Written to ${path}.`),
  ].join('\n')
}
