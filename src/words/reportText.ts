import type { Finding, Stage } from '../core/checks/types.ts'
import type { NearestGap } from '../core/clearance/index.ts'
import type { ListRequest, ListTable, Report, TrackAchieved } from '../core/deliver/index.ts'
import { planMark } from '../core/deliver/planMark.ts'
import type { EasementRule, LineClass, Plan } from '../core/plan/types.ts'
import { findingPlace, findingSentence } from './findingText.ts'
import { sourceText } from './findingParts.ts'
import { fineText, frogText, gradeText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { nameRead, recordName } from './names.ts'
import { classRules, toldChoices } from './ruleText.ts'

const stages: readonly { readonly stage: Stage; readonly word: string }[] = [
  { stage: 'room', word: 'Room' },
  { stage: 'line', word: 'Line' },
  { stage: 'turnouts', word: 'Turnouts' },
  { stage: 'roadbed', word: 'Roadbed' },
  { stage: 'track', word: 'Track' },
]

const left = (head: string) => ({ head, align: 'left' }) as const
const right = (head: string) => ({ head, align: 'right' }) as const

const none = '—'

/** The report of a plan in tables to be printed: limits, what breaks them, what was silenced, what every track came to. */
export function reportList(report: Report, prefs: MeasurePrefs): ListRequest {
  const { plan, findings, silenced, tracks } = report
  const errors = findings.filter(({ severity }) => severity === 'error').length
  const tables = [
    railwayTable(plan, prefs),
    classTable(plan, prefs),
    ...stages.map(({ stage, word }) =>
      findingsTable(
        `Findings: ${word.toLowerCase()}`,
        findings.filter((finding) => finding.stage === stage),
        findings,
        plan,
        prefs,
      ),
    ),
    silencedTable(report, prefs),
    achievedTable(tracks, plan, prefs),
    gapsTable(tracks, plan, prefs),
  ].filter(({ rows }) => rows.length > 0)
  const counts = `${counted(errors, 'error')} and ${counted(findings.length - errors, 'warning')}${silenced.length === 0 ? '' : `, ${silenced.length} silenced`}`
  return {
    title: `Report: ${findings.length === 0 && silenced.length === 0 ? 'no findings' : counts}`,
    railway: nameRead(plan.railway.title),
    planMark: planMark(plan),
    tables,
  }
}

const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`

function railwayTable({ railway }: Plan, prefs: MeasurePrefs): ListTable {
  const length = (mm: number): string => lengthText(mm, prefs)
  return {
    title: 'Limits of the railway',
    notes: [],
    columns: [left('Limit'), right('Value')],
    rows: [
      ['Scale', `1 : ${numberText(railway.ratio, 2)}`],
      ['Gauge', fineText(railway.gaugeMm, prefs)],
      ['Flangeway', fineText(railway.flangewayMm, prefs)],
      ['Check gauge', fineText(railway.checkGaugeMm, prefs)],
      ['Centreline to the edge of benchwork', length(railway.edgeMarginMm)],
      ['Running clearance between cars', length(railway.runningClearanceMm)],
      ['Centres at the fouling point', length(railway.foulingMm)],
      ['Reach of a hand', length(railway.reachMm)],
      ['Aisle', length(railway.aisleMm)],
      ['Hatch to stand up in', length(railway.hatchMm)],
    ],
  }
}

function classTable(plan: Plan, prefs: MeasurePrefs): ListTable {
  const length = (mm: number): string => lengthText(mm, prefs)
  return {
    title: 'Limits by class',
    notes: Object.values(plan.lineClasses).flatMap((lineClass) => [...wideningNote(lineClass, prefs), ...rulesNote(lineClass)]),
    columns: [
      left('Class'),
      right('Least radius'),
      right('Usual radius'),
      left('Easement'),
      right('Shortest curve'),
      right('Least frog'),
      right('Track centres'),
      right('Steepest'),
      left('Cars'),
    ],
    rows: Object.values(plan.lineClasses).map((lineClass) => [
      nameRead(lineClass.name),
      length(lineClass.minRadiusMm),
      length(lineClass.usualRadiusMm),
      easementWords(lineClass.easement, prefs),
      lineClass.minCurveMm === 0 ? none : length(lineClass.minCurveMm),
      frogText(lineClass.minFrog),
      length(lineClass.trackCentresMm),
      gradeText(lineClass.maxGrade),
      carWords(lineClass, plan),
    ]),
  }
}

function wideningNote({ name, widening }: LineClass, prefs: MeasurePrefs): readonly string[] {
  const steps = widening.map(({ belowRadiusMm, byMm }) => `${fineText(byMm, prefs)} below ${lengthText(belowRadiusMm, prefs)}`)
  return steps.length === 0 ? [] : [`${nameRead(name)}: gauge widened by ${steps.join(', ')}.`]
}

/** Rules that are told otherwise than usual. */
function rulesNote({ name, rules }: LineClass): readonly string[] {
  const set = Object.entries(rules).map(([rule, level]) => {
    const text = classRules.find((one) => one.rule === rule)?.text
    // A rule that this house does not know stays in the plan by its key.
    return `${text === undefined ? rule : `“${text}”`} ${toldChoices.find(({ value }) => value === level)?.text ?? level}`
  })
  return set.length === 0 ? [] : [`${nameRead(name)} is told ${set.join(', ')}.`]
}

function easementWords(rule: EasementRule, prefs: MeasurePrefs): string {
  switch (rule.kind) {
    case 'none':
      return none
    case 'length':
      return lengthText(rule.lengthMm, prefs)
    case 'shift':
      return `shift ${fineText(rule.shiftMm, prefs)}`
  }
}

function carWords({ cars }: LineClass, plan: Plan): string {
  return cars.length === 0 ? none : cars.map((car) => recordName(plan, 'vehicles', car)).join(', ')
}

/** Findings with the numbers that they have among all, as on the plan. */
function findingsTable(title: string, list: readonly Finding[], all: readonly Finding[], plan: Plan, prefs: MeasurePrefs): ListTable {
  return {
    title,
    notes: [],
    columns: [right('No.'), left(''), left('Where'), left('What')],
    rows: list.map((finding) => [
      String(all.indexOf(finding) + 1),
      finding.severity,
      placeWords(finding, plan, prefs),
      findingSentence(finding, plan, prefs),
    ]),
  }
}

function silencedTable({ silenced, plan }: Report, prefs: MeasurePrefs): ListTable {
  return {
    title: 'Silenced',
    notes: ['Known to the builder and left as they are, for the reason given.'],
    columns: [left('Where'), left('What'), left('Reason')],
    rows: silenced.map(({ finding, silence: { reason } }) => [
      placeWords(finding, plan, prefs),
      findingSentence(finding, plan, prefs),
      reason.trim() === '' ? none : reason,
    ]),
  }
}

function placeWords(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const { stationFromMm: from, stationToMm: to } = finding
  const station = (mm: number): string => lengthText(mm, prefs, 'room')
  const place = findingPlace(finding, plan)
  if (from === null) return place
  return to === null || to === from ? `${place}, station ${station(from)}` : `${place}, stations ${station(from)} to ${station(to)}`
}

function achievedTable(tracks: readonly TrackAchieved[], plan: Plan, prefs: MeasurePrefs): ListTable {
  const orNone = (mm: number | null): string => (mm === null ? none : lengthText(mm, prefs))
  return {
    title: 'What every track came to',
    notes: [
      'Reverse: the straight between reverse curves, with half of the easements beside it, where it is shortest.',
      'Clear: the longest stretch on which cars stand clear of other tracks, and how many of the longest of its class.',
    ],
    columns: [
      left('Track'),
      left('Class'),
      right('Length'),
      right('Least radius'),
      right('Easement'),
      right('Reverse'),
      right('Least frog'),
      right('Turnouts'),
      right('Clear'),
      right('Cars'),
      right('Findings'),
    ],
    rows: tracks.map((track) => [
      recordName(plan, 'tracks', track.track),
      nameRead(track.lineClass.name),
      lengthText(track.lengthMm, prefs, 'room'),
      orNone(track.leastRadiusMm),
      orNone(track.shortestEasementMm),
      orNone(track.shortestReverseMm),
      track.leastFrog === null ? none : frogText(track.leastFrog),
      String(track.turnouts),
      orNone(track.clearMm),
      track.clearCars === null ? none : String(track.clearCars),
      String(track.findings),
    ]),
  }
}

/** Nearest other track and nearest thing that stands still, a row each. */
function gapsTable(tracks: readonly TrackAchieved[], plan: Plan, prefs: MeasurePrefs): ListTable {
  const limitMm = plan.railway.runningClearanceMm
  return {
    title: 'Nearest gap of every track',
    notes: [
      `Between what the worst cars of the classes sweep, and to what stands still; ${lengthText(limitMm, prefs)} are asked, but for the edge of the benchwork. A gap below nothing is an overlap.`,
      'Tracks that meet at a turnout or cross are told only where they come too near beyond their fouling points. Stations below nothing lie on the route of the turnout that the track hangs on.',
    ],
    columns: [left('Track'), left('Nearest'), right('Gap'), right('At station'), left('')],
    rows: tracks.flatMap(({ track, gaps }) =>
      gapsTold(gaps).map((gap) => [
        recordName(plan, 'tracks', track),
        gapName(gap, plan),
        fineText(gap.gapMm, prefs),
        lengthText(gap.stationMm, prefs, 'room'),
        gap.gapMm < gapLimitMm(gap, plan) ? 'too near' : '',
      ]),
    ),
  }
}

const gapsTold = (gaps: TrackAchieved['gaps']): readonly NearestGap[] => [gaps?.track ?? [], gaps?.fixed ?? []].flat()

/** Nothing stands at the edge of the benchwork: cars may only not hang over it. */
const gapLimitMm = ({ kind }: NearestGap, { railway }: Plan): number => (kind === 'benchworks' ? 0 : railway.runningClearanceMm)

export function gapName({ kind, record }: NearestGap, plan: Plan): string {
  return record === null ? 'edge of the benchwork' : recordName(plan, kind, record)
}

/** Heads of the rows for a spreadsheet: one kind of row for all, lengths in mm, angles in rad. */
const csvHeads = [
  'section',
  'name',
  'item',
  'severity',
  'measured',
  'limit',
  'unit',
  'station_from_mm',
  'station_to_mm',
  'x_mm',
  'y_mm',
  'source',
  'text',
  'reason',
] as const

type CsvRow = { readonly [H in (typeof csvHeads)[number]]?: string | number | null }

/** The same report in rows for a spreadsheet: limits, findings, silenced ones, and what every track came to beside its limit. */
export function reportRows({ plan, findings, silenced, tracks }: Report, prefs: MeasurePrefs): readonly (readonly string[])[] {
  const finding = (section: string, one: Finding, reason: string): CsvRow => ({
    section,
    name: findingPlace(one, plan),
    item: one.rule,
    severity: one.severity,
    measured: one.measured,
    limit: one.limit,
    unit: one.unit === 'number' ? '' : one.unit,
    station_from_mm: one.stationFromMm,
    station_to_mm: one.stationToMm,
    x_mm: one.x,
    y_mm: one.y,
    source: sourceText(one.source, plan),
    text: findingSentence(one, plan, prefs),
    reason,
  })
  const rows: readonly CsvRow[] = [
    ...railwayRows(plan),
    ...Object.values(plan.lineClasses).flatMap((lineClass) => classRows(lineClass, plan, prefs)),
    ...findings.map((one) => finding('finding', one, '')),
    ...silenced.map((one) => finding('silenced', one.finding, one.silence.reason)),
    ...tracks.flatMap((track) => achievedRows(track, plan)),
  ]
  return [csvHeads, ...rows.map((row) => csvHeads.map((head) => cellText(row[head])))]
}

/** Numbers with a point, to a ten-thousandth, as every spreadsheet reads them. */
function cellText(value: string | number | null | undefined): string {
  if (value === null || value === undefined) return ''
  return typeof value === 'number' ? numberText(value, 4) : value
}

const limitRow = (name: string, item: string, limit: number, unit: string): CsvRow => ({ section: 'limit', name, item, limit, unit })

function railwayRows({ railway }: Plan): readonly CsvRow[] {
  return [
    limitRow('Railway', 'ratio', railway.ratio, ''),
    limitRow('Railway', 'gauge', railway.gaugeMm, 'mm'),
    limitRow('Railway', 'flangeway', railway.flangewayMm, 'mm'),
    limitRow('Railway', 'check gauge', railway.checkGaugeMm, 'mm'),
    limitRow('Railway', 'edge margin', railway.edgeMarginMm, 'mm'),
    limitRow('Railway', 'running clearance', railway.runningClearanceMm, 'mm'),
    limitRow('Railway', 'fouling centres', railway.foulingMm, 'mm'),
    limitRow('Railway', 'reach', railway.reachMm, 'mm'),
    limitRow('Railway', 'aisle', railway.aisleMm, 'mm'),
    limitRow('Railway', 'hatch', railway.hatchMm, 'mm'),
  ]
}

function classRows(lineClass: LineClass, plan: Plan, prefs: MeasurePrefs): readonly CsvRow[] {
  const { minRadiusMm, usualRadiusMm, minCurveMm, minFrog, trackCentresMm, maxGrade, cars, widening, rules } = lineClass
  const name = nameRead(lineClass.name)
  return [
    limitRow(name, 'least radius', minRadiusMm, 'mm'),
    limitRow(name, 'usual radius', usualRadiusMm, 'mm'),
    easementRow(lineClass),
    ...(minCurveMm === 0 ? [] : [limitRow(name, 'shortest curve', minCurveMm, 'mm')]),
    limitRow(name, 'least frog', minFrog, ''),
    limitRow(name, 'track centres', trackCentresMm, 'mm'),
    limitRow(name, 'steepest grade', maxGrade, ''),
    ...cars.map((car): CsvRow => ({ section: 'limit', name, item: 'car', text: recordName(plan, 'vehicles', car) })),
    ...widening.map(({ belowRadiusMm, byMm }) => ({
      ...limitRow(name, 'gauge widening', byMm, 'mm'),
      text: `below ${lengthText(belowRadiusMm, prefs)}`,
    })),
    ...Object.entries(rules).map(([item, severity]): CsvRow => ({ section: 'limit', name, item, severity })),
  ]
}

function easementRow({ easement, ...lineClass }: LineClass): CsvRow {
  const name = nameRead(lineClass.name)
  switch (easement.kind) {
    case 'none':
      return { section: 'limit', name, item: 'easement', text: 'none' }
    case 'length':
      return limitRow(name, 'easement length', easement.lengthMm, 'mm')
    case 'shift':
      return limitRow(name, 'easement shift', easement.shiftMm, 'mm')
  }
}

function achievedRows(track: TrackAchieved, plan: Plan): readonly CsvRow[] {
  const { lineClass } = track
  const row = (item: string, measured: number | null, limit: number | null, unit: string): CsvRow => ({
    section: 'achieved',
    name: recordName(plan, 'tracks', track.track),
    item,
    measured,
    limit,
    unit,
  })
  return [
    row('length', track.lengthMm, null, 'mm'),
    row('least radius', track.leastRadiusMm, lineClass.minRadiusMm, 'mm'),
    row('shortest easement', track.shortestEasementMm, null, 'mm'),
    row('between reverse curves', track.shortestReverseMm, null, 'mm'),
    row('least frog', track.leastFrog, lineClass.minFrog, ''),
    row('clear length', track.clearMm, null, 'mm'),
    row('cars that stand clear', track.clearCars, null, ''),
    ...gapsTold(track.gaps).map((gap) => ({
      ...row('nearest gap', gap.gapMm, gapLimitMm(gap, plan), 'mm'),
      station_from_mm: gap.stationMm,
      station_to_mm: gap.stationMm,
      x_mm: gap.x,
      y_mm: gap.y,
      text: gapName(gap, plan),
    })),
  ].filter(({ measured }) => measured !== null && measured !== undefined)
}
