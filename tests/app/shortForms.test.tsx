import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { gaugeChoices } from '../../src/app/gaugeChoices.ts'
import { gaugeList } from '../../src/core/standards/index.ts'
import { shortFormsIn } from '../../src/words/shortForms.ts'
import { renderOnDesk } from './desk.tsx'

afterEach(cleanup)

describe('letters that stand for longer words', () => {
  it('say them where they stand, by pointer, touch and keyboard', () => {
    const { stores } = renderOnDesk(<App />)
    act(() => stores.session.getState().select({ kind: 'corner', track: 'track-1', corner: 'pi-1' }))
    const heading = screen.getByRole('heading', { name: 'PI 1' })
    const pi = within(heading).getByRole('button', { name: 'PI' })
    expect(pi).toHaveAccessibleDescription(/^PI, point of intersection: a corner of the line/)
    act(() => pi.focus())
    expect(pi).toHaveFocus()
    for (const [short, long] of [
      ['TS', /tangent to spiral/],
      ['SC', /spiral to curve/],
      ['CS', /curve to spiral/],
      ['ST', /spiral to tangent/],
    ] as const)
      expect(screen.getAllByRole('button', { name: short })[0]).toHaveAccessibleDescription(long)
  })

  it('say them to the pointer on the plan and on the track chart, where nothing has to be passed by the Tab key', async () => {
    const { stores } = renderOnDesk(<App />)
    act(() => stores.session.getState().select({ kind: 'corner', track: 'track-1', corner: 'pi-1' }))
    await waitFor(() => expect(document.querySelectorAll('.canvas .letters-over [title]').length).toBeGreaterThan(0))
    for (const where of ['.canvas', '.chart-sheet']) {
      const over = document.querySelector(`${where} .letters-over`)
      if (!(over instanceof HTMLElement)) throw new Error(where)
      expect(within(over).getAllByTitle(/tangent to spiral/).length).toBeGreaterThan(0)
      expect(within(over).queryAllByRole('button')).toEqual([])
    }
    // With a tool in hand the plan is drawn on, and nothing lies over it.
    act(() => stores.session.getState().setTool('track'))
    expect(document.querySelector('.canvas .letters-over')).toBeNull()
  })

  it('are found as words alone, and the text stays what it was', () => {
    expect(shortFormsIn('TS · SC').map(({ text, long }) => [text, long !== undefined])).toEqual([
      ['TS', true],
      [' · ', false],
      ['SC', true],
    ])
    for (const text of ['PC-board', 'TSC', 'Spur', 'No. 6 L']) {
      expect(
        shortFormsIn(text)
          .map((part) => part.text)
          .join(''),
      ).toBe(text)
    }
    expect(shortFormsIn('TSC').every(({ long }) => long === undefined)).toBe(true)
    expect(shortFormsIn('PC-board').every(({ long }) => long === undefined)).toBe(true)
  })
})

it('the list of scales has one spelling of HO, with a note where a standard writes it otherwise', () => {
  const choices = gaugeChoices()
  expect(choices.map(({ value }) => value)).toEqual(gaugeList().map(({ key }) => key))
  expect(choices.filter(({ text }) => text.startsWith('HO, 1:87'))).toHaveLength(1)
  for (const { text } of choices) if (text.includes('H0')) expect(text).toMatch(/^HO by the European standards \(they write H0\), /)
  expect(new Set(choices.map(({ text }) => text)).size).toBe(choices.length)
})
