import { gaugeList } from '../core/standards/index.ts'
import { numberText } from '../words/measure.ts'

/** Every scale and gauge to choose from. Where two gauges share a scale the gauge is in the name already and is not said again. */
export function gaugeChoices(): readonly { readonly value: string; readonly text: string }[] {
  return gaugeList().map(({ key, name, gaugeMm }) => ({
    value: key,
    text: name.endsWith(' mm') ? name : `${name}, ${numberText(gaugeMm, 2)} mm`,
  }))
}
