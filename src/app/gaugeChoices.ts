import { gaugeList } from '../core/standards/index.ts'
import { numberText } from '../words/measure.ts'

/** One scale, two spellings: the European standards write HO with a nought. It is listed by its usual name, with that note. */
const named = (name: string): string => {
  const rest = /^H0, (.*)$/.exec(name)?.[1]
  return rest === undefined ? name : `HO by the European standards (they write H0), ${rest}`
}

/** Every scale and gauge to choose from. Where two gauges share a scale the gauge is in the name already and is not said again. */
export function gaugeChoices(): readonly { readonly value: string; readonly text: string }[] {
  return gaugeList().map(({ key, name, gaugeMm }) => ({
    value: key,
    text: name.endsWith(' mm') ? name : `${named(name)}, ${numberText(gaugeMm, 2)} mm`,
  }))
}
