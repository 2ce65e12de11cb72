import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import BuildSheet from '../../src/app/build/BuildSheet.tsx'
import { TurnoutParticulars } from '../../src/app/particulars/TurnoutParticulars.tsx'
import SheetPages from '../../src/app/print/SheetPages.tsx'
import SheetsStage from '../../src/app/print/SheetsStage.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

const build = (): ReturnType<typeof renderOnDesk> => renderOnDesk(<BuildSheet of="turnout" id="turnout-1" onShut={() => undefined} />)

/** The table under a heading. */
function tableOf(title: RegExp): HTMLElement {
  const part = screen.getByRole('heading', { name: title }).closest('section')
  if (part === null) throw new Error(`no part ${title}`)
  return within(part).getByRole('table')
}

async function type(label: string, text: string): Promise<void> {
  const field = screen.getByLabelText(label)
  await hand.clear(field)
  await hand.type(field, `${text}{Enter}`)
}

const cells = (title: RegExp, row: number): readonly (string | null)[] =>
  within(within(tableOf(title)).getAllByRole('row')[row] ?? document.body)
    .getAllByRole('cell')
    .map(({ textContent }) => textContent)

describe('building a turnout', () => {
  it('opens from its particulars with the tables of the bench, and closes', async () => {
    renderOnDesk(<TurnoutParticulars id="turnout-1" />)
    await hand.click(screen.getByRole('button', { name: 'Build it' }))
    expect(await screen.findByRole('dialog', { name: /^Build / })).toBeVisible()
    for (const title of [
      /^Rails to cut/,
      /^Closure rail at its quarters/,
      /^Offsets at ties/,
      /^Ties: /,
      /^Gaps, jumpers/,
      /^Throw/,
      /^Card for/,
    ])
      expect(screen.getByRole('heading', { name: title })).toBeVisible()
    // Twelve rails below a row of heads.
    expect(within(tableOf(/^Rails to cut/)).getAllByRole('row')).toHaveLength(13)
    await hand.click(screen.getByRole('button', { name: 'Close' }))
    expect(screen.queryByRole('dialog')).toBeNull()
  })

  it('the hole of the throw wire follows wire and deck', async () => {
    build()
    await type('Throw wire', '1/16 in')
    // Twice the wire, where it tilts at the underside.
    expect(cells(/^Throw/, 1)[2]).toBe('0.125')
    expect(screen.getByLabelText('Fulcrum depth')).toBeVisible()
    await hand.selectOptions(screen.getByLabelText('The wire'), 'keeps upright')
    expect(cells(/^Throw/, 1)[2]).toBe(cells(/^Throw/, 1)[1])
    expect(screen.queryByLabelText('Fulcrum depth')).toBeNull()
  })

  it('a mechanism that moves too little is told', async () => {
    build()
    await type('Travel', '1/64 in')
    expect(screen.getByText(/moves too little/)).toBeVisible()
  })

  it('by choice the straight stock rail is set too', async () => {
    build()
    expect(within(tableOf(/^Where points lie/)).getByText(/undercut/)).toBeVisible()
    await hand.selectOptions(screen.getByLabelText('Stock rail'), 'set ahead of the point')
    expect(within(tableOf(/^Where points lie/)).queryByText(/undercut/)).toBeNull()
  })

  it('takes a choice of ties into the plan, and the tables follow', async () => {
    const desk = build()
    await hand.selectOptions(screen.getByLabelText('Laid'), 'fanned between both routes')
    await hand.selectOptions(screen.getByLabelText('PC board'), 'there and every 5th')
    expect(desk.stores.plan.getState().committed.turnouts['turnout-1']?.build.ties).toEqual({
      lay: 'fanned',
      spacing: 'even',
      board: { every: 5, at: ['tips', 'heel', 'toe', 'frog', 'gaps'] },
    })
    expect(screen.getByText(/^PC-board ties, with gaps to saw in the foil: 1 \(1\)/)).toBeVisible()
  })

  it('is printed through the sheets, by the same practice', async () => {
    const desk = build()
    await hand.selectOptions(screen.getByLabelText('Stock rail'), 'set ahead of the point')
    await hand.click(screen.getByRole('button', { name: 'Print cut list' }))
    expect(desk.stores.session.getState().stage).toBe('sheets')
    const subject = desk.desk.getState().sheetSubject
    expect(subject).toMatchObject({ kind: 'cutList', id: 'turnout-1', practice: { nest: 'set' } })
    cleanup()
    const pages = renderOnDesk(
      <>
        <SheetsStage />
        <SheetPages />
      </>,
    )
    act(() => pages.desk.getState().set({ sheetSubject: subject }))
    expect(screen.getAllByRole('img', { name: /^Cut list and filing/ }).length).toBeGreaterThan(0)
    const written = screen
      .getAllByRole('img')
      .map(({ textContent }) => textContent)
      .join(' ')
    expect(written).toContain('Rails to cut')
    expect(written).not.toContain('undercut')
    expect(screen.getByText(/^\d sheets\.$/)).toBeVisible()
  })

  it('says what hinders a turnout that has no geometry', () => {
    renderOnDesk(<BuildSheet of="turnout" id="none" onShut={() => undefined} />)
    expect(screen.getByText(/could not be computed/)).toBeVisible()
  })
})
