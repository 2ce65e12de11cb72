import { useState } from 'react'
import type { ReactNode } from 'react'
import { benchBack, roomUsual, squarePlace } from '../../core/room/index.ts'
import type { BackPlace, InnerCorner, RoomUsual } from '../../core/room/index.ts'
import { lengthText } from '../../words/measure.ts'
import { shelfProblemText } from '../../words/roomText.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { benchAdd, benchOutline, cornersOfPlan, placeBeside, placeInCorner } from './benchAdd.ts'
import type { BenchHeld, NamedCorner } from './benchAdd.ts'
import { legsAt, useBenchGhost } from './benchGhost.ts'
import { BenchPicture } from './BenchPicture.tsx'
import { BySizeFoot } from './BySizeFoot.tsx'
import { InnerCornerFields } from './InnerCornerFields.tsx'

const letters = ['A', 'B', 'C'] as const

/** What has been chosen and typed so far. It waits on the desk: Escape, or something else that is begun, must not lose it. */
export interface LegsDraft {
  readonly shape: 'L' | 'U'
  readonly lengths: readonly number[]
  readonly depths: readonly number[]
  readonly inner: InnerCorner
  readonly placeKey: string
  readonly turn: '0' | '1' | '2' | '3'
}

function draftUsual({ legMm, legDeepMm }: RoomUsual, placeKey: string): LegsDraft {
  return {
    shape: 'L',
    lengths: letters.map(() => legMm),
    depths: letters.map(() => legDeepMm),
    inner: { kind: 'square' },
    placeKey,
    turn: '0',
  }
}

