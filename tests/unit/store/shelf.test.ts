import { describe } from 'vitest'
import { shelfInMemory } from '../../support/shelf.ts'
import { shelfContract } from '../../support/shelfContract.ts'

// The stand-in that the autosave is tested on keeps the same contract as the browser's shelf (tests/browser/shelf.test.ts).
describe('the shelf in memory', () => {
  shelfContract(() => {
    const shelf = shelfInMemory()
    return { open: () => shelf }
  })
})
