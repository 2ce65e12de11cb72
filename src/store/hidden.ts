import type { TableName } from '../core/plan/types.ts'
import type { Selection } from './types.ts'

/** What can be put out of sight on the canvas, in the order of the stages. It stays in the plan, in all checks and on all sheets. */
export const hideables = [
  'room',
  'benchwork',
  'underlays',
  'tracks',
  'guides',
  'readings',
  'turnouts',
  'roadbed',
  'ties',
  'cuts',
  'findings',
] as const
export type Hideable = (typeof hideables)[number]

/** The kinds that a selection is of; none where it lies nowhere. */
export function hideablesOf(selection: Selection): readonly Hideable[] {
  switch (selection.kind) {
    case 'none':
      return []
    case 'record':
      return ofTable(selection.table)
    case 'corner':
    case 'trackEnd':
      return ['tracks']
    case 'ringPoint':
      return ['benchwork']
    case 'several':
      return [...new Set(selection.members.flatMap(({ table }) => ofTable(table)))]
  }
}

function ofTable(table: TableName): readonly Hideable[] {
  switch (table) {
    case 'walls':
    case 'obstacles':
    case 'openings':
      return ['room']
    case 'benchworks':
    case 'hatches':
    case 'joists':
      return ['benchwork']
    case 'underlays':
      return ['underlays']
    // A portal stands over its track and is seen with it.
    case 'portals':
    case 'tracks':
      return ['tracks']
    case 'turnouts':
    case 'crossings':
      return ['turnouts']
    case 'makers':
      return ['tracks', 'turnouts']
    case 'guides':
      return ['guides']
    case 'readings':
      return ['readings']
    case 'railJoints':
      return ['cuts']
    case 'materials':
    case 'stocks':
    case 'ticks':
    case 'locks':
    case 'lineClasses':
    case 'vehicles':
    case 'silences':
      return []
  }
}
