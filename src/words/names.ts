import { recordFind } from '../core/plan/index.ts'
import type { Id, Plan, TableName, Track } from '../core/plan/types.ts'

const tableWords: { readonly [T in TableName]: string } = {
  materials: 'material',
  stocks: 'stock',
  lineClasses: 'line class',
  vehicles: 'car',
  walls: 'wall',
  obstacles: 'obstacle',
  openings: 'opening',
  benchworks: 'benchwork',
  hatches: 'hatch',
  joists: 'joist',
  tracks: 'track',
  turnouts: 'turnout',
  crossings: 'crossing',
  portals: 'portal',
  railJoints: 'rail joint',
  makers: 'maker',
  silences: 'silence',
  ticks: 'tick',
  guides: 'guide',
  readings: 'measurement',
  underlays: 'picture',
  locks: 'lock',
}

/** One record of a table, in a word. */
export function tableWord(table: TableName): string {
  return tableWords[table]
}

/** Marks that turn the direction of writing (Unicode Standard Annex 9): in a sentence they would turn the numbers behind a name as well. */
const turning = /[\u202A-\u202E\u2066-\u2069]/g

/** A name as it is put into a sentence. */
export const nameRead = (name: string): string => name.replace(turning, '')

/** A record by the name its builder gave it, else by what it is. */
export function recordName(plan: Plan, table: TableName, id: Id): string {
  if (table === 'crossings') return crossingName(plan, id)
  if (table === 'silences') return 'a silenced finding'
  if (table === 'ticks') return `piece ${recordFind(plan, 'ticks', id)?.piece ?? id}`
  if (table === 'railJoints') return 'a rail joint'
  if (table === 'locks') return 'a lock'
  const record = plan[table][id]
  if (record === undefined) return `a ${tableWord(table)} that is gone`
  const name = nameRead(record.name)
  return name.trim() === '' ? `an unnamed ${tableWord(table)}` : name
}

/** Several records in a few words; what was measured on the others goes without saying. */
export function membersName(plan: Plan, members: readonly { readonly table: TableName; readonly id: Id }[]): string {
  const things = members.filter(({ table }) => table !== 'readings')
  const [first, ...more] = things.length === 0 ? members : things
  if (first === undefined) return 'nothing'
  const name = recordName(plan, first.table, first.id)
  return more.length === 0 ? name : `${name} and ${more.length} more`
}

/** Corners are counted from the start of the track, from one, as a surveyor numbers PIs. */
export function cornerName(track: Track | undefined, index: number): string {
  return track === undefined || track.corners.length > 0 ? `PI ${index + 1}` : 'the corner'
}

/** Side i runs from corner i-1 to corner i; the first and the last one reach the ends. */
export function sideName(track: Track | undefined, side: number): string {
  if (track === undefined) return `side ${side + 1}`
  const count = track.corners.length
  if (track.end.kind === 'closed') return `the side from PI ${side === 0 ? count : side} to PI ${(side % count) + 1}`
  if (count === 0) return 'the line from start to end'
  if (side === 0) return 'the side from the start to PI 1'
  if (side >= count) return `the side from PI ${count} to the end`
  return `the side from PI ${side} to PI ${side + 1}`
}

export function endName(end: 'start' | 'end'): string {
  return end === 'start' ? 'start of the track' : 'end of the track'
}

/** A name or phrase as a sentence begins with it. */
export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

/** A label within a sentence. "PI 3" and the like keep their capitals. */
export function lowerFirst(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text
}

/** A crossing at which nothing was chosen is named by its tracks; its key begins with their ids. */
function crossingName(plan: Plan, id: Id): string {
  const record = plan.crossings[id]
  if (record !== undefined && record.name.trim() !== '') return nameRead(record.name)
  const [track, other] = record === undefined ? id.split(':') : [record.track, record.other]
  if (track === undefined || other === undefined) return 'a crossing that is gone'
  return `the crossing of ${recordName(plan, 'tracks', track)} and ${recordName(plan, 'tracks', other)}`
}
