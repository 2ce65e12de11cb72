import { benchSheetNames } from '../../core/deliver/index.ts'
import type { Paper, SheetOptions, SheetSubject } from '../../core/deliver/types.ts'
import type { Network } from '../../core/network/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import { paperByName, paperList } from '../../core/standards/index.ts'
import type { Prefs, Selection } from '../../store/types.ts'
import { benchSheetWords } from '../../words/benchText.ts'
import { lengthText } from '../../words/measure.ts'
import { cornerName, recordName, upperFirst } from '../../words/names.ts'

/** How sheets lie on the paper and on each other. */
export type SheetLie = Required<Pick<SheetOptions, 'marginMm' | 'overlapMm' | 'tiling'>>

/** How sheets are to be printed, from the preferences and the day. */
export function sheetOptions(prefs: Prefs, { marginMm, overlapMm, tiling }: SheetLie, date: string): SheetOptions | null {
  const paper = paperOf(prefs)
  if (paper === null) return null
  return {
    paper,
    marginMm,
    overlapMm,
    tiling,
    calibrationX: prefs.bar100X / 100,
    calibrationY: prefs.bar100Y / 100,
    units: prefs.units,
    date,
  }
}

function paperOf({ paper, rollWidthMm, rollLengthMm, ownWidthMm, ownHeightMm }: Prefs): Paper | null {
  if (paper === 'own') return { name: 'Own size', widthMm: ownWidthMm, heightMm: ownHeightMm }
  if (paper === 'roll') return { name: 'Roll', widthMm: rollWidthMm, heightMm: rollLengthMm, isRoll: true }
  const size = paperByName(paper)
  return size && { name: upperFirst(size.name), widthMm: size.widthMm, heightMm: size.heightMm }
}

/** Papers by name with their size, as their makers state it; and the roll. */
export function paperChoices(): readonly { readonly value: string; readonly text: string }[] {
  return [
    ...paperList().map(({ name, widthMm, heightMm, source }) => ({
      value: name.toLowerCase(),
      text:
        source === 'ISO-216'
          ? `${name}, ${widthMm} × ${heightMm} mm`
          : `${upperFirst(name)}, ${inchText(widthMm)} × ${inchText(heightMm)} in`,
    })),
    { value: 'own', text: 'Another size' },
    { value: 'roll', text: 'Roll, as long as I like' },
  ]
}

const inchText = (mm: number): string => lengthText(mm, { units: 'imperial', fraction: 16 }).replace(/ in$/, '')

/** A day as it is printed in a title block: 2026-03-09, the same for everyone. */
export function dayText(day: Date): string {
  return `${day.getFullYear()}-${String(day.getMonth() + 1).padStart(2, '0')}-${String(day.getDate()).padStart(2, '0')}`
}

export interface SubjectChoice {
  readonly value: string
  readonly text: string
  readonly subject: SheetSubject
  readonly group: string
}

/** A subject as a key, so that equal ones are equal. */
export function subjectKey(subject: SheetSubject): string {
  switch (subject.kind) {
    case 'turnout':
      return `turnout ${subject.id}`
    case 'crossing':
      return `crossing ${subject.id}`
    case 'cutList':
    case 'roadbed':
      return `${subject.kind} ${subject.of ?? 'turnout'} ${subject.id}`
    case 'tieJig':
      return `tieJig ${subject.lineClass}`
    case 'curve':
      return `curve ${subject.track} ${subject.corner}`
    case 'track':
      return `track ${subject.id}`
    // A part is chosen under its whole: the track, and the plan.
    case 'stretch':
      return `track ${subject.track}`
    case 'region':
      return 'region'
    case 'all':
      return 'all'
    case 'bench':
      return `bench ${subject.sheet}`
  }
}

/** "Track: Main", but "Track 1" and not "Track: Track 1": names often begin with what they name. */
function named(word: string, name: string): string {
  return name.toLowerCase().startsWith(word.toLowerCase()) ? name : `${word}: ${name}`
}

