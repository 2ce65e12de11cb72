import { findingsOf, settleFindings } from '../../core/checks/index.ts'
import { planReport, USUAL_MARGIN_MM, USUAL_OVERLAP_MM } from '../../core/deliver/index.ts'
import type { Report, SheetOptions } from '../../core/deliver/index.ts'
import { pipelineCreate } from '../../core/pipeline/index.ts'
import { csvWrite } from '../../formats/csv.ts'
import { recordName } from '../../words/names.ts'
import { gapName, reportList, reportRows } from '../../words/reportText.ts'
import { columns, inBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { planEngine } from '../engine.ts'
import { outPath } from '../outFile.ts'
import { planFromFile } from '../planFile.ts'
import { dateOnPaper, paperChosen, unitsOnPaper } from '../paper.ts'

export const reportSpec: VerbSpec = {
  name: 'report',
  about: 'limits, findings and what every track came to, as PDF or CSV',
  operand: 'PLAN',
  options: {
    paper: { value: 'a4', about: 'of a PDF: letter, legal, tabloid, a4, a3 …; a4 when left out' },
    units: { value: 'imperial', about: 'of a PDF: imperial or metric; as the paper when left out' },
    date: { value: '2026-11-25', about: 'printed on every page; today when left out' },
    out: { value: 'report.pdf', about: 'the file to write: .pdf or .csv', isRequired: true },
  },
  example: 'waybench report plan.json --out report.pdf --paper letter',
}

export async function reportRun(args: Args): Promise<Answer> {
  const path = outPath(args)
  const kind = /\.(pdf|csv)$/i.exec(path)?.[1]?.toLowerCase()
  if (kind === undefined) throw new BadInput(`--out ${path}: the report comes as .pdf or .csv; end the name with one of them.`)
  if (kind === 'csv' && args.values.has('paper')) throw new BadInput('--paper is for a PDF; a CSV has no pages.')
  const paper = paperChosen(args.values.get('paper') ?? 'a4')
  const units = unitsOnPaper(args, paper)
  const plan = planFromFile(args.operand ?? '')
  const derived = pipelineCreate().derive(plan)
  const report = planReport(derived, settleFindings(plan, findingsOf(derived)))
  if (kind === 'csv') {
    const rows = reportRows(report, inBoth)
    return answerOf(report, path, { kind, rows: rows.length - 1 }, new TextEncoder().encode(csvWrite(rows)))
  }
  const options: SheetOptions = {
    paper,
    marginMm: USUAL_MARGIN_MM,
    overlapMm: USUAL_OVERLAP_MM,
    calibrationX: 1,
    calibrationY: 1,
    units,
    date: dateOnPaper(args),
  }
  const { pdf, sheets, problems } = await (await planEngine()).lists(reportList(report, { units, fraction: 32 }), options)
  if (sheets.length === 0) throw new BadInput(problems.join('\n'))
  return answerOf(report, path, { kind, pages: sheets.length }, pdf)
}

const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`

function answerOf(
  report: Report,
  path: string,
  file: { readonly kind: string; readonly pages?: number; readonly rows?: number },
  bytes: Uint8Array,
): Answer {
  const { plan, findings, silenced, tracks } = report
  const errors = findings.filter(({ severity }) => severity === 'error').length
  const size = file.pages === undefined ? counted(file.rows ?? 0, 'row') : counted(file.pages, 'page')
  const least = (mm: number | null): string => (mm === null ? '' : mm.toFixed(1))
  return {
    json: {
      file: path,
      ...file,
      counts: { error: errors, warning: findings.length - errors, silenced: silenced.length },
      tracks: tracks.map(({ lineClass, ...achieved }) => ({ ...achieved, lineClass: lineClass.id, minRadiusMm: lineClass.minRadiusMm })),
    },
    text: [
      columns([
        [
          'Track',
          'class',
          'length mm',
          'least radius mm',
          'easement mm',
          'reverse mm',
          'least frog',
          'nearest track',
          'gap mm',
          'nearest thing',
          'gap mm',
        ],
        ...tracks.map((track) => [
          recordName(plan, 'tracks', track.track),
          track.lineClass.name,
          track.lengthMm.toFixed(1),
          least(track.leastRadiusMm),
          least(track.shortestEasementMm),
          least(track.shortestReverseMm),
          track.leastFrog === null ? '' : String(track.leastFrog),
          ...[track.gaps?.track ?? null, track.gaps?.fixed ?? null].flatMap((gap) =>
            gap === null ? ['', ''] : [gapName(gap, plan), gap.gapMm.toFixed(1)],
          ),
        ]),
      ]),
      `${counted(errors, 'error')}, ${counted(findings.length - errors, 'warning')}, ${silenced.length} silenced; ${size} in ${path}.`,
    ].join('\n'),
    exitCode: 0,
    files: [{ path, bytes }],
  }
}
