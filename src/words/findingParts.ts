import type { Finding } from '../core/checks/types.ts'
import type { Id, Plan } from '../core/plan/types.ts'
import { angleText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { nameRead, recordName } from './names.ts'

/* What the words of several findings are put together from. */

/** Who asks: a line class by its name, a published standard by its key. */
export function sourceText(source: string, plan: Plan): string {
  if (source.startsWith('class:')) {
    const record = plan.lineClasses[source.slice('class:'.length)]
    return record === undefined ? 'its class' : nameRead(record.name)
  }
  if (source.startsWith('car:')) return nameRead(plan.vehicles[source.slice('car:'.length)]?.name ?? 'its longest car')
  if (source === 'railway' || source.startsWith('railway')) return 'this railway'
  return source
}

/** What cars run on: a track, or the leg of a turnout that no track goes on from yet. */
export const lineName = (plan: Plan, id: Id): string =>
  id in plan.turnouts ? `the open leg of ${recordName(plan, 'turnouts', id)}` : recordName(plan, 'tracks', id)

export const fixedName = { walls: 'a wall', obstacles: 'an obstacle', portals: 'a portal' } as const

/** How near cars come to something, or how deep they would reach into it. */
export function gapText({ measured, limit }: Finding, what: string, prefs: MeasurePrefs): string {
  if (measured !== null && measured < 0) return `Cars reach ${lengthText(-measured, prefs)} into ${what}.`
  return `Cars come within ${lengthText(measured ?? 0, prefs)} of ${what}; ${lengthText(limit ?? 0, prefs)} running clearance is asked.`
}

/** By how much something has to move for the gap to be what is asked. */
export const moreText = ({ measured, limit }: Finding, prefs: MeasurePrefs): string => lengthText((limit ?? 0) - (measured ?? 0), prefs)

export function overlapOther(finding: Finding, plan: Plan): string {
  const { otherRecord, table } = finding
  if (otherRecord === null) return 'another one'
  // The diverging route of a turnout may be what a track meets.
  const holder = ([table, 'tracks', 'turnouts'] as const).find((name) => otherRecord in plan[name])
  return recordName(plan, holder ?? table, otherRecord)
}

export function valueText(value: number, unit: Finding['unit'], prefs: MeasurePrefs): string {
  switch (unit) {
    case 'mm':
      return lengthText(value, prefs)
    case 'rad':
      return angleText(value)
    case 'number':
      return numberText(value, 2)
  }
}
