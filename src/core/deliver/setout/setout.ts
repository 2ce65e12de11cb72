import type { Alignment } from '../../alignment/types.ts'
import type { Plan } from '../../plan/types.ts'
import { stationSlackMm } from '../../geom/index.ts'
import { chordGroups } from './chord.ts'
import { deflectionGroups } from './deflection.ts'
import { edgeGroups, edgeNotes } from './edge.ts'
import { figureDraw } from './figure.ts'
import { lathGroups } from './lath.ts'
import { offsetGroups } from './offsets.ts'
import type { GroupsResult } from './rows.ts'
import { stickGroups } from './stick.ts'
import { tieInGroups } from './tieIn.ts'
import { trammelGroups } from './trammel.ts'
import type { SetoutGroup, SetoutNote, SetoutProblem, SetoutRequest, SetoutResult, SetoutSubject } from './types.ts'

/** The finest reading of a common transit, one minute, rad. */
export const ANGLE_STEP_RAD = Math.PI / 180 / 60

/** A solved line of a plan with the room that it is measured from. */
export function setoutSubject(plan: Plan, alignment: Alignment & { readonly ok: true }): SetoutSubject {
  const { path, corners, isClosed } = alignment
  return { path, corners, isClosed, gaugeMm: plan.railway.gaugeMm, room: plan }
}

/**
 * A table to set a stretch of line out by, at the bench, without paper.
 *
 * Units:      mm, rad; rounded values lie on the marks asked for.
 * Domain:     any solved line; stretch 0 <= from < to <= length. A stretch of a loop does not run over its station zero.
 * Exactness:  exact values replot to 1e-6 mm. Of rounded ones every row states how far they put its point off, computed by
 *             replotting: errorMm; the table states the largest.
 * Outcome:    a problem as data for a request that gives no table.
 * Throws:     never.
 */
export function setoutTable(subject: SetoutSubject, request: SetoutRequest): SetoutResult {
  const { by, marks } = request
  const { lengthMm } = subject.path
  const from = request.fromMm ?? 0
  const to = request.toMm ?? lengthMm
  const problem = requestProblem(request, from, to, lengthMm)
  if (problem) return { ok: false, problem }
  // Held to the line: an end that a person typed is the end but for rounding.
  const fromMm = Math.max(0, from)
  const toMm = Math.min(lengthMm, to)
  const made = groupsBy(subject, request, fromMm, toMm)
  if (!made.ok) return made
  const { groups } = made
  return {
    ok: true,
    table: {
      method: by.kind,
      fromMm,
      toMm,
      marks,
      groups,
      errorMm: groups.reduce((most, { rows }) => rows.reduce((worst, row) => Math.max(worst, row.errorMm), most), 0),
      notes: [...(made.notes ?? []), ...groups.flatMap((group) => groupNotes(subject, group))],
      figure: figureDraw(subject, request, groups, fromMm, toMm),
    },
  }
}

function requestProblem({ by, stepMm, angleStepRad }: SetoutRequest, from: number, to: number, lengthMm: number): SetoutProblem | null {
  const numbers = { start: from, end: to, step: stepMm, 'finest angle': angleStepRad }
  const wrong = Object.entries(numbers).find(([, value]) => !Number.isFinite(value))
  if (wrong) return { kind: 'notFinite', where: wrong[0] }
  if (!(stepMm > 0)) return { kind: 'notPositive', what: 'step', value: stepMm }
  if (!(angleStepRad > 0)) return { kind: 'notPositive', what: 'angleStep', value: angleStepRad }
  if (by.kind === 'stick' && !(by.chordMm > 0 && Number.isFinite(by.chordMm)))
    return { kind: 'notPositive', what: 'chord', value: by.chordMm }
  if (by.kind === 'lath' && !(by.pinnedMm > 0 && Number.isFinite(by.pinnedMm)))
    return { kind: 'notPositive', what: 'pinned', value: by.pinnedMm }
  for (const atMm of [from, to]) {
    if (atMm < -stationSlackMm || atMm > lengthMm + stationSlackMm) return { kind: 'stretchOutside', atMm, lengthMm }
  }
  return to - from > stationSlackMm ? null : { kind: 'stretchEmpty', fromMm: from, toMm: to }
}

function groupsBy(
  subject: SetoutSubject,
  request: SetoutRequest,
  fromMm: number,
  toMm: number,
): GroupsResult & { readonly notes?: readonly SetoutNote[] } {
  const { by } = request
  switch (by.kind) {
    case 'offset':
      return offsetGroups(subject, request, by.datum, fromMm, toMm)
    case 'chord':
      return chordGroups(subject, request, fromMm, toMm)
    case 'edge':
      return edgeGroups(subject, request, by.edge, fromMm, toMm)
    case 'deflection':
      return deflectionGroups(subject, request, by.instrument, fromMm, toMm)
    case 'trammel':
      return trammelGroups(subject, request, fromMm, toMm)
    case 'tie-in':
      return tieInGroups(subject, request, fromMm, toMm)
    case 'stick':
      return stickGroups(subject, request, by.chordMm, fromMm, toMm)
    case 'lath':
      return lathGroups(subject, request, by.pinnedMm, fromMm, toMm)
  }
}

function groupNotes(subject: SetoutSubject, { base, rows }: SetoutGroup): readonly SetoutNote[] {
  if (base.kind === 'edge') return edgeNotes(subject, base.edge, rows)
  const isReachable = base.kind === 'centre' && (base.reach.kind === 'benchwork' || base.reach.kind === 'floor')
  return isReachable && base.pins === null ? [{ kind: 'noPins', stationMm: rows[0]?.stationMm ?? 0 }] : []
}
