import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type {
  ChainProblem,
  FairBind,
  FairProblem,
  JoinStop,
  ParallelProblem,
  ParallelRemark,
  TraceProblem,
  TrackOperationProblem,
} from '../../../src/core/alignment/index.ts'
import type { AlignmentProblem } from '../../../src/core/alignment/types.ts'
import type { Cure, Finding, RuleName } from '../../../src/core/checks/types.ts'
import type { CentreReach, SetoutNote, SetoutProblem } from '../../../src/core/deliver/index.ts'
import type { EditProblem } from '../../../src/core/edit/types.ts'
import type { GalleryProblem } from '../../../src/core/gallery/index.ts'
import type { JigProblem } from '../../../src/core/jigs/index.ts'
import type { MakerProblem } from '../../../src/core/makers/index.ts'
import type { PlacementProblem } from '../../../src/core/network/types.ts'
import type { FairPlanProblem, JoinPlanProblem } from '../../../src/core/pipeline/index.ts'
import type { PlanNote } from '../../../src/core/plan/index.ts'
import type { ShelfProblem, TraverseProblem } from '../../../src/core/room/index.ts'
import type { StretchProblem } from '../../../src/core/stretch/index.ts'
import type { CrossingProblem } from '../../../src/core/turnout/crossing/types.ts'
import type { TurnoutProblem } from '../../../src/core/turnout/types.ts'
import type { SwingProblem } from '../../../src/core/vehicles/index.ts'
import type { DrawingProblem } from '../../../src/formats/outline/types.ts'
import type { LineFileProblem } from '../../../src/formats/line/types.ts'
import type { PlanFileProblem } from '../../../src/formats/planjson.ts'
import { cutProblemText } from '../../../src/words/cutText.ts'
import { bindText, easeProblemText } from '../../../src/words/easeText.ts'
import { chainProblemText, drawingProblemText, lineFileProblemText } from '../../../src/words/exchangeText.ts'
import { entryProblemText } from '../../../src/words/entryText.ts'
import { planFileProblemText, planNoteText } from '../../../src/words/fileText.ts'
import { findingPlace, findingText } from '../../../src/words/findingText.ts'
import { jigProblemText } from '../../../src/words/jigText.ts'
import { joinProblemText, joinStopText } from '../../../src/words/joinText.ts'
import { galleryProblemText } from '../../../src/words/galleryText.ts'
import { makerProblemText } from '../../../src/words/makerText.ts'
import type { MeasurePrefs } from '../../../src/words/measure.ts'
import { operationProblemText } from '../../../src/words/operationText.ts'
import { parallelProblemText, parallelRemarkText } from '../../../src/words/parallelText.ts'
import {
  alignmentProblemText,
  crossingProblemText,
  editProblemText,
  placementProblemText,
  turnoutProblemText,
} from '../../../src/words/problemText.ts'
import { railProblemText } from '../../../src/words/railText.ts'
import { roadbedCutProblemText, roadbedProblemText } from '../../../src/words/roadbedText.ts'
import { centreReachText, setoutNoteText, setoutProblemText } from '../../../src/words/setoutText.ts'
import { shelfProblemText, traverseProblemText } from '../../../src/words/roomText.ts'
import { stretchProblemText } from '../../../src/words/stretchText.ts'
import { swingProblemText } from '../../../src/words/swingText.ts'
import { tieProblemText } from '../../../src/words/tieText.ts'
import { traceProblemText } from '../../../src/words/traceText.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { cutProblems, railProblems, roadbedCutProblems, roadbedProblems, tieProblems } from './layingKinds.ts'
import { listOf } from './kinds.ts'
import { alignments, eases, binds, joins, stops, traces, operations, parallels, remarks, stretches } from './lineKinds.ts'
import { turnouts, placements, crossings, makers, swings } from './workKinds.ts'
import { plainFinding, rules, findingProblems, cures } from './findingKinds.ts'
import {
  edits,
  traverses,
  shelves,
  files,
  notes,
  setouts,
  setoutNotes,
  reaches,
  entries,
  lineFiles,
  jigs,
  drawings,
  chains,
} from './planKinds.ts'

const plan = planWith({
  tracks: [aTrack({ id: 'bend', name: 'Bend', corners: [aCorner({ id: 'c1' }), aCorner({ id: 'c2' })] }), aTrack({ id: 'spur', name: '' })],
  turnouts: [aTurnout({ id: 't1', name: 'Icehouse', track: 'bend' })],
})
const track = plan.tracks['bend']
const rule = { units: 'imperial', perInch: 64 } as const
const measures: readonly MeasurePrefs[] = (['imperial', 'metric', 'both'] as const).map((units) => ({ units, fraction: 64 }))

