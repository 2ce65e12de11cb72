import type { Hideable } from '../../store/hidden.ts'

/** What can be put out of sight, in words that go behind "Hide the". */
export const sightWords: { readonly [K in Hideable]: string } = {
  room: 'walls, doors and posts',
  benchwork: 'benchwork, joists and hatches',
  underlays: 'pictures below the plan',
  tracks: 'tracks and portals',
  guides: 'guides',
  readings: 'pinned measurements',
  turnouts: 'turnouts and crossings',
  roadbed: 'roadbed as it is cut',
  ties: 'ties',
  cuts: 'rails as they are cut, and joints',
  findings: 'marks of findings',
}

export function hiddenText(count: number): string {
  return count === 1 ? '1 kind hidden' : `${count} kinds hidden`
}
