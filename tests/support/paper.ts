import type { Paper } from '../../src/core/deliver/index.ts'
import { paperByName } from '../../src/core/standards/index.ts'

/** A paper of the standards, upright; an unknown name fails the test. */
export function aPaper(name: string): Paper {
  const paper = paperByName(name)
  if (paper === null) throw new Error(`no paper "${name}"`)
  return { name: paper.name, widthMm: paper.widthMm, heightMm: paper.heightMm }
}