/** A sentence: begins large, ends with a stop, and has nothing of the machine in it: no key, no code, no half-made value. */
function isSentence(text: string): void {
  expect(text).toMatch(/^[A-Z“‘\d].*[.”]$/s)
  expect(text).not.toMatch(/undefined|NaN|null|\[object|[{}!]|\b[a-z]+(?:Mm|Rad)\b/)
  expect(text).not.toMatch(/ {2}|\.\./)
}

/** Everything that src/core and src/formats can answer in place of a result, by the name of its union. */
const told: { readonly [union: string]: readonly (readonly [kind: string, text: (prefs: MeasurePrefs) => string])[] } = {
  AlignmentProblem: listOf<AlignmentProblem>(alignments).map((p) => [p.kind, (prefs) => alignmentProblemText(p, track, plan, prefs)]),
  TurnoutProblem: listOf<TurnoutProblem>(turnouts).map((p) => [p.kind, (prefs) => turnoutProblemText(p, prefs)]),
  PlacementProblem: listOf<PlacementProblem>(placements).map((p) => [p.kind, (prefs) => placementProblemText(p, prefs)]),
  CrossingProblem: listOf<CrossingProblem>(crossings).map((p) => [p.kind, (prefs) => crossingProblemText(p, prefs)]),
  EditProblem: listOf<EditProblem>(edits).map((p) => [p.kind, () => editProblemText(p, plan)]),
  TraverseProblem: listOf<TraverseProblem>(traverses).map((p) => [p.kind, (prefs) => traverseProblemText(p, prefs)]),
  ShelfProblem: listOf<ShelfProblem>(shelves).map((p) => [p.kind, (prefs) => shelfProblemText(p, prefs)]),
  StretchProblem: listOf<StretchProblem>(stretches).map((p) => [p.kind, () => stretchProblemText(p, plan)]),
  PlanFileProblem: listOf<PlanFileProblem>(files).map((p) => [p.kind, () => planFileProblemText(p)]),
  PlanNote: listOf<PlanNote>(notes).map((p) => [p.kind, () => planNoteText(p)]),
  FairProblem: listOf<FairProblem | FairPlanProblem>(eases).map((p) => [p.kind, (prefs) => easeProblemText(p, plan, prefs)]),
  JoinProblem: listOf<JoinPlanProblem>(joins).map((p) => [p.kind, (prefs) => joinProblemText(p, plan, prefs)]),
  JoinStop: Object.values<readonly JoinStop[]>(stops).flatMap((list) =>
    list.map((p) => [p.limit, (prefs: MeasurePrefs) => joinStopText(p, prefs)] as const),
  ),
  TraceProblem: listOf<TraceProblem>(traces).map((p) => [p.kind, (prefs) => traceProblemText(p, prefs)]),
  TrackOperationProblem: listOf<TrackOperationProblem>(operations).map((p) => [p.kind, (prefs) => operationProblemText(p, plan, prefs)]),
  ParallelProblem: listOf<ParallelProblem>(parallels).map((p) => [p.kind, (prefs) => parallelProblemText(p, prefs)]),
  ParallelRemark: listOf<ParallelRemark>(remarks).map((p) => [p.kind, (prefs) => parallelRemarkText(p, prefs)]),
  MakerProblem: listOf<MakerProblem>(makers).map((p) => [p.kind, (prefs) => makerProblemText(p, plan, prefs)]),
  GalleryProblem: [
    ...listOf<TurnoutProblem>(turnouts).map((problem): GalleryProblem => ({ kind: 'turnout', problem })),
    ...listOf<CrossingProblem>(crossings).map((problem): GalleryProblem => ({ kind: 'crossing', problem })),
    ...listOf<MakerProblem>(makers).map((problem): GalleryProblem => ({ kind: 'maker', problem })),
  ].map((p) => [`${p.kind} ${p.problem.kind}`, (prefs) => galleryProblemText(p, plan, prefs)]),
  SetoutProblem: listOf<SetoutProblem>(setouts).map((p) => [p.kind, () => setoutProblemText(p, rule)]),
  SetoutNote: listOf<SetoutNote>(setoutNotes).map((p) => [p.kind, () => setoutNoteText(p, rule)]),
  CentreReach: listOf<CentreReach>(reaches).flatMap((p) => [
    [p.kind, () => centreReachText(p, null)],
    [p.kind, () => centreReachText(p, 'Chimney')],
  ]),
  LineFileProblem: listOf<LineFileProblem>(lineFiles).map((p) => [p.kind, () => lineFileProblemText(p)]),
  JigProblem: listOf<JigProblem>(jigs).map((p) => [p.kind, (prefs) => jigProblemText(p, prefs)]),
  DrawingProblem: listOf<DrawingProblem>(drawings).map((p) => [p.kind, () => drawingProblemText(p)]),
  ChainProblem: listOf<ChainProblem>(chains).map((p) => [p.kind, (prefs) => chainProblemText(p, prefs)]),
  RailProblem: railProblems.map((p) => [p.kind, (prefs) => railProblemText(p, (id) => plan.tracks[id]?.name ?? id, prefs)]),
  RoadbedProblem: roadbedProblems.map((p) => [p.kind, (prefs) => roadbedProblemText(p, plan, prefs)]),
  RoadbedCutProblem: roadbedCutProblems.map((p) => [
    p.kind,
    (prefs) => roadbedCutProblemText(p, plan, prefs, (lengths) => cutProblemText(lengths, prefs)),
  ]),
  TieProblem: tieProblems.map((p) => [p.kind, (prefs) => tieProblemText(p, plan, prefs)]),
  CutProblem: cutProblems.map((p) => [p.kind, (prefs) => cutProblemText(p, prefs)]),
  SwingProblem: listOf<SwingProblem>(swings).map((p) => [p.kind, (prefs) => swingProblemText(p, prefs)]),
  EntryProblem: Object.values(entries).map((p) => [p.kind, () => entryProblemText(p)]),
  Finding: [
    ...Object.entries(rules).map(([name, change]) => ({ ...plainFinding, ...change, rule: name as RuleName })),
    ...listOf<NonNullable<Finding['problem']>>(findingProblems).map((problem) => ({ ...plainFinding, problem })),
    { ...plainFinding, measured: null, limit: null },
  ].map((finding) => [`${finding.rule} ${finding.problem?.kind ?? ''}`, (prefs) => findingText(finding, plan, prefs).body]),
}

/** Unions that are told as a part of another one. */
const within: Readonly<Record<string, string>> = {
  PlanProblem: 'PlanFileProblem',
  ReferenceProblem: 'PlanFileProblem',
  FairPlanProblem: 'FairProblem',
  JoinPlanProblem: 'JoinProblem',
  OutlineProblem: 'Finding',
  // Never leaves the turnout stage.
  LinesProblem: 'TurnoutProblem',
}

describe('every kind of trouble has a sentence', () => {
  for (const [union, list] of Object.entries(told)) {
    describe(union, () => {
      it.each(list)('%s', (_, text) => measures.forEach((prefs) => isSentence(text(prefs))))
    })
  }

  it('no union of problems is forgotten here', () => {
    const root = join(import.meta.dirname, '../../../src')
    const named = ['core', 'formats', 'engine', 'store'].flatMap((layer) =>
      readdirSync(join(root, layer), { recursive: true, encoding: 'utf8' })
        .filter((file) => file.endsWith('.ts'))
        .flatMap((file) =>
          [...readFileSync(join(root, layer, file), 'utf8').matchAll(/^export (?:type|interface) (\w*Problem)\b/gm)].map(
            ([, name = '']) => name,
          ),
        ),
    )
    expect(named).toContain('AlignmentProblem')
    expect(named.filter((name) => told[within[name] ?? name] === undefined)).toEqual([])
  })
})

describe('findings', () => {
  it('have a short title, and words for each cure', () => {
    for (const prefs of measures) {
      for (const [name, change] of Object.entries(rules)) {
        const { title } = findingText({ ...plainFinding, ...change, rule: name as RuleName }, plan, prefs)
        expect(title).toMatch(/^[A-Z][^.]{4,40}$/)
      }
      for (const cure of listOf<Cure>(cures)) {
        expect(findingText({ ...plainFinding, cure }, plan, prefs).cures.join()).toMatch(
          /^[A-Z].*(\d| in| mm|″|′|\)|other jamb|other side|as large|meet)$/,
        )
      }
    }
  })

  it('are placed by track and PI', () => {
    expect(findingPlace(plainFinding, plan)).toBe('Bend, PI 1')
    expect(findingPlace({ ...plainFinding, corner: null }, plan)).toBe('Bend')
  })
})

describe('what holds an eased line', () => {
  it.each(listOf<FairBind>(binds).map((bind) => [bind.kind, bindText(bind, plan)]))('%s: %s', (_, text) => {
    expect(text).toMatch(/^[a-zA-Z][\w ]{4,}$/)
    expect(text).not.toContain(':')
  })
})

describe('measures', () => {
  it('read in both systems where nobody has a preference', () => {
    expect(setoutProblemText({ kind: 'chordFolds', stationMm: 25.4 }, rule)).toContain('1 in')
    expect(swingProblemText({ kind: 'radiusTooSmall', radiusMm: 25.4, leastMm: 60 }, { units: 'both', fraction: 64 })).toContain(
      '25.40 mm (1 in)',
    )
  })
  it('tell bounds on the safe side: what is named will do', () => {
    const problem = { kind: 'badValue', where: 'gaugeMm', value: 0.5, least: 1.0001, most: 2.0099, because: '' } as const
    expect(turnoutProblemText(problem, { units: 'metric', fraction: 64 })).toBe(
      'The gauge is 0.50 mm; it should be between 1.01 mm and 2.00 mm.',
    )
  })
})
