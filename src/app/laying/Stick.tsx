import type { ReactNode } from 'react'
import type { Tick } from '../../core/plan/types.ts'
import type { PlacedPiece } from '../../core/sticks/index.ts'
import { lengthText } from '../../words/measure.ts'
import { usePrefs, useStores } from '../context.ts'
import { tickSet } from './tickSet.ts'
import type { ListsNow } from './useLists.ts'

interface StickProps {
  readonly lists: ListsNow
  readonly list: Tick['list']
  /** What it is called beside its picture. */
  readonly title: string
  readonly lengthMm: number
  /** Of the longest one beside it: all are drawn to one scale. */
  readonly longestMm: number
  readonly pieces: readonly PlacedPiece[]
  readonly leftMm: number
  readonly isKept: boolean
}

/** What is narrower than this share of its stick has no room for words in it. */
const NARROW = 0.1

/** A stick to scale, as it is cut: pieces from its end on, then what is left. A piece is ticked off where it lies, a small one beneath. */
export function Stick({ lists, list, title, lengthMm, longestMm, pieces, leftMm, isKept }: StickProps): ReactNode {
  const prefs = usePrefs((state) => state)
  const share = (mm: number): string => `${(100 * mm) / lengthMm}%`
  const isNarrow = (mm: number): boolean => mm / longestMm < NARROW
  const small = pieces.filter((piece) => isNarrow(piece.lengthMm))
  return (
    <li className="stick">
      <p className="stick-title small">{title}</p>
      <div className="stick-bar" style={{ width: `${(100 * lengthMm) / longestMm}%` }}>
        {pieces.map((piece) => (
          <div
            key={piece.id}
            className={`stick-piece${lists.ticks.of[list].has(piece.id) ? ' is-done' : ''}`}
            style={{ left: share(piece.fromMm), width: share(piece.lengthMm) }}
          >
            {isNarrow(piece.lengthMm) ? null : <PieceTick lists={lists} list={list} piece={piece} />}
          </div>
        ))}
        {leftMm < 0.05 ? null : (
          <span className={`stick-left${isKept ? ' is-kept' : ''}`} style={{ left: share(lengthMm - leftMm), width: share(leftMm) }}>
            {isNarrow(leftMm) ? '' : `${isKept ? 'keep ' : ''}${lengthText(leftMm, prefs)}`}
          </span>
        )}
      </div>
      {small.length === 0 ? null : (
        <div className="stick-small">
          {small.map((piece) => (
            <PieceTick key={piece.id} lists={lists} list={list} piece={piece} />
          ))}
        </div>
      )}
    </li>
  )
}

function PieceTick({ lists, list, piece }: Pick<StickProps, 'lists' | 'list'> & { readonly piece: PlacedPiece }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const { id, lengthMm } = piece
  return (
    <label className="stick-tick">
      <input
        type="checkbox"
        checked={lists.ticks.of[list].has(id)}
        aria-label={`${id}, ${lengthText(lengthMm, prefs)}, cut`}
        onChange={(event) => tickSet(stores, lists, list, id, 'cut', event.currentTarget.checked)}
      />
      <span aria-hidden="true">
        <b>{id}</b> {lengthText(lengthMm, prefs)}
      </span>
    </label>
  )
}
