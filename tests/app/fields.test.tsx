import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen } from '@testing-library/react'
import { useState } from 'react'
import type { ReactNode } from 'react'
import { afterEach, describe, expect, it } from 'vitest'
import { FrogField, LengthField } from '../../src/app/fields/fields.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

/** A field on its own: what it keeps stands beside it. */
function Alone({ refuse }: { readonly refuse?: string }): ReactNode {
  const [mm, setMm] = useState(762)
  return (
    <>
      <LengthField label="Radius" value={mm} keep={{ commit: (value) => refuse ?? (setMm(value), null) }} />
      <output>{mm}</output>
    </>
  )
}

const field = (): HTMLElement => screen.getByRole('textbox', { name: 'Radius' })
const kept = (): string | null => screen.getByRole('status').textContent

describe('a length field', () => {
  it('shows the value with its unit', () => {
    renderOnDesk(<Alone />)
    expect(field()).toHaveValue('30 in')
  })

  it.each([
    // 1 in = 25.4 mm exactly, 1 ft = 12 in (international yard and pound agreement of 1959).
    [`3' 4-1/2"`, 1028.7],
    ['40 1/2', 1028.7],
    ['1028.7 mm', 1028.7],
    ['1.0287 m', 1028.7],
    ['24½ in', 622.3],
  ])('reads %s as %f mm when Enter is pressed', async (text, mm) => {
    renderOnDesk(<Alone />)
    await hand.clear(field())
    await hand.type(field(), `${text}{Enter}`)
    expect(Number(kept())).toBeCloseTo(mm, 9)
  })

  it('commits when it is left', async () => {
    renderOnDesk(<Alone />)
    await hand.clear(field())
    await hand.type(field(), '36')
    await hand.tab()
    expect(kept()).toBe(String(36 * 25.4))
    expect(field()).toHaveValue('36 in')
  })

  it('refuses a wrong entry with the reason beneath, keeps the old value and the entry to be mended', async () => {
    renderOnDesk(<Alone />)
    await hand.clear(field())
    await hand.type(field(), '30 inchs{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent('“inchs” is not a unit known here')
    expect(screen.getByRole('alert')).toHaveTextContent('Still 30 in.')
    expect(field()).toBeInvalid()
    expect(field()).toHaveValue('30 inchs')
    expect(kept()).toBe('762')
  })

  it.each(['0', '-5 in'])('refuses %s: a radius is more than nothing', async (text) => {
    renderOnDesk(<Alone />)
    await hand.clear(field())
    await hand.type(field(), `${text}{Enter}`)
    expect(screen.getByRole('alert')).toHaveTextContent('is not more than nothing')
    expect(kept()).toBe('762')
  })

  it('restores the old value on Escape', async () => {
    renderOnDesk(<Alone />)
    await hand.clear(field())
    await hand.type(field(), 'abc{Enter}')
    await hand.type(field(), '{Escape}')
    expect(field()).toHaveValue('30 in')
    expect(screen.queryByRole('alert')).toBeNull()
    expect(kept()).toBe('762')
  })

  it('gives what was refused up on Escape wherever the focus is, on undo, and when something else comes to hand', async () => {
    const { stores } = renderOnDesk(<Alone />)
    const refuse = async (): Promise<void> => {
      await hand.clear(field())
      await hand.type(field(), 'abc')
      await hand.tab()
      expect(field()).toBeInvalid()
    }
    const expectGood = (): void => {
      expect(field()).toHaveValue('30 in')
      expect(screen.queryByRole('alert')).toBeNull()
    }
    await refuse()
    fireEvent.keyDown(document.body, { key: 'Escape' })
    expectGood()
    await refuse()
    await hand.type(field(), '{Control>}z{/Control}')
    expectGood()
    act(() => void stores.plan.getState().apply({ kind: 'railway.set', change: { title: 'Other' } }))
    await refuse()
    act(() => stores.plan.getState().undo())
    expectGood()
    await refuse()
    act(() => stores.session.getState().setStage('turnouts'))
    expectGood()
    expect(kept()).toBe('762')
  })

  it('shows by its own value what would be right', async () => {
    renderOnDesk(<Alone />)
    await hand.clear(field())
    await hand.type(field(), 'abc{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent('“abc” is not a number. Right would be: 30 in. Still 30 in.')
  })

  it.each([
    ['shop', 'metric', 762, '762 mm'],
    ['fine', 'metric', 16.54, '16.54 mm'],
    // 762 mm / 25.4 is a whole 30; 100.01 mm would be some sixty-fourths.
    ['shop', 'metric', 100.01, '100 mm'],
    ['bar', 'imperial', 100, '100 mm'],
    ['room', 'imperial', 762, '2′ 6″'],
    ['shop', 'metric', 0, '25 mm'],
    ['shop', 'imperial', 0, '1 in'],
  ] as const)('of kind %s in %s measure at %d mm gives one example, in its own rule: %s', async (kind, units, mm, example) => {
    const { stores } = renderOnDesk(<LengthField label="Radius" kind={kind} range="zeroUp" value={mm} keep={{ commit: () => 'never' }} />)
    act(() => stores.prefs.getState().setPrefs({ units }))
    await hand.clear(field())
    await hand.type(field(), 'abc{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent(`“abc” is not a number. Right would be: ${example}. Still`)
  })

  it('says what the plan refuses', async () => {
    renderOnDesk(<Alone refuse="That is longer than the room." />)
    await hand.clear(field())
    await hand.type(field(), '9000 ft{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent('That is longer than the room.')
  })

  it('goes to the next sixteenth with the arrow keys', async () => {
    renderOnDesk(<Alone />)
    await hand.type(field(), '{ArrowUp}')
    expect(Number(kept())).toBeCloseTo(762 + 25.4 / 16, 9)
    await hand.type(field(), '{ArrowDown}{ArrowDown}')
    expect(Number(kept())).toBeCloseTo(762 - 25.4 / 16, 9)
  })

  it('follows the units of the desk', async () => {
    const { stores } = renderOnDesk(<Alone />)
    stores.prefs.getState().setPrefs({ units: 'metric' })
    expect(await screen.findByDisplayValue('762 mm')).toBe(field())
    await hand.clear(field())
    await hand.type(field(), '800{Enter}')
    expect(kept()).toBe('800')
  })
})

describe('a frog field', () => {
  function Frog(): ReactNode {
    const [frog, setFrog] = useState(6)
    return <FrogField label="Frog" value={frog} keep={{ commit: (value) => (setFrog(value), null) }} />
  }

  it('takes fractions', async () => {
    renderOnDesk(<Frog />)
    const input = screen.getByRole('textbox', { name: 'Frog' })
    await hand.clear(input)
    await hand.type(input, '#6 1/2{Enter}')
    expect(input).toHaveValue('No. 6½')
    await hand.clear(input)
    await hand.type(input, 'No. 7½{Enter}')
    expect(input).toHaveValue('No. 7½')
  })

  it('says which numbers can be built', async () => {
    renderOnDesk(<Frog />)
    const input = screen.getByRole('textbox', { name: 'Frog' })
    await hand.clear(input)
    for (const frog of ['3', '0', '200']) {
      await hand.clear(input)
      await hand.type(input, `${frog}{Enter}`)
      expect(screen.getByRole('alert')).toHaveTextContent('from 4 to 20')
    }
  })
})
