import {
  ANGLE_STEP_RAD,
  marksStepMm,
  setoutEdges,
  setoutLengthText,
  setoutSubject,
  setoutTable,
  setoutValueText,
  type RuleMarks,
  type SetoutBase,
  type SetoutBy,
  type SetoutColumn,
  type SetoutFigure,
  type SetoutGroup,
  type SetoutTable,
  type SetoutValue,
} from '../../core/deliver/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import { lengthParse } from '../../core/units/index.ts'
import { svgFromSheet } from '../../formats/svg.ts'
import { columns, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { nearestHint } from '../nearest.ts'
import { planFromFile } from '../planFile.ts'
import { trackChosen } from '../records.ts'
import { lineSolved } from '../solvedLine.ts'
import { lengthOption, wordOption } from '../values.ts'
import { centreReachText, setoutNoteText, setoutProblemText } from '../../words/setoutText.ts'

const methods = ['offset', 'chord', 'edge', 'deflection', 'trammel', 'tie-in', 'stick', 'lath'] as const

export const setoutSpec: VerbSpec = {
  name: 'setout',
  about: 'tables to set a track out at the bench by rule, string, tape and trammel',
  operand: 'PLAN',
  options: {
    track: { value: 'main', about: 'name or id of the track', isRequired: true },
    by: { value: 'offset', about: `${methods.slice(0, -1).join(', ')} or ${methods.at(-1) ?? ''}`, isRequired: true },
    from: {
      value: 'Wall:2',
      about:
        'edge: a wall or benchwork by name or id, with :2 its side 2, with :hole1:2 side 2 of a hole; offset: TS or PI; deflection: curves or start',
    },
    every: { value: '100mm', about: 'even steps along the base, of stations, or of chords; 100 mm when left out' },
    between: { value: '400mm,1200mm', about: 'stretch of the track by two stations; all of it when left out' },
    stick: { value: '12in', about: 'length of the gauge stick; 12 in when left out' },
    pinned: { value: '6in', about: 'length over which pins hold the lath on either side; 6 in when left out' },
    round: { value: '1/64in', about: '1/16in, 1/32in, 1/64in, 0.1mm, 0.5mm or 1mm; 0.5 mm when left out' },
    figure: { value: 'setout.svg', about: 'writes the drawing of what to measure' },
  },
  example: 'waybench setout plan.json --track main --by edge --from "North wall" --every 6in --round 1/64in',
}

const STICK_MM = 304.8
const PINNED_MM = 152.4

export function setoutRun(args: Args): Answer {
  const kind = wordOption(args, 'by', methods) ?? 'offset'
  const stepMm = lengthOption(args, 'every') ?? 100
  const marks = marksOption(args)
  const between = betweenOption(args)
  const plan = planFromFile(args.operand ?? '')
  const track = trackChosen(plan, args.values.get('track') ?? '')
  const subject = setoutSubject(plan, lineSolved(plan, track))
  const by = byOption(args, kind, plan)
  const made = setoutTable(subject, {
    by,
    fromMm: between?.[0] ?? null,
    toMm: between?.[1] ?? null,
    stepMm,
    marks,
    angleStepRad: ANGLE_STEP_RAD,
  })
  if (!made.ok) throw new BadInput(`track ${track.name}, by ${kind}: ${setoutProblemText(made.problem, marks)}`)
  const { table } = made
  const path = args.values.get('figure')
  return {
    json: { track: track.id, name: track.name, ...tableJson(table, stepMm) },
    text: tableWords(track.name, table),
    exitCode: 0,
    files: path === undefined ? [] : [{ path, bytes: new TextEncoder().encode(figureSvg(table.figure, `${track.name}, by ${kind}`)) }],
  }
}

/** Options that mean something to one method only are refused with the others: nothing typed is passed over. */
function byOption(args: Args, kind: (typeof methods)[number], plan: Plan): SetoutBy {
  const only = (name: string, of: readonly (typeof methods)[number][]): void => {
    if (args.values.has(name) && !of.includes(kind)) throw new BadInput(`--${name} belongs to --by ${of.join(' or ')}, not to ${kind}.`)
  }
  only('from', ['edge', 'offset', 'deflection'])
  only('stick', ['stick'])
  only('pinned', ['lath'])
  switch (kind) {
    case 'offset':
      return { kind, datum: wordOption(args, 'from', ['ts', 'pi']) === 'pi' ? 'PI' : 'TS' }
    case 'deflection':
      return { kind, instrument: wordOption(args, 'from', ['curves', 'start']) ?? 'curves' }
    case 'edge':
      return { kind, edge: edgeOption(args.values.get('from'), plan) }
    case 'stick':
      return { kind, chordMm: lengthOption(args, 'stick') ?? STICK_MM }
    case 'lath':
      return { kind, pinnedMm: lengthOption(args, 'pinned') ?? PINNED_MM }
    case 'chord':
    case 'trammel':
    case 'tie-in':
      return { kind }
  }
}

function edgeOption(typed: string | undefined, plan: Plan): Extract<SetoutBy, { kind: 'edge' }>['edge'] {
  if (typed === undefined) return null
  const [, name = typed, hole, side] = /^(.*?)(?::hole(\d+))?(?::(\d+))?$/i.exec(typed) ?? []
  const records = (['walls', 'benchworks'] as const).flatMap((table) =>
    Object.values(plan[table]).map((record) => ({ table, id: record.id, name: record.name })),
  )
  const byId = records.filter(({ id }) => id === name)
  const found = byId.length > 0 ? byId : records.filter((record) => record.name.toLowerCase() === name.toLowerCase())
  const [record] = found
  if (found.length > 1)
    throw new BadInput(`--from ${typed}: ${found.length} have this name; give the id: ${found.map(({ id }) => id).join(', ')}.`)
  if (record === undefined) {
    if (records.length === 0) throw new BadInput(`--from ${typed}: the plan has no wall and no benchwork.`)
    throw new BadInput(
      `--from ${typed}: the plan has no such wall or benchwork. ${nearestHint(
        name,
        records.map((it) => (it.name === '' ? it.id : it.name)),
      )}`,
    )
  }
  if (side === undefined && hole === undefined) return { table: record.table, id: record.id }
  const ring = hole === undefined ? -1 : Number(hole) - 1
  const sides = setoutEdges(plan).filter((edge) => edge.table === record.table && edge.id === record.id && edge.ring === ring)
  const edge = Number(side ?? 1) - 1
  if (sides.length === 0) throw new BadInput(`--from ${typed}: ${record.name} has no hole ${hole ?? ''}.`)
  if (side === undefined) throw new BadInput(`--from ${typed}: a hole needs its side, such as ${typed}:1.`)
  if (!sides.some((it) => it.edge === edge)) throw new BadInput(`--from ${typed}: it has sides 1 to ${sides.length}.`)
  return { table: record.table, id: record.id, ring, edge }
}

function betweenOption(args: Args): readonly [number, number] | null {
  const typed = args.values.get('between')
  if (typed === undefined) return null
  const parts = typed
    .split(',')
    .map((part) => (/^\s*0+(\.0+)?\s*$/.test(part) ? { ok: true as const, mm: 0 } : lengthParse(part, { bare: 'refuse' })))
  const [a, b] = parts
  if (parts.length !== 2 || !a?.ok || !b?.ok)
    throw new BadInput(`--between ${typed}: two stations with their units are wanted, such as 400mm,1200mm.`)
  return [a.mm, b.mm]
}

const roundings: Readonly<Record<string, RuleMarks>> = {
  '1/16in': { units: 'imperial', perInch: 16 },
  '1/32in': { units: 'imperial', perInch: 32 },
  '1/64in': { units: 'imperial', perInch: 64 },
  '0.1mm': { units: 'metric', stepMm: 0.1 },
  '0.5mm': { units: 'metric', stepMm: 0.5 },
  '1mm': { units: 'metric', stepMm: 1 },
}

function marksOption(args: Args): RuleMarks {
  const typed = args.values.get('round') ?? '0.5mm'
  const known = Object.keys(roundings)
  const marks = roundings[typed.toLowerCase().replace(/\s/g, '').replace(/"$/, 'in').replace(',', '.')]
  if (marks === undefined) throw new BadInput(`--round ${typed}: it must be one of ${known.join(', ')}.`)
  return marks
}

/** A named measure as two fields, the true value and the one to set, with the unit in the name. */
function measureJson({ key, unit }: SetoutColumn, { exact, rounded }: SetoutValue): Readonly<Record<string, number>> {
  const suffix = unit === 'mm' ? 'Mm' : 'Rad'
  return { [`${key}${suffix}`]: exact, [`${key}Rounded${suffix}`]: rounded }
}

function tableJson(table: SetoutTable, stepMm: number): object {
  const { marks, groups } = table
  return {
    by: table.method,
    fromMm: table.fromMm,
    toMm: table.toMm,
    everyMm: stepMm,
    roundedToMm: marksStepMm(marks),
    roundedToRad: ANGLE_STEP_RAD,
    errorMm: table.errorMm,
    bases: groups.map(({ base, title, facts }) => ({
      ...baseJson(base),
      title,
      ...Object.assign({}, ...facts.map((fact) => measureJson(fact.column, fact))),
    })),
    rows: groups.flatMap((group, base) =>
      group.rows.map((row) => ({
        base,
        stationMm: row.stationMm,
        name: row.name,
        xMm: row.at.x,
        yMm: row.at.y,
        ...Object.assign({}, ...group.columns.map((column, i) => measureJson(column, row.values[i] ?? { exact: 0, rounded: 0 }))),
        errorMm: row.errorMm,
      })),
    ),
    notes: table.notes.map((note) => setoutNoteText(note, marks)),
  }
}

const frameJson = ({ x, y, headingRad }: Pose): object => ({ frame: { xMm: x, yMm: y, headingRad } })
const pinJson = ({ name, x, y }: Point & { readonly name: string }): object => ({ name, xMm: x, yMm: y })

function baseJson(base: SetoutBase): object {
  switch (base.kind) {
    case 'tangent':
      return { kind: base.kind, corner: base.corner + 1, side: base.side, datum: base.datum, ...frameJson(base.frame) }
    case 'chord':
      return { kind: base.kind, ...frameJson(base.frame) }
    case 'edge': {
      const { table, id, ring, edge, name } = base.edge
      return { kind: base.kind, table, id, hole: ring < 0 ? null : ring + 1, side: edge + 1, name, ...frameJson(base.frame) }
    }
    case 'instrument':
      return { kind: base.kind, at: base.name, stationMm: base.stationMm, ...frameJson(base.frame) }
    case 'centre': {
      const { centre, toStationMm, pins, side, reach, barBlockedBy } = base
      return {
        kind: base.kind,
        centreXMm: centre.x,
        centreYMm: centre.y,
        toStationMm,
        pins: pins?.map(pinJson) ?? null,
        side,
        isReachable: reach.kind === 'benchwork' || reach.kind === 'floor',
        reach,
        barBlockedBy,
      }
    }
    case 'pins':
      return { kind: base.kind, pins: base.pins.map(pinJson), side: base.side }
    case 'stick':
      return { kind: base.kind, chordMm: base.chordMm }
    case 'lath':
      return {
        kind: base.kind,
        side: base.side,
        fromStationMm: base.fromStationMm,
        toStationMm: base.toStationMm,
        ...frameJson(base.frame),
      }
  }
}

function tableWords(trackName: string, table: SetoutTable): string {
  const { marks, groups, notes } = table
  const step = marks.units === 'imperial' ? `1/${marks.perInch} in` : `${marks.stepMm} mm`
  return [
    `${trackName} from ${setoutLengthText(table.fromMm, marks)} to ${setoutLengthText(table.toMm, marks)}, by ${table.method}.`,
    `Rounded to ${step}: no point comes more than ${table.errorMm.toFixed(2)} mm from its place.`,
    ...notes.map((note) => setoutNoteText(note, marks)),
    ...groups.map((group) => `\n${groupWords(group, marks)}`),
  ].join('\n')
}

function groupWords({ base, title, facts, columns: heads, rows }: SetoutGroup, marks: RuleMarks): string {
  const write = (column: SetoutColumn, value: SetoutValue): string => setoutValueText(column, value.rounded, marks, ANGLE_STEP_RAD)
  return [
    title,
    ...(base.kind === 'centre'
      ? [
          'x and y count from the origin of the plan; directions are seen from the centre, anticlockwise from x.',
          centreReachText(base.reach, base.barBlockedBy),
          ...(base.pins === null ? [] : [`Tape A from ${base.pins[0].name}, tape B from ${base.pins[1].name}; to the ${base.side ?? ''}.`]),
        ]
      : []),
    ...(facts.length === 0 ? [] : [facts.map((fact) => `${fact.column.words} ${write(fact.column, fact)}`).join(', ')]),
    columns([
      ['Station', '', ...heads.map(({ words }) => words), 'Off by mm'],
      ...rows.map((row) => [
        setoutLengthText(row.stationMm, marks),
        row.name,
        ...heads.map((head, i) => write(head, row.values[i] ?? { exact: 0, rounded: 0 })),
        row.errorMm.toFixed(2),
      ]),
    ]),
  ].join('\n')
}

function figureSvg({ widthMm, heightMm, items }: SetoutFigure, title: string): string {
  return svgFromSheet({
    kind: 'full-size',
    name: 'figure',
    title,
    paper: { name: 'figure', widthMm, heightMm },
    window: { minX: 0, minY: 0, maxX: widthMm, maxY: heightMm },
    toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: 0, y: 0 }, scaleX: 1, scaleY: 1 },
    items,
  })
}
