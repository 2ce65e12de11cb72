import { planTracing } from '../core/deliver/index.ts'
import type { Derived } from '../core/pipeline/types.ts'
import { dxfWrite } from './dxf/write.ts'
import { ifcWrite } from './line/ifcWrite.ts'
import { landXmlWrite } from './line/landXmlWrite.ts'
import type { LineOut } from './line/types.ts'
import { traceSvg } from './traceSvg.ts'

export const exchangeKinds = ['dxf', 'svg', 'landxml', 'ifc'] as const
export type ExchangeKind = (typeof exchangeKinds)[number]

/** Drawings know easements as chains of points, usually so near to the line. */
export const exchangeToleranceMm = 0.01

export interface ExchangeOptions {
  /** Of a DXF. */
  readonly unit: 'mm' | 'in'
  readonly toleranceMm: number
}

/** A plan for another program, and how much of what is in the file. */
export interface Exchanged {
  readonly text: string
  readonly counts: { readonly [what: string]: number }
}

/** A plan as a file of that kind; drawings hold all of it, lists of alignments the tracks that are solved. */
export function exchangeWrite(kind: ExchangeKind, derived: Derived, { unit, toleranceMm }: ExchangeOptions): Exchanged {
  const { title } = derived.plan.railway
  switch (kind) {
    case 'dxf':
    case 'svg': {
      const items = planTracing(derived, toleranceMm)
      return { text: kind === 'dxf' ? dxfWrite(items, unit) : traceSvg(title, items), counts: countsOf(items.map(({ layer }) => layer)) }
    }
    case 'landxml':
    case 'ifc': {
      const lines = [...derived.network.tracks.values()].flatMap(({ track, alignment }): readonly LineOut[] =>
        alignment.ok ? [{ name: track.name, path: alignment.path }] : [],
      )
      const write = kind === 'ifc' ? ifcWrite : landXmlWrite
      return { text: write(title, lines), counts: countsOf(lines.map(() => 'alignment')) }
    }
  }
}

function countsOf(all: readonly string[]): Exchanged['counts'] {
  const counts: Record<string, number> = {}
  for (const what of all) counts[what] = (counts[what] ?? 0) + 1
  return counts
}
