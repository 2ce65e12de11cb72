/** What the page hears of a hand: a pointer above it, a finger or pen on it, a wheel, a key. */
const signs = ['pointermove', 'pointerdown', 'wheel', 'keydown'] as const

/** Does something once, at the first sign of a hand: what nobody could use before need not be fetched with the page. */
export function whenHandComes(page: Window, act: () => void): void {
  function come(): void {
    for (const sign of signs) page.removeEventListener(sign, come, true)
    act()
  }
  for (const sign of signs) page.addEventListener(sign, come, { capture: true, passive: true })
}
