import { cleanup, configure } from '@testing-library/react'
import { afterAll, vi } from 'vitest'

// What comes late (a lazy part, an answer of the engine) comes later still on a machine that does other work as well.
configure({ asyncUtilTimeout: 20_000 })

// What a browser has and the page of these tests has not.
globalThis.CSS ??= { escape: (text: string) => text } as typeof CSS
URL.createObjectURL ??= () => 'blob:picture'
URL.revokeObjectURL ??= () => undefined
// A test of files alone has no page.
const hasPage = typeof document !== 'undefined'
if (hasPage) Element.prototype.checkVisibility ??= () => true

// The next file of the worker finds the page as this one found it.
afterAll(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
  if (!hasPage) return
  cleanup()
  document.body.replaceChildren()
  for (const element of [document.documentElement, document.body])
    for (const name of element.getAttributeNames()) element.removeAttribute(name)
  document.title = ''
  history.replaceState(null, '', '/')
  localStorage.clear()
  sessionStorage.clear()
})
