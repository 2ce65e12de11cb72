import type { Measured } from '../core/readings/index.ts'
import type { ReadingOf } from '../core/plan/types.ts'
import { angleText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

/** What kinds of measurement there are. */
export const readingWords: { readonly [K in ReadingOf['kind']]: { readonly word: string; readonly about: string; readonly how: string } } =
  {
    distance: { word: 'Distance', about: 'Straight from the first place to the second.', how: 'Two places.' },
    angle: {
      word: 'Angle',
      about: 'Between the lines from the first place to the other two.',
      how: 'The corner, then each arm.',
    },
    along: {
      word: 'Along a track',
      about: 'Along the centreline: the difference of the two stations.',
      how: 'Two places of one track.',
    },
    radius: {
      word: 'Radius',
      about: 'Of the centreline at this place: one over its curvature there.',
      how: 'A place of a track.',
    },
    centres: {
      word: 'Between tracks',
      about: 'From the centreline here to the nearest place of the other one; clear: what the cars of both classes leave free of that.',
      how: 'One track, then the other.',
    },
  }

/** The figure of a measurement, as the desk measures. */
export function measuredText(measured: Measured, prefs: MeasurePrefs): string {
  switch (measured.kind) {
    case 'length':
      return lengthText(measured.mm, prefs, 'room')
    case 'angle':
      return angleText(measured.rad)
    case 'radius':
      return measured.radiusMm === null ? 'straight' : `R ${lengthText(measured.radiusMm, prefs)}`
    case 'between': {
      const { centresMm, clearMm } = measured
      const centres = lengthText(centresMm, prefs, 'room')
      if (clearMm === null) return centres
      return clearMm >= 0
        ? `${centres} · ${lengthText(clearMm, prefs)} clear`
        : `${centres} · cars overlap by ${lengthText(-clearMm, prefs)}`
    }
    case 'unknown':
      return 'nothing to measure here now'
  }
}
