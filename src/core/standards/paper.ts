import { paperSizes, type PaperSize } from './paper.data.ts'

/** Every paper size, the usual ones first. */
export function paperList(): readonly PaperSize[] {
  return paperSizes
}

/** A paper by its name, capitals and spaces aside: A4, letter, ANSI D. Null: no such paper. */
export function paperByName(name: string): PaperSize | null {
  const wanted = name.toLowerCase().replace(/[\s_-]/g, '')
  return paperSizes.find((paper) => paper.name.toLowerCase().replace(/\s/g, '') === wanted) ?? null
}
