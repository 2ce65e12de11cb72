import type { ReactNode } from 'react'
import type { SheetSubject } from '../../core/deliver/types.ts'
import { boxUnion } from '../../core/geom/index.ts'
import type { Box } from '../../core/geom/types.ts'
import { selectionMembers } from '../../store/selection.ts'
import { useDerived, usePrefs, useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { Act } from '../particulars/acts.tsx'
import { planBoxOfRecord } from '../places.ts'
import { lengthText } from '../../words/measure.ts'

/** Which part of a track, or which rectangle of the plan, is printed; other subjects are printed whole. */
export function PartFields({ subject }: { readonly subject: SheetSubject }): ReactNode {
  if (subject.kind === 'region') return <RegionFields box={subject.box} />
  if (subject.kind === 'track') return <StretchFields track={subject.id} fromMm={0} toMm="end" />
  if (subject.kind === 'stretch') return <StretchFields track={subject.track} fromMm={subject.fromMm} toMm={subject.toMm} />
  return null
}

function StretchFields({
  track,
  fromMm,
  toMm,
}: {
  readonly track: string
  readonly fromMm: number
  readonly toMm: number | 'end'
}): ReactNode {
  const setDesk = useDesk((desk) => desk.set)
  const prefs = usePrefs((state) => state)
  const alignment = useDerived((state) => state.derived.network.tracks.get(track)?.alignment)
  if (!alignment?.ok) return null
  const { lengthMm } = alignment.path
  const set = (from: number, to: number | 'end'): string | null => {
    const endMm = to === 'end' ? lengthMm : to
    if (Math.max(from, endMm) > lengthMm) return `The track ends at ${lengthText(lengthMm, prefs, 'room')}.`
    if (endMm <= from)
      return `The stretch would begin at ${lengthText(from, prefs, 'room')} and end at ${lengthText(endMm, prefs, 'room')}: it has to end farther along.`
    const isWhole = from === 0 && (to === 'end' || to >= lengthMm)
    setDesk({ sheetSubject: isWhole ? { kind: 'track', id: track } : { kind: 'stretch', track, fromMm: from, toMm: to } })
    return null
  }
  return (
    <>
      <LengthField label="From station" kind="room" value={fromMm} range="zeroUp" keep={{ commit: (mm) => set(mm, toMm) }} />
      <LengthField
        label="To station"
        kind="room"
        value={toMm === 'end' ? lengthMm : toMm}
        range="zeroUp"
        keep={{ commit: (mm) => set(fromMm, mm) }}
      />
    </>
  )
}

const sides = [
  ['minX', 'Left edge, x'],
  ['minY', 'Lower edge, y'],
  ['maxX', 'Right edge, x'],
  ['maxY', 'Upper edge, y'],
] as const

/** What is wrong with a rectangle whose one edge was typed past the other; null: nothing. */
function turnedOver({ minX, minY, maxX, maxY }: Box, words: (mm: number) => string): string | null {
  if (maxX <= minX) return `The left edge, at ${words(minX)}, has to lie left of the right one, at ${words(maxX)}.`
  if (maxY <= minY) return `The lower edge, at ${words(minY)}, has to lie below the upper one, at ${words(maxY)}.`
  return null
}

function RegionFields({ box }: { readonly box: Box }): ReactNode {
  const setDesk = useDesk((desk) => desk.set)
  const stores = useStores()
  const members = selectionMembers(useSession((session) => session.selection))
  const prefs = usePrefs((state) => state)
  const set = (next: Box): string | null => {
    const wrong = turnedOver(next, (mm) => lengthText(mm, prefs, 'room'))
    if (wrong !== null) return wrong
    setDesk({ sheetSubject: { kind: 'region', box: next } })
    return null
  }
  const chosen = members.reduce<Box | null>((round, { table, id }) => {
    const own = planBoxOfRecord(stores, table, id)
    return own && round ? boxUnion(round, own) : (own ?? round)
  }, null)
  return (
    <>
      {sides.map(([side, label]) => (
        <LengthField
          key={side}
          label={label}
          kind="room"
          range="any"
          value={box[side]}
          keep={{ commit: (mm) => set({ ...box, [side]: mm }) }}
        />
      ))}
      <Act onClick={() => setDesk({ isFraming: true, drawer: null })}>Draw it on the plan</Act>
      {chosen === null ? null : <Act onClick={() => set(chosen)}>Round what is chosen on the plan</Act>}
    </>
  )
}
