import '@testing-library/jest-dom/vitest'
import { cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { LookFields } from '../../src/app/print/LookFields.tsx'
import { layerChoices } from '../../src/core/deliver/index.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

const checked = (): readonly string[] =>
  screen
    .getAllByRole<HTMLInputElement>('checkbox', { hidden: true })
    .flatMap((box) => (box.checked ? [box.labels?.[0]?.textContent ?? ''] : []))
const usual = layerChoices.filter(({ isUsual }) => isUsual).map(({ title }) => title)

describe('what is drawn on the sheets', () => {
  it('is every layer by its name, those that crowd a sheet not at first', () => {
    renderOnDesk(<LookFields />)
    expect(screen.getAllByRole('checkbox', { hidden: true })).toHaveLength(layerChoices.length)
    expect(checked()).toEqual(usual)
  })

  it('is chosen one by one, all at once or not at all, and put back', async () => {
    renderOnDesk(<LookFields />)
    await hand.click(screen.getByText('What is drawn, and how'))
    await hand.click(screen.getByRole('checkbox', { name: 'Ties' }))
    expect(checked()).toEqual(usual.filter((title) => title !== 'Ties'))
    await hand.click(screen.getByRole('button', { name: 'Nothing but the frame' }))
    expect(checked()).toEqual([])
    await hand.click(screen.getByRole('button', { name: 'All of it' }))
    expect(checked()).toEqual(layerChoices.map(({ title }) => title))
    await hand.click(screen.getByRole('button', { name: 'As usual' }))
    expect(checked()).toEqual(usual)
  })
})
