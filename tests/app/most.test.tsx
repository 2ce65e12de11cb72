import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { RecordList } from '../../src/app/stages/RecordList.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

describe('a list of more records than are shown at once', () => {
  const records = Array.from({ length: 650 }, (_, i) => ({ id: `track-${i + 10}`, name: `Road ${i}` }))

  it('tells how many there are, shows more when asked, and then all', async () => {
    renderOnDesk(<RecordList table="tracks" title="Tracks" records={records} />)
    expect(document.querySelectorAll('.record-list li')).toHaveLength(300)
    await hand.click(screen.getByText('Show more of 650'))
    expect(document.querySelectorAll('.record-list li')).toHaveLength(600)
    await hand.click(screen.getByText('Show more of 650'))
    expect(document.querySelectorAll('.record-list li')).toHaveLength(650)
    expect(screen.queryByText(/^Show more/)).toBeNull()
  })

  it('has what is selected among them, however far down it is, and says which it is', () => {
    const { stores } = renderOnDesk(<RecordList table="tracks" title="Tracks" records={records} />)
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-640' }))
    expect(screen.getByText('Road 630').closest('button')).toHaveAttribute('aria-current', 'true')
  })
})