/** Everything that has sheets, by name, in groups of one kind. */
export function subjectChoices(plan: Plan, crossings: Network['crossings']): readonly SubjectChoice[] {
  const group = (name: string, subjects: readonly (readonly [text: string, subject: SheetSubject])[]): readonly SubjectChoice[] =>
    subjects.map(([text, subject]) => ({ value: subjectKey(subject), text, subject, group: name }))
  const turnouts = Object.values(plan.turnouts)
  const tracks = Object.values(plan.tracks)
  const built = [...crossings.values()]
    .filter(({ result }) => result.ok)
    .map(({ id, record, track, other }) => ({
      id,
      name: record?.name ?? `${recordName(plan, 'tracks', track)} and ${recordName(plan, 'tracks', other)}`,
    }))
  return [
    ...group(
      'Turnouts',
      turnouts.map(({ id, name }) => [named('Turnout', name), { kind: 'turnout', id }]),
    ),
    ...group(
      'Crossings',
      built.map(({ id, name }) => [named('Crossing', name), { kind: 'crossing', id }]),
    ),
    ...group(
      'Curves',
      tracks.flatMap((track) =>
        track.corners.map(
          (corner, index) =>
            [`Curve: ${track.name}, ${cornerName(track, index)}`, { kind: 'curve', track: track.id, corner: corner.id }] as const,
        ),
      ),
    ),
    ...group(
      'Tracks',
      tracks.map(({ id, name }) => [named('Track', name), { kind: 'track', id }]),
    ),
    ...group(
      'The plan',
      tracks.length === 0
        ? []
        : [
            ['A rectangle of the plan', { kind: 'region', box: { minX: 0, minY: 0, maxX: 1000, maxY: 1000 } }],
            ['Everything', { kind: 'all' }],
          ],
    ),
    ...group('Cut lists', [
      ...turnouts.map(({ id, name }) => [`Cut list: ${name}`, { kind: 'cutList', id }] as const),
      ...built.map(({ id, name }) => [`Cut list: ${name}`, { kind: 'cutList', id, of: 'crossing' }] as const),
    ]),
    ...group('Roadbed cards', [
      ...turnouts.map(({ id, name }) => [`Roadbed card: ${name}`, { kind: 'roadbed', id }] as const),
      ...built.map(({ id, name }) => [`Roadbed cards: ${name}`, { kind: 'roadbed', id, of: 'crossing' }] as const),
    ]),
    ...group(
      'Tie jigs',
      Object.values(plan.lineClasses)
        .filter(({ id }) => tracks.some(({ lineClass }) => lineClass === id))
        .map(({ id, name }) => [`Tie jig: ${name}`, { kind: 'tieJig', lineClass: id }]),
    ),
    ...group(
      'For the bench',
      benchSheetNames.map((sheet) => [benchSheetWords[sheet], { kind: 'bench', sheet }]),
    ),
  ]
}

/** What the selection suggests to print; with nothing selected, the first thing there is. */
export function subjectOf(chosen: SheetSubject | null, selection: Selection, choices: readonly SubjectChoice[]): SubjectChoice | null {
  const wanted = chosen ?? subjectOfSelection(selection)
  const found = wanted === null ? undefined : choices.find((choice) => choice.value === subjectKey(wanted))
  // What was chosen may say more than the choice: a cut list by a builder's own practice.
  return found === undefined || wanted === null ? (choices[0] ?? null) : { ...found, subject: wanted }
}

function subjectOfSelection(selection: Selection): SheetSubject | null {
  switch (selection.kind) {
    case 'corner':
      return { kind: 'curve', track: selection.track, corner: selection.corner }
    case 'trackEnd':
      return { kind: 'track', id: selection.track }
    case 'record':
      return selection.table === 'tracks'
        ? { kind: 'track', id: selection.id }
        : selection.table === 'turnouts'
          ? { kind: 'turnout', id: selection.id }
          : selection.table === 'crossings'
            ? { kind: 'crossing', id: selection.id }
            : null
    case 'none':
    case 'several':
    case 'ringPoint':
      return null
  }
}
