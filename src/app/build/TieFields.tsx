import type { ReactNode } from 'react'
import type { TieChoice, Turnout } from '../../core/plan/types.ts'
import { tiesAsUsual } from '../../core/turnout/index.ts'
import { useStores } from '../context.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Fields } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'

const stressed = ['tips', 'heel', 'toe', 'frog', 'gaps'] as const

/** Patterns of PC-board ties that a builder picks from; others come with a plan and are kept. */
const boards = [
  { value: 'none', text: 'none, all wood', board: null },
  { value: 'stress', text: 'at tips, heel, frog, gaps', board: { every: null, at: stressed } },
  { value: '6', text: 'there and every 6th', board: { every: 6, at: stressed } },
  { value: '5', text: 'there and every 5th', board: { every: 5, at: stressed } },
  { value: '4', text: 'there and every 4th', board: { every: 4, at: stressed } },
] as const

const asWritten = (board: TieChoice['board']): string => JSON.stringify(board)

/** How the ties of a turnout are laid. */
export function TieFields({ turnout }: { readonly turnout: Turnout }): ReactNode {
  const stores = useStores()
  const ties = turnout.build.ties ?? tiesAsUsual
  const set = (part: Partial<TieChoice>): void => {
    planEdit(stores, { kind: 'turnout.set', id: turnout.id, change: { build: { ...turnout.build, ties: { ...ties, ...part } } } })
  }
  const picked = boards.find(({ board }) => asWritten(board) === asWritten(ties.board))
  return (
    <Fields title="Ties">
      <ChoiceField
        label="Laid"
        value={ties.lay}
        choices={[
          { value: 'square', text: 'square to the track' },
          { value: 'fanned', text: 'fanned between both routes' },
        ]}
        onChoose={(lay) => set({ lay })}
      />
      <ChoiceField
        label="Tie spacing"
        value={ties.spacing}
        choices={[
          { value: 'even', text: 'even' },
          { value: 'close', text: 'closer under points and frog' },
        ]}
        onChoose={(spacing) => set({ spacing })}
      />
      <ChoiceField
        label="PC board"
        value={picked?.value ?? 'own'}
        choices={[
          ...boards.map(({ value, text }) => ({ value, text })),
          ...(picked === undefined ? [{ value: 'own' as const, text: 'as in the plan' }] : []),
        ]}
        onChoose={(value) => {
          const chosen = boards.find((one) => one.value === value)
          if (chosen !== undefined) set({ board: chosen.board })
        }}
      />
    </Fields>
  )
}
