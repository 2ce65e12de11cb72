import type { Id, Plan, Stock } from '../plan/types.ts'
import type { RoadbedProblem } from './types.ts'

/** Roadbed on the shelf or in the shop. */
export type RoadbedStock = Stock & { readonly of: Extract<Stock['of'], { kind: 'roadbed' }> }

/** Stock so much thicker or thinner is of the same thickness: what inch and mm name alike. Common practice, no source. */
const thicknessSlackMm = 0.1
const widthSlackMm = 1e-6

/** Stock of a material and thickness that is at hand or can be bought. */
export function stockOf({ stocks }: Plan, material: Id, thicknessMm: number): readonly RoadbedStock[] {
  return Object.values(stocks).filter(
    (stock): stock is RoadbedStock =>
      stock.of.kind === 'roadbed' &&
      stock.of.material === material &&
      Math.abs(stock.of.thicknessMm - thicknessMm) <= thicknessSlackMm &&
      (stock.onHand > 0 || stock.canBuy),
  )
}

/** Of it what a strip can be cut from. */
export function stockForStrip(plan: Plan, material: Id, thicknessMm: number, widthMm: number): readonly RoadbedStock[] {
  return stockOf(plan, material, thicknessMm).filter(({ of }) => of.widthMm >= widthMm - widthSlackMm)
}

/** The longest strip to be had: of what can be bought, else of what is at hand. Infinity: there is none, and nothing is joined. */
export function longestStrip(stock: readonly RoadbedStock[]): number {
  const bought = stock.filter(({ canBuy }) => canBuy)
  const from = bought.length > 0 ? bought : stock
  return from.length === 0 ? Infinity : Math.max(...from.map(({ of }) => of.lengthMm))
}

/** Why no strip of a width can be cut: what there is of the material. */
export function noStockProblem(plan: Plan, material: Id, thicknessMm: number, widthMm: number): RoadbedProblem {
  const alike = stockOf(plan, material, thicknessMm)
  const others = Object.values(plan.stocks).flatMap(({ of, onHand, canBuy }) =>
    of.kind === 'roadbed' && of.material === material && (onHand > 0 || canBuy) ? [of.thicknessMm] : [],
  )
  return {
    kind: 'noStock',
    material,
    thicknessMm,
    widthMm,
    widestMm: alike.length === 0 ? null : Math.max(...alike.map(({ of }) => of.widthMm)),
    otherThicknessMm: alike.length === 0 ? [...new Set(others)].toSorted((a, b) => a - b) : [],
  }
}
