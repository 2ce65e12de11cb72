import { useState } from 'react'
import type { ReactNode } from 'react'
import { Act } from '../particulars/acts.tsx'

type Saving = { readonly kind: 'no' } | { readonly kind: 'now' } | { readonly kind: 'said'; readonly text: string; readonly isBad: boolean }

/**
 * Two ways to take something away: on paper, or for a spreadsheet. save: hands the file to the browser and says what was saved; throws an
 * Error with words for a person. isHeld: not now, for what would be saved is of an older plan.
 */
export function SaveActs(props: {
  readonly what: string
  readonly working: string
  readonly isHeld: boolean
  readonly save: (kind: 'pdf' | 'csv') => Promise<string>
}): ReactNode {
  const { what, working, isHeld, save } = props
  const [saving, setSaving] = useState<Saving>({ kind: 'no' })
  async function begin(kind: 'pdf' | 'csv'): Promise<void> {
    setSaving({ kind: 'now' })
    try {
      setSaving({ kind: 'said', text: await save(kind), isBad: false })
    } catch (error) {
      setSaving({ kind: 'said', text: error instanceof Error ? error.message : String(error), isBad: true })
    }
  }
  const isBusy = saving.kind === 'now' || isHeld
  return (
    <>
      <div className="acts">
        <Act isDisabled={isBusy} onClick={() => void begin('pdf')}>
          {saving.kind === 'now' ? working : `${what} as PDF`}
        </Act>
        <Act isDisabled={isBusy} onClick={() => void begin('csv')}>
          {what} as CSV
        </Act>
      </div>
      <p role="status" className={saving.kind === 'said' && saving.isBad ? 'problems' : 'soft small'}>
        {saving.kind === 'said' ? saving.text : ''}
      </p>
    </>
  )
}
