import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen } from '@testing-library/react'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import UnderlaySheet from '../../src/app/underlay/UnderlaySheet.tsx'
import { hand, renderOnDesk } from './desk.tsx'

beforeEach(() => {
  vi.stubGlobal('URL', Object.assign(URL, { createObjectURL: () => 'blob:picture', revokeObjectURL: () => undefined }))
})
afterEach(cleanup)

const lay = (): HTMLElement => screen.getByRole('button', { name: 'Lay it under the plan' })
const field = (): HTMLElement => screen.getByRole('application', { name: 'Places on the picture' })

function chosen(): void {
  const { desk } = renderOnDesk(<UnderlaySheet />)
  act(() => desk.getState().set({ dialog: 'underlay', picture: new File(['p'], 'sketch.png', { type: 'image/png' }) }))
  const img = screen.getByRole('img', { name: 'What will lie under the plan' })
  // No picture is loaded here: its size is said instead.
  Object.defineProperties(img, { naturalWidth: { value: 800 }, naturalHeight: { value: 600 } })
  fireEvent.load(img)
}

/** Places set by keys: how far the cross goes before each, in large steps right and down. */
function set(...steps: readonly (readonly [number, number])[]): void {
  for (const [right, down] of steps) {
    for (let i = 0; i < Math.abs(right); i++) fireEvent.keyDown(field(), { key: right < 0 ? 'ArrowLeft' : 'ArrowRight', shiftKey: true })
    for (let i = 0; i < Math.abs(down); i++) fireEvent.keyDown(field(), { key: down < 0 ? 'ArrowUp' : 'ArrowDown', shiftKey: true })
    fireEvent.keyDown(field(), { key: 'Enter' })
  }
}

it('two places that are one are told at once, and can be set again, also without keys', async () => {
  chosen()
  set([0, 0], [0, 0])
  expect(screen.getByRole('alert')).toHaveTextContent(/^Both places are the same/)
  expect(lay()).toBeDisabled()
  await hand.click(screen.getByRole('button', { name: 'Take the last place back' }))
  set([3, 0])
  expect(screen.queryByRole('alert')).toBeNull()
  expect(lay()).toBeEnabled()
})

it('four places that go round with the clock would lie mirrored: they are told, not laid', async () => {
  chosen()
  await hand.selectOptions(screen.getByRole('combobox', { name: 'It is' }), 'four')
  set([0, 0], [0, -4], [4, 0], [0, 4])
  expect(screen.getByRole('alert')).toHaveTextContent(/against the clock: lower left, lower right, upper right, upper left/)
  expect(lay()).toBeDisabled()
  for (let i = 0; i < 4; i++) fireEvent.keyDown(field(), { key: 'Backspace' })
  set([0, 0], [4, 0], [0, -4], [-4, 0])
  expect(screen.queryByRole('alert')).toBeNull()
  expect(lay()).toBeEnabled()
})
