import { expect, it } from 'vitest'
it('runs in a browser', () => {
  expect(navigator.userAgent).toContain('Chrome')
})