/** Benchwork with two or three legs by their lengths and depths, in a corner of the room, beside what is there, or where one points. */
export function LegsBySize({ shut }: { readonly shut: () => void }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const setDesk = useDesk((desk) => desk.set)
  const plan = usePlan((state) => state.committed)
  const usual = roomUsual(prefs.units)
  const corners = cornersOfPlan(plan)
  const draft = useDesk((desk) => desk.legsDraft) ?? draftUsual(usual, corners[0]?.key ?? 'beside')
  const { shape, lengths, depths, inner, placeKey, turn } = draft
  const [wrong, setWrong] = useState<string | null>(null)
  const legs = letters.slice(0, shape === 'L' ? 2 : 3)
  const heightMm = Object.values(plan.benchworks).at(-1)?.heightMm ?? usual.topMm
  const held: BenchHeld = {
    word: `${shape}-table`,
    lengthsMm: lengths.slice(0, legs.length),
    depthsMm: depths.slice(0, legs.length),
    inner,
    heightMm,
    alongRad: (Number(turn) * Math.PI) / 2,
  }
  const named = corners.find(({ key }) => key === placeKey)
  const place = named === undefined ? squarePlace({ x: 0, y: 0 }, held.alongRad) : placeInCorner(named.corner, held.lengthsMm)
  const standing: BackPlace = named === undefined ? placeBeside(stores, held) : place
  const shelf = benchOutline(held, place)
  const stood = placeKey === 'pointed' ? null : benchOutline(held, standing)
  useBenchGhost({
    outline: stood?.ok === true ? stood.outline : [],
    legs: stood?.ok === true ? legsAt(benchBack(held.lengthsMm, standing), held.depthsMm, legs) : [],
    corners: corners.map(({ key, corner: { point, at } }) => ({
      number: point + 1,
      at,
      isTaken: named !== undefined && (at === named.corner.at || (shape === 'U' && point === named.corner.toPoint)),
      onTake: () => placeChoose(key, shape),
    })),
  })
  const problem = shelf.ok ? beyondWalls(held, named, prefs) : shelfProblemText(shelf.problem, prefs, (side) => `leg ${letters[side]}`)

  function change(to: Partial<LegsDraft>): void {
    setWrong(null)
    setDesk({ legsDraft: { ...draft, ...to } })
  }
  function leave(): void {
    setDesk({ legsDraft: null })
    shut()
  }
  function placeChoose(key: string, of: 'L' | 'U'): void {
    const there = corners.find((corner) => corner.key === key)
    // The back of a U takes its wall from end to end until another length is typed.
    const backMm = of === 'U' ? there?.corner.wallsMm[1] : undefined
    change({ placeKey: key, shape: of, ...(backMm === undefined ? {} : { lengths: lengths.with(1, backMm) }) })
  }
  function add(): void {
    if (problem !== null) return setWrong(problem)
    if (placeKey === 'pointed') return setDesk({ benchHeld: held, drawer: null })
    const made = benchOutline(held, standing)
    const refused = made.ok ? benchAdd(stores, held, made.outline) : shelfProblemText(made.problem, prefs)
    setWrong(refused)
    if (refused === null) leave()
  }
  return (
    <>
      <ChoiceField<'L' | 'U'>
        label="Shape"
        value={shape}
        choices={[
          { value: 'L', text: 'L: two legs' },
          { value: 'U', text: 'U: three legs' },
        ]}
        onChoose={(chosen) => placeChoose(placeKey, chosen)}
      />
      <ChoiceField
        label="Stands"
        value={named === undefined && placeKey !== 'pointed' ? 'beside' : placeKey}
        choices={[
          ...corners.map(({ key, wall, corner: { point, toPoint } }) => ({
            value: key,
            text: shape === 'L' ? `corner ${point + 1}, ${wall}` : `corners ${point + 1} to ${toPoint + 1}, ${wall}`,
          })),
          { value: 'beside', text: 'beside what is there' },
          { value: 'pointed', text: 'where I point' },
        ]}
        onChoose={(key) => placeChoose(key, shape)}
      />
      {named === undefined ? (
        <ChoiceField<'0' | '1' | '2' | '3'>
          label="Leg B goes"
          value={turn}
          choices={[
            { value: '0', text: 'to the right' },
            { value: '1', text: 'up' },
            { value: '2', text: 'to the left' },
            { value: '3', text: 'down' },
          ]}
          onChoose={(way) => change({ turn: way })}
        />
      ) : null}
      <BenchPicture outline={shelf.ok ? shelf.outline : []} back={benchBack(held.lengthsMm, place)} letters={legs} />
      {legs.map((leg, i) => (
        <div key={leg}>
          <LengthField
            label={`Leg ${leg}`}
            kind="room"
            value={lengths[i] ?? 0}
            keep={keepIn((mm) => change({ lengths: lengths.with(i, mm) }))}
          />
          <LengthField
            label={`${leg} deep`}
            kind="room"
            value={depths[i] ?? 0}
            keep={keepIn((mm) => change({ depths: depths.with(i, mm) }))}
          />
        </div>
      ))}
      <InnerCornerFields inner={inner} onChange={(changed) => change({ inner: changed })} />
      <BySizeFoot
        wrong={problem ?? wrong}
        word={placeKey === 'pointed' ? 'Point at its corner' : `Add this ${shape}`}
        onMake={add}
        shut={leave}
      />
    </>
  )
}

/** A leg that is longer than its wall would stand in another one. */
function beyondWalls({ lengthsMm }: BenchHeld, named: NamedCorner | undefined, prefs: Parameters<typeof lengthText>[1]): string | null {
  if (named === undefined) return null
  const { wallsMm } = named.corner
  // The third leg has a wall only where the back fills its own.
  const isFull = placeInCorner(named.corner, lengthsMm) === named.corner
  for (const [i, lengthMm] of lengthsMm.entries()) {
    const wallMm = i < 2 || isFull ? (wallsMm[i] ?? Infinity) : Infinity
    if (lengthMm > wallMm + 0.5)
      return `Leg ${letters[i]} is ${lengthText(lengthMm, prefs, 'room')} long and its wall ${lengthText(wallMm, prefs, 'room')}: make it no longer than that, or let it stand elsewhere.`
  }
  return null
}
