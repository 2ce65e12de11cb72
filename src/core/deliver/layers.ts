/**
 * Layers of the sheets from the bottom up: the one list that drawing, formats, screen and command line read. `title`: under
 * which viewers and the screen name it. `isUsual`: drawn when nothing else is asked; the rest would crowd a usual sheet, close the gaps between
 * ties, or take long to find: for the joints the rails of the whole plan are cut.
 */
export const sheetLayers = [
  { name: 'benchwork', title: 'Edges of benchwork and obstacles', isUsual: true },
  { name: 'joists', title: 'Joists below', isUsual: true },
  { name: 'roadbed', title: 'Edges of the roadbed', isUsual: true },
  { name: 'ties', title: 'Ties', isUsual: true },
  { name: 'tie-lengths', title: 'Lengths of ties', isUsual: true },
  { name: 'tie-ends', title: 'Lines along the tie ends', isUsual: false },
  { name: 'rail-foot', title: 'Foot of the rails', isUsual: true },
  { name: 'rail-head', title: 'Head of the rails, with the gauge line', isUsual: true },
  { name: 'centreline', title: 'Centrelines', isUsual: true },
  { name: 'stations', title: 'Stations', isUsual: true },
  { name: 'curves', title: 'Curve points and tangents', isUsual: true },
  { name: 'offsets', title: 'Offsets from the tangents, to set out by', isUsual: false },
  { name: 'joints', title: 'Rail joints', isUsual: false },
  { name: 'gaps', title: 'Gaps in the rails', isUsual: true },
  { name: 'wires', title: 'Feeders and jumpers', isUsual: true },
  { name: 'holes', title: 'Throw holes and the room below them', isUsual: true },
  { name: 'clearance', title: 'Clearance points', isUsual: true },
  { name: 'points', title: 'Points of turnouts and crossings', isUsual: true },
  { name: 'marks', title: 'Cutting lines, spikes and board ties', isUsual: true },
  { name: 'punch', title: 'Marks to prick through', isUsual: false },
  { name: 'names', title: 'Names of tracks and turnouts', isUsual: true },
  { name: 'match', title: 'Match marks and trim lines', isUsual: true },
  { name: 'sheet', title: 'Frame, bars and title', isUsual: true },
] as const

/** All words of the plan, of whatever layer: hidden as one. A text is seen where its layer and this one are. */
export const textLayer = { name: 'text', title: 'Words and figures of the plan', isUsual: true } as const

export type LayerName = (typeof sheetLayers)[number]['name']

/** What can be left out. The frame with its bars stays: without them nobody can tell whether the print is true. */
export type LayerChoice = Exclude<LayerName, 'sheet'> | typeof textLayer.name

export interface LayerChosen {
  readonly name: LayerChoice
  readonly title: string
  readonly isUsual: boolean
}

const isChoice = <L extends { readonly name: LayerName }>(layer: L): layer is Exclude<L, { readonly name: 'sheet' }> =>
  layer.name !== 'sheet'

/** The layers as they are chosen. */
export const layerChoices: readonly LayerChosen[] = [...sheetLayers.filter(isChoice), textLayer]

/** Left out when nothing else is asked. */
export const layersUnusual: readonly LayerChoice[] = layerChoices.filter(({ isUsual }) => !isUsual).map(({ name }) => name)

/** Whether an item is text that goes with all other text; that of frame and match marks does not. */
export function isPlanText({ kind, layer }: { readonly kind: 'text' | 'stroke'; readonly layer: LayerName }): boolean {
  return kind === 'text' && layer !== 'sheet' && layer !== 'match'
}
