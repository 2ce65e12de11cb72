import { NARROW_TIE_OVER_GAUGE_IN, tiePresets } from './ties.data.ts'
import type { TiePreset } from './ties.data.ts'

/** What a preset says of a line class, mm on the model; same shapes as the plan's own record. */
export interface TiesOfPreset {
  readonly tie: { readonly lengthMm: number; readonly widthMm: number; readonly thicknessMm: number }
  readonly tieSpacingMm: number
  readonly jointTieSpacingMm: number | null
}

/** All presets of ties by time and kind. */
export function tiePresetList(): readonly TiePreset[] {
  return tiePresets
}

/** The ties of a preset at a scale; of narrow gauge as long as its model gauge and the ratio say. To a thousandth of a mm. */
export function tiesOfPreset(preset: TiePreset, { ratio, gaugeMm }: { readonly ratio: number; readonly gaugeMm: number }): TiesOfPreset {
  const model = (inches: number): number => Math.round(((inches * 25.4) / ratio) * 1000) / 1000
  const lengthIn = preset.lengthIn ?? (gaugeMm * ratio) / 25.4 + NARROW_TIE_OVER_GAUGE_IN
  return {
    tie: { lengthMm: model(lengthIn), widthMm: model(preset.widthIn), thicknessMm: model(preset.thicknessIn) },
    tieSpacingMm: model(preset.spacingIn),
    jointTieSpacingMm: preset.jointSpacingIn === null ? null : model(preset.jointSpacingIn),
  }
}
