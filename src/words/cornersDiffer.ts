import { dataEqual } from '../core/plan/index.ts'
import type { Corner, Track } from '../core/plan/types.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName } from './names.ts'

/** Which PIs of a track are others, and in what: those of the second plan by their names there, then what stands in the first only. */
export function cornersDifferText(before: Track, after: Track, prefs: MeasurePrefs): readonly string[] {
  const was = new Map(before.corners.map((corner, index) => [corner.id, { corner, index }]))
  const still = new Set(after.corners.map(({ id }) => id))
  const now = after.corners.flatMap((corner, index): readonly string[] => {
    const name = cornerName(after, index)
    const old = was.get(corner.id)
    if (old === undefined) return [`${name} (only in the second)`]
    const facts = [...(old.index === index ? [] : [`was ${cornerName(before, old.index)}`]), ...cornerFacts(old.corner, corner, prefs)]
    // A PI that only counts otherwise, for one before it came or went, is the same.
    return dataEqual(old.corner, corner) ? [] : [`${name} (${facts.join('; ')})`]
  })
  const gone = before.corners.flatMap(({ id }, index) =>
    still.has(id) ? [] : [`${cornerName(before, index)} of the first (not in the second)`],
  )
  const told = [...now, ...gone]
  return told.length === 0 ? ['the order of its corners'] : told
}

function cornerFacts(was: Corner, is: Corner, prefs: MeasurePrefs): readonly string[] {
  const movedMm = Math.hypot(is.x - was.x, is.y - was.y)
  const value = (key: 'radius' | 'easementIn' | 'easementOut', word: string): readonly string[] => {
    if (dataEqual(was[key], is[key])) return []
    const [old, now] = [cornerValue(was[key], prefs), cornerValue(is[key], prefs)]
    return [old === now ? word : `${word} ${now}, was ${old}`]
  }
  return [
    ...value('radius', 'radius'),
    ...value('easementIn', 'easement in'),
    ...value('easementOut', 'easement out'),
    ...(movedMm > 0 ? [`moved ${lengthText(movedMm, prefs)}`] : []),
  ]
}

function cornerValue(value: Corner['radius'], prefs: MeasurePrefs): string {
  if (typeof value === 'number') return lengthText(value, prefs)
  if (typeof value === 'object') return 'of several'
  return value === 'class' ? 'by class' : 'of easements only'
}
